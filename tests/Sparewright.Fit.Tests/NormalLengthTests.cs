using CsCheck;
using Xunit;

namespace Sparewright.Fit;

public sealed class NormalLengthTests
{
    [Fact]
    public void A_window_far_out_keeps_its_digits()
    {
        // P(Z > 10) = 7.619853e-24 (any table of the normal distribution).
        Assert.Equal(7.619853e-24, new NormalLength(0, 0.01).Between(0.1, double.PositiveInfinity), 1e-29);
        Assert.Equal(7.619853e-24, new NormalLength(0, 0.01).Between(double.NegativeInfinity, -0.1), 1e-29);
    }

    [Fact]
    public void Windows_that_share_a_bound_add_up() =>
        Gen.Select(Gen.Double[-1, 1], Gen.Double[0.01, 0.5], Gen.Double[-1, 1]).Sample((mean, u, cut) =>
        {
            var length = new NormalLength(mean, u);
            Assert.Equal(1, length.Between(double.NegativeInfinity, cut) + length.Between(cut, double.PositiveInfinity), 1e-12);
        });

    [Fact]
    public void An_exact_length_lies_in_the_window_or_does_not()
    {
        Assert.Equal(1, new NormalLength(0.2, 0).Between(0.1, 0.3));
        Assert.Equal(0, new NormalLength(0.4, 0).Between(0.1, 0.3));
    }
}
