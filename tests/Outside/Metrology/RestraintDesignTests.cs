using Sparewright.Reconcile.Adjust;
using Xunit;

namespace Sparewright.Outside.Metrology;

/// <summary>
/// Calibration designs with a restraint, NIST/SEMATECH e-Handbook of Statistical Methods, mpc3411, mpc3412 and mpc341j (itl.nist.gov/div898/handbook):
/// "repeatability factors" are standard uncertainties at σ = 1.
/// </summary>
public sealed class RestraintDesignTests
{
    private static Unknown[] Named(params string[] names) => [.. names.Select(name => new Unknown(name, 3))];

    private static Observation Difference(int a, int b) => new($"{a}-{b}", 0, 1, x => x[a] - x[b]);

    [Fact]
    public void Design_1_1_1_with_the_first_known()
    {
        var result = Solve.It(new(Named("a", "b", "c"), [Difference(0, 1), Difference(0, 2), Difference(1, 2)], [Restraint.Fixed("a", 0, 1)]));
        Assert.Equal(0, result.StandardUncertainty(0));
        Assert.Equal(0.8165, result.StandardUncertainty(1), 5e-5);
        Assert.Equal(0.8165, result.StandardUncertainty(2), 5e-5);
        Assert.Equal(1.4142, result.Of(x => x[1] + x[2]).StandardUncertainty, 5e-5);
        Assert.Equal(1, result.Global.DegreesOfFreedom);

        // The printed solution matrix, × 3, one row for each observation; R* enters each with 3/3.
        double[][] printed = [[0, -2, -1], [0, -1, -2], [0, 1, -1]];
        for (int observation = 0; observation < 3; observation++)
            for (int weight = 0; weight < 3; weight++) Assert.Equal(printed[observation][weight], 3 * result.Influence(observation)[weight], 1e-12);
        Assert.All(result.Estimates, estimate => Assert.Equal(1, estimate, 1e-12));
    }

    [Fact]
    public void Design_1_1_1_1_with_a_known_sum()
    {
        var pairs = from a in Enumerable.Range(0, 4) from b in Enumerable.Range(a + 1, 3 - a) select Difference(a, b);
        var result = Solve.It(new(Named("a", "b", "c", "d"), [.. pairs], [new Restraint("a + b", x => x[0] + x[1] - 2)]));
        Assert.Equal(0.3536, result.StandardUncertainty(0), 5e-5);
        Assert.Equal(0.3536, result.StandardUncertainty(1), 5e-5);
        Assert.Equal(0.6124, result.StandardUncertainty(2), 5e-5);
        Assert.Equal(0.6124, result.StandardUncertainty(3), 5e-5);
        Assert.Equal(0.7071, result.Of(x => x[0] - x[1]).StandardUncertainty, 5e-5);
        Assert.Equal(0, result.Of(x => x[0] + x[1]).StandardUncertainty, 1e-7);
        Assert.Equal(-1, result.Correlation(0, 1), 1e-12);
        Assert.Equal(3, result.Global.DegreesOfFreedom);
    }

    [Fact]
    public void Design_of_six_differences_of_three_with_the_last_known()
    {
        var result = Solve.It(new(
            Named("a", "b", "c"),
            [Difference(0, 1), Difference(1, 0), Difference(0, 2), Difference(2, 0), Difference(1, 2), Difference(2, 1)],
            [Restraint.Fixed("c", 2, 1)]));
        Assert.Equal(0.5774, result.StandardUncertainty(0), 5e-5);
        Assert.Equal(0.5774, result.StandardUncertainty(1), 5e-5);
        Assert.Equal(0, result.StandardUncertainty(2));
        Assert.Equal(4, result.Global.DegreesOfFreedom);
    }
}
