using Sparewright.Measure.Quantities;
using Sparewright.Part.Record;
using Sparewright.Part.Sizes;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Next;
using Quantity = Sparewright.Part.Sizes.Quantity;

namespace Sparewright.Web.Readings;

/// <summary>A reading worth taking, as a window shows it.</summary>
/// <param name="Text">As one writes it in the job, without what it reads.</param>
/// <param name="Time">1, or 2 for a reading that stands in the plan a second time, and so on.</param>
/// <param name="AboutMm">What it should read, as far as anything says so.</param>
/// <param name="About">The same in the window's unit; empty where nothing says.</param>
/// <param name="Narrows">"bore_d ±0.033 → ±0.026", the most narrowed size first.</param>
public sealed record NextRow(string Text, int Time, CaliperReading Reading, double? AboutMm, string About, string Why, string Narrows)
{
    private const int MostNarrowed = 3;

    /// <summary>Tells it from all other rows.</summary>
    public string Key => Time == 1 ? Text : $"{Text}, time {Time}";

    public IReadOnlyList<string> Elements => Reading.Second is { } second ? [Reading.First.Text, second.Text] : [Reading.First.Text];

    /// <summary>The same reading as the form has it.</summary>
    public ReadingDraft Draft => new()
    {
        Way = (DraftWay)Reading.Way,
        First = Reading.First.Text,
        Second = Reading.Second?.Text ?? "",
        Across = Reading.Across?.ToString().ToLowerInvariant() ?? "",
        AtHeight = Reading.AtHeight is { } height ? ExpressionText.Of(height) : "",
    };

    /// <summary>"outside diameter at height 2.00 mm".</summary>
    public string What(LengthUnit unit) => string.Join(' ', new[] { ReadingSentence.What(Reading), ReadingSentence.Marks(Reading, unit) }.Where(w => w.Length > 0));

    /// <summary>As it is shown on the part: with a question in the place of a value.</summary>
    public CaliperReading OnPart => Reading with { Id = "?", ReadsMm = [] };

    /// <summary>
    /// Whether the rest of the measuring plan is shown: to its end, so that whoever follows it finds the next line where it was; unless readings contradict each other, which comes first.
    /// </summary>
    public static bool IsPlan(Reconciled reconciled) => reconciled.Contradictions.Count == 0 && reconciled.Plan.Count > 0;

    /// <summary>The plan, or what to measure next; the most useful first. Takes longer than all the rest of a live answer.</summary>
    public static IReadOnlyList<NextRow> Of(Reconciled reconciled, LengthUnit unit)
    {
        string About(double? mm) => mm is { } about ? LengthsShown.WithUnit(about, unit) : "";
        if (!IsPlan(reconciled)) return [.. reconciled.Next.Select(n => new NextRow(n.Text, 1, n.Reading, n.ForetoldMm, About(n.ForetoldMm), n.Why, Narrowed(n, reconciled, unit)))];
        var times = new Dictionary<string, int>(StringComparer.Ordinal);
        return [.. reconciled.Plan.Select(p => new NextRow(p.Text, times[p.Text] = times.GetValueOrDefault(p.Text) + 1, p.Reading, p.AboutMm, About(p.AboutMm), p.Why, ""))];
    }

    private static string Narrowed(NextReading next, Reconciled reconciled, LengthUnit unit) => string.Join(", ", next.Narrows.Take(MostNarrowed).Select(n =>
    {
        ReconciledSize size = reconciled.Sizes.First(s => s.Name == n.Size);
        double half = (size.High95 - size.Low95) / 2, after = half * n.To / n.From;
        return size.Quantity == Quantity.Length
            ? $"{n.Size} {Shown.Narrowed(half / unit.InMm(), after / unit.InMm())} {unit.Symbol()}"
            : $"{n.Size} {Shown.Narrowed(half, after)}°";
    }));
}
