namespace Sparewright.Measure;

/// <summary>
/// An instrument that stands askew by an angle θ shows a length as length/cos θ: outside, inside and depth alike (plain geometry). Of θ nobody knows more than that it lies within ± t,
/// so that 1/cos θ has the mean asinh(tan t)/t and the mean square tan t/t (integrals over a uniform θ).
/// </summary>
public static class Tilt
{
    /// <summary>By which factor a length reads longer on average, and the standard deviation of that factor over it.</summary>
    /// <param name="degrees">The largest angle, more than 0 and less than 90°.</param>
    public static (double Longer, double RelativeSpread) Of(double degrees)
    {
        double t = degrees * Math.PI / 180, mean = Math.Asinh(Math.Tan(t)) / t, square = Math.Tan(t) / t;
        return (mean, Math.Sqrt(Math.Max(0, square - mean * mean)) / mean);
    }

    /// <summary>What a length reads under one angle, mm.</summary>
    public static double ReadsMm(double lengthMm, double degrees) => lengthMm / Math.Cos(degrees * Math.PI / 180);
}
