using CsCheck;
using Xunit;

namespace Sparewright.Measure.Tests;

public class TiltTests
{
    /// <summary>Mean and spread of 1/cos θ, θ uniform within ± t, against a fine sum.</summary>
    [Fact]
    public void Mean_and_spread_are_those_of_a_uniform_angle() =>
        Gen.Double[0.05, 60].Sample(degrees =>
        {
            const int n = 20_000;
            double sum = 0, squares = 0;
            for (int k = 0; k < n; k++)
            {
                double reads = Tilt.ReadsMm(1, degrees * (k + 0.5) / n);
                (sum, squares) = (sum + reads, squares + reads * reads);
            }

            double mean = sum / n, spread = Math.Sqrt(Math.Max(0, squares / n - mean * mean)) / mean;
            var (longer, relative) = Tilt.Of(degrees);
            Assert.Equal(mean, longer, 1e-7);
            Assert.Equal(spread, relative, 2e-6);
        }, iter: 50);
}
