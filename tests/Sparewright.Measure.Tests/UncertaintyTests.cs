using CsCheck;
using Sparewright.Measure.Uncertainty;
using Xunit;

namespace Sparewright.Measure.Tests;

public sealed class UncertaintyTests
{
    [Fact]
    public void Students_t_is_its_own_inverse() => Gen.Select(Gen.Double[0.01, 0.999], Gen.Double[0.6, 200]).Sample((probability, degrees) =>
        Assert.Equal(1 - probability, StudentT.TwoSidedTail(StudentT.TwoSided(probability, degrees), degrees), 1e-10));

    [Fact]
    public void Students_t_nears_the_normal() =>
        Assert.Equal(Normal.TwoSidedCritical(0.05), StudentT.TwoSided(0.95, 1e7), 1e-6);

    [Fact]
    public void ChiSquare_is_its_own_inverse() => Gen.Select(Gen.Double[0.001, 0.999], Gen.Int[1, 300]).Sample((probability, degrees) =>
        Assert.Equal(1 - probability, ChiSquare.UpperTail(ChiSquare.Quantile(probability, degrees), degrees), 1e-10));

    /// <summary>The defect that other libraries of this kind have had: (x + x) must be the same as 2x, and an input that is not used must change nothing.</summary>
    [Fact]
    public void A_quantity_added_to_itself_is_twice_the_quantity()
    {
        double[,] variance = { { 0.04, 0.018 }, { 0.018, 0.09 } };
        var result = LawOfPropagation.Propagate([x => x[0] + x[0], x => 2 * x[0], x => x[0] - x[0]], [3, 5], variance);
        Assert.Equal(0.4, result.StandardUncertainty(0), 1e-12);
        Assert.Equal(0.4, result.StandardUncertainty(1), 1e-12);
        Assert.Equal(0, result.StandardUncertainty(2));
        Assert.Equal(1, result.Correlation(0, 1), 1e-12);
    }

    [Fact]
    public void Correlated_inputs_of_a_sum() => Gen.Select(Gen.Double[0.01, 2], Gen.Double[0.01, 2], Gen.Double[-1, 1]).Sample((a, b, r) =>
    {
        double[,] variance = { { a * a, r * a * b }, { r * a * b, b * b } };
        var result = LawOfPropagation.Propagate([x => x[0] + x[1]], [1, 1], variance);
        Assert.Equal(Math.Sqrt(Math.Max(0, a * a + b * b + 2 * r * a * b)), result.StandardUncertainty(0), 1e-7);
    });

    [Fact]
    public void A_straight_measurand_is_linear_whatever_its_inputs()
    {
        double[,] variance = { { 4, 2 }, { 2, 9 } };
        var check = LawOfPropagation.Check(x => 3 * x[0] - x[1] + 7, [1, 1], variance);
        Assert.True(check.IsLinearEnough);
        Assert.Equal(check.FirstOrder, check.SecondOrder, 1e-9);
        Assert.Equal(0, check.MeanShift, 1e-9);
    }

    /// <summary>For y = x² with normal x both terms are exact: variance 4μ²σ² + 2σ⁴, mean μ² + σ².</summary>
    [Fact]
    public void The_second_order_of_a_square_is_exact() => Gen.Select(Gen.Double[-3, 3], Gen.Double[0.1, 2]).Sample((mean, sigma) =>
    {
        double[,] variance = { { sigma * sigma } };
        var check = LawOfPropagation.Check(x => x[0] * x[0], [mean], variance);
        Assert.Equal(Math.Sqrt(4 * mean * mean * sigma * sigma + 2 * Math.Pow(sigma, 4)), check.SecondOrder, 1e-6);
        Assert.Equal(sigma * sigma, check.MeanShift, 1e-6);
    });

    [Fact]
    public void A_covariance_that_cannot_be_is_refused()
    {
        double[,] impossible = { { 1, 2 }, { 2, 1 } };
        Assert.Throws<ArgumentException>(() => LawOfPropagation.Check(x => x[0] + x[1], [1, 1], impossible));
    }

    [Fact]
    public void The_same_seed_gives_the_same_drawing_and_another_seed_another()
    {
        static MonteCarloResult Draw(int seed) => MonteCarlo.Run(x => x[0], [new InputDistribution.Gaussian(0, 1)], 1000, seed);
        Assert.Equal(Draw(7).Sorted, Draw(7).Sorted);
        Assert.NotEqual(Draw(7).Mean, Draw(8).Mean);
    }

    /// <summary>Standard deviations of the distributions, JCGM 101:2008, table 1 and 6.4 (from memory): half-width over √3, √6, √2; curvilinear trapezoid √(w²/3 + d²/9); t √(ν/(ν−2)).</summary>
    [Fact]
    public void Drawn_distributions_have_their_published_spread()
    {
        (InputDistribution Distribution, double Deviation)[] all =
        [
            (new InputDistribution.Rectangular(-2, 2), 2 / Math.Sqrt(3)), (new InputDistribution.Triangular(-2, 2), 2 / Math.Sqrt(6)), (new InputDistribution.Arcsine(-2, 2), 2 / Math.Sqrt(2)),
            (new InputDistribution.CurvilinearTrapezoid(-2, 2, 0.6), Math.Sqrt(4 / 3.0 + 0.36 / 9)), (new InputDistribution.ScaledT(0, 2, 10), 2 * Math.Sqrt(10.0 / 8)), (new InputDistribution.Gaussian(0, 2), 2),
        ];
        foreach (var (distribution, deviation) in all)
        {
            var drawn = MonteCarlo.Run(x => x[0], [distribution], 200_000, seed: 11);
            Assert.Equal(deviation, drawn.StandardUncertainty, 0.015 * deviation);
            Assert.Equal(0, drawn.Mean, 0.02);
        }
    }
}
