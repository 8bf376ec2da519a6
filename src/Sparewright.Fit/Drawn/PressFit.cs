using System.Globalization;

namespace Sparewright.Fit.Drawn;

/// <summary>A printed ring: a hub into which something rigid is pressed, or a plug that is pressed into something rigid.</summary>
/// <param name="BoreMm">Of a hub the diameter of the fit; of a plug its own bore, 0 where it is solid.</param>
/// <param name="OuterMm">Of a hub the diameter up to which there is material around it; of a plug the diameter of the fit.</param>
public sealed record PressHub(double BoreMm, double OuterMm, PressMaterial Material);

/// <summary>What a hub is printed of; MPa.</summary>
/// <param name="AcrossLayersMPa">Short-time strength across the layers.</param>
/// <param name="LongTimeShare">What of it may stand for longer than hours: a quarter of it, for PLA less (rule from memory).</param>
public sealed record PressMaterial(string Name, double ModulusMPa, double Poisson, double AcrossLayersMPa, double LongTimeShare);

/// <summary>
/// What an interference does to a hub (Lamé's thick ring around a rigid pin): pressure p = δ / ((D/E)((D₀² + D²)/(D₀² − D²) + ν)), hoop stress at the bore p (D₀² + D²)/(D₀² − D²).
/// To a plug in a rigid hole: p = δ / ((D/E)((D² + d²)/(D² − d²) − ν)), hoop stress at its bore 2 p D²/(D² − d²), in a solid one p all round (the same theory, from memory). MPa, mm.
/// </summary>
/// <param name="StrainShare">Of the bore: interference over diameter.</param>
/// <param name="AllowedMPa">What the hoop stress may be for long: the strength across the layers times the long-time share.</param>
public sealed record PressFit(PressHub Hub, double InterferenceMm, double PressureMPa, double HoopMPa, double StrainShare, double AllowedMPa)
{
    /// <summary>True where the printed part is what goes in.</summary>
    public bool IsPlug { get; private init; }

    /// <summary>True when plastic would creep out of the fit, or split.</summary>
    public bool IsRefused => HoopMPa > AllowedMPa;

    /// <summary>The largest interference that would stand, in mm.</summary>
    public double MostInterferenceMm => InterferenceMm * AllowedMPa / HoopMPa;

    /// <summary>Why, and what else holds the counterpart; empty where it is not refused.</summary>
    public string Words => !IsRefused ? "" : string.Create(CultureInfo.InvariantCulture,
        $"{(IsPlug ? "being pressed in by" : "pressing")} {InterferenceMm:0.00} mm {(IsPlug ? "strains" : "into")} {Hub.Material.Name} {(IsPlug ? "" : "strains the hub ")}to {HoopMPa:0.0} MPa; held for long it bears {AllowedMPa:0.0} MPa and creeps out of the fit. Choose a snug fit with glue or a screw, or a heat-set insert");

    /// <summary>Of a plug in something rigid.</summary>
    /// <param name="interferenceMm">Of the diameters, above zero.</param>
    public static PressFit OfPlug(PressHub plug, double interferenceMm)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(interferenceMm);
        if (!(plug.OuterMm > plug.BoreMm && plug.BoreMm >= 0)) throw new ArgumentException("a plug is larger outside than inside", nameof(plug));
        double d = plug.BoreMm * plug.BoreMm, outer = plug.OuterMm * plug.OuterMm;
        double pressure = interferenceMm / (plug.OuterMm / plug.Material.ModulusMPa * ((outer + d) / (outer - d) - plug.Material.Poisson));
        return new(plug, interferenceMm, pressure, d > 0 ? 2 * pressure * outer / (outer - d) : pressure, interferenceMm / plug.OuterMm, plug.Material.AcrossLayersMPa * plug.Material.LongTimeShare) { IsPlug = true };
    }

    /// <summary>Of a hub around something rigid.</summary>
    /// <param name="interferenceMm">Of the diameters, above zero.</param>
    public static PressFit Of(PressHub hub, double interferenceMm)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(interferenceMm);
        if (!(hub.OuterMm > hub.BoreMm && hub.BoreMm > 0)) throw new ArgumentException("a hub is larger outside than inside", nameof(hub));
        double d = hub.BoreMm, outer = hub.OuterMm, ring = (outer * outer + d * d) / (outer * outer - d * d);
        double pressure = interferenceMm / (d / hub.Material.ModulusMPa * (ring + hub.Material.Poisson));
        return new(hub, interferenceMm, pressure, pressure * ring, interferenceMm / d, hub.Material.AcrossLayersMPa * hub.Material.LongTimeShare);
    }
}
