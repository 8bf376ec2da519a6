using Sparewright.Measure.Numbers;
using Sparewright.Part.Elements;
using Sparewright.Part.Shape;

namespace Sparewright.Fit.Counterparts;

/// <summary>How things lie in the printer.</summary>
internal static class UpFromBed
{
    /// <summary>Along the way up counts what lies within about 25° of it.</summary>
    private const double Upright = 0.9;

    /// <summary>A unit vector away from the bed.</summary>
    /// <param name="wayUp">Which job direction points away from it.</param>
    public static Vector Of(Direction wayUp) => wayUp switch
    {
        Direction.Right => new(1, 0, 0),
        Direction.Left => new(-1, 0, 0),
        Direction.Back => new(0, 1, 0),
        Direction.Front => new(0, -1, 0),
        Direction.Down => new(0, 0, -1),
        _ => new(0, 0, 1),
    };

    /// <summary>Whether a direction goes up or down rather than along the layers.</summary>
    public static bool IsAlong(Vector direction, Direction wayUp) => Math.Abs(Vector.Dot(direction, Of(wayUp)).Value) / direction.Length.Value > Upright;

    /// <summary>What the printer does to a round surface that lies so.</summary>
    public static SurfaceKind KindOf(RoundElement round, Direction wayUp) => (round.Hollow, IsAlong(round.AxisDirection, wayUp)) switch
    {
        (true, true) => SurfaceKind.HoleUpright,
        (true, false) => SurfaceKind.HoleLying,
        (false, true) => SurfaceKind.Outside,
        (false, false) => SurfaceKind.Height,
    };

    /// <summary>What it does to the distance of two flat faces. What is printed between faces that lie one over the other sags like the roof of a hole.</summary>
    public static SurfaceKind KindOf(bool spaceBetween, Vector across, Direction wayUp) => (spaceBetween, IsAlong(across, wayUp)) switch
    {
        (true, true) => SurfaceKind.HoleLying,
        (true, false) => SurfaceKind.Slot,
        (false, true) => SurfaceKind.Height,
        (false, false) => SurfaceKind.Outside,
    };
}
