namespace Sparewright.Fit.Capability;

/// <summary>The kinds of process that are served (ISO/ASTM 52900).</summary>
public enum ProcessKind
{
    /// <summary>Material extrusion.</summary>
    Mex,

    /// <summary>Vat photopolymerization.</summary>
    Vpp,
}

/// <summary>What a capability belongs to: another machine, material or way of setting it is another process.</summary>
/// <param name="Settings">Nozzle, layer and whatever else the owner finds worth telling apart, as a note; may be empty.</param>
public sealed record ProcessSetting(ProcessKind Process, string Machine, string Material, string Settings)
{
    /// <summary>How wide the nozzle is, in mm; null where nobody says, or there is none.</summary>
    public double? NozzleMm { get; init; }

    /// <summary>How high a layer is, in mm; null where nobody says.</summary>
    public double? LayerMm { get; init; }
}

/// <summary>Where a figure about a process comes from.</summary>
public enum CapabilityStatus
{
    /// <summary>Nobody measured it on this machine: a guess about printers in general.</summary>
    Assumed,

    /// <summary>Trial parts of this machine, material and settings stand behind it.</summary>
    Measured,
}
