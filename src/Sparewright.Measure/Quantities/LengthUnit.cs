using System.Globalization;

namespace Sparewright.Measure.Quantities;

/// <summary>How one person wants lengths shown. What is kept is never converted; only what is shown is.</summary>
public enum LengthUnit { Millimetre, Inch }

/// <summary>Lengths as one person reads them, all in that person's unit. Rounding happens here and nowhere before.</summary>
public static class LengthsShown
{
    /// <summary>The step of a common caliper's display has so many decimals: 0.01 mm, 0.0005 in.</summary>
    private const int DisplayMm = 2, DisplayInch = 4;

    public static string Symbol(this LengthUnit unit) => unit == LengthUnit.Inch ? "in" : "mm";

    /// <summary>How many mm one of this unit is; an inch is 25.4 mm exactly.</summary>
    public static double InMm(this LengthUnit unit) => unit == LengthUnit.Inch ? Unit.Inch.Size : 1;

    /// <summary>A length with the decimals of a caliper's display, without its unit.</summary>
    public static string Display(double mm, LengthUnit unit) => Number(mm, unit, unit == LengthUnit.Inch ? DisplayInch : DisplayMm);

    /// <summary>A length with the decimals of a caliper's display and its unit.</summary>
    public static string WithUnit(double mm, LengthUnit unit) => $"{Display(mm, unit)} {unit.Symbol()}";

    /// <summary>A length with so many decimals of a mm, two more of an inch, without its unit.</summary>
    public static string Rounded(double mm, int decimalsMm, LengthUnit unit) => Number(mm, unit, unit == LengthUnit.Inch ? decimalsMm + DisplayInch - DisplayMm : decimalsMm);

    /// <summary>A length with as many decimals as its ± leaves meaning to: two digits of the ±, no more than a thousandth of a mm.</summary>
    public static string Meaning(double mm, double? plusMinusMm, LengthUnit unit) => Number(mm, unit, Decimals(plusMinusMm, unit));

    /// <summary>The same with its sign, as a difference is shown; a real minus, so that it can be told from a dash.</summary>
    public static string Difference(double mm, double? plusMinusMm, LengthUnit unit)
    {
        string number = Number(Math.Abs(mm), unit, Decimals(plusMinusMm, unit));
        bool nothing = number.All(c => c is '0' or '.');
        return nothing ? number : (mm < 0 ? "−" : "+") + number;
    }

    /// <summary>A ± by itself: "±0.035".</summary>
    public static string PlusMinus(double plusMinusMm, LengthUnit unit) => "±" + Number(plusMinusMm, unit, Decimals(plusMinusMm, unit));

    private static int Decimals(double? plusMinusMm, LengthUnit unit)
    {
        int usual = unit == LengthUnit.Inch ? DisplayInch : DisplayMm;
        return plusMinusMm is { } half && half > 0 && double.IsFinite(half) ? Math.Clamp(Shown.DecimalsFor(half / unit.InMm()), 1, usual + 1) : usual;
    }

    private static string Number(double mm, LengthUnit unit, int decimals)
    {
        double value = mm / unit.InMm();
        // Decimal arithmetic, so that 12.345 rounds as people expect of its digits.
        return Math.Abs(value) < 1e9
            ? (Math.Round((decimal)value, decimals, MidpointRounding.AwayFromZero) + 0m).ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture)
            : value.ToString("R", CultureInfo.InvariantCulture);
    }
}
