using System.Globalization;
using Sparewright.Measure.Quantities;
using Sparewright.Part;
using Sparewright.Part.Record;

namespace Sparewright.Web.Trials;

/// <summary>A trial as a form of the pane hands it on.</summary>
/// <param name="What">In a few words, for the list of entries.</param>
/// <param name="Key">Under which a trial of a job holds such a thing.</param>
public sealed record KeptTrial(string What, string Key, JobValue Value, string Note = "");

/// <summary>The readings of a coupon that a job is to learn from.</summary>
public sealed record CouponTrial(DateOnly On, JobValue Measured);

/// <summary>A trial of a job in a sentence.</summary>
public static class TrialWords
{
    public static string Of(Trial trial, LengthUnit unit)
    {
        string[] parts =
        [
            .. trial.Gauges.Select(g => $"gauges for {g.Counterpart}: {string.Join("; ", Said(unit, (g.GoesMm, "goes in"), (g.TooTightMm, "too tight in"), (g.TooLooseMm, "too loose in")))}"),
            .. Measured(trial.Measured, unit),
            .. trial.Part is { } part ? [Part(part)] : (string[])[],
            .. trial.Note is { } note ? [note] : (string[])[],
            .. ((string[])[trial.Machine is null ? "" : $"on {trial.Machine}", trial.Material is null ? "" : $"in {trial.Material}", trial.NozzleMm is { } nozzle ? $"nozzle {LengthsShown.WithUnit(nozzle, unit)}" : "", trial.LayerMm is { } layer ? $"layer {LengthsShown.WithUnit(layer, unit)}" : ""]).Where(w => w.Length > 0),
        ];
        return string.Join("; ", parts);
    }

    private static IEnumerable<string> Said(LengthUnit unit, params IEnumerable<(IReadOnlyList<double> Mm, string Words)> answers) =>
        answers.Where(a => a.Mm.Count > 0).Select(a => $"{a.Words} {string.Join(", ", a.Mm.Select(mm => LengthsShown.Display(mm, unit)))} {unit.Symbol()}");

    private static IEnumerable<string> Measured(IReadOnlyList<MeasuredFeature> features, LengthUnit unit) => features.Count switch
    {
        0 => [],
        <= 2 => features.Select(f => $"{f.Surface.Words()} drawn {LengthsShown.WithUnit(f.DrawnMm, unit)} reads {string.Join(", ", f.ReadsMm.Select(r => LengthsShown.Display(r, unit)))}"),
        _ => [string.Create(CultureInfo.InvariantCulture, $"{features.Count} measured features")],
    };

    private static string Part(PartTrial part) => "the part itself: " + string.Join("; ", ((string[])
    [
        Names(part.Fits, "fits", "fit"), Names(part.TooTight, "is too tight", "are too tight"), Names(part.TooLoose, "is too loose", "are too loose"), part.Broke is { } broke ? $"broke: {broke}" : "",
    ]).Where(w => w.Length > 0));

    private static string Names(IReadOnlyList<string> names, string one, string several) => names.Count == 0 ? "" : $"{string.Join(", ", names)} {(names.Count == 1 ? one : several)}";
}
