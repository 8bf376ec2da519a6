namespace Sparewright.Solid;

/// <summary>
/// A closed surface of triangles, corners counter-clockwise seen from outside, welded by topology; coordinates in mm.
/// </summary>
/// <param name="Points">x, y, z of each point, one after another.</param>
/// <param name="Triangles">Three point indices for each triangle.</param>
/// <param name="FaceOfTriangle">Index into the solid's face table for each triangle.</param>
/// <param name="WorstChordMm">The largest distance found between the exact surface and a triangle.</param>
public sealed record Mesh(double[] Points, int[] Triangles, int[] FaceOfTriangle, double WorstChordMm)
{
    public int PointCount => Points.Length / 3;

    public int TriangleCount => Triangles.Length / 3;

    /// <summary>Enclosed volume in mm³ by the divergence theorem; negative if the triangles face inward.</summary>
    public double VolumeMm3()
    {
        double six = 0;
        for (int t = 0; t < Triangles.Length; t += 3)
        {
            var a = Points.AsSpan(3 * Triangles[t], 3);
            var b = Points.AsSpan(3 * Triangles[t + 1], 3);
            var c = Points.AsSpan(3 * Triangles[t + 2], 3);
            six += a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) + a[2] * (b[0] * c[1] - b[1] * c[0]);
        }

        return six / 6;
    }
}
