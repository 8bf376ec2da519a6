using Sparewright.Fit.Ladder;
using Sparewright.Remake.Fits;
using Sparewright.Remake.Ladders;
using Xunit;

namespace Sparewright.Remake.Tests;

/// <summary>Whether gauges pay.</summary>
public sealed class LadderWorthTests
{
    private static FoundFits Example()
    {
        OpenedJob job = OpenedJob.Open(Path.Combine(LadderWorkTests.Repository(), "examples", "vent-knuckle")).Value!;
        return FitWork.Find(job, job.ReconcileWithoutVolume().Value!, advise: false, cancel: TestContext.Current.CancellationToken).Value!;
    }

    private static PlannedLadder Ladder(FoundFits found, double now, double after) =>
        new("stay", new("stay", "bore_d", ["bore.wall"], [12.1, 12.2, 12.3]), now, after, 0.9, null);

    /// <summary>By the sums written out: p of everything now, q after; 1 + (1 − p)/q prints of the part, or 1/q after the gauges.</summary>
    [Fact]
    public void What_gauges_spare_is_the_difference_of_the_prints_with_and_without_them()
    {
        FoundFits found = Example();
        ExpectedFit stay = found.Each.Single(e => e.Name == "stay");
        double p = found.AllTogether, q = FitLadder.Others(stay.Odds.Value, p) * 0.97;
        LadderWorth worth = LadderWorth.Of(found, Ladder(found, stay.Odds.Value, 0.97), 30000, 5000)!;
        Assert.Equal(1 + (1 - p) / q - 1 / q, worth.PrintsSpared, 1e-9);
        // 30 cm³ are 36 g: 10 + 2.5 · 36 min. 5 cm³ are 6 g: 25 min, and one for each gauge.
        Assert.Equal((36, 100, 6, 28), (worth.Part.Grams, worth.Part.Minutes, worth.Gauges.Grams, worth.Gauges.Minutes));
        Assert.Equal(100 * worth.PrintsSpared - 28, worth.MinutesSpared, 1e-9);
    }

    [Fact]
    public void They_pay_for_a_heavy_part_and_not_for_a_light_one()
    {
        FoundFits found = Example();
        PlannedLadder ladder = Ladder(found, 0.5, 0.97);
        LadderWorth light = LadderWorth.Of(found, ladder, 5000)!, heavy = LadderWorth.Of(found, ladder, 2_000_000)!;
        Assert.False(light.Pays);
        Assert.Contains("They do not pay", light.Words, StringComparison.Ordinal);
        Assert.True(heavy.Pays);
        Assert.Contains("They pay", heavy.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Where_there_are_none_there_is_nothing_to_weigh() =>
        Assert.Null(LadderWorth.Of(Example(), new PlannedLadder("stay", null, 0.95, 0.95, 0.9, null), 5000));
}
