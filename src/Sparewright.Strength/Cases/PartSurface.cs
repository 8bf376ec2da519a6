using Sparewright.Solid;
using Sparewright.Strength.Loads;

namespace Sparewright.Strength.Cases;

/// <summary>A point of the part's surface at which stress is looked at; job's axes.</summary>
/// <param name="Face">The face's number in the solid's table.</param>
public readonly record struct SurfacePoint(int Face, Point3 At, Point3 Outward);

/// <summary>A piece of an edge at which two faces make a sharp inner corner: there stress has no finite value.</summary>
public readonly record struct SharpCorner(int First, int Second, Point3 At);

/// <summary>What of the surface is looked at, and where it must not be.</summary>
public sealed record PartSurface(IReadOnlyList<SurfacePoint> Points, IReadOnlyList<SharpCorner> SharpCorners)
{
    /// <summary>Faces that meet at less than this have a round between them that is drawn with flat pieces.</summary>
    private const double SharpDegrees = 20;

    /// <param name="apartMm">How far the points are apart at most. Of a face only one is kept in each box half as wide: long thin triangles have many side by side.</param>
    /// <param name="centre">Only points so near this one, where that is said.</param>
    public static PartSurface Of(Mesh mesh, IReadOnlyList<SolidFace> faces, double apartMm, Point3 centre = default, double withinMm = double.PositiveInfinity)
    {
        var points = new List<SurfacePoint>();
        var taken = new HashSet<(int, int, int)>();
        for (int f = 0; f < faces.Count; f++)
        {
            int face = f;
            if (!IsNear(faces[f].Low, faces[f].High)) continue;
            taken.Clear();
            if (Patch.Of("", mesh, n => n == face, apartMm, at => taken.Add(BoxOf(at)), (centre, withinMm)) is { } patch) points.AddRange(patch.Samples.Select(s => new SurfacePoint(face, s.At, s.Inward * -1)));
        }

        return new(points, SharpCornersOf(mesh, Math.Min(apartMm, WeakestPlace.LineWidthMm)));

        bool IsNear(Point3 low, Point3 high)
        {
            Point3 nearest = new(Math.Clamp(centre.X, low.X, high.X), Math.Clamp(centre.Y, low.Y, high.Y), Math.Clamp(centre.Z, low.Z, high.Z));
            return (nearest - centre).Length <= withinMm;
        }

        (int, int, int) BoxOf(Point3 at) => ((int)Math.Floor(2 * at.X / apartMm), (int)Math.Floor(2 * at.Y / apartMm), (int)Math.Floor(2 * at.Z / apartMm));
    }

    private static List<SharpCorner> SharpCornersOf(Mesh mesh, double apartMm)
    {
        var first = new Dictionary<(int, int), int>();
        var corners = new List<SharpCorner>();
        double most = Math.Cos(SharpDegrees * Math.PI / 180);
        for (int t = 0; t < mesh.TriangleCount; t++)
        {
            for (int c = 0; c < 3; c++)
            {
                int a = mesh.Triangles[3 * t + c], b = mesh.Triangles[3 * t + (c + 1) % 3];
                (int, int) edge = (Math.Min(a, b), Math.Max(a, b));
                if (!first.TryAdd(edge, t) && first[edge] is var other && mesh.FaceOfTriangle[other] != mesh.FaceOfTriangle[t] && IsSharpInner(other, t, a, b)) Add(other, t, PointOf(a), PointOf(b));
            }
        }

        return corners;

        bool IsSharpInner(int one, int two, int a, int b)
        {
            Point3 n = NormalOf(one), m = NormalOf(two);
            if (Point3.Dot(n, m) > most) return false;
            int apart = Enumerable.Range(0, 3).Select(c => mesh.Triangles[3 * two + c]).First(p => p != a && p != b);
            return Point3.Dot(PointOf(apart) - PointOf(a), n) > 0;
        }

        void Add(int one, int two, Point3 from, Point3 to)
        {
            int pieces = (int)Math.Ceiling((to - from).Length / apartMm);
            for (int k = 0; k < pieces; k++) corners.Add(new(mesh.FaceOfTriangle[one], mesh.FaceOfTriangle[two], from + (to - from) * ((k + 0.5) / pieces)));
        }

        Point3 NormalOf(int t)
        {
            Point3 a = PointOf(mesh.Triangles[3 * t]), n = Point3.Cross(PointOf(mesh.Triangles[3 * t + 1]) - a, PointOf(mesh.Triangles[3 * t + 2]) - a);
            return n * (1 / Math.Max(n.Length, 1e-300));
        }

        Point3 PointOf(int p) => new(mesh.Points[3 * p], mesh.Points[3 * p + 1], mesh.Points[3 * p + 2]);
    }
}
