namespace Sparewright.Fit.Capability;

/// <summary>
/// How a process compares with a window: C_p says how often six standard deviations go into it, C_pk the same for the nearer end and the actual mean
/// (ISO 22514-2 for the normal distribution; formulas from memory). For few pieces from one machine the same figures are called P_m and P_mk (ISO 22514-3).
/// </summary>
/// <param name="Cp">Window over 6 s; infinite for a window that is open on a side.</param>
/// <param name="Cpk">The nearer end's distance from the mean over 3 s; negative when the mean lies outside.</param>
public readonly record struct CapabilityIndices(double Cp, double Cpk)
{
    /// <param name="lowMm">May be −∞.</param>
    /// <param name="highMm">May be +∞.</param>
    public static CapabilityIndices Of(NormalLength process, double lowMm, double highMm)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(process.StandardDeviationMm, nameof(process));
        double s = process.StandardDeviationMm;
        return new((highMm - lowMm) / (6 * s), Math.Min(highMm - process.MeanMm, process.MeanMm - lowMm) / (3 * s));
    }
}
