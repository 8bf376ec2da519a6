using Sparewright.Fit.Counterparts;
using Sparewright.Fit.Drawn;
using Sparewright.Fit.Ladder;
using Sparewright.Fit.Odds;
using Sparewright.Part.Elements;
using Sparewright.Remake.Fits;

namespace Sparewright.Remake.Ladders;

/// <summary>A size in steps, one for each gauge.</summary>
/// <param name="Counterpart">What is tried in the gauges.</param>
/// <param name="Size">The size that differs from gauge to gauge.</param>
/// <param name="Met">The elements that the counterpart meets.</param>
/// <param name="DrawnMm">That size of each gauge, from the tightest to the loosest, in mm.</param>
public sealed record GaugeSteps(string Counterpart, string Size, IReadOnlyList<string> Met, IReadOnlyList<double> DrawnMm)
{
    /// <summary>True for the one gauge that holds a pattern of holes whole: it is put in place with all that goes through, and measured.</summary>
    public bool HoldsPattern { get; init; }

    /// <summary>The part at the sizes of each gauge: as drawn for the fits, and one size otherwise.</summary>
    public IReadOnlyList<PlacedShape> Shapes(DrawnForFits drawn) =>
        [.. DrawnMm.Select(mm => JobFits.ShapeChanged(drawn.Job.Job, drawn.Reconciled, new Dictionary<string, double>(drawn.ByMm, StringComparer.Ordinal) { [Size] = mm - drawn.Fits.DrawnMm[Size] }))];

    /// <summary>By how much edges of a gauge that lie on the bed are bevelled, so that the first layers' flare has no say in whether it goes; mm.</summary>
    public double BevelMm(DrawnForFits drawn) => FlareRelief.Of(drawn.Process, DrawnMm[0]).LegMm;
}

/// <summary>A fit of a job, and the fewest gauges that settle it.</summary>
/// <param name="Steps">Null where gauges cannot settle it, or none are needed.</param>
/// <param name="OddsNow">The best odds of this fit alone, without gauges.</param>
/// <param name="OddsExpected">The best odds after the gauges, on average over the answers that are to be expected.</param>
/// <param name="WantedOdds">What this fit alone must reach for all together to be as wanted.</param>
/// <param name="WhyNot">Why gauges cannot settle it; null where they can.</param>
public sealed record PlannedLadder(string Counterpart, GaugeSteps? Steps, double OddsNow, double OddsExpected, double WantedOdds, string? WhyNot)
{
    /// <summary>Whether the gauges are expected to reach the wanted odds.</summary>
    public bool Settles => OddsExpected >= WantedOdds;

    /// <summary>The ladders of all fits of a job.</summary>
    public static IReadOnlyList<PlannedLadder> Of(FoundFits found) => [.. found.Each.Select(fit => Of(found, fit))];

    /// <summary>What this fit alone must reach for all together to be as wanted.</summary>
    public static double WantedOf(FoundFits found, ExpectedFit fit) => FitLadder.WantedOf(fit.Odds.Value, found.AllTogether, found.WantedOdds);

    private static PlannedLadder Of(FoundFits found, ExpectedFit fit)
    {
        double wanted = WantedOf(found, fit);
        PlannedLadder None(string? whyNot) => new(fit.Name, null, fit.Odds.Value, fit.Odds.Value, wanted, whyNot);
        if (fit.Press is { IsRefused: true }) return None("the press fit is refused, so there is nothing to try");
        if (FitWords.NoInsert(fit, found) is not null) return None("cured resin takes no heat-set insert, so there is nothing to try");
        if (found.Ladders.FirstOrDefault(l => l.Fit.Name == fit.Name) is not { } planned) return None("what goes through these holes is a counterpart itself, and its gauge holds the whole pattern");
        if (planned.Fit is not OneClearance) return Pattern(found, fit, planned, None);
        if (planned.Ladder is not { } ladder) return None(planned.WhyNot);
        PrintedSize printed = ladder.Fit.Printed;
        if (printed.PerSize.Count != 1) return None(printed.PerSize.Count == 0 ? "the job says no size that may change for it" : "its printed size hangs on more than one size that may change");
        if (ladder.DrawnMm.Count == 0) return None(null) with { OddsNow = ladder.OddsNow, OddsExpected = ladder.OddsNow };
        var (size, perMm) = printed.PerSize.Single();
        return new(fit.Name, new(fit.Name, size, fit.Met.Surfaces[0].Name.Split(", "), [.. ladder.DrawnMm.Select(d => Math.Round(Drawn(found, size) + (d - printed.DrawnMm) / perMm, 9))]), ladder.OddsNow, ladder.OddsExpected, wanted, null);
    }

    /// <summary>One gauge holds the whole pattern: steps in one size would say nothing of the distances.</summary>
    private static PlannedLadder Pattern(FoundFits found, ExpectedFit fit, FitLadder planned, Func<string?, PlannedLadder> none)
    {
        if (fit.Odds.Value >= planned.WantedOdds) return none(null);
        if (fit.Met.Counterpart.Changes is not { } size || !found.Fits.DrawnMm.ContainsKey(size)) return none("the job says no size that may change for it");
        double after = FitLadder.OddsAfterPattern(found.Drawn.Case, planned.Fit);
        GaugeSteps whole = new(fit.Name, size, [.. fit.Met.Surfaces.SelectMany(s => s.Name.Split(", "))], [Math.Round(Drawn(found, size), 9)]) { HoldsPattern = true };
        return after > fit.Odds.Value ? new(fit.Name, whole, fit.Odds.Value, after, planned.WantedOdds, null) : none("its odds hang on more than the printer, and a gauge would not better them");
    }

    private static double Drawn(FoundFits found, string size) => found.Fits.DrawnMm[size] + found.ForTheFitsByMm.GetValueOrDefault(size);
}
