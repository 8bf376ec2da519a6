using CsCheck;
using Sparewright.Solid;
using Sparewright.Strength.Grid;
using Sparewright.Strength.Solve;
using Sparewright.Strength.Stresses;
using Xunit;

namespace Sparewright.Strength.Tests.Stresses;

public sealed class StressesTests(ITestOutputHelper output)
{
    private static readonly LayeredStiffness Plastic = LayeredStiffness.Isotropic(2300, 0.35);

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    /// <summary>A plate 40 × 12 × 1.6 with a hole of 4, pulled along x at one end with 1 MPa, held at the other.</summary>
    private static (Mesh Mesh, Loading Loading) Plate(double cellMm)
    {
        Mesh mesh = Shapes.PlateWithHole(40, 12, 1.6, 2, 96);
        VoxelGrid grid = VoxelGrid.Over(mesh, GridFrame.Job, cellMm, Cancel);
        var loading = new Loading(grid);
        Surfaces.Hold(loading, mesh, t => IsEnd(mesh, t, -20), Plastic);
        Surfaces.Push(loading, mesh, t => IsEnd(mesh, t, 20), (_, _) => new(1, 0, 0));
        return (mesh, loading);
    }

    private static bool IsEnd(Mesh mesh, int t, double x) => Enumerable.Range(0, 3).All(c => Math.Abs(mesh.Points[3 * mesh.Triangles[3 * t + c]] - x) < 1e-9);

    private static double Peak(Solution s) => SurfaceStress.At(s, new(0, 2, 0.8), new(0, -1, 0))!.Value.XX;

    /// <summary>
    /// Ten cells across the hole in the whole part, forty in a window about it: the window must find what a grid that is fine everywhere finds, at a fraction of the unknowns.
    /// </summary>
    [Fact]
    public void A_window_of_finer_cells_finds_what_a_fine_grid_finds()
    {
        var (mesh, coarseLoading) = Plate(0.4);
        Solution coarse = Statics.Solve(Plastic, coarseLoading, cancel: Cancel);
        Solution fine = Statics.Solve(Plastic, Plate(0.1).Loading, cancel: Cancel);
        Solution window = Statics.Solve(Plastic, SubModel.Around(coarse, mesh, new(0, 2, 0.8), 3.2, 0.1, Cancel), cancel: Cancel);
        output.WriteLine($"whole {coarse.Unknowns}: {Peak(coarse):0.000}; fine {fine.Unknowns}: {Peak(fine):0.000}; window {window.Unknowns}, {window.Iterations} iterations: {Peak(window):0.000}");
        Assert.InRange(Peak(coarse) / Peak(fine), 0.9, 1.1);
        Assert.InRange(Peak(window) / Peak(fine), 0.98, 1.02);
        Assert.True(window.Unknowns < 0.4 * fine.Unknowns);
    }

    /// <summary>A part that ends within the window is free there: only what the window cuts is moved.</summary>
    [Fact]
    public void A_window_holds_only_what_it_cuts()
    {
        var (mesh, loading) = Plate(0.4);
        Solution whole = Statics.Solve(Plastic, loading, cancel: Cancel);
        Loading window = SubModel.Around(whole, mesh, new(0, 2, 0.8), 3, 0.2, Cancel);
        Assert.NotEmpty(window.Fixed);
        foreach (var ((corner, _), _) in window.Fixed)
        {
            var (i, j, k) = window.Grid.CornerAt(corner);
            Point3 p = window.Grid.PointOf(i, j, k);
            Assert.True(i == 0 || i == window.Grid.NX || j == 0 || j == window.Grid.NY && p.Y < 6 - 1e-9, $"{p} is held");
        }
    }

    /// <summary>A plate in uniform tension is met exactly by the bricks: so must be its recovered surface stress, wherever asked.</summary>
    [Fact]
    public void Uniform_stress_is_recovered_as_it_is()
    {
        VoxelGrid grid = VoxelGrid.OfShares(16, 10, 8, 0.5, (_, _, _) => 1);
        var loading = new Loading(grid);
        for (int k = 0; k <= 8; k++)
            for (int j = 0; j <= 10; j++)
            {
                loading.Fix(grid.Corner(0, j, k), 0);
                loading.Fix(grid.Corner(16, j, k), 0, 8 * 1e-3);
            }

        for (int i = 0; i <= 16; i++)
        {
            for (int k = 0; k <= 8; k++) loading.Fix(grid.Corner(i, 0, k), 1);
            for (int j = 0; j <= 10; j++) loading.Fix(grid.Corner(i, j, 0), 2);
        }

        Solution s = Statics.Solve(Plastic, loading, new(1e-12), cancel: Cancel);
        foreach (var (at, outward) in new[] { (new Point3(3, 5, 2), new Point3(0, 1, 0)), (new(4, 2, 4), new(0, 0, 1)), (new(4, 5, 4), new Point3(0, 1, 1) * Math.Sqrt(0.5)) })
        {
            Stress found = SurfaceStress.At(s, at, outward)!.Value;
            Assert.Equal(2.3, found.XX, 1e-6);
            Assert.Equal(0, found.VonMises - 2.3, 1e-6);
        }
    }

