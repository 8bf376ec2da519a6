namespace Sparewright.Strength.Formulas;

/// <summary>A self-tapping screw pulled out of its boss.</summary>
/// <param name="PitchDiameterMm">Half-way between the thread's core and its outside.</param>
/// <param name="EngagedMm">How much of its length has thread in plastic.</param>
public sealed record ScrewPullOut(double PitchDiameterMm, double EngagedMm)
{
    /// <summary>Common practice: at least so many diameters of thread in plastic (read), and so much of the pull-out force as working load (from memory).</summary>
    public const double LeastEngagement = 2.5, WorkingShare = 1.0 / 3;

    /// <summary>The ± of the force as a share of it: what shears lies somewhere between the hole's wall and the thread's outside, and is taken half-way.</summary>
    /// <param name="holeMm">Diameter of the hole before the screw.</param>
    /// <param name="outsideMm">Diameter over the thread.</param>
    public static double PlusMinus(double holeMm, double outsideMm) => Math.Abs(outsideMm - holeMm) / (outsideMm + holeMm);

    /// <summary>The force that shears the thread's cylinder out: π d L τ. In a print with an upright boss that is the shear between its layers.</summary>
    public double Newtons(double shearStrengthMPa) => Math.PI * PitchDiameterMm * EngagedMm * shearStrengthMPa;

    /// <summary>The shear strength of a material that is alike in all directions, by von Mises: σ/√3.</summary>
    public static double ShearStrengthMPa(double tensileStrengthMPa) => tensileStrengthMPa / Math.Sqrt(3);
}
