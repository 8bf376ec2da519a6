using Sparewright.Measure.Quantities;
using Xunit;

namespace Sparewright.Measure.Tests;

public sealed class QuantityTextTests
{
    [Theory]
    [InlineData("12", 12)]
    [InlineData("12.0 mm", 12)]
    [InlineData("12.0mm", 12)]
    [InlineData(" 0.5 ", 0.5)]
    [InlineData("-3.25", -3.25)]
    [InlineData("0", 0)]
    [InlineData("-0", 0)]
    [InlineData("0.0", 0)]
    [InlineData("1e-3", 0.001)]
    [InlineData("2.5E+2 mm", 250)]
    [InlineData("0.472 in", 0.472 * 25.4)]
    [InlineData("0.472\"", 0.472 * 25.4)]
    [InlineData("15/32 in", 11.90625)]
    [InlineData("15/32\"", 11.90625)]
    [InlineData("1 15/32 in", 37.30625)]
    [InlineData("1 15/32 \"", 37.30625)]
    [InlineData("-1 1/2 in", -38.1)]
    [InlineData("2/64 in", 0.79375)]
    [InlineData("1 in", 25.4)]
    public void A_length_is_read_in_millimetres(string text, double mm)
    {
        Assert.True(QuantityText.TryRead(text, QuantityKind.Length, out var quantity, out var refusal), refusal?.ToString());
        Assert.Equal(mm, quantity.Value, 1e-12);
        Assert.Equal(QuantityKind.Length, quantity.Kind);
    }

    [Theory]
    [InlineData("30", QuantityKind.Angle, 30)]
    [InlineData("30 deg", QuantityKind.Angle, 30)]
    [InlineData("30°", QuantityKind.Angle, 30)]
    [InlineData("15.4 g", QuantityKind.Mass, 15.4)]
    [InlineData("55 degC", QuantityKind.Temperature, 55)]
    [InlineData("-10 °C", QuantityKind.Temperature, -10)]
    [InlineData("120 N", QuantityKind.Force, 120)]
    [InlineData("1.05 g/cm3", QuantityKind.Density, 1.05)]
    [InlineData("1.05", QuantityKind.Density, 1.05)]
    [InlineData("0.95", QuantityKind.Number, 0.95)]
    public void Other_kinds_are_read_in_their_own_unit(string text, QuantityKind kind, double value)
    {
        Assert.True(QuantityText.TryRead(text, kind, out var quantity, out var refusal), refusal?.ToString());
        Assert.Equal(value, quantity.Value, 1e-12);
    }

    [Theory]
    [InlineData("010", "write 10")]
    [InlineData("-007.5", "write -7.5")]
    [InlineData("00", "write 0")]
    [InlineData("00.5", "write 0.5")]
    [InlineData(".5", "write 0.5")]
    [InlineData("5.", "write 5")]
    [InlineData("5. mm", "write 5")]
    [InlineData("-.5", "write -0.5")]
    [InlineData("+5", "write 5")]
    [InlineData("−5", "write -5")]
    [InlineData("12,5", "write 12.5")]
    [InlineData("12,5 mm", "write 12.5")]
    [InlineData("0,472 in", "write 0.472")]
    [InlineData("1,234.5", "write 1234.5")]
    [InlineData("1,234", "write 1.234 or 1234")]
    [InlineData("1_000", "write 1000")]
    [InlineData("1 000", "write 1000")]
    [InlineData("15/32", "write 15/32 in")]
    [InlineData("1-15/32 in", "write 1 15/32 in")]
    [InlineData("1  15/32 in", "write 1 15/32 in")]
    [InlineData("33/32 in", "write 1 1/32 in")]
    [InlineData("64/32 in", "write 2 in")]
    [InlineData("1/3 in", "write 0.3333 in")]
    [InlineData("1/0 in", "write for example 1 15/32 in")]
    [InlineData("1/2 mm", "write 0.5 mm, or 1/2 in")]
    [InlineData("12 mmm", "write mm")]
    [InlineData("12 MM", "write mm")]
    [InlineData("12 im", "write mm")]
    [InlineData("12 furlongs", "write mm or in")]
    [InlineData("1.2 cm", "write 12 mm")]
    [InlineData("0.5 inch", "write 0.5 in")]
    [InlineData("15/32 inch", "write 15/32 in")]
    [InlineData("12 µm", "write 0.012 mm")]
    public void A_refusal_of_a_length_says_what_to_write(string text, string remedy)
    {
        Assert.False(QuantityText.TryRead(text, QuantityKind.Length, out _, out var refusal));
        Assert.Equal(remedy, refusal.Remedy);
        Assert.NotEqual("", refusal.Reason);
    }

