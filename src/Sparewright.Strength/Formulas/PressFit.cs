namespace Sparewright.Strength.Formulas;

/// <summary>A thick ring under pressure from inside (Lamé). Radii in mm, stresses in MPa.</summary>
public sealed record ThickRing(double InnerMm, double OuterMm)
{
    /// <summary>Along the ring, at a radius.</summary>
    public double HoopMPa(double pressureMPa, double radiusMm) => pressureMPa * Share * (1 + Square(OuterMm / radiusMm));

    /// <summary>Across the wall, at a radius: −p at the inside.</summary>
    public double RadialMPa(double pressureMPa, double radiusMm) => pressureMPa * Share * (1 - Square(OuterMm / radiusMm));

    /// <summary>How far a radius grows, mm, when its ends cannot move along (plane strain).</summary>
    public double GrowthMm(double pressureMPa, double radiusMm, double modulusMPa, double nu) =>
        (1 + nu) * pressureMPa * Share / modulusMPa * ((1 - 2 * nu) * radiusMm + OuterMm * OuterMm / radiusMm);

    private double Share => InnerMm * InnerMm / (OuterMm * OuterMm - InnerMm * InnerMm);

    private static double Square(double x) => x * x;
}

/// <summary>A hub pressed on a solid shaft.</summary>
/// <param name="ShaftModulusMPa">Of the shaft; infinite for steel in plastic, near enough.</param>
public sealed record PressedHub(ThickRing Hub, double HubModulusMPa, double HubNu, double ShaftModulusMPa, double ShaftNu)
{
    /// <summary>Both of one material.</summary>
    public static PressedHub OfOneMaterial(ThickRing hub, double modulusMPa, double nu) => new(hub, modulusMPa, nu, modulusMPa, nu);

    /// <summary>The pressure between them, MPa, for an interference of the radii in mm: both give way until they fit. It goes down with time as the plastic creeps.</summary>
    public double PressureMPa(double radialInterferenceMm)
    {
        double b = Hub.InnerMm, c = Hub.OuterMm;
        double hubGives = b / HubModulusMPa * ((c * c + b * b) / (c * c - b * b) + HubNu), shaftGives = b / ShaftModulusMPa * (1 - ShaftNu);
        return radialInterferenceMm / (hubGives + shaftGives);
    }

    /// <summary>The stress along the hub at its bore, MPa: the most.</summary>
    public double BoreHoopMPa(double radialInterferenceMm) => Hub.HoopMPa(PressureMPa(radialInterferenceMm), Hub.InnerMm);
}
