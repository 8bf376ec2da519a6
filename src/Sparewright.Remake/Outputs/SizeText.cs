using System.Globalization;
using Sparewright.Measure.Quantities;
using Sparewright.Measure.Uncertainty;
using Sparewright.Reconcile.Findings;
using Quantity = Sparewright.Part.Sizes.Quantity;

namespace Sparewright.Remake.Outputs;

/// <summary>Sizes as people read them, in mm or in inches. The ± is half of the interval that holds the truth in 95 of 100 cases.</summary>
internal static class SizeText
{
    public static string Value(ReconciledSize size, bool inches)
    {
        string value = Number(size.Estimate, size.Quantity, Half95(size), inches);
        return size.Quantity switch
        {
            Quantity.Angle => value + "°",
            Quantity.Length => value + (inches ? " in" : " mm"),
            _ => value,
        };
    }

    /// <summary>As "±0.02", in mm or degrees.</summary>
    public static string PlusMinus(ReconciledSize size, bool inches = false) => size.Status switch
    {
        SizeStatus.Undecided => "not known",
        SizeStatus.Fixed => "exact",
        _ => "±" + Number(Half95(size), size.Quantity, Half95(size), inches),
    };

    /// <summary>As "±0.033 → ±0.026": two digits of each, so that they differ where it is worth a reading.</summary>
    public static string Narrowed(ReconciledSize size, double standardUncertaintyAfter, bool inches)
    {
        double unit = inches && size.Quantity == Quantity.Length ? Unit.Inch.Size : 1;
        return Shown.Narrowed(Half95(size) / unit, Half95(size with { StandardUncertainty = standardUncertaintyAfter }) / unit);
    }

    /// <summary>A length with the digits that a caliper shows and sizes are drawn to: 0.01 mm is 0.0004 in.</summary>
    public static string Length(double mm, bool inches) =>
        inches ? Shown.Inches(mm, 4) : Shown.Mm(mm);

    /// <summary>A small length with its ±, two digits of it: "-0.012 ± 0.031 mm".</summary>
    public static string Fine(double mm, double standardUncertaintyMm, bool inches)
    {
        double unit = inches ? Unit.Inch.Size : 1;
        return Shown.WithPlusMinus(mm / unit, Normal.Quantile(0.975) * standardUncertaintyMm / unit, inches ? "in" : "mm");
    }

    private static double Half95(ReconciledSize size) => (size.High95 - size.Low95) / 2;

    private static string Number(double value, Quantity quantity, double half95, bool inches)
    {
        bool isInch = inches && quantity == Quantity.Length;
        double shown = isInch ? value / Unit.Inch.Size : value, half = isInch ? half95 / Unit.Inch.Size : half95;
        // As many decimals as the ± needs for one digit, but no fewer than a caliper shows.
        int usual = isInch ? 3 : 2;
        int decimals = half > 0 && double.IsFinite(half) ? Math.Clamp(Shown.DecimalsFor(half, 1), usual, usual + 2) : usual;
        return shown.ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
    }
}
