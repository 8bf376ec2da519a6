using CsCheck;
using Sparewright.Measure.Numbers;
using Sparewright.Reconcile.Adjust;
using Xunit;
using static Sparewright.Reconcile.Tests.Adjust.LinearNet;

namespace Sparewright.Reconcile.Tests.Adjust;

public sealed class NonlinearTests
{
    [Fact]
    public void A_point_is_found_from_its_distances() => Gen.Select(Gen.Double[-5, 5], Gen.Double[1, 5]).Sample((x, y) =>
    {
        (double X, double Y)[] corners = [(-10, -8), (10, -8), (0, 12)];
        Observation Distance((double X, double Y) c, int i) => new($"d{i}", Math.Sqrt((x - c.X) * (x - c.X) + (y - c.Y) * (y - c.Y)), 0.02,
            p => Dual.Sqrt((p[0] - c.X) * (p[0] - c.X) + (p[1] - c.Y) * (p[1] - c.Y)));
        var result = Solve(new([new("x", 1), new("y", 1)], [.. corners.Select(Distance)]));
        Assert.Equal(x, result.Estimates[0], 1e-9);
        Assert.Equal(y, result.Estimates[1], 1e-9);
        Assert.Equal(0, result.Global.ChiSquare, 1e-9);
    });

    [Fact]
    public void A_restraint_is_the_limit_of_an_ever_surer_observation() => LinearNet.Decided.Sample(net =>
    {
        var sure = net with { Rows = [.. net.Rows, new([(0, 1)], 7, 1e-5)] };
        var restrained = Solve(net.Problem with { Restraints = [Restraint.Fixed("x0", 0, 7)] });
        var nearly = Solve(sure.Problem);
        Assert.Equal(7, restrained.Estimates[0]);
        Assert.Equal(0, restrained.StandardUncertainty(0));
        Assert.Equal(net.Rows.Count - net.Unknowns + 1, restrained.Observations.Sum(o => o.Redundancy), 1e-8);
        for (int i = 1; i < net.Unknowns; i++)
        {
            Assert.Equal(nearly.Estimates[i], restrained.Estimates[i], 1e-3);
            Assert.Equal(nearly.StandardUncertainty(i), restrained.StandardUncertainty(i), 1e-3);
        }
    });

    [Fact]
    public void A_curved_restraint_is_kept_exactly()
    {
        // The point of a circle of radius 5 that is nearest to (3.6, 4.8).
        var result = Solve(new([new("x", 1), new("y", 0.5)], [new("x", 3.6, 1, p => p[0]), new("y", 4.8, 1, p => p[1])], [new("on the circle", p => p[0] * p[0] + p[1] * p[1] - 25)]));
        Assert.Equal(3, result.Estimates[0], 1e-9);
        Assert.Equal(4, result.Estimates[1], 1e-9);
        Assert.Equal(1, result.Global.ChiSquare, 1e-9);
        Assert.Equal(1, result.Global.DegreesOfFreedom);
        // Along the tangent (4, −3)/5 with the linearised uncertainty of one; nothing across it.
        Assert.Equal(0.8, result.StandardUncertainty(0), 1e-6);
        Assert.Equal(0.6, result.StandardUncertainty(1), 1e-6);
        Assert.Equal(-1, result.Correlation(0, 1), 1e-6);
    }

