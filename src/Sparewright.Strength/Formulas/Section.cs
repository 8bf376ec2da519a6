namespace Sparewright.Strength.Formulas;

/// <summary>A cross-section as a beam feels it.</summary>
/// <param name="SecondMomentMm4">Second moment of area about the axis that it bends about, mm⁴.</param>
/// <param name="FibreMm">How far the outermost fibre is from that axis.</param>
/// <param name="ShearFactor">Which share of the area carries the shear, κ.</param>
public sealed record Section(double AreaMm2, double SecondMomentMm4, double FibreMm, double ShearFactor)
{
    /// <summary>Section modulus, mm³.</summary>
    public double ModulusMm3 => SecondMomentMm4 / FibreMm;

    /// <param name="wideMm">Across the load.</param>
    /// <param name="highMm">Along the load.</param>
    public static Section Rectangle(double wideMm, double highMm) => new(wideMm * highMm, wideMm * highMm * highMm * highMm / 12, highMm / 2, 5.0 / 6);

    public static Section Round(double diameterMm) => Tube(diameterMm, 0);

    public static Section Tube(double outerMm, double innerMm) => new(
        Math.PI / 4 * (outerMm * outerMm - innerMm * innerMm), Math.PI / 64 * (Math.Pow(outerMm, 4) - Math.Pow(innerMm, 4)), outerMm / 2, innerMm > 0 ? 0.5 : 0.9);

    /// <summary>Stress in the outermost fibre, MPa, under a bending moment in N·mm.</summary>
    public double BendingMPa(double momentNmm) => momentNmm / ModulusMm3;
}

/// <summary>An arm held fast at one end, with a force across its free end (beam theory, with the shear of Timoshenko).</summary>
public sealed record Arm(Section Section, double LengthMm)
{
    /// <summary>Stress in the outermost fibre at its root, MPa.</summary>
    public double RootMPa(double newtons) => Section.BendingMPa(newtons * LengthMm);

    /// <summary>How far its end gives way, mm: P L³/3EI + P L/κGA.</summary>
    public double DeflectionMm(double newtons, double modulusMPa, double nu)
    {
        double shearModulus = modulusMPa / (2 * (1 + nu));
        return newtons * Math.Pow(LengthMm, 3) / (3 * modulusMPa * Section.SecondMomentMm4) + newtons * LengthMm / (Section.ShearFactor * shearModulus * Section.AreaMm2);
    }
}
