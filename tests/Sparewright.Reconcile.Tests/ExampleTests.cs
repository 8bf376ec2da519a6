using System.Globalization;
using Sparewright.Measure.Uncertainty;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Xunit;

namespace Sparewright.Reconcile.Tests;

/// <summary>The committed examples, whose true sizes stand in tests/data/true-sizes.csv (our own invention).</summary>
public class ExampleTests
{
    public static TheoryData<string> Examples => [.. Jobs.ExampleNames];

    [Theory]
    [MemberData(nameof(Examples))]
    public void The_true_sizes_lie_within_what_the_readings_say(string example)
    {
        Reconciled reconciled = Jobs.Reconcile(Jobs.Example(example));
        var sizes = TrueSizes(example);
        Assert.NotEmpty(sizes);
        int within95 = 0, decided = 0;
        foreach (var (name, value) in sizes)
        {
            ReconciledSize size = reconciled.Size(name);
            if (size.Status is SizeStatus.Undecided or SizeStatus.Fixed) continue;
            // Four standard uncertainties: one in 16,000 beyond, by chance.
            Assert.True(Math.Abs(size.Estimate - value) < 4 * size.StandardUncertainty, $"{name}: {size.Estimate} ± {size.StandardUncertainty}, true {value}");
            decided++;
            if (value >= size.Low95 && value <= size.High95) within95++;
        }

        Assert.True(within95 >= 0.85 * decided, $"{within95} of {decided} within 95 %");
    }

    [Fact]
    public void The_one_wrong_reading_of_the_vent_knuckle_is_set_aside_with_room_to_spare()
    {
        Reconciled reconciled = Jobs.Reconcile(Jobs.Example("vent-knuckle"));

        Contradiction contradiction = Assert.Single(reconciled.Contradictions);
        Assert.Equal(["r15"], contradiction.Ids);
        Assert.True(contradiction.SetAside);
        Assert.True(contradiction.Redundancy >= 0.5, $"redundancy {contradiction.Redundancy}");
        Assert.True(contradiction.Odds > 0.999, $"odds {contradiction.Odds}");
        Assert.Equal(30.41, contradiction.ObservedMm, 1e-9);
        Assert.InRange(contradiction.ShouldReadMm, 33.9, 34.1);
        Assert.False(reconciled.ContradictionOpen);
        Assert.True(reconciled.NeedsAttention);

        ReconciledReading wrong = reconciled.Reading("r15");
        Assert.Equal(ReadingVerdict.SetAside, wrong.Verdict);
        Assert.Equal(wrong.Adjusted - wrong.Observed, wrong.Residual);
        Assert.All(reconciled.Readings.Where(r => r != wrong), r => Assert.NotEqual(ReadingVerdict.SetAside, r.Verdict));
    }

    /// <summary>The readings of the examples are invented; were they drawn again and again by calipers that keep their limits, they would hardly ever contradict each other.</summary>
    [Theory]
    [MemberData(nameof(Examples))]
    public void Calipers_that_keep_their_limits_hardly_ever_contradict_an_example(string example) =>
        // Two tests of one job in a hundred each; three standard deviations above.
        Assert.InRange(Alarms(example, anew: false), 0, 2 * Reconciliation.FalseAlarmLevel * Draws + 3 * Math.Sqrt(2 * Reconciliation.FalseAlarmLevel * Draws));

    /// <summary>So the readings of this example were drawn once, and contradicted each other: that is no caliper, and it is noticed.</summary>
    [Fact]
    public void Errors_anew_over_the_whole_limit_at_each_reading_are_noticed_more_often() =>
        Assert.InRange(Alarms("line-reel-crank", anew: true), 3 * 2 * Reconciliation.FalseAlarmLevel * Draws, Draws);

    private const int Draws = 400;

