using Sparewright.Part.Record;

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

/// <summary>What is said of a kind of surface.</summary>
public static class SurfaceKinds
{
    public static IReadOnlyList<SurfaceKind> All { get; } = Enum.GetValues<SurfaceKind>();

    /// <summary>The kind in words, as in tables and files: "hole upright".</summary>
    public static string Words(this SurfaceKind kind) => kind switch
    {
        SurfaceKind.Outside => "outside",
        SurfaceKind.HoleUpright => "hole upright",
        SurfaceKind.HoleLying => "hole lying",
        SurfaceKind.Slot => "slot",
        SurfaceKind.Height => "height",
        SurfaceKind.FirstLayer => "first layer",
        SurfaceKind.CentreDistance => "centre distance",
        _ => throw new ArgumentOutOfRangeException(nameof(kind)),
    };

    /// <summary>The kind that a job names.</summary>
    public static SurfaceKind Of(PrintedSurface surface) => All.First(k => k.Words() == surface.Words());

    /// <summary>True where the size lies across the layers, so that it comes in whole ones.</summary>
    public static bool IsAcrossLayers(this SurfaceKind kind) => kind is SurfaceKind.Height or SurfaceKind.HoleLying;

    /// <summary>1 where walls that stand out of the plastic make the size larger, −1 where they make it smaller, 0 where they have no say.</summary>
    public static int WallSense(this SurfaceKind kind) => kind switch
    {
        SurfaceKind.Outside or SurfaceKind.FirstLayer => 1,
        SurfaceKind.Height or SurfaceKind.CentreDistance => 0,
        _ => -1,
    };

    /// <summary>True where the size spans space rather than material: printed larger, it gives more clearance.</summary>
    public static bool IsHollow(this SurfaceKind kind) => kind is SurfaceKind.HoleUpright or SurfaceKind.HoleLying or SurfaceKind.Slot;
}
