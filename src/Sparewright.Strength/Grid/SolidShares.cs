using Sparewright.Solid;

namespace Sparewright.Strength.Grid;

/// <summary>
/// How much of each cell is solid, and its moments where that is not all of it, exactly for the triangles given. Each triangle is cut along the cell planes; by the divergence theorem a piece gives
/// its own cell what lies beneath it there and every cell below it what lies beneath its shadow.
/// </summary>
internal static class SolidShares
{
    /// <summary>Of each cell, x fastest, with what is too small left out.</summary>
    /// <param name="Cells">The whole volume in cells.</param>
    public readonly record struct Result(float[] Shares, CutCells Cut, double Cells);

    /// <param name="points">The mesh's points in units of cells from the grid's lowest corner.</param>
    public static Result Of(Mesh mesh, Point3[] points, int nx, int ny, int nz, CancellationToken cancel)
    {
        int[][] inRow = TrianglesOfRows(mesh, points, ny);
        var shares = new float[nx * ny * nz];
        var volumes = new double[ny];
        var cut = new CutOfRow[ny];
        var options = new ParallelOptions { CancellationToken = cancel };
        // One cell more in each column holds what lies above the window: of that only the shadow counts.
        Parallel.For(0, ny, options, () => new MomentSums(nx * (nz + 1)), (j, _, sums) =>
        {
            SurfacePieces.Piece add = (i, _, k, piece) =>
            {
                if ((uint)i < (uint)nx && k >= 0) sums.Add(Math.Min(k, nz) * nx + i, new(i, j, Math.Min(k, nz)), piece);
            };
            foreach (int t in inRow[j])
            {
                Point3 a = points[mesh.Triangles[3 * t]], b = points[mesh.Triangles[3 * t + 1]], c = points[mesh.Triangles[3 * t + 2]];
                Point3 normal = Point3.Cross(b - a, c - a);
                // A wall that stands upright covers nothing seen from above.
                if (normal.Z == 0) continue;
                SurfacePieces.Of(a, b, c, normal * (-1e-3 / normal.Length), j, j, add);
            }

            cut[j] = new(nz);
            volumes[j] = Row(sums, cut[j], shares, j, nx, ny, nz);
            sums.Clear();
            return sums;
        }, _ => { });
        return new(shares, Gathered(cut, nx, ny, nz, options), volumes.Sum());
    }

    /// <summary>From the top down: the cells of a row from their pieces and the shadows of all above. Returns the row's volume in cells.</summary>
    private static double Row(MomentSums sums, CutOfRow cut, float[] shares, int j, int nx, int ny, int nz)
    {
        var shadows = new double[9 * nx];
        Span<double> m = stackalloc double[CutCells.PerCell];
        double volume = 0;
        for (int k = nz; k >= 0; k--)
        {
            for (int i = 0; i < nx; i++)
            {
                Span<double> shadow = shadows.AsSpan(9 * i, 9);
                ReadOnlySpan<double> own = sums.Of(k * nx + i);
                if (k < nz && (own.Length > 0 || shadow[0] != 0))
                {
                    double share = ((own.Length > 0 ? own[1] : 0) + 2 * shadow[0]) / 8;
                    volume += share;
                    if (share > 1 - 1e-9)
                    {
                        shares[(k * ny + j) * nx + i] = 1;
                    }
                    else if (share >= VoxelGrid.LeastShare)
                    {
                        shares[(k * ny + j) * nx + i] = (float)share;
                        for (int ab = 0; ab < 9; ab++)
                            (m[ab], m[ab + 9], m[ab + 18]) = own.Length > 0
                                ? ((own[4 * ab + 1] + 2 * shadow[ab]) / 8, own[4 * ab + 2] / 8, (own[4 * ab + 3] + shadow[ab] * 2 / 3) / 8)
                                : (shadow[ab] / 4, 0, shadow[ab] / 12);
                        CutCells.MakePossible(m);
                        cut.Add(i, k, m);
                    }
                }

                for (int ab = 0; own.Length > 0 && ab < 9; ab++) shadow[ab] += own[4 * ab];
            }
        }

        return volume;
    }

    /// <summary>The cut cells of one row, from the top down.</summary>
    private sealed class CutOfRow(int nz)
    {
        public List<int> Columns { get; } = [];

        public List<float> Moments { get; } = [];

        public int[] InLayer { get; } = new int[nz];

        public void Add(int i, int k, ReadOnlySpan<double> moments)
        {
            InLayer[k]++;
            Columns.Add(i);
            Span<float> single = stackalloc float[CutCells.PerCell];
            for (int n = 0; n < single.Length; n++) single[n] = (float)moments[n];
            Moments.AddRange((ReadOnlySpan<float>)single);
        }
    }

    private static CutCells Gathered(CutOfRow[] rows, int nx, int ny, int nz, ParallelOptions options)
    {
        var starts = new int[ny * nz];
        int count = 0;
        for (int k = 0; k < nz; k++)
            for (int j = 0; j < ny; j++)
            {
                starts[j * nz + k] = count;
                count += rows[j].InLayer[k];
            }

        var cells = new int[count];
        var moments = new float[count * CutCells.PerCell];
        Parallel.For(0, ny, options, j =>
        {
            int from = 0;
            for (int k = nz - 1; k >= 0; k--)
            {
                int n = rows[j].InLayer[k], to = starts[j * nz + k];
                for (int c = 0; c < n; c++) cells[to + c] = (k * ny + j) * nx + rows[j].Columns[from + c];
                rows[j].Moments.CopyTo(from * CutCells.PerCell, moments, to * CutCells.PerCell, n * CutCells.PerCell);
                from += n;
            }
        });
        return new(nx, ny, cells, moments);
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
