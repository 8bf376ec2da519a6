using CsCheck;
using Sparewright.Solid;
using Sparewright.Strength.Grid;
using Xunit;

namespace Sparewright.Strength.Tests.Grid;

public sealed class CutCellsTests
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    /// <summary>Four Gauss points, exact to degree 7 (from memory).</summary>
    private static readonly (double At, double Weight)[] Gauss = [.. new[] { (0.8611363115940526, 0.3478548451374538), (0.3399810435848563, 0.6521451548625461) }.SelectMany(g => new[] { g, (-g.Item1, g.Item2) })];

    private static VoxelGrid Grid(Mesh mesh, double cellMm = 1) => VoxelGrid.Over(mesh, GridFrame.Job, cellMm, Cancel);

    private static float[] Moments(VoxelGrid grid, int i, int j, int k) => grid.Cut.Moments(grid.Cut.Find((k * grid.NY + j) * grid.NX + i)).ToArray();

    private static double[] Cell(Func<int, int, int, double> moment) => [.. Enumerable.Range(0, CutCells.PerCell).Select(m => moment(m % 3, m / 3 % 3, m / 9))];

    private static void AreAlike(double[] expected, float[] found)
    {
        for (int m = 0; m < CutCells.PerCell; m++) Assert.Equal(expected[m], found[m], 1e-7);
    }

    /// <summary>½ ∫ xⁿ from −1 to where the share of the edge ends.</summary>
    private static double Line(int power, double share) => (Math.Pow(2 * share - 1, power + 1) - Math.Pow(-1, power + 1)) / (2 * (power + 1));

    [Fact]
    public void The_end_of_a_box_by_products_of_lines()
    {
        VoxelGrid grid = Grid(Shapes.Box(2.25, 1.5, 1.75));
        // Upright walls and their edge, a level face, its edges and the corner; whole cells are not among them.
        foreach (var (i, j, k) in new[] { (2, 0, 0), (0, 1, 0), (2, 1, 0), (0, 0, 1), (2, 0, 1), (1, 1, 1), (2, 1, 1) })
            AreAlike(Cell((a, b, c) => Line(a, i == 2 ? 0.25 : 1) * Line(b, j == 1 ? 0.5 : 1) * Line(c, k == 1 ? 0.75 : 1)), Moments(grid, i, j, k));
        Assert.True(grid.Cut.Find(0) < 0);
        Assert.Equal(3 * 2 * 2 - 2, grid.Cut.Count);
    }

    /// <summary>The solid lies beneath a slanted plane, on it or beside it: along one axis a polynomial to its limit, across it Gauss' rule on both sides of where the plane enters the cell.</summary>
    [Fact]
    public void A_slanted_plane_by_a_line_integral() =>
        Gen.Select(Gen.Double[-0.9, 0.9], Gen.Double[0.2, 0.9], Gen.Int[0, 5]).Sample((slope, level, turn) =>
        {
            // One cell in the middle of a prism with z ≤ 1 + level + slope (x − 1.5): in that cell ζ ≤ 2 level − 1 + slope ξ.
            double Top(double x) => 1 + level + slope * (x - 1.5);
            Mesh mesh = Shapes.Strip([(0, 0), (3, 0)], [(0, Top(0)), (3, Top(3))], closed: false, 0, 3);
            Point3 Turned(Point3 p) => turn switch
            {
                0 => p,
                1 => new(p.Y, p.X, p.Z),
                2 => new(p.X, p.Z, p.Y),
                3 => new(p.Z, p.Y, p.X),
                4 => new(p.Y, p.Z, p.X),
                _ => new(p.Z, p.X, p.Y),
            };
            Mesh moved = Outward(Shapes.Moved(mesh, Turned));
            var grid = VoxelGrid.Over(moved, GridFrame.Job, default, 1, 4, 4, 4, Cancel);
            double[] cuts = [-1, .. new[] { (-2 * level) / slope, (2 - 2 * level) / slope }.Where(x => x is > -1 and < 1).Order(), 1];
            double Expected(int a, int b, int c)
            {
                double sum = 0;
                for (int part = 0; part + 1 < cuts.Length; part++)
                    foreach (var (at, weight) in Gauss)
                    {
                        double half = (cuts[part + 1] - cuts[part]) / 2, x = cuts[part] + half * (1 + at), end = Math.Clamp(2 * level - 1 + slope * x, -1, 1);
                        sum += half * weight * Math.Pow(x, a) * (Math.Pow(end, b + 1) - Math.Pow(-1, b + 1)) / (b + 1);
                    }

                return sum / 4 * Line(c, 1);
            }

            if (Expected(0, 0, 0) is < 1.01 * VoxelGrid.LeastShare or > 0.999) return;
            // Which powers x, y and z have in the cell of the turned body.
            double[] expected = Cell((a, b, c) => turn switch
            {
                0 => Expected(a, b, c),
                1 => Expected(b, a, c),
                2 => Expected(a, c, b),
                3 => Expected(c, b, a),
                4 => Expected(c, a, b),
                _ => Expected(b, c, a),
            });
            AreAlike(expected, Moments(grid, 1, 1, 1));
        }, iter: 200);

    private static Mesh Outward(Mesh mesh)
    {
        int[] turned = [.. mesh.Triangles];
        for (int t = 0; mesh.VolumeMm3() < 0 && t < turned.Length; t += 3) (turned[t + 1], turned[t + 2]) = (turned[t + 2], turned[t + 1]);
        return mesh with { Triangles = turned };
    }

    private static readonly Gen<(Mesh Mesh, double CellMm)> Turned = Gen.Select(Gen.Int[0, 3], Gen.Double[-1, 1].Array[3], Gen.Double[0, 6], Gen.Double[0.31, 1.3]).Select((shape, d, angle, cellMm) =>
    {
        Mesh mesh = shape switch { 0 => Shapes.Sphere(4, 24), 1 => Shapes.Ring(2, 5, 6, 40), 2 => Shapes.Box(7, 5, 3), _ => Shapes.PlateWithHole(12, 9, 2.3, 2, 24) };
        Point3 axis = new(d[0], d[1], d[2] + 2);
        axis *= 1 / axis.Length;
        return (Shapes.Moved(mesh, p => p * Math.Cos(angle) + Point3.Cross(axis, p) * Math.Sin(angle) + axis * (Point3.Dot(axis, p) * (1 - Math.Cos(angle))) + new Point3(d[1], d[2], d[0])), cellMm);
    });

    /// <summary>Volume, first and second moments of the body are the sums over its cells, up to those cells that hold too little: volume left out times the greatest that its integrand has.</summary>
    [Fact]
    public void The_cells_add_up_to_the_body() => Turned.Sample(body =>
    {
        VoxelGrid grid = Grid(body.Mesh, body.CellMm);
        double half = grid.CellMm / 2, left = grid.VolumeMm3, most = 0;
        var found = new double[10];
        for (int k = 0; k < grid.NZ; k++)
            for (int j = 0; j < grid.NY; j++)
                for (int i = 0; i < grid.NX; i++)
                {
                    if (grid.Share(i, j, k) == 0) continue;
                    int at = grid.Cut.Find((k * grid.NY + j) * grid.NX + i);
                    double[] m = at < 0 ? Cell((a, b, c) => Line(a, 1) * Line(b, 1) * Line(c, 1)) : [.. grid.Cut.Moments(at).ToArray().Select(x => (double)x)];
                    Assert.Equal(grid.Share(i, j, k), m[0], 1e-7);
                    left -= 8 * half * half * half * m[0];
                    Point3 middle = grid.PointOf(i + 0.5, j + 0.5, k + 0.5);
                    most = Math.Max(most, middle.Length + 2 * half);
                    double[] centre = [middle.X, middle.Y, middle.Z];
                    int[] one = [1, 3, 9];
                    double cell = 8 * half * half * half;
                    found[0] += cell * m[0];
                    for (int p = 0; p < 3; p++)
                    {
                        found[1 + p] += cell * (centre[p] * m[0] + half * m[one[p]]);
                        for (int q = p; q < 3; q++)
                            found[3 + p + q + (p > 0 ? 1 : 0)] += cell * (centre[p] * centre[q] * m[0] + half * (centre[p] * m[one[q]] + centre[q] * m[one[p]]) + half * half * m[one[p] + one[q]]);
                    }
                }

        double[] expected = OfTetrahedra(body.Mesh);
        for (int n = 0; n < 10; n++) Assert.InRange(found[n] - expected[n], -(left + 1e-6 * grid.VolumeMm3) * Math.Max(1, most * most), (left + 1e-6 * grid.VolumeMm3) * Math.Max(1, most * most));
        Assert.InRange(left, -1e-6 * grid.VolumeMm3, VoxelGrid.LeastShare * grid.CellMm * grid.CellMm * grid.CellMm * 6 * grid.NX * grid.NY);
    }, iter: 40);

    /// <summary>∫ 1, x, y, z, xx, xy, xz, yy, yz, zz by the closed forms of the tetrahedra between the origin and the triangles.</summary>
    private static double[] OfTetrahedra(Mesh mesh)
    {
        var sums = new double[10];
        for (int t = 0; t < mesh.TriangleCount; t++)
        {
            Point3[] p = [.. Enumerable.Range(0, 3).Select(c => 3 * mesh.Triangles[3 * t + c]).Select(at => new Point3(mesh.Points[at], mesh.Points[at + 1], mesh.Points[at + 2]))];
            double volume = Point3.Dot(p[0], Point3.Cross(p[1], p[2])) / 6;
            double[][] x = [.. p.Select(q => new[] { q.X, q.Y, q.Z })];
            sums[0] += volume;
            for (int a = 0; a < 3; a++)
            {
                sums[1 + a] += volume * x.Sum(q => q[a]) / 4;
                for (int b = a; b < 3; b++) sums[3 + a + b + (a > 0 ? 1 : 0)] += volume * (x.Sum(q => q[a]) * x.Sum(q => q[b]) + x.Sum(q => q[a] * q[b])) / 20;
            }
        }

        return sums;
    }

    [Fact]
    public void A_body_in_another_cell_plane_order_is_the_same() => Turned.Sample(body =>
    {
        VoxelGrid grid = Grid(body.Mesh, body.CellMm), other = Grid(Shapes.Moved(body.Mesh, p => new(p.Y, p.Z, p.X)), body.CellMm);
        for (int n = 0; n < grid.Cut.Count; n++)
        {
            var (i, j, k) = grid.Cut.At(n);
            float[] m = grid.Cut.Moments(n).ToArray();
            if (m[0] < 1.001 * VoxelGrid.LeastShare) continue;
            AreAlike(Cell((a, b, c) => m[c + 3 * a + 9 * b]), Moments(other, j, k, i));
        }
    }, iter: 20);

    /// <summary>A surface with holes, doubled and turned triangles gives nothing that no body could have; triangles without area give nothing.</summary>
    [Fact]
    public void A_damaged_surface_gives_possible_moments() => Gen.Select(Turned, Gen.Int[0, 200].Array[4]).Sample((body, at) =>
    {
        int[] triangles = body.Mesh.Triangles;
        int count = triangles.Length / 3;
        int[] damaged = [.. triangles.Where((_, n) => n / 3 != at[0] % count && n / 3 != at[1] % count), .. triangles.AsSpan(3 * (at[2] % count), 3), triangles[0], triangles[2], triangles[1]];
        VoxelGrid grid = Grid(body.Mesh with { Triangles = damaged, FaceOfTriangle = new int[damaged.Length / 3] }, body.CellMm);
        for (int n = 0; n < grid.Cut.Count; n++) AssertPossible(grid.Cut.Moments(n));

        int[] flat = [.. triangles, triangles[0], triangles[0], triangles[1], triangles[1], triangles[2], triangles[1]];
        VoxelGrid whole = Grid(body.Mesh, body.CellMm), same = Grid(body.Mesh with { Triangles = flat, FaceOfTriangle = new int[flat.Length / 3] }, body.CellMm);
        Assert.Equal(whole.Cut.Cells.ToArray(), same.Cut.Cells.ToArray());
        for (int n = 0; n < whole.Cut.Count; n++) AreAlike([.. whole.Cut.Moments(n).ToArray().Select(m => (double)m)], same.Cut.Moments(n).ToArray());
    }, iter: 30);

    /// <summary>No sum of the products that strains hold has a square with an integral below nothing: the least eigenvalue by shifted powers.</summary>
    private static void AssertPossible(ReadOnlySpan<float> m)
    {
        int[] products = [0, 1, 3, 9, 4, 10, 12];
        double trace = 0;
        foreach (int p in products) trace += m[2 * p];
        double[] v = [.. products.Select((_, n) => Math.Cos(n * n))];
        double least = 0;
        for (int round = 0; round < 400; round++)
        {
            var w = new double[7];
            for (int r = 0; r < 7; r++)
            {
                w[r] = trace * v[r];
                for (int c = 0; c < 7; c++) w[r] -= m[products[r] + products[c]] * v[c];
            }

            double length = Math.Sqrt(w.Sum(x => x * x));
            least = trace - length / Math.Sqrt(v.Sum(x => x * x));
            for (int n = 0; n < 7; n++) v[n] = w[n] / length;
        }

        Assert.InRange(m[0], VoxelGrid.LeastShare * 0.999, 1);
        Assert.InRange(least, -1e-7, 1);
    }

    /// <summary>A film and a thread far thinner than the cell, whose bending single precision cannot hold, are filled evenly.</summary>
    [Fact]
    public void What_single_precision_cannot_hold_is_filled_evenly()
    {
        var m = new double[CutCells.PerCell];
        double film = 1e-4;
        Cell((a, b, c) => Line(a, 1) * Line(b, 1) * Line(c, film)).CopyTo(m, 0);
        CutCells.MakePossible(m);
        AreAlike(Cell((a, b, c) => film * Line(a, 1) * Line(b, 1) * Line(c, 1)), [.. m.Select(x => (float)x)]);
        Cell((a, b, c) => Line(a, 1) * Line(b, 1) * Line(c, 0.01)).CopyTo(m, 0);
        CutCells.MakePossible(m);
        AreAlike(Cell((a, b, c) => Line(a, 1) * Line(b, 1) * Line(c, 0.01)), [.. m.Select(x => (float)x)]);
    }

    [Fact]
    public void Specks_take_their_cells_with_them()
    {
        Mesh ball = Shapes.Sphere(4, 24), speck = Shapes.Sphere(0.35, 12, new(9, 0, 0));
        var both = new Mesh([.. ball.Points, .. speck.Points], [.. ball.Triangles, .. speck.Triangles.Select(t => t + ball.PointCount)], new int[ball.TriangleCount + speck.TriangleCount], 0);
        VoxelGrid grid = Grid(both), without = grid.WithoutSpecks(), alone = Grid(ball);
        Assert.True(without.Cut.Count < grid.Cut.Count);
        Assert.Equal(alone.Cut.Count, without.Cut.Count);
        for (int n = 0; n < without.Cut.Count; n++)
        {
            var (i, j, k) = without.Cut.At(n);
            Assert.Equal(Moments(grid, i, j, k), without.Cut.Moments(n).ToArray());
            Assert.True(without.Share(i, j, k) is > 0 and < 1);
        }
    }
}
