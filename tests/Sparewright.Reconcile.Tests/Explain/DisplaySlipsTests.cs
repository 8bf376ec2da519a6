using Sparewright.Reconcile.Explain;
using Xunit;

namespace Sparewright.Reconcile.Tests.Explain;

/// <summary>What may have stood on a display when something else was written down.</summary>
public class DisplaySlipsTests
{
    [Theory]
    [InlineData(30.41, 34.01, "two digits swapped")]
    [InlineData(41.20, 14.20, "two digits swapped")]
    [InlineData(12.81, 12.31, "a digit misread for one that looks like it")]
    [InlineData(12.14, 12.24, "one digit wrong")]
    [InlineData(1.27, 12.7, "the decimal point in the wrong place")]
    [InlineData(0.47, 11.938, "inches taken for millimetres, or the reverse")]
    [InlineData(38.5, 38, "off by 0.5 mm, a miscounted division")]
    [InlineData(38, 48, "off by 10 mm, a miscounted division")]
    public void Every_slip_has_the_value_that_was_meant(double written, double meant, string words) =>
        Assert.Contains(DisplaySlips.Of(written, 0.01), s => Math.Abs(s.MeantMm - meant) < 1e-9 && s.Words == words);

    [Fact]
    public void The_shares_of_a_kind_make_one_and_nothing_means_what_was_written()
    {
        IReadOnlyList<DisplaySlip> slips = DisplaySlips.Of(17.03, 0.01);
        Assert.All(slips.GroupBy(s => s.Kind), kind => Assert.Equal(1, kind.Sum(s => s.Share), 12));
        Assert.DoesNotContain(slips, s => Math.Abs(s.MeantMm - 17.03) < 1e-9);
        Assert.Equal(6, slips.Select(s => s.Kind).Distinct().Count());
    }
}
