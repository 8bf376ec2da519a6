using Sparewright.Measure;
using Sparewright.Measure.Quantities;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;
using Sparewright.Reconcile.Readings;

namespace Sparewright.Web.Readings;

/// <summary>What can be measured.</summary>
public enum DraftWay { Outside, Inside, Depth, Step, RadiusGauge, Weight }

/// <summary>A reading while somebody describes it, as its form has it: texts, perhaps not yet sound.</summary>
public sealed record ReadingDraft
{
    public DraftWay Way { get; init; } = DraftWay.Outside;

    public string First { get; init; } = "";

    public string Second { get; init; } = "";

    /// <summary>A direction in the job's words, or empty.</summary>
    public string Across { get; init; } = "";

    public string Instrument { get; init; } = "";

    public bool Worn { get; init; }

    public bool AcrossBreak { get; init; }

    public string OnFragment { get; init; } = "";

    public string AtHeight { get; init; } = "";

    public string Id { get; init; } = "";

    /// <summary>Gauge leaves: bigger than the one, smaller than the other.</summary>
    public string BiggerThan { get; init; } = "";

    public string SmallerThan { get; init; } = "";

    /// <summary>With a weight: g/cm3 with its ±.</summary>
    public string Density { get; init; } = "";

    public bool IsCaliper => Way is DraftWay.Outside or DraftWay.Inside or DraftWay.Depth or DraftWay.Step;

    /// <summary>Whether it is taken between two elements in any case.</summary>
    public bool NeedsPair => Way is DraftWay.Depth or DraftWay.Step;

    /// <summary>A reading that is there, as its text says it.</summary>
    /// <param name="written">The reading in the job's text.</param>
    public static ReadingDraft Of(Written written)
    {
        DraftWay way = Enum.GetValues<DraftWay>().FirstOrDefault(w => written.At(Key(w)) is not null);
        string[] elements = written.At(Key(way)) switch
        {
            Written.Value v => [v.Text],
            Written.List l => [.. l.Items.OfType<Written.Value>().Select(v => v.Text)],
            _ => [],
        };
        string Text(string key) => written.At(key) is Written.Value v ? v.Text : "";
        string[] leaf = written.At("leaf") is Written.List leaves ? [.. leaves.Items.OfType<Written.Value>().Select(v => v.Text)] : [];
        return new()
        {
            Way = way,
            First = elements.ElementAtOrDefault(0) ?? "",
            Second = elements.ElementAtOrDefault(1) ?? "",
            Across = Text("across"),
            Instrument = Text("with"),
            Worn = Text("worn") is "yes" or "true",
            AcrossBreak = Text("across_break") is "yes" or "true",
            OnFragment = Text("on_fragment"),
            AtHeight = Text("at_height"),
            Id = Text("id"),
            BiggerThan = leaf.ElementAtOrDefault(0) ?? "",
            SmallerThan = leaf.ElementAtOrDefault(1) ?? "",
            Density = Text("density"),
        };
    }

    /// <summary>The reading that it would be on a shape, as far as a caliper takes it; null while too little is said.</summary>
    /// <param name="height">The height as an expression of the sizes, where it is said and can be read.</param>
    /// <param name="readsMm">What the display would say, mm.</param>
    public CaliperReading? AsReading(SizeExpression? height, double readsMm = 0)
    {
        if (!IsCaliper || First.Length == 0 || (NeedsPair && Second.Length == 0)) return null;
        Direction? across = Second.Length == 0 && Enum.TryParse(Across, ignoreCase: true, out Direction direction) ? direction : null;
        return new(Id, (ReadingWay)Way, new ElementName(First, Place.None), Second.Length == 0 ? null : new ElementName(Second, Place.None), across,
            [readsMm], Worn, AcrossBreak, null, height, null, Place.None);
    }

