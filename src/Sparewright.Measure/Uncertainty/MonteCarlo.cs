using MathNet.Numerics.Random;

namespace Sparewright.Measure.Uncertainty;

/// <summary>Propagation of distributions by drawing (JCGM 101:2008, 7): no assumption about straightness. The same seed gives the same result.</summary>
public static class MonteCarlo
{
    /// <summary>Draws the inputs, independent of each other, and computes the measurand as often as told.</summary>
    /// <param name="measurand">May not keep the span it is given.</param>
    /// <param name="seed">Of xoshiro256** (D. Blackman and S. Vigna, 2018).</param>
    public static MonteCarloResult Run(Func<ReadOnlySpan<double>, double> measurand, IReadOnlyList<InputDistribution> inputs, int trials, int seed)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(trials, 2);
        var random = new Xoshiro256StarStar(seed);
        var drawn = new double[inputs.Count];
        var values = new double[trials];
        for (int t = 0; t < trials; t++)
        {
            for (int i = 0; i < drawn.Length; i++) drawn[i] = inputs[i].Draw(random);
            values[t] = measurand(drawn);
        }

        Array.Sort(values);
        double mean = values.Average(), squares = 0;
        foreach (double value in values) squares += (value - mean) * (value - mean);
        return new(mean, Math.Sqrt(squares / (trials - 1)), values);
    }
}

/// <summary>The drawn distribution of a measurand.</summary>
/// <param name="Sorted">All drawn values, ascending.</param>
public sealed record MonteCarloResult(double Mean, double StandardUncertainty, double[] Sorted)
{
    /// <summary>The interval with equal odds on either side of it (JCGM 101, 7.7.2).</summary>
    public (double Low, double High) SymmetricInterval(double probability)
    {
        int inside = Inside(probability), below = (Sorted.Length - inside) / 2;
        return (Sorted[below], Sorted[below + inside - 1]);
    }

    /// <summary>The shortest interval of that probability (JCGM 101, 7.7.4).</summary>
    public (double Low, double High) ShortestInterval(double probability)
    {
        int inside = Inside(probability), at = 0;
        for (int i = 0; i + inside <= Sorted.Length; i++)
            if (Sorted[i + inside - 1] - Sorted[i] < Sorted[at + inside - 1] - Sorted[at]) at = i;
        return (Sorted[at], Sorted[at + inside - 1]);
    }

    private int Inside(double probability) => Math.Clamp((int)Math.Round(probability * Sorted.Length), 1, Sorted.Length);
}
