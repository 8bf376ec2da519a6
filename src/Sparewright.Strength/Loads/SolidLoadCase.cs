using Sparewright.Part.Record;
using Sparewright.Solid;

namespace Sparewright.Strength.Loads;

/// <summary>Something that pushes on a patch.</summary>
/// <param name="How">In words: evenly, as a round pin presses …</param>
/// <param name="ForcesN">On each sample of the patch, N, in the job's axes.</param>
public sealed record SurfaceLoad(string How, Patch Patch, IReadOnlyList<Point3> ForcesN)
{
    public Point3 TotalN { get; } = ForcesN.Aggregate(default(Point3), (sum, f) => sum + f);

    /// <summary>N·mm about the job's origin.</summary>
    public Point3 MomentNmm { get; } = ForcesN.Index().Aggregate(default(Point3), (sum, f) => sum + Point3.Cross(Patch.Samples[f.Index].At, f.Item));
}

/// <summary>Which ways a patch is held.</summary>
public enum SupportWay
{
    /// <summary>All ways.</summary>
    Fast,

    /// <summary>Square to the surface, pushed only.</summary>
    PushedOnly,

    /// <summary>Square to the surface, pushed and pulled.</summary>
    Square,

    /// <summary>Along one direction.</summary>
    Along,
}

/// <summary>An axis: a point on it and its unit direction.</summary>
public readonly record struct Axis(Point3 Point, Point3 Direction);

/// <summary>Something that holds a patch, or moves it.</summary>
/// <param name="Direction">Unit; only for <see cref="SupportWay.Along"/>.</param>
/// <param name="MovedMm">How far it moves the patch: along the direction, or into the material.</param>
/// <param name="Round">The axis of a round patch: square to it means through that axis, so that a pin holds no twist.</param>
public sealed record SurfaceSupport(Patch Patch, SupportWay Way, Point3 Direction = default, double MovedMm = 0, Axis? Round = null);

/// <summary>A load case on the finished solid: what acts and what holds, as forces and supports on pieces of its surface. The solver takes it from here.</summary>
/// <param name="Load">As the job says it.</param>
/// <param name="WeightNPerMm3">The part's own weight where it counts, N/mm³, else zero.</param>
/// <param name="Remarks">What was assumed on the way, as sentences without a full stop.</param>
public sealed record SolidLoadCase(Load Load, IReadOnlyList<SurfaceLoad> Loads, IReadOnlyList<SurfaceSupport> Supports, Point3 WeightNPerMm3, IReadOnlyList<string> Remarks)
{
    /// <summary>All that acts, N, the own weight left out.</summary>
    public Point3 TotalN => Loads.Aggregate(default(Point3), (sum, l) => sum + l.TotalN);
}
