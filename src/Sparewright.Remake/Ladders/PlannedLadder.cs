using Sparewright.Fit.Ladder;
using Sparewright.Fit.Odds;
using Sparewright.Remake.Fits;

namespace Sparewright.Remake.Ladders;

/// <summary>A size in steps, one for each gauge.</summary>
/// <param name="Counterpart">What is tried in the gauges.</param>
/// <param name="Size">The size that differs from gauge to gauge.</param>
/// <param name="Met">The elements that the counterpart meets.</param>
/// <param name="DrawnMm">That size of each gauge, from the tightest to the loosest, in mm.</param>
public sealed record GaugeSteps(string Counterpart, string Size, IReadOnlyList<string> Met, IReadOnlyList<double> DrawnMm);

/// <summary>A fit of a job, and the fewest gauges that settle it.</summary>
/// <param name="Steps">Null where gauges cannot settle it, or none are needed.</param>
/// <param name="OddsNow">The best odds of this fit alone, without gauges.</param>
/// <param name="OddsExpected">The best odds after the gauges, on average over the answers that are to be expected.</param>
/// <param name="WantedOdds">What this fit alone must reach for all together to be as wanted.</param>
/// <param name="WhyNot">Why gauges cannot settle it; null where they can.</param>
public sealed record PlannedLadder(string Counterpart, GaugeSteps? Steps, double OddsNow, double OddsExpected, double WantedOdds, string? WhyNot)
{
    /// <summary>No single fit is asked for more than this.</summary>
    private const double MostWanted = 0.99;

    /// <summary>Whether the gauges are expected to reach the wanted odds.</summary>
    public bool Settles => OddsExpected >= WantedOdds;

    /// <summary>The ladders of all fits of a job.</summary>
    /// <param name="on">The day on which the gauges are printed.</param>
    public static IReadOnlyList<PlannedLadder> Of(FoundFits found, DateOnly on) => [.. found.Each.Select(fit => Of(found, fit, on))];

    /// <summary>What this fit alone must reach for all together to be as wanted.</summary>
    public static double WantedOf(FoundFits found, ExpectedFit fit)
    {
        double others = Math.Min(1, found.AllTogether / Math.Max(fit.Odds.Value, 1e-9));
        return Math.Min(MostWanted, found.WantedOdds / Math.Max(others, 1e-9));
    }

    private static PlannedLadder Of(FoundFits found, ExpectedFit fit, DateOnly on)
    {
        double wanted = WantedOf(found, fit);
        PlannedLadder None(string? whyNot) => new(fit.Name, null, fit.Odds.Value, fit.Odds.Value, wanted, whyNot);
        if (found.Drawn.Case.Conditions.FirstOrDefault(c => c.Name == fit.Name) is not OneClearance condition) return None("it is a pattern: print a trial of the whole pattern instead");
        if (CriticalFit.WhyNot(condition) is { } why) return None(why);
        PrintedSize printed = condition.Clearance.Printed[0];
        if (printed.PerSize.Count != 1) return None(printed.PerSize.Count == 0 ? "the job says no size that may change for it" : "its printed size hangs on more than one size that may change");

        GaugeLadder ladder = GaugeLadder.Plan(new(found.Drawn.Case, condition, on), wanted);
        if (ladder.DrawnMm.Count == 0) return None(null) with { OddsNow = ladder.OddsNow, OddsExpected = ladder.OddsNow };
        var (size, perMm) = printed.PerSize.Single();
        double now = found.Fits.DrawnMm[size] + (found.Drawn.Changes.FirstOrDefault(c => c.Size == size)?.ByMm ?? 0);
        return new(fit.Name, new(fit.Name, size, fit.Met.Surfaces[0].Name.Split(", "), [.. ladder.DrawnMm.Select(d => Math.Round(now + (d - printed.DrawnMm) / perMm, 9))]), ladder.OddsNow, ladder.OddsExpected, wanted, null);
    }
}
