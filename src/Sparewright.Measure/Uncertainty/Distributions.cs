using MathNet.Numerics;

namespace Sparewright.Measure.Uncertainty;

/// <summary>The standard normal distribution.</summary>
public static class Normal
{
    /// <summary>z with P(Z ≤ z) = probability.</summary>
    public static double Quantile(double probability) => -Math.Sqrt(2) * SpecialFunctions.ErfcInv(2 * probability);

    /// <summary>z with P(|Z| ≤ z) = 1 − level: the critical value of a two-sided test.</summary>
    public static double TwoSidedCritical(double level) => Math.Sqrt(2) * SpecialFunctions.ErfcInv(level);

    /// <summary>Density at a distance from the middle of a normal distribution of standard deviation <paramref name="u"/>, one over its unit.</summary>
    public static double Density(double off, double u) => Math.Exp(-0.5 * off * off / (u * u)) / (u * Math.Sqrt(2 * Math.PI));

    /// <summary>P(Z ≥ z).</summary>
    public static double UpperTail(double z) => 0.5 * SpecialFunctions.Erfc(z / Math.Sqrt(2));

    /// <summary>P(|Z| ≥ z).</summary>
    public static double TwoSidedTail(double z) => SpecialFunctions.Erfc(Math.Abs(z) / Math.Sqrt(2));
}

/// <summary>Student's t.</summary>
public static class StudentT
{
    /// <summary>t with P(|T| ≤ t) = probability at ν degrees of freedom; ν need not be whole and may be infinite.</summary>
    public static double TwoSided(double probability, double degreesOfFreedom)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(degreesOfFreedom);
        if (probability is not (>= 0 and < 1)) throw new ArgumentOutOfRangeException(nameof(probability));
        if (degreesOfFreedom > 1e8) return Normal.TwoSidedCritical(1 - probability);

        // The tail falls steadily with t: bracket it, then halve.
        double low = 0, high = 1;
        while (TwoSidedTail(high, degreesOfFreedom) > 1 - probability) (low, high) = (high, 2 * high);
        for (int i = 0; i < 200 && high - low > 1e-14 * high; i++)
        {
            double middle = 0.5 * (low + high);
            if (TwoSidedTail(middle, degreesOfFreedom) > 1 - probability) low = middle;
            else high = middle;
        }

        return 0.5 * (low + high);
    }

    /// <summary>P(|T| ≥ t).</summary>
    public static double TwoSidedTail(double t, double degreesOfFreedom) => t == 0
        ? 1
        : SpecialFunctions.BetaRegularized(degreesOfFreedom / 2, 0.5, degreesOfFreedom / (degreesOfFreedom + t * t));
}

/// <summary>The F distribution.</summary>
public static class FisherF
{
    /// <summary>P(F ≥ x) for a ratio of variances of f₁ over f₂ degrees of freedom.</summary>
    public static double UpperTail(double x, double over, double under) =>
        x <= 0 ? 1 : SpecialFunctions.BetaRegularized(under / 2, over / 2, under / (under + over * x));
}

/// <summary>The χ² distribution.</summary>
public static class ChiSquare
{
    /// <summary>P(χ² ≥ x) at f degrees of freedom.</summary>
    public static double UpperTail(double x, int degreesOfFreedom) =>
        x <= 0 ? 1 : SpecialFunctions.GammaUpperRegularized(0.5 * degreesOfFreedom, 0.5 * x);

    /// <summary>x with P(χ² ≤ x) = probability.</summary>
    public static double Quantile(double probability, int degreesOfFreedom)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(degreesOfFreedom);
        double low = 0, high = degreesOfFreedom;
        while (UpperTail(high, degreesOfFreedom) > 1 - probability) (low, high) = (high, 2 * high);
        for (int i = 0; i < 200 && high - low > 1e-14 * high; i++)
        {
            double middle = 0.5 * (low + high);
            if (UpperTail(middle, degreesOfFreedom) > 1 - probability) low = middle;
            else high = middle;
        }

        return 0.5 * (low + high);
    }
}
