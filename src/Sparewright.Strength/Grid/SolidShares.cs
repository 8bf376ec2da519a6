using Sparewright.Solid;

namespace Sparewright.Strength.Grid;

/// <summary>
/// How much of each cell is solid, exactly for the triangles given. Each triangle is cut along the cell planes; by the divergence theorem a piece with area A_z seen from above
/// gives its own cell ∫(z − floor) dA_z and every cell below it its A_z.
/// </summary>
internal static class SolidShares
{
    /// <param name="points">The mesh's points in units of cells from the grid's lowest corner.</param>
    /// <returns>The share of each cell, x fastest, with what is too small left out, and the whole volume in cells.</returns>
    public static (float[] Shares, double Cells) Of(Mesh mesh, Point3[] points, int nx, int ny, int nz, CancellationToken cancel)
    {
        int[][] inRow = TrianglesOfRows(mesh, points, ny);
        var shares = new float[nx * ny * nz];
        var volumes = new double[ny];
        Parallel.For(0, ny, new ParallelOptions { CancellationToken = cancel }, j =>
        {
            var own = new double[nx * nz];
            var below = new double[nx * nz];
            SurfacePieces.Piece add = Add;
            foreach (int t in inRow[j])
            {
                Point3 a = points[mesh.Triangles[3 * t]], b = points[mesh.Triangles[3 * t + 1]], c = points[mesh.Triangles[3 * t + 2]];
                Point3 normal = Point3.Cross(b - a, c - a);
                // A wall that stands upright covers nothing seen from above.
                if (normal.Z == 0) continue;
                SurfacePieces.Of(a, b, c, normal * (-1e-3 / normal.Length), j, j, add);
            }

            double volume = 0;
            for (int i = 0; i < nx; i++)
            {
                double above = 0;
                for (int k = nz - 1; k >= 0; k--)
                {
                    double share = own[k * nx + i] + above;
                    above += below[k * nx + i];
                    volume += share;
                    shares[(k * ny + j) * nx + i] = (float)(share < VoxelGrid.LeastShare ? 0 : share > 1 - 1e-9 ? 1 : share);
                }
            }

            volumes[j] = volume;

            void Add(int i, int _, int k, ReadOnlySpan<Point3> piece)
            {
                if ((uint)i >= (uint)nx || k < 0) return;
                int cell = Math.Min(k, nz - 1) * nx + i;
                double area = 0, moment = 0;
                for (int p = 1; p + 1 < piece.Length; p++)
                {
                    Point3 u = piece[p] - piece[0], v = piece[p + 1] - piece[0];
                    double part = (u.X * v.Y - u.Y * v.X) / 2;
                    area += part;
                    moment += part * ((piece[0].Z + piece[p].Z + piece[p + 1].Z) / 3 - k);
                }

                // Above the window only the shadow counts.
                own[cell] += k < nz ? moment : area;
                below[cell] += area;
            }
        });
        return (shares, volumes.Sum());
    }

    private static int[][] TrianglesOfRows(Mesh mesh, Point3[] points, int ny)
    {
        var rows = new List<int>[ny];
        for (int j = 0; j < ny; j++) rows[j] = [];
        for (int t = 0; t < mesh.TriangleCount; t++)
        {
            double a = points[mesh.Triangles[3 * t]].Y, b = points[mesh.Triangles[3 * t + 1]].Y, c = points[mesh.Triangles[3 * t + 2]].Y;
            int last = Math.Min(ny - 1, (int)Math.Floor(Math.Max(a, Math.Max(b, c))));
            for (int j = Math.Max(0, (int)Math.Floor(Math.Min(a, Math.Min(b, c)))); j <= last; j++) rows[j].Add(t);
        }

        return [.. rows.Select(r => r.ToArray())];
    }
}
