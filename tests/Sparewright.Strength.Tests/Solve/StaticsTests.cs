using CsCheck;
using Sparewright.Solid;
using Sparewright.Strength.Grid;
using Sparewright.Strength.Solve;
using Xunit;

namespace Sparewright.Strength.Tests.Solve;

/// <summary>What holds for every part, material and loading.</summary>
public sealed class StaticsTests
{
    private static readonly LayeredStiffness Layered = new(2400, 1700, 0.36, 0.3, 620);

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    /// <summary>A plate with a hole, held at one end and pulled, twisted and pushed at the other; its size and grid vary.</summary>
    private static (VoxelGrid Grid, Loading Loading) Plate(double length, double cellMm, Point3 force, GridFrame? frame = null)
    {
        Mesh mesh = Shapes.PlateWithHole(length, 8, 3.3, 2.1, 32);
        VoxelGrid grid = VoxelGrid.Over(mesh, frame ?? GridFrame.Job, cellMm, Cancel);
        var loading = new Loading(grid);
        for (int k = 0; k <= grid.NZ; k++)
            for (int j = 0; j <= grid.NY; j++)
                for (int i = 0; i <= grid.NX; i++)
                    if (grid.IsUsed(i, j, k) && grid.Frame.ToJob(grid.PointOf(i, j, k)).X < -length / 2 + 0.4 * cellMm) loading.Fix(grid.Corner(i, j, k));
        Surfaces.Push(loading, mesh, t => IsEnd(mesh, t, length / 2), (at, _) => grid.Frame.ToGrid(force) * (1 + 0.1 * Point3.Dot(grid.Frame.ToGrid(new(0, 1, 0)), at)));
        return (grid, loading);
    }

    private static bool IsEnd(Mesh mesh, int t, double x) => Enumerable.Range(0, 3).All(c => Math.Abs(mesh.Points[3 * mesh.Triangles[3 * t + c]] - x) < 1e-9);

    private static readonly Gen<(double Length, double Cell, double FX, double FY, double FZ)> Plates =
        Gen.Select(Gen.Double[11, 17], Gen.Double[0.45, 0.9], Gen.Double[-3, 3], Gen.Double[-3, 3], Gen.Double[0.5, 3]);

    [Fact]
    public void Reactions_balance_the_loads_and_energy_is_half_the_work() => Plates.Sample(p =>
    {
        var (_, loading) = Plate(p.Length, p.Cell, new(p.FX, p.FY, p.FZ));
        Solution s = Statics.Solve(Layered, loading, new(1e-10), cancel: Cancel);
        var (force, moment) = loading.Resultant;
        Point3 back = default, turn = default;
        foreach (var (corner, r) in s.Reactions)
        {
            var (i, j, k) = s.Grid.CornerAt(corner);
            back += r;
            turn += Point3.Cross(s.Grid.PointOf(i, j, k), r);
        }

        Assert.InRange((force + back).Length / force.Length, 0, 1e-8);
        Assert.InRange((moment + turn).Length / moment.Length, 0, 1e-8);
        Assert.Equal(s.WorkNmm / 2, s.EnergyNmm, 1e-8 * s.EnergyNmm);
    }, iter: 15);

    [Fact]
    public void Any_number_of_threads_gives_the_same_bits() => Plates.Sample(p =>
    {
        var (_, loading) = Plate(p.Length, p.Cell, new(p.FX, p.FY, p.FZ));
        Solution one = Statics.Solve(Layered, loading, new(Threads: 1), cancel: Cancel);
        foreach (int threads in (int[])[2, 3, 8])
            Assert.True(one.Raw.SequenceEqual(Statics.Solve(Layered, loading, new(Threads: threads), cancel: Cancel).Raw));
    }, iter: 5);

    [Fact]
    public void Twice_the_load_moves_exactly_twice_as_far() => Plates.Sample(p =>
    {
        Solution once = Statics.Solve(Layered, Plate(p.Length, p.Cell, new(p.FX, p.FY, p.FZ)).Loading, cancel: Cancel);
        Solution twice = Statics.Solve(Layered, Plate(p.Length, p.Cell, new(2 * p.FX, 2 * p.FY, 2 * p.FZ)).Loading, cancel: Cancel);
        Solution back = Statics.Solve(Layered, Plate(p.Length, p.Cell, new(-p.FX, -p.FY, -p.FZ)).Loading, cancel: Cancel);
        for (int n = 0; n < once.Raw.Length; n++)
        {
            Assert.Equal(2 * once.Raw[n], twice.Raw[n]);
            Assert.Equal(-once.Raw[n], back.Raw[n]);
        }
    }, iter: 5);

