using System.Runtime.CompilerServices;
using Sparewright.Solid;

namespace Sparewright.Strength.Grid;

/// <summary>Cutting of a flat convex polygon by planes at right angles to an axis.</summary>
/// <remarks>Method: Sutherland and Hodgman, "Reentrant polygon clipping", CACM 17 (1974), one plane at a time, from memory. A cut of one convex polygon adds at most one corner.</remarks>
internal static class Polygon
{
    /// <summary>A triangle cut by the six planes of a cell has at most nine corners.</summary>
    public const int MostCorners = 12;

    public static double Along(Point3 p, int axis) => axis switch { 0 => p.X, 1 => p.Y, _ => p.Z };

    /// <summary>Cuts at <c>axis = at</c>: what lies below goes to one list, what lies above to the other.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Cut(ReadOnlySpan<Point3> polygon, int axis, double at, Span<Point3> below, out int belowCount, Span<Point3> above, out int aboveCount)
    {
        belowCount = aboveCount = 0;
        Point3 a = polygon[^1];
        double da = Along(a, axis) - at;
        foreach (Point3 b in polygon)
        {
            double db = Along(b, axis) - at;
            if (da < 0 && db > 0 || da > 0 && db < 0)
            {
                // From the same end whichever way the edge runs, so that neighbouring triangles are cut in the same point.
                Point3 on = da < 0 ? Between(a, b, da, db) : Between(b, a, db, da);
                on = axis switch { 0 => on with { X = at }, 1 => on with { Y = at }, _ => on with { Z = at } };
                below[belowCount++] = on;
                above[aboveCount++] = on;
            }

            if (db <= 0) below[belowCount++] = b;
            if (db >= 0) above[aboveCount++] = b;
            (a, da) = (b, db);
        }

        if (belowCount < 3) belowCount = 0;
        if (aboveCount < 3) aboveCount = 0;
    }

    private static Point3 Between(Point3 a, Point3 b, double da, double db) => a + (b - a) * (da / (da - db));
}
