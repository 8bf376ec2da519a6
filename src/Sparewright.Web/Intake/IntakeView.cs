using Sparewright.Measure;
using Sparewright.Measure.Quantities;
using Sparewright.Part;
using Sparewright.Web.Shape;

namespace Sparewright.Web.Intake;

/// <summary>A field of the intake, as it stands in the job's text.</summary>
/// <param name="Label">With its unit, where it has one.</param>
/// <param name="Choices">Where only a few words will do; the empty one stands for nothing said.</param>
/// <param name="Otherwise">What is meant where nothing is written.</param>
public sealed record IntakeField(string Path, string Label, string Written, IReadOnlyList<string>? Choices, string Otherwise, bool IsLong, IReadOnlyList<Problem> Problems)
{
    public string Id => "intake-" + Path.Replace('/', '-').Replace(' ', '-');
}

/// <summary>An instrument and its figures.</summary>
public sealed record IntakeInstrument(string Name, IReadOnlyList<IntakeField> Fields)
{
    /// <summary>Where it stands in the text.</summary>
    public string Path => PathOf(Name);

    internal static string PathOf(string name) => $"instruments/{JobPath.Step(name)}";
}

/// <summary>The first step of the job: who and what for, where it lives, whether it could hurt, and what it was measured with. A view of the job's text.</summary>
public sealed class IntakeView
{
    public static IReadOnlyList<string> WaysOfMaking { get; } = ["unknown", "moulding", "printing", "machining", "casting"];

    private const string RingSize = "/ring/size", RingReads = "/ring/reads";

    private static readonly string[] YesNo = ["", "yes", "no"];

    private readonly Written? _root;
    private readonly Lines _lines;
    private readonly IReadOnlyList<Problem> _problems;

    public IntakeView(string text, IReadOnlyList<Problem> problems)
    {
        _root = Written.Read(text, out Problem? unreadable);
        (Text, Unreadable, _lines, _problems) = (text, unreadable, new Lines(text), problems);
        if (_root is null) return;
        Fields =
        [
            Field("part", "What the part is called"), Field("about", "What it does, and for whom", isLong: true), Field("made_by", "How the old one was made", WaysOfMaking, "unknown"),
            Field("broke", "What broke, and how", isLong: true), Field("lives/sun", "The sun reaches it", YesNo), Field("lives/wet", "It gets wet", YesNo), Field("lives/hottest", "How hot it gets, °C"),
        ];
        Instruments = _root.At("instruments") is Written.Group group ? [.. group.Entries.Select(e => Instrument(e.Key, e.Value))] : [];
        Harm = _root.At("could_injure") switch
        {
            Written.Group given => new Harm { Could = "yes", Why = (given.At("why") as Written.Value)?.Text ?? "", Typed = (given.At("acknowledged") as Written.Value)?.Text ?? "" },
            Written.Value { Text: "no" or "false" } => new Harm { Could = "no" },
            _ => new Harm(),
        };
    }

    public string Text { get; }

    /// <summary>Why the text cannot be read at all.</summary>
    public Problem? Unreadable { get; }

    public IReadOnlyList<IntakeField> Fields { get; } = [];

    public IReadOnlyList<IntakeInstrument> Instruments { get; } = [];

    public Harm Harm { get; } = new();

    /// <summary>Writes a field; an empty one is taken out of the text.</summary>
    public static TextChange? Fill(IntakeField field, string typed)
    {
        string value = typed.Trim();
        if (field.Path == "lives/hottest" && value.Length > 0 && char.IsAsciiDigit(value[^1])) value = value.Replace(',', '.') + " degC";
        if (value == field.Written) return null;
        if (field.Path.EndsWith(RingReads, StringComparison.Ordinal) && value.Split(';', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries) is { Length: > 1 } repeats)
            return TextChange.Write(field.Path, new JobValue.List([.. repeats.Select(r => (JobValue)r)]), field.Label.ToLowerInvariant());
        if (value.Length > 0) return TextChange.Write(field.Path, value, field.Label.ToLowerInvariant());
        // Half a ring says nothing.
        return field.Written.Length > 0 ? TextChange.Remove(field.Path.EndsWith(RingReads, StringComparison.Ordinal) || field.Path.EndsWith(RingSize, StringComparison.Ordinal) ? field.Path[..field.Path.LastIndexOf('/')] : field.Path, $"{field.Label.ToLowerInvariant()}: no longer said") : null;
    }

    public static TextChange Answer(Harm harm) => TextChange.Write("could_injure", harm.Written(), harm.Could == "no" ? "it could injure nobody" : "it could injure");

    /// <summary>Gives an instrument another name, in the readings that name it too; null where it has that name already, or none is typed.</summary>
    public static TextChange? Rename(IntakeInstrument instrument, string typed)
    {
        string name = string.Join(' ', typed.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        if (name.Length == 0 || name == instrument.Name) return null;
        return new TextChange(instrument.Path, $"{instrument.Name} is called {name}", text => NamesInUse.InstrumentRenamed(text, instrument.Name, name));
    }

    /// <summary>A further instrument, under a name that is free.</summary>
    public TextChange Add(InstrumentKind kind)
    {
        string word = kind.Name();
        string name = Enumerable.Range(1, Instruments.Count + 1).Select(k => k == 1 ? word : $"{word} {k.ToString(System.Globalization.CultureInfo.InvariantCulture)}").First(n => Instruments.All(i => i.Name != n));
        return TextChange.Write($"{IntakeInstrument.PathOf(name)}/kind", word, $"instrument {name}");
    }

    private IntakeInstrument Instrument(string name, Written written)
    {
        string path = IntakeInstrument.PathOf(name);
        InstrumentKind? kind = InstrumentKinds.Named((written.At("kind") as Written.Value)?.Text ?? "");
        bool hasInsideJaws = kind?.IsCaliper() == true || written.At("inside_jaw_flat") is not null || written.At("ring") is not null;
        (string unit, string zero) = kind?.Shows() switch
        {
            QuantityKind.Mass => ("g", "Shows with nothing on it"),
            QuantityKind.Volume => ("ml", "Shows with nothing in it"),
            QuantityKind.Angle => ("°", "Shows when closed (zero error)"),
            _ => ("mm", "Shows when closed (zero error)"),
        };
        return new(name,
        [
            Field($"{path}/kind", "Kind", [.. InstrumentKinds.Names]), Field($"{path}/resolution", $"Resolution, {unit}"), Field($"{path}/mpe", $"Largest permissible error (MPE), {unit}"),
            Field($"{path}/zero_error", $"{zero}, {unit}"),
            .. !hasInsideJaws ? Array.Empty<IntakeField>() :
            [
                Field($"{path}/inside_jaw_flat", "Flat of the inside jaws, mm"), Field(path + RingSize, "A ring of known size, mm"), Field(path + RingReads, "The inside jaws showed in it, mm (; between repeats)"),
            ],
        ]);
    }

    private IntakeField Field(string path, string label, IReadOnlyList<string>? choices = null, string otherwise = "", bool isLong = false)
    {
        Written? there = _root!.At(JobPath.Steps(path));
        Problem[] problems = there is null ? [] : [.. _problems.Where(p => p.Place.Line > 0 && _lines.OffsetOf(p.Place) is var at && there.Start <= at && at <= there.End)];
        string written = there switch
        {
            Written.Value value => value.Text,
            Written.List repeats => string.Join("; ", repeats.Items.OfType<Written.Value>().Select(r => r.Text)),
            _ => "",
        };
        return new(path, label, written, choices, otherwise, isLong, problems);
    }
}
