using System.Buffers.Binary;
using System.Collections.Immutable;
using System.Globalization;
using System.Security.Cryptography;
using Sparewright.Remake.Live;
using Sparewright.Solid;
using Sparewright.Strength.Cases;

namespace Sparewright.Remake.Bearing;

/// <summary>The part's surface in triangles so small that the margin can be shown on it, each point with the surface's normal.</summary>
public sealed class MarginSurface
{
    private readonly List<SurfacePoint> _points = [];
    private List<int> _triangles;

    private MarginSurface(DisplayMesh mesh, double longestMm)
    {
        var faceOf = new int[mesh.Points.Count / 3];
        for (int corner = 0; corner < mesh.Triangles.Count; corner++) faceOf[mesh.Triangles[corner]] = mesh.FaceOfTriangle[corner / 3];
        for (int p = 0; p < faceOf.Length; p++)
            _points.Add(new(faceOf[p], new(mesh.Points[3 * p], mesh.Points[3 * p + 1], mesh.Points[3 * p + 2]), new(mesh.Normals[3 * p], mesh.Normals[3 * p + 1], mesh.Normals[3 * p + 2])));
        _triangles = [.. mesh.Triangles];
        while (Halve(longestMm))
        {
        }
    }

    /// <summary>Where stress is looked at.</summary>
    public IReadOnlyList<SurfacePoint> Points => _points;

    /// <summary>Three points a triangle.</summary>
    public IReadOnlyList<int> Triangles => _triangles;

    /// <param name="longestMm">No edge of a triangle is longer.</param>
    public static MarginSurface Of(Mesh mesh, IReadOnlyList<SolidFace> faces, double longestMm) => new(DisplayMesh.Of(mesh, faces), longestMm);

    /// <summary>Halves every edge that is too long, the same on both sides of it; false when none was.</summary>
    private bool Halve(double longestMm)
    {
        var middles = new Dictionary<(int, int), int>();
        var halved = new List<int>(_triangles.Count * 2);
        for (int t = 0; t < _triangles.Count; t += 3)
        {
            var (a, b, c) = (_triangles[t], _triangles[t + 1], _triangles[t + 2]);
            int? ab = Middle(a, b), bc = Middle(b, c), ca = Middle(c, a);
            // Turned so that the first edge is halved where any is, and the last where just two are.
            if (ab is null && (bc ?? ca) is not null) (a, b, c, ab, bc, ca) = bc is not null ? (b, c, a, bc, ca, ab) : (c, a, b, ca, ab, bc);
            if (bc is not null && ca is null) (a, b, c, ab, bc, ca) = (b, c, a, bc, ca, ab);
            halved.AddRange((ab, bc, ca) switch
            {
                ({ } m, { } n, { } o) => [a, m, o, m, b, n, o, n, c, m, n, o],
                ({ } m, null, { } o) => [a, m, o, m, b, o, b, c, o],
                ({ } m, null, null) => [a, m, c, m, b, c],
                _ => (ReadOnlySpan<int>)[a, b, c],
            });
        }

        _triangles = halved;
        return middles.Count > 0;

        int? Middle(int from, int to)
        {
            SurfacePoint p = _points[from], q = _points[to];
            if ((q.At - p.At).Length <= longestMm) return null;
            (int, int) edge = from < to ? (from, to) : (to, from);
            if (middles.TryGetValue(edge, out int known)) return known;
            Point3 outward = p.Outward + q.Outward;
            _points.Add(new(p.Face, (p.At + q.At) * 0.5, outward.Length > 1e-6 ? outward * (1 / outward.Length) : p.Outward));
            return middles[edge] = _points.Count - 1;
        }
    }
}

/// <summary>The margin on the surface under one load, for looking at: what is shown in few steps, each twice the one before.</summary>
/// <param name="Key">The same for the same bytes, and only then.</param>
/// <param name="Bytes">Little-endian: "SPF1", counts of points and triangles (uint32); x, y, z and normal of each point (float), its face (uint32), its margin (float, NaN where it is not judged); three points a triangle (uint32).</param>
/// <param name="Shares">Of the surface that lies in each step, and last what is not judged; together 1.</param>
public sealed record MarginPicture(string Key, ReadOnlyMemory<byte> Bytes, IReadOnlyList<double> Shares)
{
    /// <summary>Where one step ends and the next begins. At 1 it bears just what it is allowed to.</summary>
    public static ImmutableArray<double> Limits { get; } = [0.25, 0.5, 1, 2, 4];

    /// <summary>The steps in words, least first, and what is not judged.</summary>
    public static ImmutableArray<string> Steps { get; } =
    [
        $"below {Text(Limits[0])}",
        .. Enumerable.Range(1, Limits.Length - 1).Select(k => $"{Text(Limits[k - 1])} to {Text(Limits[k])}"),
        $"{Text(Limits[^1])} or more",
        "not judged: at a support or a sharp inner corner",
    ];

    /// <param name="margins">One for each point of the surface; NaN where it is not judged.</param>
    public static MarginPicture Of(MarginSurface surface, IReadOnlyList<double> margins)
    {
        byte[] bytes = Written(surface, margins);
        return new(Convert.ToHexStringLower(SHA256.HashData(bytes))[..24], bytes, SharesOf(surface, margins));
    }

    private static double[] SharesOf(MarginSurface surface, IReadOnlyList<double> margins)
    {
        var areas = new double[Steps.Length];
        for (int t = 0; t < surface.Triangles.Count; t += 3)
        {
            var (a, b, c) = (surface.Triangles[t], surface.Triangles[t + 1], surface.Triangles[t + 2]);
            Point3 at = surface.Points[a].At;
            double area = Point3.Cross(surface.Points[b].At - at, surface.Points[c].At - at).Length / 2;
            foreach (int p in (ReadOnlySpan<int>)[a, b, c]) areas[StepOf(margins[p])] += area / 3;
        }

        double all = areas.Sum();
        return [.. areas.Select(s => s / all)];
    }

    private static int StepOf(double margin) => double.IsNaN(margin) ? Limits.Length + 1 : Limits.Count(limit => margin >= limit);

    private static byte[] Written(MarginSurface surface, IReadOnlyList<double> margins)
    {
        var bytes = new byte[4 + 8 + surface.Points.Count * 32 + surface.Triangles.Count * 4];
        "SPF1"u8.CopyTo(bytes);
        int at = 4;
        Whole(surface.Points.Count);
        Whole(surface.Triangles.Count / 3);
        foreach (SurfacePoint p in surface.Points)
        {
            Real(p.At.X);
            Real(p.At.Y);
            Real(p.At.Z);
        }

        foreach (SurfacePoint p in surface.Points)
        {
            Real(p.Outward.X);
            Real(p.Outward.Y);
            Real(p.Outward.Z);
        }

        foreach (SurfacePoint p in surface.Points) Whole(p.Face);
        foreach (double margin in margins) Real(margin);
        foreach (int p in surface.Triangles) Whole(p);
        return bytes;

        void Whole(int value)
        {
            BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(at), value);
            at += 4;
        }

        void Real(double value)
        {
            BinaryPrimitives.WriteSingleLittleEndian(bytes.AsSpan(at), (float)value);
            at += 4;
        }
    }

    private static string Text(double limit) => limit.ToString("0.##", CultureInfo.InvariantCulture);
}
