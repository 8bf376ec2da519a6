using Sparewright.Remake.Live;
using Sparewright.Solid;

namespace Sparewright.Bench;

/// <summary>A closed mesh of any size that is no real part: a ball of 30 mm with bumps, cut into a hundred faces by its meridians.</summary>
internal static class BumpyBall
{
    private const int Faces = 100;

    /// <summary>As browsers get meshes.</summary>
    /// <param name="triangles">About how many.</param>
    public static byte[] Bytes(int triangles)
    {
        int rings = (int)Math.Sqrt(triangles / 4.0), around = 2 * rings;
        var points = new List<double> { 0, 0, -30 };
        for (int ring = 1; ring < rings; ring++)
            for (int k = 0; k < around; k++)
            {
                double polar = Math.PI * ring / rings, angle = 2 * Math.PI * k / around, r = 30 + 1.5 * Math.Sin(9 * polar) * Math.Sin(12 * angle);
                points.AddRange([r * Math.Sin(polar) * Math.Cos(angle), r * Math.Sin(polar) * Math.Sin(angle), -r * Math.Cos(polar)]);
            }

        int top = points.Count / 3;
        points.AddRange([0, 0, 30]);
        var corners = new List<(int A, int B, int C, int Face)>();
        for (int k = 0; k < around; k++)
        {
            int next = (k + 1) % around, face = k * Faces / around;
            corners.Add((0, At(1, next), At(1, k), face));
            for (int ring = 1; ring < rings - 1; ring++)
            {
                corners.Add((At(ring, k), At(ring, next), At(ring + 1, next), face));
                corners.Add((At(ring, k), At(ring + 1, next), At(ring + 1, k), face));
            }

            corners.Add((At(rings - 1, k), At(rings - 1, next), top, face));
        }

        var other = new SolidFace([], SurfaceKind.Other, default, default, 0, 0, 0, false, 1, default, default, default);
        var mesh = new Mesh([.. points], [.. corners.SelectMany(c => new[] { c.A, c.B, c.C })], [.. corners.Select(c => c.Face)], 0);
        return DisplayMesh.Of(mesh, [.. Enumerable.Repeat(other, Faces)]).ToBytes();

        int At(int ring, int k) => 1 + (ring - 1) * around + k;
    }
}