    /// <summary>Free, or under a traction that is known, a surface keeps its strains along it and bears what acts on it, also of a layered material whichever way it faces.</summary>
    [Fact]
    public void A_surface_with_its_traction_keeps_the_strains_along_it() => Gen.Double[-1, 1].Array[12].Sample(v =>
    {
        var n = new Point3(v[6], v[7], v[8]);
        if (n.Length < 0.1) return;
        n *= 1 / n.Length;
        LayeredStiffness layered = new(2400, 1700, 0.36, 0.3, 620);
        Stress before = layered.StressOf(v[0], v[1], v[2], v[3], v[4], v[5]);
        Point3 traction = new Point3(v[9], v[10], v[11]) * 1000;
        Stress after = SurfaceStress.WithTraction(before, n, traction, layered);
        Point3 found = new(
            after.XX * n.X + after.XY * n.Y + after.XZ * n.Z, after.XY * n.X + after.YY * n.Y + after.YZ * n.Z, after.XZ * n.X + after.YZ * n.Y + after.ZZ * n.Z);
        Assert.Equal(0, (found - traction).Length, 1e-9 * (1000 + before.VonMises));
        // The compliance of such a material, written out.
        Stress change = after - before;
        double xx = (change.XX - 0.36 * change.YY) / 2400 - 0.3 * change.ZZ / 1700, yy = (change.YY - 0.36 * change.XX) / 2400 - 0.3 * change.ZZ / 1700;
        double zz = (change.ZZ - 0.3 * (change.XX + change.YY)) / 1700, yz = change.YZ / 620, xz = change.XZ / 620, xy = change.XY / layered.ShearInLayerMPa;
        Point3 s = Point3.Cross(n, Math.Abs(n.X) < 0.6 ? new(1, 0, 0) : new Point3(0, 1, 0));
        s *= 1 / s.Length;
        Point3 t = Point3.Cross(n, s);
        double Along(Point3 a, Point3 b) => xx * a.X * b.X + yy * a.Y * b.Y + zz * a.Z * b.Z
            + (yz * (a.Y * b.Z + a.Z * b.Y) + xz * (a.X * b.Z + a.Z * b.X) + xy * (a.X * b.Y + a.Y * b.X)) / 2;
        foreach (double strain in new[] { Along(s, s), Along(t, t), Along(s, t) }) Assert.Equal(0, strain, 1e-9);
    });

    [Fact]
    public void A_wall_too_thin_for_the_patch_is_not_told_a_stress()
    {
        VoxelGrid grid = VoxelGrid.OfShares(12, 1, 1, 1, (_, _, _) => 1);
        var loading = new Loading(grid);
        for (int c = 0; c < 4; c++)
        {
            loading.Fix(grid.Corner(0, c & 1, c >> 1));
            loading.Push(grid.Corner(12, c & 1, c >> 1), new(1, 0, 0));
        }

        Solution s = Statics.Solve(Plastic, loading, cancel: Cancel);
        Assert.Null(SurfaceStress.At(s, new(6, 1, 0.5), new(0, 1, 0)));
    }

    [Fact]
    public void What_is_taken_away_at_a_free_surface_is_its_traction() => Gen.Double[-1, 1].Array[9].Sample(v =>
    {
        var n = new Point3(v[6], v[7], v[8]);
        if (n.Length < 0.1) return;
        n *= 1 / n.Length;
        Stress left = SurfaceStress.WithoutTraction(new(v[0], v[1], v[2], v[3], v[4], v[5]), n);
        Assert.Equal(0, left.XX * n.X + left.XY * n.Y + left.XZ * n.Z, 1e-12);
        Assert.Equal(0, left.XY * n.X + left.YY * n.Y + left.YZ * n.Z, 1e-12);
        Assert.Equal(0, left.XZ * n.X + left.YZ * n.Y + left.ZZ * n.Z, 1e-12);
        Stress again = SurfaceStress.WithoutTraction(left, n);
        Assert.Equal(left.XX, again.XX, 1e-12);
        Assert.Equal(left.YZ, again.YZ, 1e-12);
    });

    [Theory]
    [InlineData(5, 0.5, Resolution.NotResolved)]
    [InlineData(6, 0.5, Resolution.Coarse)]
    [InlineData(11.9, 0.5, Resolution.Coarse)]
    [InlineData(12, 0.5, Resolution.Resolved)]
    public void Holes_need_cells_across_them(double diameterMm, double cellMm, Resolution expected) => Assert.Equal(expected, Resolutions.Of(diameterMm, cellMm));

    [Fact]
    public void Two_grids_tell_how_far_off_they_may_be()
    {
        // First order: f(h) = 3 + h; from h = 1 and h = 0.5 the rest is 0.5.
        TwoGridValue v = TwoGridValue.Of(3.5, 4, 2);
        Assert.Equal(0.5, v.Error);
        Assert.Throws<ArgumentException>(() => TwoGridValue.Of(1, 2, 1));
    }
}
