using Sparewright.Measure.Quantities;
using Xunit;

namespace Sparewright.Measure.Tests;

/// <summary>Lengths in the unit of whoever reads them. An inch is 25.4 mm exactly (ISO 80000-3).</summary>
public class LengthUnitTests
{
    [Theory]
    [InlineData(12.345, LengthUnit.Millimetre, "12.35 mm")]
    [InlineData(12.7, LengthUnit.Inch, "0.5000 in")]
    [InlineData(0.01, LengthUnit.Inch, "0.0004 in")]
    [InlineData(-0.001, LengthUnit.Millimetre, "0.00 mm")]
    [InlineData(-25.4, LengthUnit.Inch, "-1.0000 in")]
    public void A_length_has_the_digits_of_a_calipers_display(double mm, LengthUnit unit, string shown) => Assert.Equal(shown, LengthsShown.WithUnit(mm, unit));

    [Theory]
    [InlineData(3.14, 1, LengthUnit.Millimetre, "3.1")]
    [InlineData(3.14, 1, LengthUnit.Inch, "0.124")]
    [InlineData(0.127, 3, LengthUnit.Inch, "0.00500")]
    public void An_inch_is_told_with_two_digits_more(double mm, int decimals, LengthUnit unit, string shown) => Assert.Equal(shown, LengthsShown.Rounded(mm, decimals, unit));

    [Theory]
    [InlineData(17.0312, 0.033, LengthUnit.Millimetre, "17.031", "±0.033")]
    [InlineData(17.0312, 0.033, LengthUnit.Inch, "0.6705", "±0.0013")]
    public void A_length_with_its_plus_minus_has_the_digits_that_mean_something(double mm, double half, LengthUnit unit, string length, string plusMinus) =>
        Assert.Equal((length, plusMinus), (LengthsShown.Meaning(mm, half, unit), LengthsShown.PlusMinus(half, unit)));
}
