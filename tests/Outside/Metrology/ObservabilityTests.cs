using Sparewright.Measure.Numbers;
using Sparewright.Reconcile.Adjust;
using Xunit;

namespace Sparewright.Outside.Metrology;

/// <summary>What readings decide, how well, and what one more would bring.</summary>
public sealed class ObservabilityTests
{
    /// <summary>Four objects in four weighings on two pans by a Hadamard design: variance σ²/4 each, the optimum (H. Hotelling 1944, A. Mood 1946; read as abstracts).</summary>
    [Fact]
    public void Hadamard_weighing()
    {
        int[][] pans = [[1, 1, 1, 1], [1, -1, 1, -1], [1, 1, -1, -1], [1, -1, -1, 1]];
        var result = Solve.It(new(
            [.. Enumerable.Range(0, 4).Select(i => new Unknown($"object {i}", 1))],
            [.. pans.Select((pan, i) => new Observation($"weighing {i}", 0, 1, x =>
            {
                Dual sum = 0;
                for (int k = 0; k < 4; k++) sum += pan[k] * x[k];
                return sum;
            }))]));
        for (int i = 0; i < 4; i++) Assert.Equal(0.25, Math.Pow(result.StandardUncertainty(i), 2), 1e-12);
    }

    /// <summary>One pan, three objects in pairs: variance 0.75 each; recomputed.</summary>
    [Fact]
    public void Weighing_in_pairs()
    {
        var result = Solve.It(new([new("a", 1), new("b", 1), new("c", 1)],
            [new("ab", 2, 1, x => x[0] + x[1]), new("bc", 2, 1, x => x[1] + x[2]), new("ca", 2, 1, x => x[2] + x[0])]));
        for (int i = 0; i < 3; i++) Assert.Equal(0.75, Math.Pow(result.StandardUncertainty(i), 2), 1e-12);
    }

    /// <summary>
    /// A plate with two holes: what each further reading would tell, in nats, ½ ln(1 + variance/σ²) (D-optimality); recomputed. u = 0.03, diameters 0.05.
    /// </summary>
    [Fact]
    public void Gain_of_the_next_reading()
    {
        const int d1 = 0, d2 = 1, c = 2, e = 3;
        var result = Solve.It(new(
            [new("d1", 5), new("d2", 6), new("c", 30), new("e", 10)],
            [
                new("I", 24.5, 0.03, x => x[c] - (x[d1] + x[d2]) / 2), new("O", 35.5, 0.03, x => x[c] + (x[d1] + x[d2]) / 2),
                new("D1", 5, 0.05, x => x[d1]), new("E", 7.5, 0.03, x => x[e] - x[d1] / 2),
            ]));
        double[] expected = [0.0500, 0.0656, 0.0212, 0.0391];
        for (int i = 0; i < 4; i++) Assert.Equal(expected[i], result.StandardUncertainty(i), 5e-5);

        // The trace of the covariance after it (A-optimality), and the ± of the pitch alone (c-optimality): they do not choose alike, so that one must ask what matters.
        double Trace(Computed reading, double sigma) => Enumerable.Range(0, 4).Sum(i => After(reading, sigma, i) * After(reading, sigma, i));
        double After(Computed reading, double sigma, int unknown)
        {
            AdjustmentProblem more = result.Problem with { Observations = [.. result.Problem.Observations, new Observation("next", result.Of(reading).Value, sigma, reading)] };
            return Solve.It(more).StandardUncertainty(unknown);
        }

        Computed again = x => x[d1], other = x => x[d2], web = x => x[c] - (x[d1] + x[d2]) / 2, edge = x => x[e] - x[d1] / 2, nearToNear = x => x[c] + (x[d2] - x[d1]) / 2;
        Assert.Equal(0.005963, Trace(again, 0.05), 6e-7);
        Assert.Equal(0.004907, Trace(other, 0.05), 6e-7);
        Assert.Equal(0.008213, Trace(web, 0.03), 6e-7);
        Assert.Equal(0.008325, Trace(edge, 0.03), 6e-7);
        Assert.Equal(0.004223, Trace(nearToNear, 0.03), 6e-7);
        Assert.Equal(0.0184, After(web, 0.03, c), 5e-5);
        Assert.Equal(0.0201, After(nearToNear, 0.03, c), 5e-5);

        double Gain(Computed reading, double sigma) => 0.5 * Math.Log(1 + Math.Pow(result.Of(reading).StandardUncertainty / sigma, 2));
        Assert.Equal(0.3466, Gain(x => x[d1], 0.05), 5e-5);
        Assert.Equal(0.5003, Gain(x => x[d2], 0.05), 5e-5);
        Assert.Equal(0.7820, Gain(x => x[c] + (x[d2] - x[d1]) / 2, 0.03), 5e-5);
    }

    /// <summary>Two holes of which one is measured, and the web between them: what stays open is one direction, hole 2 bigger by two while the pitch grows by one; recomputed.</summary>
    [Fact]
    public void What_stays_open_is_a_direction()
    {
        var result = Solve.It(new([new("d1", 5), new("d2", 6), new("c", 30)], [new("D1", 5, 0.05, x => x[0]), new("I", 24.5, 0.03, x => x[2] - (x[0] + x[1]) / 2)]));
        Assert.Equal(2, result.Rank);
        double[] direction = Assert.Single(result.NullSpace.Directions);
        double length = Math.Sqrt(direction.Sum(d => d * d)) * Math.Sign(direction[2]);
        Assert.Equal([0, 2 / Math.Sqrt(5), 1 / Math.Sqrt(5)], direction.Select(d => d / length), (a, b) => Math.Abs(a - b) < 1e-9);
    }

    /// <summary>The information of both designs, det XᵀX: 256 for the Hadamard one, the greatest there can be for four weighings, and 4 for three objects in pairs; recomputed.</summary>
    [Fact]
    public void Determinants_of_the_weighing_designs()
    {
        AdjustmentResult Weighed(int[][] pans) => Solve.It(new([.. pans.Select((_, i) => new Unknown($"object {i}", 1))],
            [.. pans.Select((pan, i) => new Observation($"weighing {i}", 0, 1, x =>
            {
                Dual sum = 0;
                for (int k = 0; k < pan.Length; k++) sum += pan[k] * x[k];
                return sum;
            }))]));
        double Information(AdjustmentResult result, int n)
        {
            // Each object after the ones before it: the product of the conditional variances is the determinant of the covariance.
            var covariance = new double[n, n];
            for (int a = 0; a < n; a++)
                for (int b = 0; b < n; b++) covariance[a, b] = result.Covariance(a, b);
            double det = 1;
            for (int k = 0; k < n; k++)
            {
                det *= covariance[k, k];
                for (int a = k + 1; a < n; a++)
                    for (int b = k + 1; b < n; b++) covariance[a, b] -= covariance[a, k] * covariance[k, b] / covariance[k, k];
            }

            return 1 / det;
        }

        Assert.Equal(256, Information(Weighed([[1, 1, 1, 1], [1, -1, 1, -1], [1, 1, -1, -1], [1, -1, -1, 1]]), 4), 1e-9);
        Assert.Equal(4, Information(Weighed([[1, 1, 0], [0, 1, 1], [1, 0, 1]]), 3), 1e-9);
    }
}
