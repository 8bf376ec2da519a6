using CsCheck;
using Sparewright.Measure.Quantities;
using Xunit;

namespace Sparewright.Measure.Tests;

public sealed class ShownTests
{
    [Theory]
    [InlineData(12.3456, 0.0123, "12.346 ± 0.012 mm")]
    [InlineData(12.3456, 0.0996, "12.35 ± 0.10 mm")]
    [InlineData(12.3456, 0.995, "12.3 ± 1.0 mm")]
    [InlineData(12.3456, 1.23, "12.3 ± 1.2 mm")]
    [InlineData(12.3456, 12.3, "12 ± 12 mm")]
    [InlineData(4567.8, 123, "4570 ± 120 mm")]
    [InlineData(-0.001, 0.12, "0.00 ± 0.12 mm")]
    [InlineData(12, 0, "12 mm (exact)")]
    [InlineData(12.5, double.PositiveInfinity, "12.5 mm (undecided)")]
    public void A_value_is_rounded_to_the_place_of_its_uncertainty(double value, double uncertainty, string text) =>
        Assert.Equal(text, Shown.WithPlusMinus(value, uncertainty));

    [Fact]
    public void One_digit_may_be_asked_for() => Assert.Equal("12.35 ± 0.01 mm", Shown.WithPlusMinus(12.3456, 0.0123, digits: 1));

    [Theory]
    [InlineData(11.90625, "15/32 in")]
    [InlineData(37.30625, "1 15/32 in")]
    [InlineData(25.4, "1 in")]
    [InlineData(0.1, "0 in")]
    [InlineData(0.2, "1/64 in")]
    [InlineData(-12.7, "-1/2 in")]
    [InlineData(25.3, "1 in")]
    public void Inches_are_shown_in_reduced_fractions(double mm, string text) => Assert.Equal(text, Shown.InchFraction(mm));

    [Theory]
    [InlineData(0.285, "0.29 mm")]
    [InlineData(2.675, "2.68 mm")]
    [InlineData(-0.001, "0.00 mm")]
    public void Millimetres_round_as_their_digits_say(double mm, string text) => Assert.Equal(text, Shown.Mm(mm));

    [Fact]
    public void Inch_decimals_are_shown() => Assert.Equal("0.472 in", Shown.Inches(11.9888));

    [Fact]
    public void What_is_shown_in_fractions_reads_back_within_half_a_part() => Gen.Double[-500, 500].Sample(mm =>
    {
        Assert.True(QuantityText.TryRead(Shown.InchFraction(mm), QuantityKind.Length, out var back, out var refusal), refusal?.ToString());
        Assert.InRange(back.Value - mm, -25.4 / 128 - 1e-9, 25.4 / 128 + 1e-9);
    });

    [Fact]
    public void An_uncertainty_never_has_more_than_two_significant_digits() => Gen.Double[-6, 4].Sample(power =>
    {
        double u = Math.Pow(10, power);
        string shown = Shown.WithPlusMinus(123.456, u).Split('±')[1].Replace("mm", "", StringComparison.Ordinal).Trim();
        string significant = shown.Replace(".", "", StringComparison.Ordinal).TrimStart('0');
        if (!shown.Contains('.', StringComparison.Ordinal)) significant = significant.TrimEnd('0');
        Assert.InRange(significant.Length, 1, 2);
        Assert.InRange(double.Parse(shown, System.Globalization.CultureInfo.InvariantCulture) / u, 0.949, 1.051);
    });
}
