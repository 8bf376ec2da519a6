using Sparewright.Measure.Uncertainty;

namespace Sparewright.Fit;

/// <summary>A length known to be normally distributed about a mean; both in mm.</summary>
/// <param name="StandardDeviationMm">0 for an exact length.</param>
public readonly record struct NormalLength(double MeanMm, double StandardDeviationMm)
{
    public double VarianceMm2 => StandardDeviationMm * StandardDeviationMm;

    /// <summary>Lower end of the 95 % interval.</summary>
    public double Low95Mm => MeanMm - Normal.TwoSidedCritical(0.05) * StandardDeviationMm;

    /// <summary>Upper end of the 95 % interval.</summary>
    public double High95Mm => MeanMm + Normal.TwoSidedCritical(0.05) * StandardDeviationMm;

    /// <summary>P(low ≤ length ≤ high); either may be infinite.</summary>
    public double Between(double lowMm, double highMm)
    {
        if (!(lowMm < highMm)) return 0;
        if (StandardDeviationMm == 0) return MeanMm >= lowMm && MeanMm <= highMm ? 1 : 0;
        double low = (lowMm - MeanMm) / StandardDeviationMm, high = (highMm - MeanMm) / StandardDeviationMm;
        // By the tails of the side on which the window lies, so that nothing cancels.
        return low > 0 ? Tail(low) - Tail(high) : Tail(-high) - Tail(-low);

        static double Tail(double z) => double.IsInfinity(z) ? (z > 0 ? 0 : 1) : Normal.UpperTail(z);
    }

    /// <summary>Two lengths that have nothing to do with each other, one less the other.</summary>
    public static NormalLength operator -(NormalLength a, NormalLength b) => new(a.MeanMm - b.MeanMm, Math.Sqrt(a.VarianceMm2 + b.VarianceMm2));
}

/// <summary>Lengths that vary together: means in mm, covariance in mm², row after row.</summary>
/// <param name="Names">What each is the length of: the names of sizes.</param>
public sealed record NormalLengths(IReadOnlyList<string> Names, IReadOnlyList<double> MeansMm, double[,] CovarianceMm2)
{
    /// <summary>Lengths that are exact.</summary>
    public static NormalLengths Exactly(IReadOnlyList<string> names, IReadOnlyList<double> meansMm) => new(names, meansMm, new double[names.Count, names.Count]);

    /// <summary>One of them by itself.</summary>
    public NormalLength this[int index] => new(MeansMm[index], Math.Sqrt(CovarianceMm2[index, index]));
}
