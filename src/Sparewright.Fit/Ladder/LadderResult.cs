using Sparewright.Fit.Capability;

namespace Sparewright.Fit.Ladder;

/// <summary>What to do after the gauges were tried.</summary>
public enum LadderStep
{
    /// <summary>The wanted odds are reached: print the part at the drawn size.</summary>
    PrintThePart,

    /// <summary>One more gauge would better the odds.</summary>
    OneMoreGauge,

    /// <summary>The wanted odds are not reached and another gauge would hardly change that: the printer's own scatter is what is left.</summary>
    ScatterIsLeft,
}

/// <summary>Two gauges whose answers contradict each other: the tighter one went and the looser one did not. They are numbered from 1, the tightest first.</summary>
public sealed record OutOfOrder(int Went, int DidNot);

/// <summary>What the answers of a ladder tell.</summary>
/// <param name="Answers">From the tightest gauge to the loosest.</param>
/// <param name="Process">The process, learnt anew.</param>
/// <param name="DrawnMm">The best size to draw now.</param>
/// <param name="Odds">That the part fits when drawn so.</param>
/// <param name="OutOfOrder">Answers that contradict each other; they are not averaged away: try these gauges again, and look at them.</param>
/// <param name="NextGaugeMm">Where one more gauge says most, when that is the next step.</param>
/// <param name="OddsAfterNext">The odds after it, on average.</param>
public sealed record LadderResult(
    IReadOnlyList<GaugeAnswer> Answers, ProcessCapability Process, double DrawnMm, double Odds, IReadOnlyList<OutOfOrder> OutOfOrder, LadderStep Next, double? NextGaugeMm, double OddsAfterNext)
{
    /// <summary>1 where a larger drawn size is looser, −1 where it is tighter.</summary>
    private int Sense { get; init; } = 1;

    /// <summary>One more gauge must bring at least this.</summary>
    private const double Worthwhile = 0.01;

    public static LadderResult Of(CriticalFit fit, IReadOnlyList<GaugeAnswer> answers, double wantedOdds)
    {
        int sense = Math.Sign(fit.Printed.Factor);
        GaugeAnswer[] sorted = [.. answers.OrderBy(a => sense * a.DrawnMm)];
        ProcessCapability process = fit.After(fit.Case.Process, sorted);
        var (drawn, odds) = fit.Best(process);
        var contradictions = from i in Enumerable.Range(0, sorted.Length)
                             from j in Enumerable.Range(i + 1, sorted.Length - i - 1)
                             where sorted[i].Answer > TrialAnswer.TooTight && sorted[j].Answer == TrialAnswer.TooTight && sorted[i].DrawnMm != sorted[j].DrawnMm
                             select new OutOfOrder(i + 1, j + 1);
        var result = new LadderResult(sorted, process, drawn, odds, [.. contradictions], LadderStep.PrintThePart, null, odds) { Sense = sense };
        if (odds >= wantedOdds) return result;

        var (gauge, after) = Candidates(fit, process, sense).Select(d => (Gauge: d, Odds: Expected(fit, process, d, odds))).MaxBy(c => c.Odds);
        return after < odds + Worthwhile
            ? result with { Next = LadderStep.ScatterIsLeft }
            : result with { Next = LadderStep.OneMoreGauge, NextGaugeMm = gauge, OddsAfterNext = after };
    }

    /// <summary>The numbers, from 1, of the gauges on either side of the next one; null at an end of the ladder.</summary>
    public (int? Tighter, int? Looser) NextLiesBetween
    {
        get
        {
            if (NextGaugeMm is not { } gauge) return (null, null);
            int tighter = Answers.Count(a => Sense * a.DrawnMm <= Sense * gauge + 1e-9);
            return (tighter == 0 ? null : tighter, tighter == Answers.Count ? null : tighter + 1);
        }
    }

    /// <summary>Half steps around where the counterpart may begin to go.</summary>
    private static IEnumerable<double> Candidates(CriticalFit fit, ProcessCapability process, int sense)
    {
        // Across the layers there is nothing between two whole ones.
        double half = fit.StepMm == GaugeLadder.StepMm ? fit.StepMm / 2 : fit.StepMm;
        double middle = fit.Middle(process, 0), doubt = Math.Max(half, fit.InDoubt(process, middle).StandardDeviationMm);
        return ((double[])[-1.3, -0.65, 0, 0.65, 1.3]).Select(z => Math.Round(Math.Round((middle + sense * z * doubt) / half) * half, 9)).Distinct();
    }

    private static double Expected(CriticalFit fit, ProcessCapability process, double gauge, double now)
    {
        var (goes, ifGoes) = fit.Imagined(process, [new(gauge, TrialAnswer.Goes)]);
        var (not, ifNot) = fit.Imagined(process, [new(gauge, TrialAnswer.TooTight)]);
        return goes * ifGoes + not * ifNot + (1 - goes - not) * now;
    }
}
