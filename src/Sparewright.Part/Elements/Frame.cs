using Sparewright.Measure.Numbers;
using Sparewright.Part.Shape;

namespace Sparewright.Part.Elements;

/// <summary>
/// A place in space with three directions at right angles, each of length one: u and v lie in a face, n stands on it.
/// May be left-handed, since coordinates on a face are never mirrored.
/// </summary>
public readonly record struct Frame(Vector Origin, Vector U, Vector V, Vector N)
{
    /// <summary>The job's own axes.</summary>
    public static readonly Frame Job = new(Vector.Zero, Direction.Right.Vector(), Direction.Back.Vector(), Direction.Up.Vector());

    /// <summary>The point at (u, v) on the face and n above it.</summary>
    public Vector At(PlanePoint p, Dual n) => Origin + U * p.U + V * p.V + N * n;

    /// <summary>The point at (u, v) on the face.</summary>
    public Vector At(PlanePoint p) => Origin + U * p.U + V * p.V;

    /// <summary>The direction (u, v) in the face.</summary>
    public Vector Along(PlanePoint d) => U * d.U + V * d.V;

    /// <summary>The same directions at another place.</summary>
    public Frame MovedTo(Vector origin) => this with { Origin = origin };

    /// <summary>Looking the other way: into the part where this looks out of it.</summary>
    public Frame Inward() => this with { N = -N };
}

/// <summary>The job's six directions as vectors.</summary>
public static class Directions
{
    public static Vector Vector(this Direction direction) => direction switch
    {
        Direction.Right => new(1, 0, 0),
        Direction.Left => new(-1, 0, 0),
        Direction.Back => new(0, 1, 0),
        Direction.Front => new(0, -1, 0),
        Direction.Up => new(0, 0, 1),
        Direction.Down => new(0, 0, -1),
        _ => throw new ArgumentOutOfRangeException(nameof(direction)),
    };

    /// <summary>The job direction that a vector has, or null when it is tilted (by more than 1e-9).</summary>
    public static Direction? Of(Vector v)
    {
        foreach (Direction direction in Enum.GetValues<Direction>())
            if (Measure.Numbers.Vector.Dot(v, direction.Vector()).Value > 1 - 1e-15) return direction;
        return null;
    }
}
