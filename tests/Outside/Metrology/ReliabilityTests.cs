using Sparewright.Measure.Uncertainty;
using Sparewright.Reconcile.Adjust;
using Xunit;

namespace Sparewright.Outside.Metrology;

/// <summary>
/// Critical values and detectable errors. Read in the test-suite of CERN's open adjustment program (github geodetic-metrology-tools/LGC2,
/// source/LGC_Tests, testStatistics); λ₀ = 17.075 is the value that Baarda tabulated (from memory), 17.074647 recomputed.
/// </summary>
public sealed class ReliabilityTests
{
    /// <summary>One reading of something known: redundancy 1, σ = 1 mm, wrong by the given error.</summary>
    private static AdjustedObservation Wrong(double errorMm) => Solve.It(new(
        [new("p", 0)],
        [new("reading", 10 + errorMm, 1, x => x[0])],
        [Restraint.Fixed("known point", 0, 10)])).Observations[0];

    [Theory]
    [InlineData(2.57, 0.01, false)]
    [InlineData(2.58, 0.01, true)]
    [InlineData(2.325, 0.02, false)]
    [InlineData(2.327, 0.02, true)]
    public void A_reading_is_flagged_just_beyond_the_critical_value(double errorMm, double level, bool flagged)
    {
        var reading = Wrong(errorMm);
        Assert.Equal(1, reading.Redundancy, 1e-12);
        Assert.Equal(-errorMm, reading.W!.Value, 1e-12);
        Assert.Equal(errorMm, reading.EstimatedGrossError!.Value, 1e-12);
        Assert.Equal(flagged, Math.Abs(reading.W.Value) > Reliability.CriticalW(level));
    }

    [Theory]
    [InlineData(0.01, 0.90, 3.857)]
    [InlineData(0.02, 0.80, 3.168)]
    public void The_smallest_detectable_error_is_as_LGC2_asserts(double level, double power, double mm) =>
        Assert.Equal(mm, Wrong(0).SmallestDetectable(level, power), 5e-4);

    [Fact]
    public void An_error_in_a_reading_of_something_known_moves_nothing() =>
        Assert.Equal([0.0], Solve.It(new([new("p", 0)], [new("r", 12.58, 1, x => x[0])], [Restraint.Fixed("known", 0, 10)])).Influence(0));

    [Fact]
    public void Baardas_noncentrality() => Assert.Equal(17.075, Math.Pow(Reliability.Shift(0.001, 0.80), 2), 5e-4);

    /// <summary>Standard normal and χ² tables, as in any handbook; recomputed.</summary>
    [Fact]
    public void Critical_values()
    {
        Assert.Equal(1.9600, Reliability.CriticalW(0.05), 5e-5);
        Assert.Equal(2.3263, Reliability.CriticalW(0.02), 5e-5);
        Assert.Equal(2.5758, Reliability.CriticalW(0.01), 5e-5);
        Assert.Equal(3.2905, Reliability.CriticalW(0.001), 5e-5);
        foreach (var (f, critical) in new[] { (1, 3.8415), (2, 5.9915), (3, 7.8147), (4, 9.4877), (5, 11.0705), (10, 18.3070) })
            Assert.Equal(critical, new GlobalTest(0, f).Critical(0.05), 5e-5);
        Assert.Equal((0.2158, 9.3484), Rounded(new GlobalTest(0, 3).Bounds(0.05)));
        Assert.Equal((0.8312, 12.8325), Rounded(new GlobalTest(0, 5).Bounds(0.05)));
        Assert.Equal(1.9600, Normal.Quantile(0.975), 5e-5);
    }

    private static (double, double) Rounded((double Low, double High) bounds) => (Math.Round(bounds.Low, 4), Math.Round(bounds.High, 4));
}
