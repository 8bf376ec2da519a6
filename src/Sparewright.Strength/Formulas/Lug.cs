namespace Sparewright.Strength.Formulas;

/// <summary>An eye that a pin pulls at. Stresses in MPa, forces in N.</summary>
/// <param name="WidthMm">Across the pull, over the hole.</param>
/// <param name="EdgeMm">From the middle of the hole to the end that the pin pulls toward.</param>
public sealed record Lug(double WidthMm, double HoleMm, double EdgeMm, double ThicknessMm)
{
    /// <summary>The pin against the wall, as if evenly: P/dt.</summary>
    public double BearingMPa(double newtons) => newtons / (HoleMm * ThicknessMm);

    /// <summary>What is left beside the hole, evenly: P/(W − d)t.</summary>
    public double NetSectionMPa(double newtons) => newtons / ((WidthMm - HoleMm) * ThicknessMm);

    /// <summary>The same at the edge of the hole. An open hole's factor; pulled at by a pin it is worse, up to about twice (from memory).</summary>
    public double NetSectionPeakMPa(double newtons) => NetSectionMPa(newtons) * HoleInStrip.KtNet(HoleMm / WidthMm);

    /// <summary>The piece before the pin sheared out, over the least length: P/2t(e − d/2).</summary>
    public double ShearOutMPa(double newtons) => newtons / (2 * ThicknessMm * (EdgeMm - HoleMm / 2));

    /// <summary>The same over planes that begin 40° beside the pull, where the pin lets go of the wall: longer, so less.</summary>
    public double ShearOutFrom40DegMPa(double newtons) => newtons / (2 * ThicknessMm * (EdgeMm - HoleMm / 2 * Math.Cos(40 * Math.PI / 180)));
}

/// <summary>A round hole in the middle of a strip that is pulled: how much more than the mean the stress at its edge is.</summary>
public static class HoleInStrip
{
    /// <summary>Over the stress in what is left beside the hole (Roark's Formulas for Stress and Strain, table 17.1).</summary>
    /// <param name="ratio">Diameter over width, less than 1.</param>
    public static double KtNet(double ratio) => 3 + ratio * (-3.13 + ratio * (3.66 + ratio * -1.53));

    /// <summary>The same by another fit (Peterson's Stress Concentration Factors); the two agree to 0.5 %.</summary>
    public static double KtNetByPeterson(double ratio)
    {
        double y = 1 - ratio;
        return 2 + y * (0.284 + y * (-0.6 + y * 1.32));
    }

    /// <summary>Over the stress in the whole strip.</summary>
    public static double KtGross(double ratio) => KtNet(ratio) / (1 - ratio);

    /// <summary>In a plate without end: the stress beside the hole, on the line across the pull, over the stress far away (Kirsch 1898).</summary>
    /// <param name="fromMiddle">Distance from the middle of the hole in radii, at least 1.</param>
    public static double Kirsch(double fromMiddle)
    {
        double s = 1 / (fromMiddle * fromMiddle);
        return (2 + s + 3 * s * s) / 2;
    }
}
