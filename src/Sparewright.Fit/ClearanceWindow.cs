namespace Sparewright.Fit;

/// <summary>The clearances between the finished parts at which a fit does what it is for, in mm; negative clearance is interference.</summary>
/// <param name="LowMm">Less is too tight; −∞ where nothing is.</param>
/// <param name="HighMm">More is too loose; +∞ where nothing is.</param>
/// <param name="Why">Where the two come from, in words.</param>
public sealed record ClearanceWindow(double LowMm, double HighMm, string Why)
{
    /// <summary>The middle, in mm; of a window open on one side its closed end.</summary>
    public double MiddleMm => double.IsFinite(LowMm) && double.IsFinite(HighMm) ? 0.5 * (LowMm + HighMm) : double.IsFinite(LowMm) ? LowMm : HighMm;

    public bool Holds(double clearanceMm) => clearanceMm >= LowMm && clearanceMm <= HighMm;
}
