namespace Sparewright.Handover.PrintFiles;

/// <summary>
/// What a print file demands of its triangles (3MF Core 1.4.0, section 4.1): three different corners each, every edge shared by
/// exactly two triangles that run along it in opposite directions, and a positive volume.
/// </summary>
public static class SoundSurface
{
    /// <summary>Null when the surface is sound; otherwise the first fault found, as a sentence without a full stop.</summary>
    /// <param name="points">x, y, z of each point, in mm, as they will be written.</param>
    /// <param name="triangles">Three point indices each.</param>
    public static string? FirstFault(ReadOnlySpan<double> points, ReadOnlySpan<int> triangles)
    {
        if (points.Length < 9 || triangles.Length < 12)
            return "a closed surface needs at least four triangles";
        foreach (double value in points)
        {
            if (!double.IsFinite(value))
                return "a coordinate is not a finite number";
        }

        return FlatTriangle(points, triangles) ?? OpenEdge(triangles) ?? Inward(points, triangles);
    }

    private static string? FlatTriangle(ReadOnlySpan<double> points, ReadOnlySpan<int> triangles)
    {
        int count = points.Length / 3;
        for (int t = 0; t < triangles.Length; t += 3)
        {
            int a = triangles[t], b = triangles[t + 1], c = triangles[t + 2];
            if ((uint)a >= count || (uint)b >= count || (uint)c >= count)
                return $"triangle {t / 3} names a point that is not there";
            if (a == b || b == c || c == a)
                return $"triangle {t / 3} has two corners in one point";
            var (nx, ny, nz) = Normal(points, a, b, c);
            if (nx == 0 && ny == 0 && nz == 0)
                return $"triangle {t / 3} has no area";
        }

        return null;
    }

    /// <summary>Twice the area, along the outward normal.</summary>
    internal static (double X, double Y, double Z) Normal(ReadOnlySpan<double> points, int a, int b, int c)
    {
        ReadOnlySpan<double> pa = points.Slice(3 * a, 3), pb = points.Slice(3 * b, 3), pc = points.Slice(3 * c, 3);
        double ux = pb[0] - pa[0], uy = pb[1] - pa[1], uz = pb[2] - pa[2];
        double vx = pc[0] - pa[0], vy = pc[1] - pa[1], vz = pc[2] - pa[2];
        return (uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx);
    }

    private static string? OpenEdge(ReadOnlySpan<int> triangles)
    {
        // Each directed edge may occur once, and then its opposite must too: that is closed, oriented and two-sided at once.
        var edges = new long[triangles.Length];
        for (int t = 0; t < triangles.Length; t += 3)
        {
            for (int k = 0; k < 3; k++)
                edges[t + k] = Directed(triangles[t + k], triangles[t + (k + 1) % 3]);
        }

        Array.Sort(edges);
        for (int e = 1; e < edges.Length; e++)
        {
            if (edges[e] == edges[e - 1])
                return $"{Edge(edges[e])} is used twice in the same direction";
        }

        foreach (long edge in edges)
        {
            if (Array.BinarySearch(edges, Directed((int)edge, (int)(edge >> 32))) < 0)
                return $"{Edge(edge)} has a triangle on one side only";
        }

        return null;
    }

    private static long Directed(int from, int to) => ((long)from << 32) | (uint)to;

    private static string Edge(long directed) => $"the edge from point {(int)(directed >> 32)} to point {(int)directed}";

    private static string? Inward(ReadOnlySpan<double> points, ReadOnlySpan<int> triangles) =>
        VolumeMm3(points, triangles) > 0 ? null : "the triangles face inward: the enclosed volume is not positive";

    /// <summary>Enclosed volume in mm³ by the divergence theorem, reckoned from the first point so that a part far from the origin loses no digits.</summary>
    public static double VolumeMm3(ReadOnlySpan<double> points, ReadOnlySpan<int> triangles)
    {
        double six = 0, ox = points[0], oy = points[1], oz = points[2];
        for (int t = 0; t < triangles.Length; t += 3)
        {
            int a = triangles[t];
            var (nx, ny, nz) = Normal(points, a, triangles[t + 1], triangles[t + 2]);
            six += (points[3 * a] - ox) * nx + (points[3 * a + 1] - oy) * ny + (points[3 * a + 2] - oz) * nz;
        }

        return six / 6;
    }
}
