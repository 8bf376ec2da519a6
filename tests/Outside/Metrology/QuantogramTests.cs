using Sparewright.Reconcile.Nominals;
using Xunit;

namespace Sparewright.Outside.Metrology;

/// <summary>
/// Kendall's cosine quantogram (the formula read in a manual that quotes Phil. Trans. A 276, 1974, 231–266; the figures computed for our notes on metrology, section 5, from constructed lengths in quarters of an inch).
/// </summary>
public sealed class QuantogramTests
{
    private static readonly double[] Lengths = [12.72, 19.03, 25.38, 38.12, 6.36, 31.77];

    [Theory]
    [InlineData(6.35, 3.4635)]
    [InlineData(6.4, 3.404)]
    [InlineData(5, -0.685)]
    [InlineData(1.0, 0.163)]
    [InlineData(0.5, -0.595)]
    public void Of_one_unit(double unitMm, double phi) => Assert.Equal(phi, Quantogram.Of(Lengths, unitMm), 6e-4);

    [Fact]
    public void Nothing_fits_better_than_perfectly() => Assert.Equal(3.4641, Math.Sqrt(2 * Lengths.Length), 5e-5);

    [Fact]
    public void A_quarter_of_an_inch_is_found_and_not_its_parts()
    {
        (double unit, double phi) = Quantogram.Best(Lengths, [10, 5, 1, 0.5, 0.25, 0.1, 25.4 / 2, 25.4 / 4, 25.4 / 8, 25.4 / 16, 25.4 / 32]);
        Assert.Equal(6.35, unit, 1e-12);
        Assert.Equal(3.4635, phi, 5e-5);
    }
}
