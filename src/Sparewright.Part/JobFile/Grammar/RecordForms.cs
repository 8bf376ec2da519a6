using System.Diagnostics.CodeAnalysis;
using System.Text.Json.Nodes;
using Sparewright.Measure;
using Sparewright.Measure.Quantities;
using Sparewright.Part.Record;
using Sparewright.Part.Yaml;
using static Sparewright.Part.Grammar.PlaceForms;

namespace Sparewright.Part.Grammar;

/// <summary>What surrounds the shape: the intake, the instruments, counterparts, loads, printing, spares.</summary>
internal static class RecordForms
{
    private static readonly Form<bool> YesNo = new YesNoForm();
    private static readonly Form<double> Length = new QuantityForm(QuantityKind.Length, "a length greater than 0", 0, leastExcluded: true);
    private static readonly Form<double> Number = new QuantityForm(QuantityKind.Number, "a number greater than 0", 0, leastExcluded: true);
    private static readonly Form<double> Odds = new QuantityForm(QuantityKind.Number, "odds between 0 and 1", 0, 1);

    public static readonly Form<MadeBy> MadeBy = new WordForm<MadeBy>("a way of making", ("moulding", Record.MadeBy.Moulding), ("printing", Record.MadeBy.Printing),
        ("machining", Record.MadeBy.Machining), ("casting", Record.MadeBy.Casting), ("unknown", Record.MadeBy.Unknown));

    public static readonly Form<Surroundings> Lives = new MapForm<Surroundings>("the surroundings", "Where the part lives.", map =>
    {
        var sun = map.OptionalOr("sun", YesNo, false, "whether the sun reaches it");
        var wet = map.OptionalOr("wet", YesNo, false, "whether it gets wet");
        var hottest = map.OptionalValue("hottest", new QuantityForm(QuantityKind.Temperature, "a temperature", -273.15), "how hot it gets");
        return entry => new Surroundings(entry.Of(sun), entry.Of(wet), entry.Of(hottest));
    });

    public static readonly Form<Injury> CouldInjure = new EitherForm<Injury>("`no`, or {why: …, acknowledged: …}",
        scalar: new NoInjury(), map: new MapForm<Injury>("the answer that it could injure",
        "The part's failure could injure someone. That puts a caution on every output, and needs an acknowledgement in these words: “" + Injury.Acknowledgement + "”.", map =>
    {
        var why = map.Required("why", new TextForm(), "how it could injure: brakes, steering, climbing, child seats, lifting, pressure, gas, mains insulation, guards, medical, hot water, toys, protective equipment, or your own words");
        var acknowledged = map.Required("acknowledged", new TextForm($"\"{Injury.Acknowledgement}\""), "if you mean it, typed in full");
        return entry => string.Equals(Plain(entry.Of(acknowledged)), Plain(Injury.Acknowledgement), StringComparison.OrdinalIgnoreCase)
            ? new Injury(true, entry.Of(why), entry.Of(acknowledged), entry.Place)
            : entry.Refuse<Injury>("acknowledged", "the acknowledgement has other words than it needs", $"if you mean it, type acknowledged: \"{Injury.Acknowledgement}\"");
    }));

    private static string Plain(string words) => string.Join(' ', words.Split([' ', '\n', '\r', '\t'], StringSplitOptions.RemoveEmptyEntries)).TrimEnd('.');

    private sealed class NoInjury : Form<Injury>
    {
        public override string Phrase => "`no`";

        public override JsonObject Describe(Definitions definitions) => new() { ["enum"] = new JsonArray("no", false) };

        public override bool TryRead(YamlNode node, Findings findings, [MaybeNullWhen(false)] out Injury value)
        {
            value = new Injury(false, null, null, node.Place);
            if (node is YamlScalar { Text: "no" or "false" }) return true;
            return node is YamlScalar { Text: "yes" or "true" }
                ? Refuse(node, findings, "a part that could injure needs a reason and an acknowledgement", $"if you mean it, write could_injure: {{why: …, acknowledged: \"{Injury.Acknowledgement}\"}}")
                : Refuse(node, findings, $"{Found(node)} where the question whether its failure could injure someone wants its answer", "write no, or {why: …, acknowledged: …}");
        }
    }

    private sealed record InstrumentSaid(InstrumentKind Kind, double? Resolution, double? Mpe, double? ZeroError, double? InsideJawFlat, RingReading? Ring);

