using CsCheck;
using MathNet.Numerics.LinearAlgebra;
using Xunit;

namespace Sparewright.Reconcile.Tests.Adjust;

public sealed class AdjustmentPropertyTests
{
    [Fact]
    public void Redundancy_numbers_sum_to_observations_less_rank() => LinearNet.Any.Sample(net =>
    {
        var result = LinearNet.Solve(net.Problem);
        Assert.Equal(net.Rows.Count - result.Rank, result.Observations.Sum(o => o.Redundancy), 1e-8);
        Assert.Equal(net.Rows.Count - result.Rank, result.Global.DegreesOfFreedom);
        Assert.Equal(net.Unknowns - result.Rank, result.NullSpace.Directions.Count);
    });

    [Fact]
    public void Rank_estimates_and_covariance_are_those_of_a_general_linear_algebra_library() => LinearNet.Decided.Sample(net =>
    {
        var result = LinearNet.Solve(net.Problem);
        var a = Matrix<double>.Build.Dense(net.Rows.Count, net.Unknowns);
        var b = Vector<double>.Build.Dense(net.Rows.Count);
        for (int i = 0; i < net.Rows.Count; i++)
        {
            foreach (var (unknown, coefficient) in net.Rows[i].Terms) a[i, unknown] = coefficient / net.Rows[i].Sigma;
            b[i] = net.Rows[i].Observed / net.Rows[i].Sigma;
        }

        Assert.Equal(a.Rank(), result.Rank);
        var estimates = a.QR().Solve(b);
        var covariance = (a.Transpose() * a).Inverse();
        for (int i = 0; i < net.Unknowns; i++)
        {
            LinearNet.AssertClose(estimates[i], result.Estimates[i]);
            for (int j = 0; j < net.Unknowns; j++) Assert.Equal(covariance[i, j], result.Covariance(i, j), 1e-9);
        }
    });

    [Fact]
    public void The_rank_of_a_defective_problem_is_found() => LinearNet.Any.Sample(net =>
    {
        var a = Matrix<double>.Build.Dense(net.Rows.Count, net.Unknowns);
        for (int i = 0; i < net.Rows.Count; i++)
            foreach (var (unknown, coefficient) in net.Rows[i].Terms) a[i, unknown] = coefficient;
        Assert.Equal(a.Rank(), LinearNet.Solve(net.Problem).Rank);
    });

    [Fact]
    public void No_observation_notices_a_move_along_the_null_space() => LinearNet.Any.Sample(net =>
    {
        var result = LinearNet.Solve(net.Problem);
        foreach (double[] direction in result.NullSpace.Directions)
        {
            Assert.Contains(direction, value => value != 0);
            foreach (var row in net.Rows) Assert.Equal(0, row.Terms.Sum(t => t.Coefficient * direction[t.Unknown]), 1e-9 * direction.Max(Math.Abs));
        }
    });

    [Fact]
    public void The_order_of_unknowns_and_observations_does_not_matter() =>
        Gen.Select(LinearNet.Any, Gen.Int[0, int.MaxValue]).Sample((net, seed) =>
        {
            var random = new Random(seed);
            int[] unknowns = [.. Enumerable.Range(0, net.Unknowns)], rows = [.. Enumerable.Range(0, net.Rows.Count)];
            random.Shuffle(unknowns);
            random.Shuffle(rows);
            var shuffled = new LinearNet(net.Unknowns, [.. rows.Select(r => net.Rows[r] with { Terms = [.. net.Rows[r].Terms.Select(t => (unknowns[t.Unknown], t.Coefficient))] })]);
            var (first, second) = (LinearNet.Solve(net.Problem), LinearNet.Solve(shuffled.Problem));
            LinearNet.AssertClose(first.Global.ChiSquare, second.Global.ChiSquare);
            for (int i = 0; i < net.Unknowns; i++)
            {
                Assert.Equal(first.IsDecided(i), second.IsDecided(unknowns[i]));
                LinearNet.AssertClose(first.Estimates[i], second.Estimates[unknowns[i]]);
                LinearNet.AssertClose(first.StandardUncertainty(i), second.StandardUncertainty(unknowns[i]));
            }

            for (int i = 0; i < rows.Length; i++) LinearNet.AssertClose(first.Observations[rows[i]].Redundancy, second.Observations[i].Redundancy);
        });

