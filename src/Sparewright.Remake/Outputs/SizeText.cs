using System.Globalization;
using Sparewright.Measure.Quantities;
using Sparewright.Measure.Uncertainty;
using Sparewright.Reconcile.Findings;
using Quantity = Sparewright.Part.Sizes.Quantity;

namespace Sparewright.Remake.Outputs;

/// <summary>Sizes as people read them, in mm or in inches. The ± is half of the interval that holds the truth in 95 of 100 cases.</summary>
internal static class SizeText
{
    public static string Value(ReconciledSize size, LengthUnit unit)
    {
        string value = Number(size.Estimate, size.Quantity, Half95(size), unit);
        return size.Quantity switch
        {
            Quantity.Angle => value + "°",
            Quantity.Length => $"{value} {unit.Symbol()}",
            _ => value,
        };
    }

    /// <summary>As "±0.02", in mm or degrees.</summary>
    public static string PlusMinus(ReconciledSize size, LengthUnit unit = default) => size.Status switch
    {
        SizeStatus.Undecided => "not known",
        SizeStatus.Fixed => "exact",
        _ => "±" + Number(Half95(size), size.Quantity, Half95(size), unit),
    };

    /// <summary>As "±0.033 → ±0.026": two digits of each, so that they differ where it is worth a reading.</summary>
    public static string Narrowed(ReconciledSize size, double standardUncertaintyAfter, LengthUnit unit)
    {
        double of = size.Quantity == Quantity.Length ? unit.InMm() : 1;
        return Shown.Narrowed(Half95(size) / of, Half95(size with { StandardUncertainty = standardUncertaintyAfter }) / of);
    }

    /// <summary>A small length with its ±, two digits of it: "-0.012 ± 0.031 mm".</summary>
    public static string Fine(double mm, double standardUncertaintyMm, LengthUnit unit) =>
        Shown.WithPlusMinus(mm / unit.InMm(), Normal.Quantile(0.975) * standardUncertaintyMm / unit.InMm(), unit.Symbol());

    private static double Half95(ReconciledSize size) => (size.High95 - size.Low95) / 2;

    private static string Number(double value, Quantity quantity, double half95, LengthUnit unit)
    {
        double of = quantity == Quantity.Length ? unit.InMm() : 1, shown = value / of, half = half95 / of;
        // As many decimals as the ± needs for one digit, but no fewer than a caliper shows.
        int usual = quantity == Quantity.Length && unit == LengthUnit.Inch ? 3 : 2;
        int decimals = half > 0 && double.IsFinite(half) ? Math.Clamp(Shown.DecimalsFor(half, 1), usual, usual + 2) : usual;
        return shown.ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
    }
}