    [Theory]
    [InlineData("")]
    [InlineData("   ")]
    [InlineData(".nan")]
    [InlineData("nan")]
    [InlineData(".inf")]
    [InlineData("-.inf")]
    [InlineData("1e999")]
    [InlineData("-1e999")]
    [InlineData("1e-999")]
    [InlineData("1e")]
    [InlineData("1.2.3")]
    [InlineData("0x1F")]
    [InlineData("about 12")]
    [InlineData("12 12 mm")]
    [InlineData("--5")]
    [InlineData("5-")]
    [InlineData("mm")]
    [InlineData("12 g")]
    [InlineData("1/2/3 in")]
    [InlineData("1 2 3/4 in")]
    [InlineData("٣")]
    [InlineData("１２")]
    [InlineData("12°30'")]
    [InlineData("999999999999999999999999999999999999999999999999999999999999999999999")]
    public void Whatever_is_not_a_length_is_refused(string text)
    {
        Assert.False(QuantityText.TryRead(text, QuantityKind.Length, out _, out var refusal));
        Assert.NotEqual("", refusal.Reason);
        Assert.NotEqual("", refusal.Remedy);
    }

    [Theory]
    [InlineData("130 degF", QuantityKind.Temperature, "write 54.4444444444 degC")]
    [InlineData("1.2 kg", QuantityKind.Mass, "write 1200 g")]
    [InlineData("12 mm", QuantityKind.Mass, "write a mass like 15.4 g")]
    [InlineData("1/2", QuantityKind.Angle, "write an angle like 30 or 30 deg")]
    [InlineData("3 mm", QuantityKind.Number, "write a number like 2 or 0.5")]
    [InlineData("3 pieces", QuantityKind.Number, "write a number like 2 or 0.5, without a unit")]
    public void Other_kinds_are_refused_with_their_own_remedy(string text, QuantityKind kind, string remedy)
    {
        Assert.False(QuantityText.TryRead(text, kind, out _, out var refusal));
        Assert.Equal(remedy, refusal.Remedy);
    }

    [Theory]
    [InlineData("1.05 ± 0.02", QuantityKind.Density, 1.05, 0.02)]
    [InlineData("1.05 +- 0.02 g/cm3", QuantityKind.Density, 1.05, 0.02)]
    [InlineData("12 +/- 0.1 mm", QuantityKind.Length, 12, 0.1)]
    [InlineData("1/2 ± 1/64 in", QuantityKind.Length, 12.7, 0.396875)]
    [InlineData("1 in ± 0.1 mm", QuantityKind.Length, 25.4, 0.1)]
    public void A_half_width_stands_behind_the_sign(string text, QuantityKind kind, double value, double half)
    {
        Assert.True(QuantityText.TryReadPlusMinus(text, kind, out var read, out var plusMinus, out var refusal), refusal?.ToString());
        Assert.Equal(value, read.Value, 1e-12);
        Assert.Equal(half, plusMinus!.Value.Value, 1e-12);
    }

    [Fact]
    public void A_half_width_may_be_left_out_but_not_be_negative_or_empty()
    {
        Assert.True(QuantityText.TryReadPlusMinus("12", QuantityKind.Length, out _, out var none, out _));
        Assert.Null(none);
        Assert.False(QuantityText.TryReadPlusMinus("12 ± -1", QuantityKind.Length, out _, out _, out var refusal));
        Assert.Equal("write 1", refusal.Remedy);
        Assert.False(QuantityText.TryReadPlusMinus("12 ±", QuantityKind.Length, out _, out _, out _));
        Assert.False(QuantityText.TryReadPlusMinus("± 1", QuantityKind.Length, out _, out _, out _));
    }

    [Fact]
    public void No_text_whatever_throws() =>
        CsCheck.Check.Sample(
            CsCheck.Gen.String[CsCheck.Gen.OneOf(CsCheck.Gen.Char["0123456789.,-+/ eE°\"inmgdCN±_"], CsCheck.Gen.Char), 0, 12],
            text =>
            {
                foreach (var kind in Enum.GetValues<QuantityKind>())
                {
                    bool read = QuantityText.TryReadPlusMinus(text, kind, out var quantity, out _, out var refusal);
                    if (read ? !double.IsFinite(quantity.Value) : refusal!.Reason.Length == 0 || refusal.Remedy.Length == 0)
                        throw new InvalidOperationException($"{kind} from \"{text}\"");
                }
            },
            iter: 20_000);

    [Fact]
    public void A_remedy_that_is_a_quantity_is_itself_taken()
    {
        foreach (string text in new[] { "010", ".5", "12,5", "1-15/32 in", "33/32 in", "1/3 in", "1.2 cm", "15/32", "0.5 inch", "1_000", "−5" })
        {
            Assert.False(QuantityText.TryRead(text, QuantityKind.Length, out _, out var refusal));
            string remedy = refusal.Remedy["write ".Length..];
            Assert.True(QuantityText.TryRead(remedy, QuantityKind.Length, out _, out _), $"{text} → {remedy}");
        }
    }
}