    [Fact]
    public void The_units_of_unknowns_and_observations_do_not_matter() =>
        Gen.Select(LinearNet.Any, Gen.Double[-3, 3].Array[7], Gen.Double[-3, 3].Array[14]).Sample((net, unknownPowers, rowPowers) =>
        {
            double[] unit = [.. unknownPowers.Select(p => Math.Pow(10, p))];
            var scaled = net with
            {
                Rows = [.. net.Rows.Select((row, i) => Math.Pow(10, rowPowers[i % rowPowers.Length]) is var s
                    ? new LinearNet.Row([.. row.Terms.Select(t => (t.Unknown, t.Coefficient * s / unit[t.Unknown]))], row.Observed * s, row.Sigma * s) : row)],
            };
            var start = net.Problem;
            var (first, second) = (LinearNet.Solve(start), LinearNet.Solve(scaled.Problem.From([.. Enumerable.Range(0, net.Unknowns).Select(i => unit[i])])));
            LinearNet.AssertClose(first.Global.ChiSquare, second.Global.ChiSquare);
            Assert.Equal(first.Rank, second.Rank);
            for (int i = 0; i < net.Unknowns; i++)
            {
                Assert.Equal(first.IsDecided(i), second.IsDecided(i));
                LinearNet.AssertClose(first.Estimates[i], second.Estimates[i] / unit[i]);
                LinearNet.AssertClose(first.StandardUncertainty(i), second.StandardUncertainty(i) / unit[i]);
            }

            for (int i = 0; i < net.Rows.Count; i++) LinearNet.AssertClose(first.Observations[i].Redundancy, second.Observations[i].Redundancy);
        });

    [Fact]
    public void Repeating_every_observation_narrows_by_the_root_of_the_count() =>
        Gen.Select(LinearNet.Decided, Gen.Int[2, 5]).Sample((net, times) =>
        {
            var repeated = net with { Rows = [.. Enumerable.Repeat(net.Rows, times).SelectMany(rows => rows)] };
            var (once, often) = (LinearNet.Solve(net.Problem), LinearNet.Solve(repeated.Problem));
            for (int i = 0; i < net.Unknowns; i++)
            {
                LinearNet.AssertClose(once.Estimates[i], often.Estimates[i]);
                LinearNet.AssertClose(once.StandardUncertainty(i) / Math.Sqrt(times), often.StandardUncertainty(i));
            }
        });

    [Fact]
    public void One_more_observation_never_widens_anything() =>
        LinearNet.Decided.Sample(net =>
        {
            var fewer = LinearNet.Solve((net with { Rows = [.. net.Rows.Skip(1)] }).Problem);
            var more = LinearNet.Solve(net.Problem);
            for (int i = 0; i < net.Unknowns; i++) Assert.True(more.StandardUncertainty(i) <= fewer.StandardUncertainty(i) * (1 + 1e-9));
        });

    [Fact]
    public void Influence_is_what_a_shifted_observation_does() => LinearNet.Decided.Sample(net =>
    {
        var result = LinearNet.Solve(net.Problem);
        var shifted = LinearNet.Solve((net with { Rows = [net.Rows[0] with { Observed = net.Rows[0].Observed + 1 }, .. net.Rows.Skip(1)] }).Problem);
        double[] influence = result.Influence(0);
        for (int i = 0; i < net.Unknowns; i++) LinearNet.AssertClose(shifted.Estimates[i] - result.Estimates[i], influence[i], 1e-7);
    });

