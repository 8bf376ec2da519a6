using Sparewright.Reconcile.Adjust;
using Xunit;
using static Sparewright.Reconcile.Tests.Adjust.LinearNet;

namespace Sparewright.Reconcile.Tests.Adjust;

public sealed class SuspectsTests
{
    /// <summary>Three lengths in a row, each read, all pairs and the whole read too; any reading may be made wrong.</summary>
    private static AdjustmentProblem Row(params (string Name, double Error)[] wrong)
    {
        double ErrorOf(string name) => wrong.FirstOrDefault(w => w.Name == name).Error;
        return new(
            [new("a", 12), new("b", 20), new("c", 8)],
            [
                new("a", 12.01 + ErrorOf("a"), 0.02, x => x[0]), new("b", 19.99 + ErrorOf("b"), 0.02, x => x[1]), new("c", 8.01 + ErrorOf("c"), 0.02, x => x[2]),
                new("ab", 32.01 + ErrorOf("ab"), 0.02, x => x[0] + x[1]), new("bc", 27.99 + ErrorOf("bc"), 0.02, x => x[1] + x[2]),
                new("abc", 39.99 + ErrorOf("abc"), 0.02, x => x[0] + x[1] + x[2]), new("abc again", 40.01 + ErrorOf("abc again"), 0.02, x => x[0] + x[1] + x[2]),
            ]);
    }

    [Fact]
    public void Good_readings_raise_no_alarm()
    {
        var search = Suspects.Find(Solve(Row()));
        Assert.Empty(search.Sets);
        Assert.Equal(7, search.Remaining.Observations.Count);
    }

    [Theory]
    [InlineData("a")]
    [InlineData("ab")]
    [InlineData("abc")]
    public void One_wrong_reading_is_named_with_the_size_of_its_error(string name)
    {
        var search = Suspects.Find(Solve(Row((name, 0.5))));
        var set = Assert.Single(search.Sets);
        Assert.True(set.IsSingle);
        Assert.Equal(name, set.Leader.Name);
        Assert.InRange(set.Leader.EstimatedGrossError, 0.44, 0.56);
        Assert.True(search.Remaining.Global.Passes(0.05));
        Assert.DoesNotContain(search.Remaining.Observations, o => o.Name == name);
    }

    [Fact]
    public void Two_wrong_readings_are_both_named()
    {
        var problem = Row(("ab", 0.5), ("c", -1));
        problem = problem with { Observations = [.. problem.Observations, new("a again", 12, 0.02, x => x[0]), new("b again", 20, 0.02, x => x[1]), new("c again", 8, 0.02, x => x[2])] };
        var search = Suspects.Find(Solve(problem));
        Assert.Equal(["ab", "c"], search.Sets.Select(set => set.Leader.Name).Order());
        Assert.All(search.Sets, set => Assert.True(set.IsSingle));
        Assert.All(search.Sets, set => Assert.Equal(set.Leader.Name, problem.Observations[set.Leader.Index].Name));
        Assert.Equal(-1, search.Sets.Single(set => set.Leader.Name == "c").Leader.EstimatedGrossError, 0.06);
        Assert.True(search.Remaining.Global.Passes(0.05));
    }

    [Fact]
    public void Two_wrong_readings_that_could_be_two_others_are_named_with_them()
    {
        // With fewer readings any two of b, c and ab explain the same: −1 in b and −0.5 in c, say. Taken one at a time b alone would be blamed, which is right.
        var problem = Row(("ab", 0.5), ("c", -1));
        var set = Assert.Single(Suspects.Find(Solve(problem)).Sets);
        Assert.Equal(2, set.HowManyWrong);
        Assert.Equal(["ab", "b", "c"], set.Members.Select(m => m.Name).Order());
        Assert.All(set.Members, m => Assert.Equal(2.0 / 3, m.Odds, 0.05));
        Assert.False(set.IsSingle);
    }

    [Fact]
    public void A_chain_with_one_check_cannot_say_which_link_is_wrong()
    {
        var result = Solve(new(
            [new("a", 12), new("b", 20), new("loose", 3)],
            [new("a", 12, 0.02, x => x[0]), new("b", 20, 0.02, x => x[1]), new("whole", 32.5, 0.02, x => x[0] + x[1]), new("loose", 3, 0.02, x => x[2])]));
        var set = Assert.Single(Suspects.Find(result).Sets);
        Assert.Equal(["a", "b", "whole"], set.Members.Select(m => m.Name).Order());
        Assert.All(set.Members, m => Assert.Equal(1.0 / 3, m.Odds, 1e-6));
        Assert.Equal(-1, result.TestCorrelation(0, 2), 1e-9);
        Assert.Equal(1, result.TestCorrelation(0, 1), 1e-9);
        Assert.False(result.Observations[3].IsChecked);
        Assert.Null(result.Observations[3].W);
        Assert.Equal(double.PositiveInfinity, result.Observations[3].SmallestDetectable(0.001, 0.8));
        Assert.True(double.IsNaN(result.TestCorrelation(0, 3)));
    }

    [Fact]
    public void Two_readings_of_one_size_that_nobody_else_checks_are_suspects_together()
    {
        var result = Solve(new([new("a", 12), new("b", 3)],
            [new("a1", 12.0, 0.02, x => x[0]), new("a2", 12.5, 0.02, x => x[0]), new("b1", 3, 0.02, x => x[1]), new("b2", 3.01, 0.02, x => x[1]), new("b3", 3.0, 0.02, x => x[1])]));
        var set = Assert.Single(Suspects.Find(result).Sets);
        Assert.Equal(["a1", "a2"], set.Members.Select(m => m.Name).Order());
    }

    /// <summary>Bonferroni's level holds for all readings together: at 5 % at most about 5 % of good ledgers raise an alarm.</summary>
    [Fact]
    public void False_alarms_keep_to_the_level()
    {
        var random = new Random(9);
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        int alarms = 0;
        const int trials = 2000;
        for (int t = 0; t < trials; t++)
        {
            var problem = Row();
            var noisy = problem with { Observations = [.. problem.Observations.Select(o => o with { Observed = Math.Round(o.Observed, 0) + 0.02 * Normal() })] };
            if (Suspects.Find(Solve(noisy), level: 0.05).Sets.Count > 0) alarms++;
        }

        // Never much above the level (five standard deviations), and not so far below that the test would be deaf.
        Assert.InRange(alarms / (double)trials, 0.015, 0.05 + 5 * Math.Sqrt(0.05 * 0.95 / trials));
    }

    [Fact]
    public void Robust_reweighting_points_at_the_wrong_reading_and_changes_nothing_that_is_good()
    {
        var wrong = HuberReweighting.Find(Row(("ab", 0.5)))!;
        Assert.Equal(3, wrong.Weights.Select((weight, i) => (weight, i)).MinBy(w => w.weight).i);
        var exact = HuberReweighting.Find(new([new("a", 1)], [new("1", 5, 0.1, x => x[0]), new("2", 5, 0.1, x => x[0])]))!;
        Assert.All(exact.Weights, weight => Assert.Equal(1, weight));
        Assert.Equal(1, exact.Scale);
        Assert.Null(HuberReweighting.Find(new([new("a", 1)], [new("1", 5, 0, x => x[0])])));
    }
}
