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

        double Gain(Computed reading, double sigma) => 0.5 * Math.Log(1 + Math.Pow(result.Of(reading).StandardUncertainty / sigma, 2));
        Assert.Equal(0.3466, Gain(x => x[d1], 0.05), 5e-5);
        Assert.Equal(0.5003, Gain(x => x[d2], 0.05), 5e-5);
        Assert.Equal(0.7820, Gain(x => x[c] + (x[d2] - x[d1]) / 2, 0.03), 5e-5);
    }
}
