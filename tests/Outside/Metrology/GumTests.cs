using Sparewright.Measure.Uncertainty;
using Xunit;
using static Sparewright.Measure.Numbers.Dual;

namespace Sparewright.Outside.Metrology;

/// <summary>Examples of the GUM (JCGM 100:2008), inputs and answers read in the tests of MSLNZ/GTC and sandialabs/suncal.</summary>
public sealed class GumTests
{
    /// <summary>H.1, end gauge, lengths in nm: l = lₛ + d − lₛ(δα·θ + αₛ·δθ).</summary>
    private static readonly Measurand EndGauge = x => x[0] + x[1] - x[0] * (x[2] * x[3] + x[4] * x[5]);

    private static readonly double UncertaintyOfD = Math.Sqrt(5.8 * 5.8 + 3.9 * 3.9 + 6.7 * 6.7);

    private static (double[] Estimates, double[] Uncertainties) EndGaugeInputs(double nominal) =>
        ([nominal, 215, 0, -0.1, 11.5e-6, 0],
        [25, UncertaintyOfD, 1e-6 / Math.Sqrt(3), Math.Sqrt(0.2 * 0.2 + 0.5 * 0.5 / 2), 2e-6 / Math.Sqrt(3), 0.05 / Math.Sqrt(3)]);

    [Fact]
    public void H1_end_gauge()
    {
        var (estimates, u) = EndGaugeInputs(50_000_623);
        var result = LawOfPropagation.Propagate([EndGauge], estimates, Diagonal(u));
        Assert.Equal(50_000_838, result.Values[0], 0.5);
        Assert.Equal(31.6639, result.StandardUncertainty(0), 5e-5);

        // ls, d, δα, θ, αs, δθ: 16.599 was printed for a nominal of 5e7 nm.
        double[] components = [25, 9.7, 2.88679, 0, 0, 16.599];
        for (int i = 0; i < components.Length; i++)
            Assert.Equal(components[i], Math.Abs(result.Sensitivities[0, i]) * u[i], i == 1 ? 0.05 : 1e-3);
    }

    [Fact]
    public void H1_degrees_of_freedom_and_expanded_uncertainty()
    {
        Assert.Equal(25.4472507774, Coverage.EffectiveDegreesOfFreedom((5.8, 24), (3.9, 5), (6.7, 8)), 1e-10);

        const double nominal = 50_000_000;
        var budget = new UncertaintyBudget(
        [
            new("standard", BudgetKind.A, 25, 18, ""), new("repeats", BudgetKind.A, 5.8, 24, ""), new("random", BudgetKind.A, 3.9, 5, ""),
            new("systematic", BudgetKind.B, 6.7, 8, ""),
            new("expansion", BudgetKind.B, nominal * 0.1 * 1e-6 / Math.Sqrt(3), 50, ""),
            new("temperature", BudgetKind.B, nominal * 11.5e-6 * 0.05 / Math.Sqrt(3), 2, ""),
        ]);
        Assert.Equal(16.7521475092, budget.EffectiveDegreesOfFreedom, 1e-10);
        Assert.Equal(32, budget.StandardUncertaintyMm, 0.5);
        // t₉₉(16) = 2.92 and U₉₉ = 93 nm: from memory of the printed example, which multiplies the rounded 2.92 and 32.
        Assert.Equal(2.92, Coverage.Factor(0.99, budget.EffectiveDegreesOfFreedom), 5e-3);
        Assert.Equal(93, budget.ExpandedMm(0.99), 1.0);
    }

    [Fact]
    public void H1_second_order_terms_raise_the_uncertainty_to_34()
    {
        var (estimates, u) = EndGaugeInputs(50_000_623);
        var check = LawOfPropagation.Check(EndGauge, estimates, Diagonal(u));
        Assert.Equal(31.6639, check.FirstOrder, 5e-5);
        Assert.Equal(33.8065, check.SecondOrder, 5e-4);
        Assert.True(check.IsLinearEnough);
    }

    [Fact]
    public void H2_resistance_and_reactance_with_correlated_inputs()
    {
        double[] volts = [5.007, 4.994, 5.005, 4.990, 4.999], amperes = [0.019663, 0.019639, 0.019640, 0.019685, 0.019678], phases = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433];
        var (means, covariance) = CovarianceOfMeans(volts, amperes, phases);
        Assert.Equal(-0.36, Correlation(covariance, 0, 1), 5e-3);
        Assert.Equal(0.86, Correlation(covariance, 0, 2), 5e-3);
        Assert.Equal(-0.65, Correlation(covariance, 1, 2), 5e-3);