    /// <summary>A loading in whole cells, mirrored in x: shares and forces are mirrored exactly, so must be the movements, to the tolerance of the solution.</summary>
    [Fact]
    public void Mirrored_and_turned_shares_give_mirrored_and_turned_movements() => Gen.Int[0, 100000].Sample(seed =>
    {
        const int n = 9;
        var random = new Random(seed);
        var shares = new double[n, n, n];
        for (int c = 0; c < n * n * n; c++) shares[c % n, c / n % n, c / n / n] = 0.2 + 0.8 * random.NextDouble();
        Solution Solve(Func<(int, int, int), (int X, int Y, int Z)> from, Func<Point3, Point3> turn, Func<(int, int, int), (int I, int J, int K)> to)
        {
            VoxelGrid grid = VoxelGrid.OfShares(n, n, n, 1, (i, j, k) => { var (x, y, z) = from((i, j, k)); return shares[x, y, z]; });
            var loading = new Loading(grid);
            for (int a = 0; a <= n; a++)
                for (int b = 0; b <= n; b++)
                {
                    var (i, j, k) = to((a, b, 0));
                    loading.Fix(grid.Corner(i, j, k));
                }

            var (pi, pj, pk) = to((2, 3, n));
            loading.Push(grid.Corner(pi, pj, pk), turn(new(1, 2, 3)));
            return Statics.Solve(Layered, loading, new(1e-11), cancel: Cancel);
        }

        Solution plain = Solve(c => c, p => p, c => c);
        Solution mirrored = Solve(c => (n - 1 - c.Item1, c.Item2, c.Item3), p => p with { X = -p.X }, c => (n - c.Item1, c.Item2, c.Item3));
        // A quarter turn about z: (x, y) → (−y, x).
        Solution turned = Solve(c => (c.Item2, n - 1 - c.Item1, c.Item3), p => new(-p.Y, p.X, p.Z), c => (n - c.Item2, c.Item1, c.Item3));
        double scale = plain.At(2, 3, n).Length;
        for (int k = 0; k <= n; k += 3)
            for (int j = 0; j <= n; j += 3)
                for (int i = 0; i <= n; i += 3)
                {
                    Point3 u = plain.At(i, j, k), m = mirrored.At(n - i, j, k), t = turned.At(n - j, i, k);
                    Assert.InRange((m - u with { X = -u.X }).Length, 0, 1e-9 * scale);
                    Assert.InRange((t - new Point3(-u.Y, u.X, u.Z)).Length, 0, 1e-9 * scale);
                }
    }, iter: 6);

    [Fact]
    public void Surface_loads_keep_force_and_moment()
    {
        // Pressure 2 MPa on the end face of a plate 8 × 3.3 whose cells do not fit: 52.8 N in the middle of the face, 0 about it.
        Mesh mesh = Shapes.PlateWithHole(13, 8, 3.3, 2.1, 32);
        VoxelGrid grid = VoxelGrid.Over(mesh, GridFrame.Job, 0.7, Cancel);
        var loading = new Loading(grid);
        Point3 total = Surfaces.Push(loading, mesh, t => IsEnd(mesh, t, 6.5), (_, normal) => normal * -2);
        Assert.Equal(-52.8, total.X, 1e-10);
        var (force, moment) = loading.Resultant;
        Assert.Equal(-52.8, force.X, 1e-10);
        Assert.Equal(0, moment.X, 1e-9);
        Assert.Equal(-52.8 * 1.65, moment.Y, 1e-9);
        Assert.Equal(0, moment.Z, 1e-9);
    }

    [Fact]
    public void A_held_surface_hardly_moves_and_carries_the_load()
    {
        Mesh mesh = Shapes.PlateWithHole(13, 8, 3.3, 2.1, 32);
        VoxelGrid grid = VoxelGrid.Over(mesh, GridFrame.Job, 0.7, Cancel);
        var loading = new Loading(grid);
        double area = Surfaces.Hold(loading, mesh, t => mesh.FaceOfTriangle[t] == Shapes.Right, Layered);
        Assert.Equal(32 * 2 * 2.1 * Math.Sin(Math.PI / 32) * 3.3, area, 1.5);
        Surfaces.Push(loading, mesh, t => IsEnd(mesh, t, 6.5), (_, _) => new(1, 0, 0));
        Solution s = Statics.Solve(Layered, loading, new(1e-10), cancel: Cancel);
        Point3 held = s.SpringForces.Aggregate(default(Point3), (sum, f) => sum + f);
        Assert.Equal(-8 * 3.3, held.X, 1e-6);
        Assert.Equal(s.WorkNmm / 2, s.EnergyNmm, 1e-8 * s.EnergyNmm);
    }

    [Fact]
    public void A_part_that_is_not_held_is_not_solved()
    {
        VoxelGrid grid = VoxelGrid.OfShares(12, 6, 6, 1, (_, _, _) => 1);
        var loading = new Loading(grid);
        loading.Push(grid.Corner(12, 6, 6), new(0, 0, 1));
        Assert.Throws<NotConvergedException>(() => Statics.Solve(Layered, loading, cancel: Cancel));
    }

    [Fact]
    public void Cancelling_stops_it_and_progress_reaches_the_end()
    {
        var (_, loading) = Plate(14, 0.5, new(1, 0, 0));
        using var source = new CancellationTokenSource();
        var reports = new List<double>();
        Statics.Solve(Layered, loading, progress: new Reports(reports.Add), cancel: source.Token);
        Assert.Equal(1, reports[^1]);
        Assert.True(reports.Count > 3);
        Assert.ThrowsAny<OperationCanceledException>(() => Statics.Solve(Layered, loading, progress: new Reports(done => source.Cancel()), cancel: source.Token));
    }

    [Fact]
    public void The_memory_told_beforehand_is_enough() => Plates.Sample(p =>
    {
        var (grid, loading) = Plate(p.Length, p.Cell, new(1, 0, 0));
        Solution s = Statics.Solve(Layered, loading, cancel: Cancel);
        Assert.InRange(s.Bytes, 1, Statics.MostBytes(grid));
    }, iter: 4);

    private sealed class Reports(Action<double> take) : IProgress<double>
    {
        public void Report(double value) => take(value);
    }
}
