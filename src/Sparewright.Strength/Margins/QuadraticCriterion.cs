namespace Sparewright.Strength.Margins;

/// <summary>
/// A criterion in which all stresses act together: F_i σ_i + F_ij σ_i σ_j = 1 where it goes. Transversely isotropic, axis 3 across the layers.
/// Tsai, Wu, "A general theory of strength for anisotropic materials", J. Composite Materials 5 (1971); Hoffman, "The brittle strength of orthotropic materials", ibid. 1 (1967); both from memory.
/// </summary>
public sealed record QuadraticCriterion(double F1, double F3, double F11, double F33, double F44, double F66, double F12, double F13)
{
    /// <summary>Tsai–Wu with the customary choice of what no simple test gives: F12 = −F11/2, F13 = −√(F11 F33)/2.</summary>
    public static QuadraticCriterion TsaiWu(LayeredStrength s)
    {
        QuadraticCriterion simple = Simple(s);
        return simple with { F12 = -simple.F11 / 2, F13 = -Math.Sqrt(simple.F11 * simple.F33) / 2 };
    }

    /// <summary>Hoffman, for which equal stress on all sides adds nothing but its linear part: F13 = −F33/2, F12 = F33/2 − F11.</summary>
    public static QuadraticCriterion Hoffman(LayeredStrength s)
    {
        QuadraticCriterion simple = Simple(s);
        return simple with { F12 = simple.F33 / 2 - simple.F11, F13 = -simple.F33 / 2 };
    }

    private static QuadraticCriterion Simple(LayeredStrength s) => new(
        1 / s.TensionInLayer - 1 / s.CompressionInLayer, 1 / s.TensionAcross - 1 / s.CompressionAcross,
        1 / (s.TensionInLayer * s.CompressionInLayer), 1 / (s.TensionAcross * s.CompressionAcross),
        1 / (s.ShearAcross * s.ShearAcross), 1 / (s.ShearInLayer * s.ShearInLayer), 0, 0);

    /// <summary>1 where it goes; it does not grow in proportion to the load.</summary>
    public double Index(Stress stress) => Linear(stress) + Quadratic(stress);

    /// <summary>How many times the load could grow until it goes: the positive R of quadratic·R² + linear·R = 1; infinite where there is none.</summary>
    public double Reserve(Stress stress)
    {
        double linear = Linear(stress), under = linear * linear + 4 * Quadratic(stress);
        if (under < 0) return double.PositiveInfinity;
        double denominator = linear + Math.Sqrt(under);
        return denominator > 0 ? 2 / denominator : double.PositiveInfinity;
    }

    private double Linear(Stress s) => F1 * (s.XX + s.YY) + F3 * s.ZZ;

    private double Quadratic(Stress s) => F11 * (s.XX * s.XX + s.YY * s.YY) + F33 * s.ZZ * s.ZZ + F44 * (s.YZ * s.YZ + s.XZ * s.XZ) + F66 * s.XY * s.XY
        + 2 * F12 * s.XX * s.YY + 2 * F13 * (s.XX + s.YY) * s.ZZ;
}
