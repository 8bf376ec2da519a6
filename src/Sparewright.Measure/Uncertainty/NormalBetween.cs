namespace Sparewright.Measure.Uncertainty;

/// <summary>
/// A standard normal variable of which only bounds are known: the probability that it lies between them, and its mean and variance given that it does
/// (the doubly truncated normal distribution; N. L. Johnson, S. Kotz, N. Balakrishnan, Continuous Univariate Distributions 1, 13.10.1; from memory).
/// </summary>
/// <param name="Probability">P(low ≤ Z ≤ high).</param>
public readonly record struct NormalBetween(double Probability, double Mean, double Variance)
{
    /// <summary>Beyond this the density underflows before the tail does, and the tail is taken to fall off as an exponential.</summary>
    private const double FarOut = 35;

    /// <summary>P(low ≤ Z ≤ high), from the tails on the side where both are small.</summary>
    /// <param name="low">May be −∞.</param>
    /// <param name="high">May be +∞.</param>
    public static double ProbabilityOf(double low, double high) => low > 0 ? Normal.UpperTail(low) - Normal.UpperTail(high) : Normal.UpperTail(-high) - Normal.UpperTail(-low);

    /// <param name="low">May be −∞.</param>
    /// <param name="high">May be +∞; above <paramref name="low"/>.</param>
    public static NormalBetween Of(double low, double high)
    {
        if (!(low < high)) throw new ArgumentException("the lower bound is not below the upper one", nameof(low));
        // In the lower half the same from above: tails are only exact there.
        if (low + high < 0 || (double.IsNegativeInfinity(low) && high < double.PositiveInfinity))
        {
            NormalBetween mirrored = FromAbove(-high, -low);
            return mirrored with { Mean = -mirrored.Mean };
        }

        return FromAbove(low, high);
    }

    private static NormalBetween FromAbove(double low, double high)
    {
        double probability = ProbabilityOf(low, high);
        if (low > FarOut) return Exponential(probability, low, high - low);
        double atLow = double.IsNegativeInfinity(low) ? 0 : Normal.Density(low, 1) / probability, atHigh = double.IsPositiveInfinity(high) ? 0 : Normal.Density(high, 1) / probability;
        double mean = atLow - atHigh;
        double variance = 1 + (atLow == 0 ? 0 : low * atLow) - (atHigh == 0 ? 0 : high * atHigh) - mean * mean;
        return new(probability, mean, Math.Clamp(variance, 0, 1));
    }

    /// <summary>What lies above a far bound falls off as e to −low·t, cut off at the width.</summary>
    private static NormalBetween Exponential(double probability, double low, double width)
    {
        double x = low * width;
        if (x < 1e-3) return new(probability, low + width * (0.5 - x / 12), width * width / 12);
        double left = double.IsPositiveInfinity(x) ? 0 : x / (Math.Exp(x) - 1), tail = left == 0 ? 0 : left * left * Math.Exp(x);
        return new(probability, low + (1 - left) / low, (1 - tail) / (low * low));
    }
}
