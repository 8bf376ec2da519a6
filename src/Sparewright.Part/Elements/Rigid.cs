using Sparewright.Measure.Numbers;

namespace Sparewright.Part.Elements;

/// <summary>A movement or mirror image that keeps all lengths: how copies get to their places.</summary>
public readonly record struct Rigid(Vector ImageOfX, Vector ImageOfY, Vector ImageOfZ, Vector Shift)
{
    public static Rigid Translation(Vector by) => new(new(1, 0, 0), new(0, 1, 0), new(0, 0, 1), by);

    /// <summary>A turn about an axis through a point.</summary>
    public static Rigid Rotation(Vector point, Vector axis, Dual radians) =>
        About(point, d => d.Turned(axis, radians));

    /// <summary>The mirror image across a plane.</summary>
    public static Rigid Mirror(Vector point, Vector normal) =>
        About(point, d => d - normal * (2 * Vector.Dot(normal, d)));

    public Vector Direction(Vector d) => ImageOfX * d.X + ImageOfY * d.Y + ImageOfZ * d.Z;

    public Vector Point(Vector p) => Direction(p) + Shift;

    public Frame Apply(Frame f) => new(Point(f.Origin), Direction(f.U), Direction(f.V), Direction(f.N));

    private static Rigid About(Vector point, Func<Vector, Vector> map)
    {
        Vector x = map(new(1, 0, 0)), y = map(new(0, 1, 0)), z = map(new(0, 0, 1));
        var turn = new Rigid(x, y, z, Vector.Zero);
        return turn with { Shift = point - turn.Direction(point) };
    }
}
