namespace Sparewright.Fit;

/// <summary>Kinds of surface that a printer makes each with its own error, and what size of it is meant.</summary>
public enum SurfaceKind
{
    /// <summary>A distance across material in the plane of the layers: boss diameter, length, width.</summary>
    Outside,

    /// <summary>Diameter of a hole whose axis stands upright on the bed.</summary>
    HoleUpright,

    /// <summary>Height of a hole whose axis does not stand upright: its roof sags.</summary>
    HoleLying,

    /// <summary>A gap between two faces, in the plane of the layers.</summary>
    Slot,

    /// <summary>A distance across the layers.</summary>
    Height,

    /// <summary>A distance across material within the first layers, where they flare out.</summary>
    FirstLayer,

    /// <summary>Distance of two axes, or of an axis and a face: what the width of a line of material does not change.</summary>
    CentreDistance,
}
