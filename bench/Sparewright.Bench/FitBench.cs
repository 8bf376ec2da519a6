using System.Diagnostics;
using System.Globalization;
using Sparewright.Fit;
using Sparewright.Fit.Drawn;
using Sparewright.Fit.Odds;

namespace Sparewright.Bench;

/// <summary>Odds and drawn sizes of ten counterparts that share the doubts about a printer that nobody measured, in this process and warm.</summary>
internal static class FitBench
{
    private const double OddsGoalMs = 20, DrawnGoalMs = 200;

    public static void Write(int runs)
    {
        Paper.UnderWay("fit: odds and drawn sizes of ten counterparts");
        FitCase ten = Cases.Ten();
        FitOdds odds = FitOdds.Of(ten);
        DrawnSizes best = DrawnSizes.Best(ten);
        // Nonsense is not timed.
        if (odds.AllTogether.Error95 > FitOdds.EnoughError || best.Odds.AllTogether.Value < odds.AllTogether.Value)
            throw new InvalidOperationException($"odds {odds.AllTogether}, best {best.Odds.AllTogether}");
        Times oddsMs = Timed(runs, () => FitOdds.Of(ten)), bestMs = Timed(runs, () => DrawnSizes.Best(ten)), leastMs = Timed(runs, () => DrawnSizes.Least(ten, 0.9 * best.Odds.AllTogether.Value));
        Paper.Heading("Fit, ten counterparts");
        Paper.Words(string.Create(CultureInfo.InvariantCulture, $"All together {100 * odds.AllTogether.Value:0.00} ± {100 * odds.AllTogether.Error95:0.00} points as drawn, {100 * best.Odds.AllTogether.Value:0.00} at the best sizes."));
        Paper.Table(["", "median ms", "least", "goal ms", "of the goal"],
        [
            ["odds of all together to ± 0.1 point", Paper.Ms(oddsMs.Clock), Paper.Ms(oddsMs.Least), $"≤ {OddsGoalMs}", Paper.Ratio(oddsMs.Clock / OddsGoalMs)],
            ["drawn sizes with the best odds", Paper.Ms(bestMs.Clock), Paper.Ms(bestMs.Least), $"≤ {DrawnGoalMs}", Paper.Ratio(bestMs.Clock / DrawnGoalMs)],
            ["drawn sizes with the least change", Paper.Ms(leastMs.Clock), Paper.Ms(leastMs.Least), $"≤ {DrawnGoalMs}", Paper.Ratio(leastMs.Clock / DrawnGoalMs)],
        ]);
    }

    private static Times Timed(int runs, Action work)
    {
        for (int warm = 0; warm < 5; warm++) work();
        var times = new Times();
        for (int run = 0; run < 3 * runs; run++)
        {
            var clock = Stopwatch.StartNew();
            work();
            times.Add(clock.Elapsed.TotalMilliseconds);
        }

        return times;
    }
}
