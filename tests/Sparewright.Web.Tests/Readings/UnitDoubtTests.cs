using Sparewright.Measure.Quantities;
using Sparewright.Web.Readings;
using Xunit;

namespace Sparewright.Web.Tests.Readings;

public class UnitDoubtTests
{
    private static Entered Typed(string text) => EntryText.TryRead(text, LengthUnit.Millimetre, out Entered? e, out _) ? e : throw new ArgumentException(text);

    [Theory]
    [InlineData("0.48", 12.19, "0.48 in")]      // the display was left on inches
    [InlineData("12.4 in", 12.4, "12.4")]       // millimetres read as inches
    [InlineData("0.67", 15, "0.67 in")]         // a starting value, far from the truth
    public void A_ratio_of_25_asks_which_unit(string typed, double known, string other)
    {
        Assert.Equal(other, UnitDoubt.Of(Typed(typed), [known], null)?.Other?.Written);
        Assert.Equal(other, UnitDoubt.Of(Typed(typed), [], known)?.Other?.Written);
    }

    [Theory]
    [InlineData("12.40", 12.19)]
    [InlineData("30.41", 34.0)]     // wrong, but not by the unit
    [InlineData("1.24", 12.4)]      // the point
    [InlineData("41.2", 14.2)]
    [InlineData("0.10", 12.4)]
    public void Other_errors_are_not_asked_about(string typed, double known) => Assert.Null(UnitDoubt.Of(Typed(typed), [known], known));

    [Fact]
    public void Repeats_count_before_the_adjusted_value() => Assert.Null(UnitDoubt.Of(Typed("0.48"), [0.47, 0.49], 12.4));

    [Fact]
    public void A_fraction_has_no_other_unit() => Assert.Null(UnitDoubt.Of(Typed("31/64"), [0.48], null)!.Other);

    [Fact]
    public void Nothing_known_is_nothing_to_ask() => Assert.Null(UnitDoubt.Of(Typed("0.48"), [], null));
}
