using Sparewright.Measure.Uncertainty;

namespace Sparewright.Reconcile.Adjust;

/// <summary>
/// How large an error must be to be noticed (W. Baarda, A Testing Procedure for Use in Geodetic Networks, Netherlands Geodetic Commission 2(5), 1968; from memory).
/// </summary>
public static class Reliability
{
    /// <summary>
    /// Below this redundancy a reading counts as not checked by the others: an error in it goes into the sizes unseen.
    /// The same 0.0005 as the open adjustment program LGC2 of CERN (geodetic-metrology-tools/LGC2) uses.
    /// </summary>
    public const double LeastRedundancy = 0.0005;

    /// <summary>|w| above which one reading is suspect at a level, two-sided.</summary>
    public static double CriticalW(double level) => Normal.TwoSidedCritical(level);

    /// <summary>|w| above which any of several readings is suspect, so that all of them together raise a false alarm at most at this level (Bonferroni's level/n).</summary>
    public static double CriticalW(double level, int readings) => Normal.TwoSidedCritical(level / Math.Max(1, readings));

    /// <summary>δ₀: the shift of w that a test of this level notices with this power.</summary>
    public static double Shift(double level, double power) => CriticalW(level) + Normal.Quantile(power);
}
