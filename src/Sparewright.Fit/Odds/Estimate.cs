using Sparewright.Measure.Uncertainty;

namespace Sparewright.Fit.Odds;

/// <summary>Odds as computed, between 0 and 1.</summary>
/// <param name="Error95">Half width of the 95 % interval of the computation's own error; 0 for a closed form.</param>
public readonly record struct Estimate(double Value, double Error95)
{
    /// <summary>The mean of independent estimates of one thing, its error from how they differ (Student's t).</summary>
    internal static Estimate Of(IReadOnlyList<double> copies)
    {
        double mean = copies.Average(), squares = copies.Sum(c => (c - mean) * (c - mean));
        return new(mean, StudentT.TwoSided(0.95, copies.Count - 1) * Math.Sqrt(squares / (copies.Count - 1) / copies.Count));
    }
}
