using Sparewright.Reconcile.Adjust;
using Xunit;
using static Sparewright.Reconcile.Tests.Adjust.LinearNet;

namespace Sparewright.Reconcile.Tests.Adjust;

public sealed class NullSpaceTests
{
    [Fact]
    public void Two_holes_of_which_one_was_measured()
    {
        // "Hole 2 could be 2 mm bigger and the centres 1 mm further apart, and every reading would stay the same."
        var result = Solve(new(
            [new("d1", 5), new("d2", 6), new("c", 30)],
            [new("D1", 5, 0.05, x => x[0]), new("I", 24.5, 0.03, x => x[2] - (x[0] + x[1]) / 2)]));
        Assert.Equal(2, result.Rank);
        Assert.Equal([0, 2, 1], Assert.Single(result.NullSpace.Directions));
        Assert.True(result.IsDecided(0));
        Assert.False(result.IsDecided(1));
        Assert.Equal(double.PositiveInfinity, result.StandardUncertainty(2));
        Assert.True(double.IsNaN(result.Covariance(0, 1)));
        Assert.Equal(0.05, result.StandardUncertainty(0), 1e-12);
    }

    [Fact]
    public void Sizes_that_appear_only_as_a_sum()
    {
        var result = Solve(new([new("seat", 36), new("foot_t", 5), new("width", 9)], [new("all", 42, 0.1, x => x[0] + x[1]), new("width", 10, 0.1, x => x[2])]));
        Assert.Equal([1, -1, 0], Assert.Single(result.NullSpace.Directions));
        var sum = result.Of(x => x[0] + x[1]);
        Assert.True(sum.IsDecided);
        Assert.Equal(42, sum.Value, 1e-9);
        Assert.Equal(0.1, sum.StandardUncertainty, 1e-9);
        Assert.False(result.Of(x => x[0] - x[1]).IsDecided);
        // What is lacking is shared evenly, from where the search began.
        Assert.Equal(36.5, result.Estimates[0], 1e-9);
        Assert.Equal(5.5, result.Estimates[1], 1e-9);
    }

    [Fact]
    public void Two_separate_lacks_are_said_separately()
    {
        var result = Solve(new(
            [new("a", 1), new("b", 1), new("c", 1), new("d", 1), new("e", 1)],
            [new("1", 2, 0.1, x => x[0] + x[1]), new("2", 3, 0.1, x => x[2] - 3 * x[3])]));
        Assert.Equal(3, result.NullSpace.Directions.Count);
        Assert.Equal([1, -1, 0, 0, 0], result.NullSpace.Directions[0]);
        Assert.Equal([0, 0, 3, 1, 0], result.NullSpace.Directions[1]);
        Assert.Equal([0, 0, 0, 0, 1], result.NullSpace.Directions[2]);
        Assert.Equal([2, 3], NullSpace.Moves(result.NullSpace.Directions[1]));
    }

    [Fact]
    public void A_restraint_can_decide_what_readings_leave_open()
    {
        Unknown[] unknowns = [new("d1", 5), new("d2", 6), new("c", 30)];
        Observation[] observations = [new("D1", 5, 0.05, x => x[0]), new("I", 24.5, 0.03, x => x[2] - (x[0] + x[1]) / 2)];
        var equal = Solve(new(unknowns, observations, [new("equal holes", x => x[1] - x[0])]));
        Assert.True(equal.NullSpace.IsEmpty);
        Assert.Equal(29.5, equal.Estimates[2], 1e-9);
        Assert.Equal(Math.Sqrt(0.03 * 0.03 + 0.05 * 0.05), equal.StandardUncertainty(2), 1e-9);
        Assert.Equal(1, equal.Correlation(0, 1), 1e-12);
    }

    [Fact]
    public void A_restraint_carries_a_lack_along()
    {
        var result = Solve(new([new("a", 1), new("b", 2), new("c", 5)], [new("c", 5, 1, x => x[2])], [new("b is twice a", x => x[1] - 2 * x[0])]));
        Assert.Equal([1, 2, 0], Assert.Single(result.NullSpace.Directions));
    }
}
