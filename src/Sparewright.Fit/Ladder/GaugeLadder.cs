using Sparewright.Fit.Capability;
using Sparewright.Measure.Uncertainty;

namespace Sparewright.Fit.Ladder;

/// <summary>
/// The fewest gauges that settle a fit: printed, tried with the counterpart and the part then drawn by the answers, the fit reaches the wanted odds on average over the answers that are to be expected
/// (preposterior analysis: H. Raiffa and R. Schlaifer, Applied Statistical Decision Theory, 1961; from memory).
/// </summary>
/// <param name="DrawnMm">Of each gauge, from the tightest to the loosest, in mm.</param>
/// <param name="OddsNow">The best odds without any gauge.</param>
/// <param name="OddsExpected">The best odds after the gauges, on average.</param>
/// <param name="Settles">False when even the most gauges would not reach the wanted odds; then these are as many as still bring something.</param>
public sealed record GaugeLadder(CriticalFit Fit, IReadOnlyList<double> DrawnMm, double OddsNow, double OddsExpected, bool Settles)
{
    /// <summary>Gauges differ by at least this, in mm: less, and a print's own scatter mixes them up.</summary>
    public const double StepMm = 0.05;

    public const int Most = 9;

    /// <summary>One more gauge that brings less than this is not worth its plastic.</summary>
    private const double Worthwhile = 0.002;

    public static GaugeLadder Plan(CriticalFit fit, double wantedOdds)
    {
        ProcessCapability process = fit.Case.Process;
        double now = fit.Best(process).Odds;
        var best = new GaugeLadder(fit, [], now, now, now >= wantedOdds);
        for (int gauges = 1; gauges <= Most && !best.Settles; gauges++)
        {
            GaugeLadder more = ((double[])[0.8, 1.2]).Select(stretch => Placed(fit, gauges, stretch)).DistinctBy(p => string.Join(' ', p))
                .Select(p => new GaugeLadder(fit, p, now, Expected(fit, p, now), false)).MaxBy(l => l.OddsExpected)!;
            if (more.DrawnMm.Count < gauges) break;
            if (gauges > 3 && more.OddsExpected < best.OddsExpected + Worthwhile) break;
            if (more.OddsExpected > best.OddsExpected) best = more with { Settles = more.OddsExpected >= wantedOdds };
        }

        return best;
    }

    /// <summary>Gauges where the counterpart may begin to go: at even shares of what is in doubt.</summary>
    private static double[] Placed(CriticalFit fit, int gauges, double stretch)
    {
        ProcessCapability process = fit.Case.Process;
        double middle = fit.Middle(process, 0), doubt = fit.InDoubt(process, middle).StandardDeviationMm, step = fit.StepMm;
        int sense = Math.Sign(fit.Printed.Factor);
        return
        [
            .. Enumerable.Range(1, gauges).Select(i => Math.Round(Math.Round((middle + sense * stretch * doubt * Normal.Quantile((double)i / (gauges + 1))) / step) * step, 9)).Distinct(),
        ];
    }

    /// <summary>The best odds after the answers, averaged over them: too tight up to one, from there on it goes. What is left for answers out of order is taken to bring nothing.</summary>
    private static double Expected(CriticalFit fit, double[] drawn, double now)
    {
        double all = 0, odds = 0;
        for (int tight = 0; tight <= drawn.Length; tight++)
        {
            var (chance, after) = fit.Imagined(fit.Case.Process, [.. drawn.Select((d, k) => new GaugeAnswer(d, k < tight ? TrialAnswer.TooTight : TrialAnswer.Goes))]);
            (all, odds) = (all + chance, odds + chance * after);
        }

        return odds + Math.Max(0, 1 - all) * now;
    }
}
