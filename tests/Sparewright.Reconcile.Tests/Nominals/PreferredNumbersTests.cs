using Sparewright.Reconcile.Nominals;
using Xunit;

namespace Sparewright.Reconcile.Tests.Nominals;

/// <summary>Preferred numbers among what designers choose.</summary>
public class PreferredNumbersTests
{
    /// <summary>The rounded values of R40 deviate from 10^(i/40) by −1.01 % to +1.26 %: ISO 3 (from memory); recomputed −1.0140 % at 1.32 and +1.2626 % at 1.70.</summary>
    [Fact]
    public void The_series_is_that_of_the_standard()
    {
        double[] decade = [.. PreferredNumbers.Named("R40").Between(0.999, 9.99).Select(p => p.At)];
        Assert.Equal(40, decade.Length);
        double[] off = [.. decade.Select((n, i) => 100 * (n / Math.Pow(10, i / 40.0) - 1))];
        Assert.Equal(-1.0140, off.Min(), 1e-4);
        Assert.Equal(1.2626, off.Max(), 1e-4);
        Assert.Equal((1.32, 1.7), (decade[Array.IndexOf(off, off.Min())], decade[Array.IndexOf(off, off.Max())]));
        Assert.Equal([1, 1.6, 2.5, 4, 6.3], PreferredNumbers.Named("R5").Between(0.999, 9.99).Select(p => p.At));
        Assert.Equal([10, 12.5, 16, 20, 25, 31.5, 40, 50, 63, 80], PreferredNumbers.Named("R10").Between(9.99, 99).Select(p => p.At));
    }

    /// <summary>Each has the way to its neighbours; the mixed system, whose posteriors are published, has none of it.</summary>
    [Fact]
    public void A_preferred_number_is_likelier_than_the_tenth_beside_it()
    {
        GridPoint[] metric = [.. NominalGrids.Metric.Near(6.35, 0.03)], mixed = [.. NominalGrids.Mixed.Near(6.35, 0.03)];
        double At(GridPoint[] points, double mm) => points.Single(p => Math.Abs(p.Mm - mm) < 1e-9).Weight;
        // 6.3 stands in R10 between 5 and 8 and in R20 between 5.6 and 7.1: (8 − 5)/2 and (7.1 − 5.6)/2, of 10 mm.
        Assert.Equal(0.15 * 0.1 / 10 + 0.03 * 1.5 / 10 + 0.01 * 0.75 / 10, At(metric, 6.3), 1e-12);
        Assert.Equal(0.15 * 0.1 / 10, At(metric, 6.4), 1e-12);
        Assert.Equal(At(mixed, 6.4), At(mixed, 6.3), 1e-12);
        double sum = metric.Sum(p => p.Weight * Measure.Uncertainty.Normal.Density(6.35 - p.Mm, 0.03));
        Assert.Equal(sum, NominalGrids.Metric.Evidence(6.35, 0.03), 1e-9);
    }
}
