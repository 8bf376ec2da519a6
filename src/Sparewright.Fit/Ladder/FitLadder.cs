using Sparewright.Fit.Capability;
using Sparewright.Fit.Odds;

namespace Sparewright.Fit.Ladder;

/// <summary>One fit among all of a case, and the fewest gauges that settle it.</summary>
/// <param name="WantedOdds">What this fit alone must reach for all together to be as wanted.</param>
/// <param name="Ladder">Null where gauges in steps cannot settle it.</param>
/// <param name="WhyNot">Why they cannot.</param>
public sealed record FitLadder(FitCondition Fit, double WantedOdds, GaugeLadder? Ladder, string? WhyNot)
{
    /// <summary>No single fit is asked for more than this.</summary>
    private const double MostWanted = 0.99;

    /// <summary>The ladders of all fits of a case.</summary>
    /// <param name="odds">Of the case as it stands.</param>
    public static IReadOnlyList<FitLadder> Of(FitCase fit, FitOdds odds, double wantedOdds) => [.. odds.Each.Select(e => Of(fit, e, odds.AllTogether.Value, wantedOdds))];

    /// <summary>What one fit alone must reach for all together to be as wanted.</summary>
    public static double WantedOf(double itsOdds, double allTogether, double wantedOdds) => Math.Min(MostWanted, wantedOdds / Math.Max(Others(itsOdds, allTogether), 1e-9));

    /// <summary>The odds of all others, as if they hung on nothing that this one hangs on.</summary>
    public static double Others(double itsOdds, double allTogether) => Math.Min(1, allTogether / Math.Max(itsOdds, 1e-9));

    private static FitLadder Of(FitCase fit, ConditionOdds one, double allTogether, double wantedOdds)
    {
        double wanted = WantedOf(one.Odds.Value, allTogether, wantedOdds);
        if (one.Condition is not OneClearance clearance) return new(one.Condition, wanted, null, "it is a pattern of holes");
        return CriticalFit.WhyNot(clearance) is { } why
            ? new(clearance, wanted, null, why)
            : new(clearance, wanted, GaugeLadder.Plan(new(fit, clearance, fit.Process.NextDay), wanted), null);
    }

    /// <summary>
    /// The odds of a pattern after one gauge that holds it whole was printed and measured, each of its holes and distances once: they come out as forecast and scatter as expected, so that only the doubt about the printer shrinks.
    /// </summary>
    public static double OddsAfterPattern(FitCase fit, FitCondition pattern)
    {
        var evidence = new List<TrialEvidence>();
        foreach (var kind in pattern.Lengths.SelectMany(l => l.Printed).DistinctBy(p => (object?)p.Surface ?? p).GroupBy(p => p.Kind))
        {
            KindCapability now = fit.Process[kind.Key];
            PrintedSize[] sizes = [.. kind];
            double scatter = sizes.Length == 1 ? 0 : Math.Sqrt(now.OwnScatterMm2 + Cures.ReadingUncertaintyMm * Cures.ReadingUncertaintyMm);
            evidence.AddRange(sizes.Select((p, k) => new MeasuredTrial(kind.Key, Math.Abs(p.DrawnMm), fit.Process.NextDay, now.Forecast(Math.Abs(p.DrawnMm)).MeanMm + (k % 2 == 0 ? scatter : -scatter), Cures.ReadingUncertaintyMm)));
        }

        return FitOdds.Of(fit with { Process = fit.Process.With(evidence), Conditions = [pattern] }).AllTogether.Value;
    }
}
