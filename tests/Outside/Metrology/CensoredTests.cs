using Sparewright.Measure.Uncertainty;
using Xunit;

namespace Sparewright.Outside.Metrology;

/// <summary>Values of which only bounds are known: gauges, and trials that go or do not.</summary>
public sealed class CensoredTests
{
    private const double Infinite = double.PositiveInfinity;

    private static IEnumerable<BetweenBounds> Trials(double at, int tried, int went) => [new(-Infinite, at, went), new(at, Infinite, tried - went)];

    /// <summary>
    /// C. I. Bliss 1935, beetles: the data from memory, agreeing with the summary in R's package dobson; probit coefficients, their errors and the deviance as in A. J. Dobson, An Introduction to
    /// Generalized Linear Models (from memory), recomputed.
    /// </summary>
    [Fact]
    public void Bliss_beetles()
    {
        double[] dose = [1.6907, 1.7242, 1.7552, 1.7842, 1.8113, 1.8369, 1.8610, 1.8839];
        int[] n = [59, 60, 62, 56, 63, 59, 62, 60], killed = [6, 13, 18, 28, 52, 53, 61, 60];
        CensoredNormal fit = CensoredNormal.Fit([.. dose.SelectMany((x, k) => Trials(x, n[k], killed[k]))])!;
        Assert.Equal(-34.9353, fit.Intercept.Value, 5e-5);
        // The published errors are by the expected information, ours by the observed one: alike to 0.4 of a hundred.
        Assert.Equal(2.648, fit.Intercept.Error, 0.004 * 2.648);
        Assert.Equal(19.7279, fit.Slope.Value, 5e-5);
        Assert.Equal(1.487, fit.Slope.Error, 0.004 * 1.487);
        Assert.Equal(1.77085, fit.Mean, 5e-6);
        double saturated = -Enumerable.Range(0, 8).Sum(k => Part(killed[k], n[k]) + Part(n[k] - killed[k], n[k]));
        Assert.Equal(10.1198, 2 * (fit.NegativeLogLikelihood - saturated), 5e-5);

        static double Part(int some, int all) => some == 0 ? 0 : some * Math.Log((double)some / all);
    }

    /// <summary>Gorla et al. 2017, Int. J. Appl. Eng. Res. 12(21) 11306, material 951 (read in the vignette of R's package upndown); maximum likelihood recomputed. A step down follows a failure; the last one failed.</summary>
    [Fact]
    public void Gorla_staircase()
    {
        double[] kN = [36, 35, 36, 37, 38, 39, 38, 37, 38, 37, 36, 35, 36, 37, 36];
        CensoredNormal fit = CensoredNormal.Fit([.. kN.SelectMany((x, k) => Trials(x, 1, k == kN.Length - 1 || kN[k + 1] < x ? 1 : 0))])!;
        Assert.Equal(36.5291, fit.Mean, 5e-5);
        Assert.Equal(2.1117, fit.StandardDeviation!.Value, 5e-5);
        Assert.Equal(9.23671, fit.NegativeLogLikelihood, 5e-6);
    }

    /// <summary>A pin in holes of 5.00 to 5.30 mm, three prints each (constructed; recomputed for our notes on metrology, section 7).</summary>
    [Fact]
    public void A_ladder_of_holes()
    {
        int[] went = [0, 0, 1, 2, 3, 3, 3];
        CensoredNormal fit = CensoredNormal.Fit([.. went.SelectMany((w, k) => Trials(5 + 0.05 * k, 3, w))])!;
        Assert.Equal(5.1250, fit.Mean, 5e-5);
        Assert.Equal(0.03628, fit.StandardDeviation!.Value, 5e-6);
        Assert.Equal(4.05503, fit.NegativeLogLikelihood, 5e-6);
    }