    /// <summary>What a caliper would show there on the part as it stands, mm, or why none can take it; both null while too little is said.</summary>
    public (double? Mm, Problem? Why) On(PlacedShape shape)
    {
        if (Way == DraftWay.RadiusGauge)
            return First.Length == 0 || shape.Elements.ContainsKey(First + ".face") || shape.Elements.GetValueOrDefault(First) is EdgeFaceElement
                ? (null, null)
                : (null, new Problem(Place.None, $"there is no edge round or fillet `{First}`", "name one of the shape's rounds"));
        SizeExpression? height = null;
        if (AtHeight.Length > 0)
        {
            if (HeightIn(shape) is not { } mm) return (null, new Problem(Place.None, $"`{AtHeight}` is not a height", "write a length or an expression of the sizes, as foot_t + 12"));
            height = mm;
        }

        if (AsReading(height) is not { } reading) return (null, null);
        CaliperValue value = CaliperGeometry.Of(reading, shape);
        return value.Refusal is { } why ? (null, why with { What = why.What[(why.What.IndexOf(": ", StringComparison.Ordinal) + 2)..] }) : (value.Mm!.Value.Value, null);
    }

    /// <summary>A whole new reading, with what the display said.</summary>
    public JobValue New(JobValue reads) => new JobValue.Group([.. Entries(reads)]);

    /// <summary>Writes it over a reading that is there, key by key, so that what is not changed stays as it is written.</summary>
    /// <param name="path">Of the reading.</param>
    public JobEdit WriteOver(string text, IReadOnlyList<string> path)
    {
        var edit = new JobEdit(text, null);
        Written? there = Written.Read(text, out _)?.At(path);
        if (there is null) return new JobEdit(null, new Problem(Place.None, "the reading is not there any more", "look at the list as it stands now"));
        ReadingDraft before = Of(there);
        if (before.Way != Way) return JobText.WithValue(text, path, New(ReadsOf(there)));
        (string Key, JobValue Value)[] wanted = [.. Entries(null)], had = [.. before.Entries(null)];
        foreach (var (key, value) in wanted.Where(w => !had.Any(h => h.Key == w.Key && Same(h.Value, w.Value))))
            if (edit.Text is { } changed) edit = JobText.WithValue(changed, [.. path, key], value);
        foreach (var (key, _) in had.Where(h => wanted.All(w => w.Key != h.Key)))
            if (edit.Text is { } changed) edit = JobText.Without(changed, [.. path, key]);
        return edit;
    }

    private IEnumerable<(string Key, JobValue Value)> Entries(JobValue? reads)
    {
        JobValue elements = Second.Length > 0 && IsCaliper ? new JobValue.List([First, Second]) : First;
        yield return (Key(Way), elements);
        if (Way == DraftWay.RadiusGauge) yield return ("leaf", new JobValue.List([BiggerThan, SmallerThan]));
        if (IsCaliper && Across.Length > 0 && Second.Length == 0) yield return ("across", Across);
        if (reads is not null && Way != DraftWay.RadiusGauge) yield return ("reads", reads);
        if (Way == DraftWay.Weight) yield return ("density", Density);
        if (IsCaliper)
        {
            if (Worn) yield return ("worn", "yes");
            if (AcrossBreak) yield return ("across_break", "yes");
            if (OnFragment.Length > 0) yield return ("on_fragment", OnFragment);
            if (AtHeight.Length > 0) yield return ("at_height", AtHeight);
        }

        if (Instrument.Length > 0) yield return ("with", Instrument);
        if (Id.Length > 0) yield return ("id", Id);
    }

    private static JobValue ReadsOf(Written reading)
    {
        IReadOnlyList<string> raw = LedgerRow.RawReads(reading);
        return raw.Count == 1 ? raw[0] : new JobValue.List([.. raw.Select(r => (JobValue)r)]);
    }

    private static bool Same(JobValue a, JobValue b) => (a, b) switch
    {
        (JobValue.Text x, JobValue.Text y) => x == y,
        (JobValue.List x, JobValue.List y) => x.Items.SequenceEqual(y.Items),
        _ => false,
    };

    private static string Key(DraftWay way) => way switch
    {
        DraftWay.Outside => "outside",
        DraftWay.Inside => "inside",
        DraftWay.Depth => "depth",
        DraftWay.Step => "step",
        DraftWay.RadiusGauge => "radius_gauge",
        _ => "weight",
    };

    /// <summary>The height at the sizes as they are, as a number: enough to say what the jaws would find.</summary>
    private double? HeightIn(PlacedShape shape)
    {
        if (QuantityText.TryRead(AtHeight, QuantityKind.Length, out var length, out _)) return length.Value;
        if (ExpressionParser.Read(AtHeight) is not { Expression: { } expression, Refusal: null } || expression.Names().Any(n => !shape.Sizes.ContainsKey(n))) return null;
        return expression.At(shape.Sizes).Value;
    }
}
