using Sparewright.Reconcile.Adjust;
using Xunit;

namespace Sparewright.Outside.Metrology;

/// <summary>Worked adjustments of levelling nets: the same mathematics as readings on a part, with answers that others published.</summary>
public sealed class LevellingTests
{
    private const int B = 0, C = 1, D = 2;

    /// <summary>
    /// C. D. Ghilani, Adjustment Computations, example 12.3; inputs read at slidetodoc.com ("adjustment of level nets"). Residuals, redundancies and tests
    /// recomputed independently; the heights agree with the book from memory.
    /// </summary>
    private static AdjustmentProblem Ghilani(double errorIn5 = 0) => new(
        [new("B", 448), new("C", 453), new("D", 445)],
        [
            Solve.Difference("1 A-B", -1, B, 10.509, 0.006, fromValue: 437.596),
            Solve.Difference("2 B-C", B, C, 5.360, 0.004),
            Solve.Difference("3 C-D", C, D, -8.523, 0.005),
            Solve.Difference("4 D-A", D, -1, -7.348, 0.003, toValue: 437.596),
            Solve.Difference("5 B-D", B, D, -3.167 + errorIn5, 0.004),
            Solve.Difference("6 A-C", -1, C, 15.881, 0.012, fromValue: 437.596),
        ]);

    [Fact]
    public void Ghilani_12_3_heights_and_tests()
    {
        var result = Solve.It(Ghilani());
        Assert.Equal(448.108712, result.Estimates[B], 1e-6);
        Assert.Equal(453.468468, result.Estimates[C], 1e-6);
        Assert.Equal(444.943605, result.Estimates[D], 1e-6);
        Assert.Equal(0.003525, result.StandardUncertainty(B), 1e-6);
        Assert.Equal(0.004048, result.StandardUncertainty(C), 1e-6);
        Assert.Equal(0.002704, result.StandardUncertainty(D), 1e-6);
        Assert.Equal(3, result.Global.DegreesOfFreedom);
        Assert.Equal(1.272123, result.Global.ChiSquare, 1e-6);
        Assert.Equal(0.651184, result.Global.ErrorFactor, 1e-6);
        Assert.Equal(0.7358, result.Global.P, 1e-4);
    }

    [Theory]
    [InlineData(0, 3.7117, 0.6549, 0.7644, 30.64)]
    [InlineData(1, -0.2439, 0.3294, -0.1063, 28.80)]
    [InlineData(2, -1.8625, 0.5092, -0.5220, 28.95)]
    [InlineData(3, 0.3947, 0.1877, 0.3037, 28.61)]
    [InlineData(4, 1.8936, 0.4326, 0.7197, 25.13)]
    [InlineData(5, -8.5322, 0.8862, -0.7553, 52.67)]
    public void Ghilani_12_3_each_observation(int index, double residualMm, double redundancy, double w, double smallestDetectableMm)
    {
        var observation = Solve.It(Ghilani()).Observations[index];
        Assert.Equal(residualMm, 1000 * observation.Residual, 1e-4);
        Assert.Equal(redundancy, observation.Redundancy, 1e-4);
        Assert.Equal(w, observation.W!.Value, 1e-4);
        Assert.Equal(smallestDetectableMm, 1000 * observation.SmallestDetectable(0.001, 0.80), 0.01);
    }

    [Fact]
    public void Ghilani_12_3_with_30_mm_added_to_observation_5_names_it()
    {
        var result = Solve.It(Ghilani(errorIn5: 0.030));
        Assert.Equal(18.5060, result.Global.ChiSquare, 1e-4);
        Assert.Equal(0.000346, result.Global.P, 1e-6);
        Assert.False(result.Global.Passes(0.05));

        var search = Suspects.Find(result, level: 0.05);
        var set = Assert.Single(search.Sets);
        Assert.True(set.IsSingle);
        Assert.Equal("5 B-D", set.Leader.Name);
        Assert.Equal(-4.2133, set.Leader.W, 1e-4);
        Assert.Equal(0.02562, set.Leader.EstimatedGrossError, 1e-5);
        Assert.True(set.Leader.Odds > 0.95);

        Assert.Equal(448.106770, search.Remaining.Estimates[B], 1e-6);
        Assert.Equal(453.467557, search.Remaining.Estimates[C], 1e-6);
        Assert.Equal(444.944148, search.Remaining.Estimates[D], 1e-6);
        Assert.Equal(0.754098, search.Remaining.Global.ChiSquare, 1e-6);
        Assert.Equal(2, search.Remaining.Global.DegreesOfFreedom);
    }

    /// <summary>
    /// G. Strang and K. Borre, Linear Algebra, Geodesy and GPS; data and the figures 4.636, 1.243, 0.268 and 1.765 read at rplstoday.com
    /// ("how would you adjust this leveling data"), with A-F 1.002 km as there; heights recomputed.
    /// </summary>
    [Fact]
    public void Strang_and_Borre_levelling()
    {
        static double Sigma(double km) => 0.006 * Math.Sqrt(km);
        const int E = 0, F = 1;
        var result = Solve.It(new(
            [new("E", 10), new("F", 12)],
            [
                Solve.Difference("A-E", -1, E, 0.732, Sigma(0.970), fromValue: 10.021),
                Solve.Difference("A-F", -1, F, 1.978, Sigma(1.002), fromValue: 10.021),
                Solve.Difference("B-E", -1, E, 0.420, Sigma(1.070), fromValue: 10.321),
                Solve.Difference("C-F", -1, F, 0.988, Sigma(1.110), fromValue: 11.002),
                Solve.Difference("E-F", E, F, 1.258, Sigma(0.890)),
            ]));
        Assert.Equal(4.636, result.Global.ChiSquare, 5e-4);
        Assert.Equal(1.243, result.Global.ErrorFactor, 5e-4);
        Assert.Equal(3, result.Global.DegreesOfFreedom);
        Assert.Equal(10.744503, result.Estimates[E], 1e-6);
        Assert.Equal(11.997620, result.Estimates[F], 1e-6);

        var (low, high) = result.Global.Bounds(0.05);
        Assert.Equal(0.268, Math.Sqrt(low / 3), 5e-4);
        Assert.Equal(1.765, Math.Sqrt(high / 3), 5e-4);
    }
}