    [Fact]
    public void Restraints_that_say_the_same_are_one_and_those_that_contradict_are_named()
    {
        Unknown[] unknowns = [new("a", 1), new("b", 1)];
        Observation[] observations = [new("a", 3, 1, x => x[0])];
        var same = Solve(new(unknowns, observations, [new("sum", x => x[0] + x[1] - 10), new("sum again", x => 2 * x[0] + 2 * x[1] - 20)]));
        Assert.Equal(7, same.Estimates[1], 1e-12);
        Assert.Equal(1, same.StandardUncertainty(1), 1e-12);

        Assert.False(Adjustment.TrySolve(new(unknowns, observations, [new("sum", x => x[0] + x[1] - 10), new("another sum", x => x[0] + x[1] - 11)]), out _, out var failure));
        Assert.Contains(failure.Name, new[] { "sum", "another sum" });
        Assert.Contains("contradicts", failure.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void A_restraint_that_cannot_be_met_is_a_failure_and_not_a_loop()
    {
        Assert.False(Adjustment.TrySolve(new([new("x", 1)], [new("x", 1, 1, x => x[0])], [new("square", x => x[0] * x[0] + 1)]), out _, out var failure));
        Assert.Equal("square", failure.Name);
    }

    [Fact]
    public void What_is_wrong_with_the_input_is_said_with_its_name()
    {
        Unknown[] one = [new("a", 1)];
        AssertFailure("r", "uncertainty", new(one, [new("r", 1, 0, x => x[0])]));
        AssertFailure("r", "uncertainty", new(one, [new("r", 1, -1, x => x[0])]));
        AssertFailure("r", "uncertainty", new(one, [new("r", 1, double.NaN, x => x[0])]));
        AssertFailure("r", "finite", new(one, [new("r", double.NaN, 1, x => x[0])]));
        AssertFailure("a", "start", new([new("a", double.PositiveInfinity)], [new("r", 1, 1, x => x[0])]));
        AssertFailure("r", "computed", new([new("a", -1)], [new("r", 1, 1, x => Dual.Sqrt(x[0]))]));

        static void AssertFailure(string name, string about, AdjustmentProblem problem)
        {
            Assert.False(Adjustment.TrySolve(problem, out _, out var failure));
            Assert.Equal(name, failure.Name);
            Assert.Contains(about, failure.Reason, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_step_that_leaves_the_domain_is_shortened()
    {
        // From 0.01 the full step to the root of log(x) = 3 is harmless, from 60 it would go below zero.
        foreach (double start in new[] { 0.01, 1, 60, 5000 })
        {
            var result = Solve(new([new("x", start)], [new("log", 3, 0.1, x => Dual.Log(x[0]))]));
            Assert.Equal(Math.Exp(3), result.Estimates[0], 1e-9);
        }
    }

    [Fact]
    public void Readings_of_nothing_are_found_to_be_nothing()
    {
        foreach (double start in new[] { 0, 3, 1e-17, -1e-9 })
        {
            var result = Solve(new([new("x", start), new("y", -start)], [new("x", 0, 0.03, p => p[0]), new("y", 0, 0.03, p => p[1]), new("x+y", 0, 0.03, p => p[0] + p[1] / 3), new("xy", 0, 0.01, p => p[0] * p[1])]));
            Assert.Equal(0, result.Estimates[0], 1e-12);
            Assert.InRange(result.Iterations, 0, 20);
        }
    }

    [Fact]
    public void Nothing_to_adjust_is_adjusted()
    {
        var empty = Solve(new([], []));
        Assert.Equal(0, empty.Global.DegreesOfFreedom);
        var unseen = Solve(new([new("a", 4)], []));
        Assert.Equal(4, unseen.Estimates[0]);
        Assert.False(unseen.IsDecided(0));
        Assert.Equal(double.PositiveInfinity, unseen.StandardUncertainty(0));
        var allFixed = Solve(new([new("a", 4)], [new("r", 5, 1, x => x[0])], [Restraint.Fixed("a", 0, 4.5)]));
        Assert.Equal(4.5, allFixed.Estimates[0]);
        Assert.Equal(1, allFixed.Observations[0].Redundancy);
    }

    [Fact]
    public void The_solution_does_not_depend_on_where_the_search_starts() => Gen.Select(Gen.Double[2, 30], Gen.Double[2, 30], Gen.Double[5, 60]).Sample((a, b, c) =>
    {
        // Two holes and their distance, read over all, as web, and a slant: the sort of problem that a part brings.
        var problem = new AdjustmentProblem(
            [new("d1", a), new("d2", b), new("c", c)],
            [
                new("d1", 5.02, 0.03, x => x[0]), new("over", 42.07, 0.03, x => x[2] + (x[0] + x[1]) / 2), new("web", 25.93, 0.03, x => x[2] - (x[0] + x[1]) / 2),
                new("slant", 35.46, 0.05, x => Dual.Sqrt(x[2] * x[2] + x[0] * x[1] * 2)),
            ]);
        var result = Solve(problem);
        var reference = Solve(problem.From([5, 11, 34]));
        for (int i = 0; i < 3; i++) Assert.Equal(reference.Estimates[i], result.Estimates[i], 1e-9);
    });
}
