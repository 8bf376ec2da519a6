using System.Runtime.CompilerServices;
using Sparewright.Solid;

namespace Sparewright.Strength.Loads;

/// <summary>A small flat piece of the part's surface.</summary>
/// <param name="At">Its middle, mm, in the job's axes.</param>
/// <param name="Inward">Unit, into the material.</param>
public readonly record struct SurfaceSample(Point3 At, Point3 Inward, double AreaMm2);

/// <summary>What of the surface something acts on or is held at, in pieces so small that a traction hardly changes across one.</summary>
public sealed record Patch(string Name, IReadOnlyList<SurfaceSample> Samples)
{
    public double AreaMm2 { get; } = Samples.Sum(s => s.AreaMm2);

    /// <summary>The middle of its area, mm.</summary>
    public Point3 Centroid { get; } = Samples.Aggregate(default(Point3), (sum, s) => sum + s.At * s.AreaMm2) * (1 / Samples.Sum(s => s.AreaMm2));

    /// <summary>The triangles of some faces of a mesh, halved until none is longer than <paramref name="finestMm"/>.</summary>
    /// <param name="wanted">Whether a face, by its number in the solid's table, belongs to it.</param>
    /// <param name="within">Only pieces with their middle there.</param>
    /// <param name="near">Only pieces with their middle within so many mm of a point; what lies farther off is not cut up at all.</param>
    /// <returns>Null where nothing is left.</returns>
    public static Patch? Of(string name, Mesh mesh, Func<int, bool> wanted, double finestMm, Func<Point3, bool>? within = null, (Point3 Centre, double Mm)? near = null)
    {
        var samples = new List<SurfaceSample>();
        for (int t = 0; t < mesh.TriangleCount; t++)
            if (wanted(mesh.FaceOfTriangle[t])) Split(Corner(t, 0), Corner(t, 1), Corner(t, 2));
        return samples.Count == 0 ? null : new Patch(name, samples);

        Point3 Corner(int triangle, int number)
        {
            int p = 3 * mesh.Triangles[3 * triangle + number];
            return new(mesh.Points[p], mesh.Points[p + 1], mesh.Points[p + 2]);
        }

        // Compiled at its best from the first call: most of the time of a short command is spent here otherwise.
        [MethodImpl(MethodImplOptions.AggressiveOptimization)]
        void Split(Point3 a, Point3 b, Point3 c)
        {
            double ab = (b - a).Length, bc = (c - b).Length, ca = (a - c).Length;
            double longest = Math.Max(ab, Math.Max(bc, ca));
            Point3 at = (a + b + c) * (1.0 / 3);
            // No point of a triangle is farther from its middle than its longest edge.
            double away = near is { } n ? (at - n.Centre).Length - n.Mm : double.NegativeInfinity;
            if (away > longest) return;
            if (longest > finestMm)
            {
                if (longest == ab) (a, b, c) = (c, a, b);
                else if (longest == ca) (a, b, c) = (b, c, a);
                Point3 middle = (b + c) * 0.5;
                Split(a, b, middle);
                Split(a, middle, c);
                return;
            }

            Point3 outward = Point3.Cross(b - a, c - a);
            double twice = outward.Length;
            if (twice > 0 && away <= 0 && within?.Invoke(at) != false) samples.Add(new(at, outward * (-1 / twice), twice / 2));
        }
    }
}