        var result = LawOfPropagation.Propagate([x => x[0] / x[1] * Cos(x[2]), x => x[0] / x[1] * Sin(x[2]), x => x[0] / x[1]], means, covariance);
        Assert.Equal(127.732, result.Values[0], 5e-4);
        Assert.Equal(219.847, result.Values[1], 5e-4);
        Assert.Equal(254.260, result.Values[2], 5e-4);
        Assert.Equal(0.071, result.StandardUncertainty(0), 5e-4);
        // The example prints 0.295; recomputed from its data 0.2956.
        Assert.Equal(0.2956, result.StandardUncertainty(1), 1e-4);
        Assert.Equal(0.236, result.StandardUncertainty(2), 5e-4);
        Assert.Equal(-0.588, result.Correlation(0, 1), 1e-3);
        Assert.Equal(-0.485, result.Correlation(0, 2), 1e-3);
        Assert.Equal(0.993, result.Correlation(1, 2), 1e-3);
    }

    /// <summary>H.3, calibration line of a thermometer through the adjustment; the 11 points from memory of table H.6, proved by the sum of squares read in suncal.</summary>
    [Fact]
    public void H3_calibration_line()
    {
        double[] t = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511];
        double[] b = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160];
        var result = Solve.It(new(
            [new("intercept", 0), new("slope", 0)],
            [.. t.Select((temperature, i) => new Reconcile.Adjust.Observation($"{i}", b[i], 1, x => x[0] + x[1] * (temperature - 20)))]));
        double s = result.Global.ErrorFactor;
        Assert.Equal(0.000110096583109, result.Global.ChiSquare, 1e-15);
        Assert.Equal(9, result.Global.DegreesOfFreedom);
        Assert.Equal(0.0035, s, 5e-5);
        Assert.Equal(-0.1712, result.Estimates[0], 5e-5);
        Assert.Equal(0.00218, result.Estimates[1], 5e-6);
        Assert.Equal(0.0029, s * result.StandardUncertainty(0), 5e-5);
        Assert.Equal(0.00067, s * result.StandardUncertainty(1), 5e-6);
        Assert.Equal(-0.930, result.Correlation(0, 1), 5e-4);
        var at30 = result.Of(x => x[0] + x[1] * 10);
        Assert.Equal(-0.1494, at30.Value, 5e-5);
        Assert.Equal(0.0041, s * at30.StandardUncertainty, 5e-5);
    }

    /// <summary>Table G.2, read in suncal's tests.</summary>
    [Theory]
    [InlineData(0.6827, 1, 1.84)]
    [InlineData(0.95, 1, 12.71)]
    [InlineData(0.9973, 5, 5.51)]
    [InlineData(0.90, 20, 1.72)]
    public void G2_students_t(double probability, double degrees, double factor) => Assert.Equal(factor, Coverage.Factor(probability, degrees), 5e-3);

    /// <summary>Read in suncal's tests.</summary>
    [Fact]
    public void Welch_Satterthwaite_with_one_certain_line() =>
        Assert.Equal(12.8, Coverage.EffectiveDegreesOfFreedom((0.57, 9), (0.25, double.PositiveInfinity)), 0.05);

    /// <summary>Type B evaluations, GUM 4.3.7, F.2.2.1 (display step 0.01, 0.02, 0.05, 0.1 mm).</summary>
    [Theory]
    [InlineData(0.01, 0.002887)]
    [InlineData(0.02, 0.005774)]
    [InlineData(0.05, 0.014434)]
    [InlineData(0.1, 0.028868)]
    public void Resolution(double step, double u) =>
        Assert.Equal(u, BudgetLine.Rectangular("resolution", step / 2, "", ErrorReach.ThisReading).StandardUncertaintyMm, 5e-7);

    /// <summary>NIST Technical Note 1900, example E13: thermal expansion coefficient of copper; read in suncal's tests.</summary>
    [Fact]
    public void Nist_1900_thermal_expansion()
    {
        var result = LawOfPropagation.Propagate(
            [x => (x[1] - x[0]) / (x[0] * (x[3] - x[2]))], [1.4999, 1.5021, 288.15, 373.10], Diagonal([0.0001, 0.0002, 0.02, 0.05]));
        Assert.Equal(1.7266e-5, result.Values[0], 5e-10);
        Assert.Equal(1.76e-6, result.StandardUncertainty(0), 5e-9);
    }

    private static double[,] Diagonal(double[] u)
    {
        var covariance = new double[u.Length, u.Length];
        for (int i = 0; i < u.Length; i++) covariance[i, i] = u[i] * u[i];
        return covariance;
    }

    private static double Correlation(double[,] covariance, int a, int b) => covariance[a, b] / Math.Sqrt(covariance[a, a] * covariance[b, b]);

    private static (double[] Means, double[,] Covariance) CovarianceOfMeans(params double[][] series)
    {
        int n = series[0].Length;
        double[] means = [.. series.Select(s => s.Average())];
        var covariance = new double[series.Length, series.Length];
        for (int a = 0; a < series.Length; a++)
            for (int b = 0; b < series.Length; b++)
                covariance[a, b] = Enumerable.Range(0, n).Sum(k => (series[a][k] - means[a]) * (series[b][k] - means[b])) / (n * (n - 1.0));
        return (means, covariance);
    }
}