    /// <summary>One print a step and a clean switch: there is no spread to be had, only a stretch; u = 0.05/√12 (our notes on metrology, section 7).</summary>
    [Fact]
    public void A_clean_switch_gives_a_stretch_and_no_spread()
    {
        CensoredNormal fit = CensoredNormal.Fit([.. Enumerable.Range(0, 7).SelectMany(k => Trials(5 + 0.05 * k, 1, k >= 3 ? 1 : 0))])!;
        Assert.Null(fit.StandardDeviation);
        Assert.Equal((5.10, 5.15), (Math.Round(fit.Low, 9), Math.Round(fit.High, 9)));
        Assert.Equal(5.125, fit.Mean, 1e-12);
        Assert.Equal(0.01443, fit.MeanUncertainty, 5e-6);
        Assert.Null(CensoredNormal.Fit([.. Trials(5, 3, 3)]));
    }

    /// <summary>Twenty parts between gauges 9.90 to 10.10, the outer ones open (constructed; recomputed for our notes on metrology, section 7).</summary>
    [Fact]
    public void Parts_between_gauges()
    {
        CensoredNormal fit = CensoredNormal.Fit([new(-Infinite, 9.90, 1), new(9.90, 9.95, 4), new(9.95, 10.00, 8), new(10.00, 10.05, 5), new(10.05, 10.10, 2), new(10.10, Infinite, 0)])!;
        Assert.Equal(9.98230, fit.Mean, 5e-6);
        Assert.Equal(0.04910, fit.StandardDeviation!.Value, 5e-6);
        Assert.Equal(28.57130, fit.NegativeLogLikelihood, 5e-6);
    }

    /// <summary>The half normal distribution has mean √(2/π) and variance 1 − 2/π; between ± 1 the variance is 1 − 2φ(1)/(2Φ(1) − 1) (any handbook; recomputed).</summary>
    [Fact]
    public void A_normal_variable_between_bounds()
    {
        NormalBetween half = NormalBetween.Of(0, Infinite), below = NormalBetween.Of(-Infinite, 0), middle = NormalBetween.Of(-1, 1), far = NormalBetween.Of(20, Infinite);
        Assert.Equal(0.5, half.Probability, 1e-12);
        Assert.Equal(Math.Sqrt(2 / Math.PI), half.Mean, 1e-12);
        Assert.Equal(-half.Mean, below.Mean, 1e-12);
        Assert.Equal(1 - 2 / Math.PI, half.Variance, 1e-12);
        Assert.Equal(0.682689, middle.Probability, 5e-7);
        Assert.Equal(0, middle.Mean, 1e-12);
        Assert.Equal(0.291125, middle.Variance, 5e-7);
        // The tail's asymptotic series: 20 + 1/20 − 2/20³ + 10/20⁵.
        Assert.Equal(20.049753, far.Mean, 1e-6);
    }

    /// <summary>φ(z)/z · (1 − 1/z² + 3/z⁴ − 15/z⁶): the tail's asymptotic series (any handbook), which at 36 standard deviations is true to nine digits.</summary>
    [Fact]
    public void A_normal_variable_between_bounds_that_lie_far_out()
    {
        static double Tail(double z) => Math.Exp(-0.5 * z * z) / (z * Math.Sqrt(2 * Math.PI)) * (1 - 1 / (z * z) + 3 / Math.Pow(z, 4) - 15 / Math.Pow(z, 6));
        NormalBetween above = NormalBetween.Of(36, Infinite), between = NormalBetween.Of(36, 36.01), below = NormalBetween.Of(-Infinite, -36);
        Assert.Equal(1, above.Probability / Tail(36), 1e-8);
        Assert.Equal(1, between.Probability / (Tail(36) - Tail(36.01)), 1e-6);
        Assert.Equal(above.Probability, below.Probability);
        Assert.Equal(36 + 1.0 / 36 - 2 / Math.Pow(36, 3), above.Mean, 1e-4);
        // So narrow that it is all but even between the bounds: the middle, less x/12 of the width with x = 0.36, and the variance of a rectangle.
        Assert.Equal(36.0047, between.Mean, 2e-6);
        Assert.Equal(0.01 * 0.01 / 12, between.Variance, 1e-7);
    }
}