    [Fact]
    public void Leaving_out_one_observation_lowers_the_misfit_by_the_square_of_its_test() => LinearNet.Decided.Sample(net =>
    {
        var result = LinearNet.Solve(net.Problem);
        // The best checked one: an observation far surer than its neighbours is checked by nothing, and has no test.
        var first = result.Observations.MaxBy(o => o.Redundancy)!;
        int at = result.Observations.ToList().IndexOf(first);
        var without = LinearNet.Solve(net.Problem.Without(at, result.Estimates));
        LinearNet.AssertClose(result.Global.ChiSquare - first.W!.Value * first.W.Value, without.Global.ChiSquare, 1e-7);
        // What the others expect of it differs from what was read by the estimated gross error.
        LinearNet.AssertClose(first.Observed - without.Of(net.Problem.Observations[at].Computed).Value, first.EstimatedGrossError!.Value, 1e-7);
    });

    [Fact]
    public void The_normal_equations_and_the_reflections_agree()
    {
        // The same net twice: once as it is (normal equations), once beside two unknowns so nearly alike that only reflections are trusted.
        LinearNet.Decided.Sample(net =>
        {
            int extra = net.Unknowns;
            var twins = net with
            {
                Unknowns = extra + 2,
                Rows = [.. net.Rows, new([(extra, 1), (extra + 1, 1)], 3, 0.1), new([(extra, 1), (extra + 1, 1.0001)], 3, 0.1)],
            };
            var (first, second) = (LinearNet.Solve(net.Problem), LinearNet.Solve(twins.Problem));
            Assert.Equal(first.Rank + 2, second.Rank);
            for (int i = 0; i < net.Unknowns; i++)
            {
                LinearNet.AssertClose(first.Estimates[i], second.Estimates[i]);
                LinearNet.AssertClose(first.StandardUncertainty(i), second.StandardUncertainty(i));
            }
        });
    }

    [Fact]
    public void Four_hundred_sizes_and_two_thousand_readings_are_adjusted()
    {
        var random = new Random(5);
        var rows = Enumerable.Range(0, 2000).Select(i => new LinearNet.Row(
            [.. new[] { i % 400, random.Next(400), random.Next(400) }.Distinct().Select((u, k) => (u, k == 0 ? 1.0 : -1.0))], random.NextDouble(), 0.05)).ToList();
        var result = LinearNet.Solve(new LinearNet(400, rows).Problem);
        Assert.Equal(400, result.Rank);
        Assert.Equal(1600, result.Observations.Sum(o => o.Redundancy), 1e-6);
        Assert.InRange(result.Iterations, 1, 5);
    }

    /// <summary>With errors drawn as stated, the misfit averages its degrees of freedom and each test has variance one.</summary>
    [Fact]
    public void Honest_errors_give_honest_tests()
    {
        var random = new Random(42);
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        double chiSquare = 0, squares = 0;
        const int trials = 2000;
        for (int t = 0; t < trials; t++)
        {
            var net = new LinearNet(3,
            [
                new([(0, 1)], 12 + 0.1 * Normal(), 0.1), new([(1, 1)], 20 + 0.2 * Normal(), 0.2), new([(2, 1)], 8 + 0.1 * Normal(), 0.1),
                new([(0, 1), (1, 1)], 32 + 0.1 * Normal(), 0.1), new([(0, 1), (1, 1), (2, 1)], 40 + 0.3 * Normal(), 0.3),
            ]);
            var result = LinearNet.Solve(net.Problem);
            chiSquare += result.Global.ChiSquare / trials;
            squares += Math.Pow(result.Observations[3].W!.Value, 2) / trials;
        }

        // Five standard deviations of these means: 5·√(2f/n) and 5·√(2/n).
        Assert.Equal(2, chiSquare, 5 * Math.Sqrt(4.0 / trials));
        Assert.Equal(1, squares, 5 * Math.Sqrt(2.0 / trials));
    }
}