    private static readonly Form<RingReading> Ring = new MapForm<RingReading>("a ring", "A ring or bore of known size in which the inside jaws were tried.", map =>
    {
        var size = map.Required("size", Length, "its diameter, as known from better instruments");
        var reads = map.Required("reads", new OneOrMoreForm<double>(ReadLength, "a length as the display said it, or a list of repeats"), "what the display said in it, uncorrected");
        return entry => new RingReading(entry.Of(size), entry.Of(reads));
    });

    private static readonly Form<InstrumentSaid> Instrument = new MapForm<InstrumentSaid>("an instrument",
        "An instrument as its owner knows it; what is not said is taken from the published figures of its kind. Lengths, for a scale grams, for a protractor degrees, for a measuring cylinder ml.", map =>
    {
        var kind = map.Required("kind", new WordForm<InstrumentKind>("a kind of instrument", [.. Enum.GetValues<InstrumentKind>().Select(k => (k.Name(), k))]), "what it is");
        var resolution = map.Optional("resolution", new InstrumentValue(true), "the smallest step of its display");
        var mpe = map.Optional("mpe", new InstrumentValue(true), "the largest permissible error of an outside reading");
        var zero = map.Optional("zero_error", new InstrumentValue(false), "what the display shows when the jaws are closed; subtracted from what is read");
        var flat = map.OptionalValue("inside_jaw_flat", new QuantityForm(QuantityKind.Length, "a length", 0), "the contact chord of the inside jaws across a small hole");
        var ring = map.Optional("ring", Ring, "what its inside jaws showed in a ring of known size, which tells how they read in holes");
        return entry =>
        {
            QuantityKind shows = entry.Of(kind).Shows();
            foreach (string key in (string[])["resolution", "mpe", "zero_error"])
            {
                QuantityKind? said = (key == "resolution" ? entry.Of(resolution) : key == "mpe" ? entry.Of(mpe) : entry.Of(zero))?.Said;
                if (said is null || said == shows) continue;
                var (what, remedy) = shows switch { QuantityKind.Mass => ("grams", "write it in g"), QuantityKind.Angle => ("degrees", "write it in deg"), QuantityKind.Volume => ("volumes", "write it in ml"), _ => ("lengths", "write it in mm or in") };
                entry.Findings.Add(entry.ValuePlaceOf(key), $"a {entry.Of(kind).Name()} shows {what}", remedy);
                return null;
            }

            if (entry.Of(flat) is not null && !entry.Of(kind).IsCaliper())
                return entry.Refuse<InstrumentSaid>("inside_jaw_flat", $"a {entry.Of(kind).Name()} has no inside jaws", "remove `inside_jaw_flat`");
            if (entry.Of(ring) is not null && !entry.Of(kind).IsCaliper())
                return entry.Refuse<InstrumentSaid>("ring", $"a {entry.Of(kind).Name()} has no inside jaws", "remove `ring`");
            if (entry.Of(ring) is { } tried && Math.Abs(tried.ReadsMm.Average() - tried.SizeMm) > 0.1 * tried.SizeMm)
                return entry.Refuse<InstrumentSaid>("ring", "what it shows in the ring is more than a tenth off", "check the ring's size and what was read in it");
            return new InstrumentSaid(entry.Of(kind), entry.Of(resolution)?.Value, entry.Of(mpe)?.Value, entry.Of(zero)?.Value, entry.Of(flat), entry.Of(ring));
        };
    });

    private sealed record InstrumentFigure(double Value, QuantityKind? Said);

    /// <summary>A length, a mass, an angle or a volume, as the instrument is.</summary>
    private sealed class InstrumentValue(bool positive) : Form<InstrumentFigure>
    {
        public override string Phrase => positive ? "a length greater than 0 (for a scale g, for a protractor deg, for a measuring cylinder ml)" : "a length (for a scale g, for a protractor deg, for a measuring cylinder ml)";

        public override JsonObject Describe(Definitions definitions)
        {
            var json = new JsonObject { ["type"] = new JsonArray("number", "string"), ["pattern"] = Patterns.Quantity(QuantityKind.Length, QuantityKind.Mass, QuantityKind.Angle, QuantityKind.Volume) };
            if (positive) json["exclusiveMinimum"] = 0;
            return json;
        }

