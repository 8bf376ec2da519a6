namespace Sparewright.Strength.Formulas;

/// <summary>An arm of a rectangular section that is bent aside to snap in. Lengths in mm, strains as shares.</summary>
/// <param name="ThickMm">At its root, in the direction that it bends.</param>
/// <param name="Tapers">Its thickness falls to half at its end.</param>
public sealed record SnapArm(double LengthMm, double WidthMm, double ThickMm, bool Tapers)
{
    /// <summary>Of the strain that a material bears once, so much may be asked for once, and so much again and again (a handbook of snap fits; another says 60 % for repeated use, from memory).</summary>
    public const double OnceShare = 0.7, RepeatedShare = 0.4;

    /// <summary>Constant 0.67, tapered to half 1.09: handbook of snap fits, from memory; the arithmetic of its examples agrees.</summary>
    private double Shape => Tapers ? 1.09 : 2.0 / 3;

    /// <summary>How far its root is stretched when the end gives way by so much: h y / (shape L²), for a constant arm 1.5 h y/L². The wall that it stands on is taken as stiff; a thin one gives way too, and then it is less.</summary>
    public double Strain(double asideMm) => ThickMm * asideMm / (Shape * LengthMm * LengthMm);

    /// <summary>How thick its root may be for a strain.</summary>
    public double ThicknessForMm(double strain, double asideMm) => Shape * strain * LengthMm * LengthMm / asideMm;

    /// <summary>The force across its end that bends it so far: b h² E ε/6L.</summary>
    public double BendingNewtons(double strain, double modulusMPa) => WidthMm * ThickMm * ThickMm * modulusMPa * strain / (6 * LengthMm);

    /// <summary>The force that pushes it in over a slope with friction: P (μ + tan α)/(1 − μ tan α); infinite where it locks.</summary>
    public static double PushingNewtons(double bendingNewtons, double friction, double slopeDegrees)
    {
        double tan = Math.Tan(slopeDegrees * Math.PI / 180), denominator = 1 - friction * tan;
        return denominator > 0 ? bendingNewtons * (friction + tan) / denominator : double.PositiveInfinity;
    }
}