    private static int Alarms(string example, bool anew)
    {
        Job job = Jobs.Example(example);
        job = job with { Readings = [.. job.Readings.OfType<CaliperReading>().Where(r => !r.Worn)] };
        double[] truth = TrueOf(job, example);
        UncertaintyBudget[] budgets = [.. Jobs.Reconcile(Simulated.Exactly(job, truth)).Readings.Select(r => r.Measured!.Budget)];
        var random = new Random(52);
        return Enumerable.Range(0, Draws).Count(_ => Jobs.Reconcile(Simulated.ByACaliper(job, truth, budgets, random, anew)) is { } drawn && (drawn.Contradictions.Count > 0 || drawn.ContradictionOpen));
    }

    [Fact]
    public void A_round_that_gauge_leaves_alone_show_is_between_them()
    {
        Reconciled reconciled = Jobs.Reconcile(Jobs.Example("vent-knuckle"));
        GaugeLeafReading leaf = reconciled.Readings.Select(r => r.Reading).OfType<GaugeLeafReading>().Single();

        Assert.Empty(reconciled.Undecided);
        ReconciledSize edge = reconciled.Size("edge_r");
        // Anything between the leaves of 0.75 and 1 mm, and a radius gauge's own 0.05 mm and ± 0.03 mm.
        Assert.Equal((SizeStatus.Weak, 0.875), (edge.Status, Math.Round(edge.Estimate, 9)));
        Assert.Equal(Math.Sqrt(0.25 * 0.25 / 12 + 0.05 * 0.05 + 0.03 * 0.03 / 3), edge.StandardUncertainty, 1e-9);
        Assert.Equal([leaf.Id], edge.DecidedBy);
        Assert.Equal(ReadingVerdict.Compared, reconciled.Reading(leaf.Id).Verdict);
        Assert.Equal(0.875, reconciled.Reading(leaf.Id).Adjusted!.Value, 1e-9);
    }

    [Fact]
    public void A_size_that_rests_on_one_reading_is_weak()
    {
        Reconciled reconciled = Jobs.Reconcile(Jobs.Example("vent-knuckle"));
        ReconciledSize seat = reconciled.Size("seat");
        Assert.Equal(SizeStatus.Weak, seat.Status);
        Assert.Equal(["r4"], seat.DecidedBy);
        Assert.True(reconciled.Reading("r4").IsUnchecked);
        Assert.Null(reconciled.Reading("r4").W);
        Assert.Equal(SizeStatus.Decided, reconciled.Size("socket_len").Status);
    }

    [Fact]
    public void The_line_reel_crank_has_no_contradiction_and_nothing_open()
    {
        Reconciled reconciled = Jobs.Reconcile(Jobs.Example("line-reel-crank"));
        Assert.Empty(reconciled.Contradictions);
        Assert.Empty(reconciled.Undecided);
        Assert.False(reconciled.NeedsAttention);
        // Derived from arm_wide, of which it is half: half the value with half the uncertainty.
        Assert.Equal(reconciled.Size("arm_wide").Estimate / 2, reconciled.Size("peg_in").Estimate, 1e-12);
        Assert.Equal(reconciled.Size("arm_wide").StandardUncertainty / 2, reconciled.Size("peg_in").StandardUncertainty, 1e-12);
        Assert.Equal(SizeStatus.Fixed, reconciled.Size("corner_r").Status);
    }

    private static double[] TrueOf(Job job, string example)
    {
        Dictionary<string, double> sizes = TrueSizes(example).ToDictionary(s => s.Name, s => s.Value, StringComparer.Ordinal);
        return [.. job.Sizes.Free.Select(s => sizes[s.Name])];
    }

    private static (string Name, double Value)[] TrueSizes(string example) =>
    [
        .. File.ReadLines(Path.Combine(Jobs.Root, "tests", "data", "true-sizes.csv")).Where(l => !l.StartsWith('#')).Skip(1).Select(l => l.Split(','))
            .Where(cells => cells[0] == example).Select(cells => (cells[1], double.Parse(cells[2], CultureInfo.InvariantCulture))),
    ];
}