        public override bool TryRead(YamlNode node, Findings findings, [MaybeNullWhen(false)] out InstrumentFigure value)
        {
            value = null;
            if (node is not YamlScalar { IsNothing: false } scalar) return RefuseKind(node, findings);
            QuantityKind kind = scalar.Text.EndsWith("deg", StringComparison.Ordinal) || scalar.Text.EndsWith('°') ? QuantityKind.Angle : scalar.Text.EndsWith('g') ? QuantityKind.Mass
                : scalar.Text.EndsWith("ml", StringComparison.Ordinal) || scalar.Text.EndsWith("cm3", StringComparison.Ordinal) || scalar.Text.EndsWith("cm³", StringComparison.Ordinal) ? QuantityKind.Volume : QuantityKind.Length;
            if (!QuantityText.TryRead(scalar.Text, kind, out var quantity, out var refusal))
                return Refuse(node, findings, Show.Line(refusal.Reason), refusal.Remedy);
            if (positive && !(quantity.Value > 0)) return Refuse(node, findings, $"{Show.Name(scalar.Text)} is out of range", $"write {Phrase}");
            value = new InstrumentFigure(quantity.Value, kind == QuantityKind.Length && char.IsAsciiDigit(scalar.Text.TrimEnd()[^1]) ? null : kind);
            return true;
        }
    }

    public static readonly Form<IReadOnlyList<Instrument>> Instruments = new EntriesForm<InstrumentSaid>(
        new PatternForm(@"[^\s]+(?: [^\s]+)*", "an instrument's name", "write a short name on one line").Noting((name, place, findings) => findings.Instruments.Introduce(name, place, 0, findings)),
        Instrument, "instrument names with their keys")
        .Select((all, _) => (IReadOnlyList<Instrument>)[.. all.Select(i => new Instrument(i.Name, i.Value.Kind, i.Value.Resolution, i.Value.Mpe, i.Value.ZeroError, i.Value.InsideJawFlat) { Ring = i.Value.Ring })]);

    public static readonly Form<PrintPlan> Print = new MapForm<PrintPlan>("the print", "How it is going to be printed.", map =>
    {
        var machine = map.Optional("machine", new TextForm(), "one of the shop's own machines, or what kind it is");
        var nozzle = map.OptionalValue("nozzle", Length, "the nozzle's diameter");
        var layer = map.OptionalValue("layer", Length, "the layer height");
        var wayUp = map.OptionalValue("way_up", ADirection, "which job direction points away from the bed");
        var material = map.Optional("material", new TextForm(), "what it is printed in");
        var tryFirst = map.Optional("try_first", new TextForm(), "what trial prints are made in");
        var drawn = map.OptionalOr("drawn", new EntriesForm<double>(SizeForms.Used, Length, "size names with the lengths at which they are drawn"), [], "sizes that a trial of the part has settled: they are drawn so, whatever else would be best for the fits");
        var least = map.OptionalOr("change_least", YesNo, false, "sizes are changed for the fits only as far as the wanted odds ask; otherwise to where the odds are best");
        return entry => new PrintPlan(entry.Of(machine), entry.Of(nozzle), entry.Of(layer), entry.Of(wayUp), entry.Of(material), entry.Of(tryFirst))
        {
            DrawnMm = entry.Has("drawn") ? entry.Of(drawn).ToDictionary(d => d.Name, d => d.Value, StringComparer.Ordinal) : PrintPlan.Unsaid.DrawnMm,
            DrawnPlace = entry.Has("drawn") ? entry.ValuePlaceOf("drawn") : Place.None,
            ChangesLeast = entry.Of(least),
            MaterialPlace = entry.Has("material") ? entry.ValuePlaceOf("material") : Place.None,
        };
    });

    public static readonly Form<SparesPlan> Spares = new MapForm<SparesPlan>("the spares", "What the number of spares follows from.", map =>
    {
        var inUse = map.Required("parts_in_use", new CountForm("a number of parts", 1, 1_000_000), "how many parts are in use");
        var fails = map.Required("fails_each_per_year", new QuantityForm(QuantityKind.Number, "a number", 0), "how often each fails in a year");
        var years = map.Required("years", Number, "for how many years the spares are to last");
        var chance = map.Required("chance_of_running_out", Odds, "the chance of running out that the owner accepts");
        return entry => new SparesPlan(entry.Of(inUse), entry.Of(fails), entry.Of(years), entry.Of(chance));
    });
}
