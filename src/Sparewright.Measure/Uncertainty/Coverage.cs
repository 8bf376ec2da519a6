namespace Sparewright.Measure.Uncertainty;

/// <summary>From standard uncertainty to an interval (GUM annex G).</summary>
public static class Coverage
{
    /// <summary>
    /// Welch–Satterthwaite: u_c⁴ / Σ u_i⁴/ν_i (GUM G.4.1, equation G.2b). Holds for uncorrelated contributions only; infinite when no line is in doubt.
    /// </summary>
    public static double EffectiveDegreesOfFreedom(params ReadOnlySpan<(double StandardUncertainty, double DegreesOfFreedom)> contributions)
    {
        double squares = 0, fourth = 0;
        foreach (var (u, nu) in contributions)
        {
            squares += u * u;
            if (double.IsFinite(nu)) fourth += u * u * u * u / nu;
        }

        return fourth == 0 ? double.PositiveInfinity : squares * squares / fourth;
    }

    /// <summary>
    /// The factor k for a coverage probability: Student's t, the degrees of freedom cut to the whole number below as GUM G.4.1 tells (note 1), never below 1.
    /// </summary>
    public static double Factor(double probability, double degreesOfFreedom) =>
        StudentT.TwoSided(probability, double.IsFinite(degreesOfFreedom) ? Math.Max(1, Math.Floor(degreesOfFreedom + 1e-9)) : degreesOfFreedom);
}
