using Sparewright.Solid;

namespace Sparewright.Strength.Tests;

/// <summary>Closed meshes of simple shapes, made here so that the solver can be tried without a geometry kernel.</summary>
internal static class Shapes
{
    /// <summary>The faces of a <see cref="Strip"/>.</summary>
    public const int Bottom = 0, Top = 1, Right = 2, Left = 3, Start = 4, End = 5;

    /// <summary>
    /// A plate between two lines of equally many points, from z0 to z1: "left" is the first line. Closed, its ends meet and it is a ring; open, it has two end faces.
    /// </summary>
    public static Mesh Strip(IReadOnlyList<(double X, double Y)> left, IReadOnlyList<(double X, double Y)> right, bool closed, double z0, double z1)
    {
        int n = left.Count;
        var points = new List<double>();
        foreach (double z in (double[])[z0, z1])
        {
            foreach (var (x, y) in left) points.AddRange([x, y, z]);
            foreach (var (x, y) in right) points.AddRange([x, y, z]);
        }

        var triangles = new List<int>();
        var faces = new List<int>();
        int L0(int a) => a % n;
        int R0(int a) => n + a % n;
        int L1(int a) => 2 * n + a % n;
        int R1(int a) => 3 * n + a % n;
        void Quad(int a, int b, int c, int d, int face)
        {
            triangles.AddRange([a, b, c, a, c, d]);
            faces.AddRange([face, face]);
        }

        for (int a = 0; a < (closed ? n : n - 1); a++)
        {
            Quad(L0(a), L0(a + 1), R0(a + 1), R0(a), Bottom);
            Quad(L1(a), R1(a), R1(a + 1), L1(a + 1), Top);
            Quad(R0(a), R0(a + 1), R1(a + 1), R1(a), Right);
            Quad(L0(a), L1(a), L1(a + 1), L0(a + 1), Left);
        }

        if (!closed)
        {
            Quad(L0(0), R0(0), R1(0), L1(0), Start);
            Quad(L0(n - 1), L1(n - 1), R1(n - 1), R0(n - 1), End);
        }

        return Outward(new([.. points], [.. triangles], [.. faces], 0));
    }

    public static Mesh Box(double x, double y, double z, Point3 low = default) =>
        Strip([(low.X, low.Y), (low.X + x, low.Y)], [(low.X, low.Y + y), (low.X + x, low.Y + y)], closed: false, low.Z, low.Z + z);

    /// <summary>A rectangular plate about the z axis with a round hole of radius r in its middle; the hole is the face <see cref="Right"/>, the rim <see cref="Left"/>.</summary>
    public static Mesh PlateWithHole(double length, double width, double thickness, double r, int sides)
    {
        double corner = Math.Atan2(width, length);
        double[] angles = [.. Enumerable.Range(0, sides).Select(s => 2 * Math.PI * s / sides).Concat([corner, Math.PI - corner, Math.PI + corner, 2 * Math.PI - corner]).Distinct().Order()];
        return Strip(
            [.. angles.Select(a => { double out1 = Math.Min(length / 2 / Math.Abs(Math.Cos(a)), width / 2 / Math.Abs(Math.Sin(a))); return (out1 * Math.Cos(a), out1 * Math.Sin(a)); })],
            [.. angles.Select(a => (r * Math.Cos(a), r * Math.Sin(a)))], closed: true, 0, thickness);
    }

    /// <summary>A ring about the z axis, or of it what lies between two angles; the bore is the face <see cref="Right"/>.</summary>
    public static Mesh Ring(double inner, double outer, double height, int sides, double from = 0, double to = 2 * Math.PI)
    {
        bool closed = to - from > 2 * Math.PI - 1e-9;
        double[] angles = [.. Enumerable.Range(0, closed ? sides : sides + 1).Select(s => from + (to - from) * s / sides)];
        return Strip([.. angles.Select(a => (outer * Math.Cos(a), outer * Math.Sin(a)))], [.. angles.Select(a => (inner * Math.Cos(a), inner * Math.Sin(a)))], closed, 0, height);
    }

    public static Mesh Sphere(double r, int around, Point3 centre = default)
    {
        int up = around / 2;
        var points = new List<double> { centre.X, centre.Y, centre.Z - r };
        for (int u = 1; u < up; u++)
            for (int a = 0; a < around; a++)
            {
                double polar = Math.PI * u / up, turn = 2 * Math.PI * a / around;
                points.AddRange([centre.X + r * Math.Sin(polar) * Math.Cos(turn), centre.Y + r * Math.Sin(polar) * Math.Sin(turn), centre.Z - r * Math.Cos(polar)]);
            }

        points.AddRange([centre.X, centre.Y, centre.Z + r]);
        int top = points.Count / 3 - 1;
        int At(int u, int a) => 1 + (u - 1) * around + a % around;
        var triangles = new List<int>();
        for (int a = 0; a < around; a++)
        {
            triangles.AddRange([0, At(1, a + 1), At(1, a), top, At(up - 1, a), At(up - 1, a + 1)]);
            for (int u = 1; u < up - 1; u++) triangles.AddRange([At(u, a), At(u, a + 1), At(u + 1, a + 1), At(u, a), At(u + 1, a + 1), At(u + 1, a)]);
        }

        return Outward(new([.. points], [.. triangles], new int[triangles.Count / 3], 0));
    }

    /// <summary>The mesh turned and moved.</summary>
    public static Mesh Moved(Mesh mesh, Func<Point3, Point3> move)
    {
        var points = new double[mesh.Points.Length];
        for (int p = 0; p < points.Length; p += 3)
        {
            Point3 to = move(new(mesh.Points[p], mesh.Points[p + 1], mesh.Points[p + 2]));
            (points[p], points[p + 1], points[p + 2]) = (to.X, to.Y, to.Z);
        }

        return mesh with { Points = points };
    }

    private static Mesh Outward(Mesh mesh)
    {
        if (mesh.VolumeMm3() > 0) return mesh;
        int[] turned = [.. mesh.Triangles];
        for (int t = 0; t < turned.Length; t += 3) (turned[t + 1], turned[t + 2]) = (turned[t + 2], turned[t + 1]);
        return mesh with { Triangles = turned };
    }
}
