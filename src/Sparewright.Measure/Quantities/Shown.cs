using System.Globalization;

namespace Sparewright.Measure.Quantities;

/// <summary>Writes quantities for people: digits that mean something, a ± of two digits at most, inches as a workshop says them.</summary>
public static class Shown
{
    /// <summary>A length in mm with a fixed number of decimals, rounded half away from zero.</summary>
    public static string Mm(double valueMm, int decimals = 2) => $"{Rounded(valueMm, decimals)} mm";

    /// <summary>A value in a unit with a fixed number of decimals: <c>45.50°</c>, <c>15.40 g</c>.</summary>
    public static string InUnit(double value, Unit unit, int decimals = 2) => unit.Kind == QuantityKind.Angle ? $"{Rounded(value, decimals)}°" : $"{Rounded(value, decimals)} {unit.Symbol}";

    /// <summary>A length in decimal inches, three decimals unless told otherwise.</summary>
    public static string Inches(double valueMm, int decimals = 3) => $"{Rounded(valueMm / Unit.Inch.Size, decimals)} in";

    /// <summary>
    /// The nearest inch fraction, reduced, as <c>1 15/32 in</c>.
    /// </summary>
    /// <param name="valueMm">The length in mm.</param>
    /// <param name="finest">Parts of an inch that are told apart; a power of two.</param>
    public static string InchFraction(double valueMm, int finest = 64)
    {
        long parts = (long)Math.Round(Math.Abs(valueMm) / Unit.Inch.Size * finest, MidpointRounding.AwayFromZero);
        if (parts == 0) return "0 in";
        var (whole, top) = Math.DivRem(parts, finest);
        long bottom = finest;
        while (top != 0 && top % 2 == 0 && bottom > 1) (top, bottom) = (top / 2, bottom / 2);
        string sign = valueMm < 0 ? "-" : "";
        return (whole, top) switch
        {
            (_, 0) => $"{sign}{whole} in",
            (0, _) => $"{sign}{top}/{bottom} in",
            _ => $"{sign}{whole} {top}/{bottom} in",
        };
    }

    /// <summary>
    /// <c>value ± uncertainty</c>, the uncertainty with at most two significant digits and the value rounded to the same place (GUM, JCGM 100:2008, 7.2.6).
    /// </summary>
    /// <param name="value">In the unit shown.</param>
    /// <param name="uncertainty">In the same unit; 0 for an exact value, infinite for one that nothing decides.</param>
    /// <param name="unit">Written behind; may be empty.</param>
    /// <param name="digits">Significant digits of the uncertainty, 1 or 2.</param>
    public static string WithPlusMinus(double value, double uncertainty, string unit = "mm", int digits = 2)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(uncertainty);
        string behind = unit.Length == 0 ? "" : " " + unit;
        if (double.IsPositiveInfinity(uncertainty)) return $"{Number(value)}{behind} (undecided)";
        if (uncertainty == 0) return $"{Number(value)}{behind} (exact)";
        int decimals = DecimalsFor(uncertainty, digits);
        return $"{Rounded(value, decimals)} ± {Rounded(uncertainty, decimals)}{behind}";
    }

    /// <summary>A ± before and after something narrows it, as <c>±0.033 → ±0.026</c>: two digits of each, so that they differ where it is worth the trouble.</summary>
    /// <param name="from">In the unit shown, as is <paramref name="to"/>.</param>
    public static string Narrowed(double from, double to)
    {
        static string Half(double half) => "±" + TwoDigits(half);
        return $"{Half(from)} → {Half(to)}";
    }

    /// <summary>An uncertainty by itself with two significant digits: <c>0.033</c>.</summary>
    public static string TwoDigits(double uncertainty) => uncertainty == 0 ? "0" : Rounded(uncertainty, Math.Max(0, DecimalsFor(uncertainty)));

    /// <summary>The shortest digits that mean this number, without an exponent where it can be avoided.</summary>
    public static string Number(double value) => Math.Abs(value) is < 1e15 and >= 1e-6 or 0
        ? ((decimal)value).ToString("0.###############", CultureInfo.InvariantCulture)
        : value.ToString("R", CultureInfo.InvariantCulture);

    /// <summary>Decimals that leave an uncertainty with the wanted significant digits after rounding; negative for tens and hundreds.</summary>
    public static int DecimalsFor(double uncertainty, int digits = 2)
    {
        int place = (int)Math.Floor(Math.Log10(uncertainty));
        int decimals = digits - 1 - place;
        // 0.0996 becomes 0.10 and not 0.100: rounding may carry into a new first digit.
        double rounded = Math.Round(uncertainty * Math.Pow(10, decimals), MidpointRounding.AwayFromZero);
        return rounded >= Math.Pow(10, digits) ? decimals - 1 : decimals;
    }

    private static string Rounded(double value, int decimals)
    {
        if (!double.IsFinite(value) || Math.Abs(value) >= 1e15 || decimals > 15)
            return value.ToString(decimals >= 0 ? $"F{Math.Min(decimals, 60)}" : "R", CultureInfo.InvariantCulture);
        // Decimal arithmetic, so that 0.285 rounds as people expect of its digits.
        decimal exact = (decimal)value;
        if (decimals >= 0)
        {
            decimal rounded = Math.Round(exact, decimals, MidpointRounding.AwayFromZero);
            return (rounded == 0 ? 0m : rounded).ToString($"F{decimals}", CultureInfo.InvariantCulture);
        }

        decimal unit = (decimal)Math.Pow(10, -decimals);
        return (Math.Round(exact / unit, MidpointRounding.AwayFromZero) * unit).ToString("F0", CultureInfo.InvariantCulture);
    }
}
