using System.Globalization;

namespace Sparewright.Strength;

/// <summary>
/// Elastic constants of a print: alike in all directions within the layers, different across them (transversely isotropic about the build axis z).
/// Convention: νzp is the contraction in the layer over the stretch across the layers when the layers are pulled apart, so ε_x = −νzp/E_z · σ_z.
/// </summary>
/// <remarks>Form of the constants and the conditions of stability: Lempriere, "Poisson's ratio in orthotropic materials", AIAA Journal 6 (1968), from memory.</remarks>
public sealed record LayeredStiffness
{
    /// <param name="inLayerMPa">E_p, modulus of elasticity within the layers.</param>
    /// <param name="acrossLayersMPa">E_z, modulus of elasticity across the layers.</param>
    /// <param name="nuInLayer">ν_p, Poisson's ratio within the layers.</param>
    /// <param name="nuAcross">ν_zp, contraction in the layer when pulled across the layers.</param>
    /// <param name="shearAcrossMPa">G_zp, modulus of layers sliding over each other.</param>
    /// <exception cref="ArgumentException">No such material is stable; see <see cref="Fault"/>.</exception>
    public LayeredStiffness(double inLayerMPa, double acrossLayersMPa, double nuInLayer, double nuAcross, double shearAcrossMPa)
    {
        if (Fault(inLayerMPa, acrossLayersMPa, nuInLayer, nuAcross, shearAcrossMPa) is { } fault) throw new ArgumentException(fault);
        (InLayerMPa, AcrossLayersMPa, NuInLayer, NuAcross, ShearAcrossMPa) = (inLayerMPa, acrossLayersMPa, nuInLayer, nuAcross, shearAcrossMPa);
        Elastic = ElasticOf();
    }

    public double InLayerMPa { get; }

    public double AcrossLayersMPa { get; }

    public double NuInLayer { get; }

    public double NuAcross { get; }

    public double ShearAcrossMPa { get; }

    /// <summary>G_p = E_p / 2(1 + ν_p) in MPa: within the layers nothing is left to choose.</summary>
    public double ShearInLayerMPa => InLayerMPa / (2 * (1 + NuInLayer));

    /// <summary>A material that is alike in all directions, such as a moulded original.</summary>
    public static LayeredStiffness Isotropic(double modulusMPa, double nu) => new(modulusMPa, modulusMPa, nu, nu, modulusMPa / (2 * (1 + nu)));

    /// <summary>Why no material can have these constants (it would give energy when loaded), in words for whoever entered them; null if it can.</summary>
    public static string? Fault(double inLayerMPa, double acrossLayersMPa, double nuInLayer, double nuAcross, double shearAcrossMPa)
    {
        foreach (var (name, value) in new[] { ("stiffness within the layers", inLayerMPa), ("stiffness across the layers", acrossLayersMPa), ("shear stiffness between the layers", shearAcrossMPa) })
            if (!(value > 0 && double.IsFinite(value))) return $"the {name} must be above 0 MPa";
        if (!(Math.Abs(nuInLayer) < 1)) return "Poisson's ratio within the layers must lie between -1 and 1";
        double rest = 1 - nuInLayer - 2 * nuAcross * nuAcross * inLayerMPa / acrossLayersMPa;
        return rest > 0 ? null : string.Create(CultureInfo.InvariantCulture,
            $"such a material would give energy when loaded: 1 - ν_p - 2 ν_zp² E_p/E_z is {rest:0.###} and must be above 0; a smaller Poisson's ratio across the layers (now {nuAcross:0.###}) helps");
    }

    /// <summary>The stiffness matrix in MPa: normal stresses from normal strains, then the two shear moduli (for engineering shear strains).</summary>
    internal Elastic Elastic { get; }

    private Elastic ElasticOf()
    {
        double n = InLayerMPa / AcrossLayersMPa;
        double rest = 1 - NuInLayer - 2 * NuAcross * NuAcross * n;
        double c11 = InLayerMPa * (1 - n * NuAcross * NuAcross) / ((1 + NuInLayer) * rest);
        double c12 = InLayerMPa * (NuInLayer + n * NuAcross * NuAcross) / ((1 + NuInLayer) * rest);
        return new(c11, c12, InLayerMPa * NuAcross / rest, AcrossLayersMPa * (1 - NuInLayer) / rest, ShearAcrossMPa, ShearInLayerMPa);
    }

    /// <summary>Stress in MPa from normal strains and engineering shear strains.</summary>
    public Stress StressOf(double xx, double yy, double zz, double yz, double xz, double xy)
    {
        Elastic c = Elastic;
        return new(c.C11 * xx + c.C12 * yy + c.C13 * zz, c.C12 * xx + c.C11 * yy + c.C13 * zz, c.C13 * (xx + yy) + c.C33 * zz, c.C44 * yz, c.C44 * xz, c.C66 * xy);
    }
}

/// <summary>The six different entries of a transversely isotropic stiffness matrix in MPa, axis 3 across the layers.</summary>
internal readonly record struct Elastic(double C11, double C12, double C13, double C33, double C44, double C66);
