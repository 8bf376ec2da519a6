using Sparewright.Solid;
using Sparewright.Strength;
using Sparewright.Strength.Grid;
using Sparewright.Strength.Solve;
using Sparewright.Strength.Stresses;
using Sparewright.Strength.Tests;
using Xunit;

namespace Sparewright.Outside.Strength;

/// <summary>The solver against values of elasticity that this project did not make. Sources: collected checks, strength.md section 2, with the tag that each value bears there.</summary>
public sealed class Elasticity(ITestOutputHelper output)
{
    private static readonly LayeredStiffness Plastic = LayeredStiffness.Isotropic(2300, 0.35);

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    /// <summary>
    /// V1, patch test of MacNeal and Harder (MEMORY; exact by algebra): all surface corners move by u = 1e-3 (2x + y + z, x + 2y + z, x + y + 2z) / 2, so all strains are 1e-3;
    /// E 1e6, ν 0.25 give normal stress 2000 and shear 400. On an L and a U of whole cells, to 1e-12.
    /// </summary>
    [Theory]
    [InlineData(false, false)]
    [InlineData(true, false)]
    [InlineData(false, true)]
    [InlineData(true, true)]
    public void Patch_test(bool uShaped, bool layered)
    {
        LayeredStiffness material = layered ? new(2400, 1700, 0.36, 0.3, 620) : LayeredStiffness.Isotropic(1e6, 0.25);
        VoxelGrid grid = VoxelGrid.OfShares(9, 7, 6, 0.5, (i, j, _) => j < 3 || i < 3 || uShaped && i > 5 ? 1 : 0);
        var loading = new Loading(grid);
        for (int k = 0; k <= grid.NZ; k++)
            for (int j = 0; j <= grid.NY; j++)
                for (int i = 0; i <= grid.NX; i++)
                {
                    bool within = Enumerable.Range(0, 8).All(c => grid.Share(i - (c & 1), j - (c >> 1 & 1), k - (c >> 2)) > 0);
                    if (within) continue;
                    Point3 p = grid.PointOf(i, j, k);
                    loading.Fix(grid.Corner(i, j, k), 0, 0.5e-3 * (2 * p.X + p.Y + p.Z));
                    loading.Fix(grid.Corner(i, j, k), 1, 0.5e-3 * (p.X + 2 * p.Y + p.Z));
                    loading.Fix(grid.Corner(i, j, k), 2, 0.5e-3 * (p.X + p.Y + 2 * p.Z));
                }

        Solution s = Statics.Solve(material, loading, new(1e-14), cancel: Cancel);
        Stress expected = layered ? material.StressOf(1e-3, 1e-3, 1e-3, 1e-3, 1e-3, 1e-3) : new(2000, 2000, 2000, 400, 400, 400);
        for (int k = 0; k < grid.NZ; k++)
            for (int j = 0; j < grid.NY; j++)
                for (int i = 0; i < grid.NX; i++)
                {
                    if (grid.Share(i, j, k) == 0) continue;
                    Stress off = CellStress.Within(s, i, j, k, 0.3, 0.6, 0.9) - expected;
                    Assert.InRange(new[] { off.XX, off.YY, off.ZZ, off.YZ, off.XZ, off.XY }.Max(Math.Abs) / expected.XX, 0, 1e-12);
                }
    }

    /// <summary>
    /// V1 on cut cells: a box turned so that four of its faces lie slanted across the cells, under the tractions of a constant stress on them and held at six places by what the linear field moves there: every corner
    /// must move by that field. To 2e-5 of the greatest movement: the cells keep their moments in single precision.
    /// </summary>
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Patch_test_across_cut_cells(bool layered)
    {
        LayeredStiffness material = layered ? new(2400, 1700, 0.36, 0.3, 620) : LayeredStiffness.Isotropic(1e6, 0.25);
        Point3 a = new(0.8, 0.6, 0), b = new(-0.6, 0.8, 0), c = new(0, 0, 1);
        Mesh mesh = Shapes.Moved(Shapes.Box(7, 5, 6), p => a * p.X + b * p.Y + c * p.Z);
        // Placed so that no cell is too small to be kept; else its tractions would act on its neighbours.
        VoxelGrid grid = Enumerable.Range(0, 400).Select(n => VoxelGrid.Over(mesh, GridFrame.Job, new Point3(-3 - n * 1.236 % 2, -n * 0.8284 % 2, 0), 2, 6, 6, 3, Cancel)).First(IsKept);
        Assert.True(grid.Cut.Count > 20);

        Point3 Field(Point3 p) => new Point3(2 * p.X + p.Y + p.Z, p.X + 2 * p.Y + p.Z, p.X + p.Y + 2 * p.Z) * 0.5e-3;
        Stress stress = material.StressOf(1e-3, 1e-3, 1e-3, 1e-3, 1e-3, 1e-3);
        var loading = new Loading(grid);
        Surfaces.Push(loading, mesh, _ => true, (_, n) => new(
            stress.XX * n.X + stress.XY * n.Y + stress.XZ * n.Z, stress.XY * n.X + stress.YY * n.Y + stress.YZ * n.Z, stress.XZ * n.X + stress.YZ * n.Y + stress.ZZ * n.Z));
        int whole = Enumerable.Range(0, grid.NX * grid.NY * grid.NZ).First(cell => grid.Share(cell % grid.NX, cell / grid.NX % grid.NY, cell / grid.NX / grid.NY) == 1);
        var (i, j, k) = (whole % grid.NX, whole / grid.NX % grid.NY, whole / grid.NX / grid.NY);
        foreach (var (corner, axes) in new[] { ((i, j, k), new[] { 0, 1, 2 }), ((i + 1, j, k), [1, 2]), ((i, j + 1, k), [2]) })
        {
            var (ci, cj, ck) = corner;
            Point3 u = Field(grid.PointOf(ci, cj, ck));
            foreach (int axis in axes) loading.Fix(grid.Corner(ci, cj, ck), axis, axis == 0 ? u.X : axis == 1 ? u.Y : u.Z);
        }

        Solution s = Statics.Solve(material, loading, new(1e-11), cancel: Cancel);
        double most = 0, off = 0;
        for (int corner = 0; corner < (grid.NX + 1) * (grid.NY + 1) * (grid.NZ + 1); corner++)
        {
            var (ci, cj, ck) = grid.CornerAt(corner);
            if (!grid.IsUsed(ci, cj, ck)) continue;
            Point3 expected = Field(grid.PointOf(ci, cj, ck));
            most = Math.Max(most, expected.Length);
            off = Math.Max(off, (s.At(corner) - expected).Length);
        }

        output.WriteLine($"{grid.Cut.Count} cut cells, off by {off / most:E1}, {s.Iterations} iterations");
        Assert.InRange(off / most, 0, 2e-5);

        static bool IsKept(VoxelGrid grid)
        {
            double left = 210 / (grid.CellMm * grid.CellMm * grid.CellMm);
            for (int cell = 0; cell < grid.NX * grid.NY * grid.NZ; cell++) left -= grid.Share(cell % grid.NX, cell / grid.NX % grid.NY, cell / grid.NX / grid.NY);
            return Math.Abs(left) < 1e-5;
        }
    }

    /// <summary>V1 in single precision: the same field on whole cells leaves no force within, to 1e-5 of the forces on the surface.</summary>
    [Fact]
    public void Patch_test_in_single_precision()
    {
        VoxelGrid grid = VoxelGrid.OfShares(9, 7, 6, 0.5, (_, _, _) => 1);
        BrickRows rows = BrickRows.Of(grid);
        using var level = new BrickLevel(rows, BrickFactors.Of(new LayeredStiffness(2400, 1700, 0.36, 0.3, 620).Elastic, 0.5), new Workers(2, Cancel));
        using NativeArray<float> u = new(level.Length), r = new(level.Length);
        double most = 0, within = 0;
        for (int pass = 0; pass < 2; pass++)
            for (int k = 0; k <= grid.NZ; k++)
                for (int j = 0; j <= grid.NY; j++)
                    for (int i = 0; i <= grid.NX; i++)
                    {
                        Point3 p = grid.PointOf(i, j, k);
                        int at = rows.SlotOf(i, j, k);
                        if (pass == 0)
                        {
                            u.Span[at] = (float)(0.5e-3 * (2 * p.X + p.Y + p.Z));
                            u.Span[rows.Slots + at] = (float)(0.5e-3 * (p.X + 2 * p.Y + p.Z));
                            u.Span[2 * rows.Slots + at] = (float)(0.5e-3 * (p.X + p.Y + 2 * p.Z));
                            if ((i, j, k) == (grid.NX, grid.NY, grid.NZ)) level.Apply(u, r);
                            continue;
                        }

                        double force = Math.Max(Math.Abs(r.Span[at]), Math.Max(Math.Abs(r.Span[rows.Slots + at]), Math.Abs(r.Span[2 * rows.Slots + at])));
                        most = Math.Max(most, force);
                        if (i > 0 && j > 0 && k > 0 && i < grid.NX && j < grid.NY && k < grid.NZ) within = Math.Max(within, force);
                    }

        Assert.InRange(within / most, 0, 1e-5);
    }

    /// <summary>
    /// V6, Roark 17.1 and Peterson for a finite-width plate with a hole, READ + COMPUTED: gross factor 3.3558 at d/W = 0.3, 4.3175 at 0.5. Product's promise: within 5 % at 24 cells
    /// across, and 2 % is kept there, 1 % at 48; the two fits agree to 0.5 %, so nearer than that nothing can be asked. Each grid with cells half as big leaves less than 0.6 of the error.
    /// </summary>
    [Theory]
    [InlineData(6, 3.3558)]
    [InlineData(10, 4.3175)]
    public void Hole_in_a_plate_of_finite_width(double d, double gross)
    {
        double[] peaks = [.. new[] { 12, 24, 48 }.Select(across => PeakAtHole(d, d / across))];
        output.WriteLine($"d {d}: {string.Join("  ", peaks.Select(p => $"{p:0.0000} ({100 * (p / gross - 1):0.00} %)"))}; target {gross}");
        Assert.InRange(peaks[0] / gross, 0.95, 1.05);
        Assert.InRange(peaks[1] / gross, 0.98, 1.02);
        Assert.InRange(peaks[2] / gross, 0.99, 1.01);
        Assert.True(Math.Abs(peaks[2] - gross) < 0.6 * Math.Abs(peaks[1] - gross) && Math.Abs(peaks[1] - gross) < 0.6 * Math.Abs(peaks[0] - gross));
        Assert.True(Math.Abs(peaks[2] - peaks[1]) < Math.Abs(peaks[1] - peaks[0]));
        TwoGridValue told = TwoGridValue.Of(peaks[2], peaks[1], 2);
        Assert.InRange(Math.Abs(told.Value - gross), 0, told.Error + 0.005 * gross);
    }

    /// <summary>A quarter of a thin plate, W = 20, L = 100, gross stress 1; the stress along the pull at the hole's edge across it.</summary>
    private double PeakAtHole(double d, double cellMm)
    {
        const double half = 50, width = 10;
        double[] angles = [.. Enumerable.Range(0, 181).Select(s => Math.PI / 360 * s).Concat([Math.Atan2(width, half)]).Order()];
        Mesh mesh = Shapes.Strip(
            [.. angles.Select(a => { double reach = Math.Min(half / Math.Max(1e-12, Math.Cos(a)), width / Math.Max(1e-12, Math.Sin(a))); return (reach * Math.Cos(a), reach * Math.Sin(a)); })],
            [.. angles.Select(a => (d / 2 * Math.Cos(a), d / 2 * Math.Sin(a)))], closed: false, 0, 2 * cellMm);
        VoxelGrid grid = VoxelGrid.Over(mesh, GridFrame.Job, cellMm, Cancel);
        var loading = new Loading(grid);
        HoldPlanes(loading, x: true, y: true);
        for (int j = 0; j <= grid.NY; j++)
            for (int i = 0; i <= grid.NX; i++) loading.Fix(grid.Corner(i, j, 1), 2);
        Surfaces.Push(loading, mesh, t => IsAt(mesh, t, 0, half), (_, _) => new(1, 0, 0));
        Solution s = Statics.Solve(Plastic, loading, cancel: Cancel);
        output.WriteLine($"{s.Unknowns} unknowns, {s.Iterations} iterations");
        return Free(s, new(0, d / 2, cellMm), new(0, -1, 0)).XX;
    }

    /// <summary>V7, flat bar with shoulder fillets in tension (Peterson's and Roark's fits, READ twice + COMPUTED): 30 × 20, r 5: 1.745; r 2: 2.227. Within 3 % at 16 cells to the radius, each finer grid nearer.</summary>
    [Theory]
    [InlineData(5, 1.745)]
    [InlineData(2, 2.227)]
    public void Shoulder_fillet_in_tension(double r, double factor)
    {
        double[] peaks = [.. new[] { 4, 8, 16 }.Select(cells => PeakAtFillet(r, r / cells))];
        output.WriteLine($"r {r}: {string.Join("  ", peaks.Select(p => $"{p:0.000} ({100 * (p / factor - 1):0.0} %)"))}; target {factor}");
        Assert.InRange(peaks[1] / factor, 0.95, 1.05);
        Assert.InRange(peaks[2] / factor, 0.97, 1.03);
        Assert.True(peaks[0] < peaks[1] && peaks[1] < peaks[2]);
        Assert.True(peaks[2] - peaks[1] < peaks[1] - peaks[0]);
    }

    private double PeakAtFillet(double r, double cellMm)
    {
        const double before = 35, after = 45;
        var edge = new List<(double, double)> { (-before, 15), (0, 15) };
        // A quarter of a circle from the shoulder down to the slender part; above it the shoulder stands upright where the round is smaller than the step.
        for (int s = 0; s <= 64; s++) edge.Add((r - r * Math.Cos(Math.PI / 128 * s), 10 + r - r * Math.Sin(Math.PI / 128 * s)));
        edge.Add((after, 10));
        Mesh mesh = Shapes.Strip(edge, [.. edge.Select(p => (p.Item1, 0.0))], closed: false, 0, 2 * cellMm);
        VoxelGrid grid = VoxelGrid.Over(mesh, GridFrame.Job, cellMm, Cancel);
        var loading = new Loading(grid);
        HoldPlanes(loading, x: true, y: true);
        for (int j = 0; j <= grid.NY; j++)
            for (int i = 0; i <= grid.NX; i++) loading.Fix(grid.Corner(i, j, 1), 2);
        Surfaces.Push(loading, mesh, t => IsAt(mesh, t, 0, after), (_, _) => new(1, 0, 0));
        Solution solved = Statics.Solve(Plastic, loading, cancel: Cancel);
        double peak = 0;
        for (int s = 20; s <= 64; s++)
        {
            double a = Math.PI / 128 * s;
            var outward = new Point3(Math.Cos(a), Math.Sin(a), 0);
            var at = new Point3(r - r * Math.Cos(a), 10 + r - r * Math.Sin(a), cellMm);
            peak = Math.Max(peak, Free(solved, at, outward).Principal.First);
        }

        output.WriteLine($"{solved.Unknowns} unknowns, {solved.Iterations} iterations");
        return peak;
    }

    /// <summary>The stress at a surface that nothing acts on.</summary>
    private static Stress Free(Solution s, Point3 at, Point3 outward) => SurfaceStress.WithTraction(SurfaceStress.At(s, at, outward)!.Value, outward, default, s.Material);

    /// <summary>
    /// V10, Lamé's cylinder (exact): a 10, b 20, pressure 1 inside: hoop stress 5/3 inside and 2/3 outside, radial −1 inside; plane strain, E 2300, ν 0.35: the bore widens by
    /// 0.008413043. With 8, 16 and 32 cells over the wall: the greatest error of the hoop stress among 29 directions falls as the cells' size squared at the bore, and from grid to grid outside;
    /// the movement's is below 0.5 % from 16 cells on; the radial stress, where the pressure is not told, comes nearer from grid to grid.
    /// </summary>
    [Fact]
    public void Thick_cylinder_under_pressure()
    {
        var found = new[] { 1.25, 0.625, 0.3125 }.Select(ThickCylinder).ToArray();
        foreach (var f in found) output.WriteLine($"greatest errors: hoop in {100 * f.HoopIn:0.000} %, out {100 * f.HoopOut:0.000} %, radial {100 * f.RadialIn:0.00} %, movement {100 * f.Widening:0.0000} %");
        Assert.InRange(found[1].HoopIn, 0, 0.01);
        Assert.InRange(found[1].HoopOut, 0, 0.005);
        Assert.InRange(found[1].Widening, 0, 0.005);
        Assert.InRange(found[2].RadialIn, 0, 0.05);
        foreach (var (coarse, fine) in found.Zip(found[1..]))
        {
            Assert.InRange(fine.HoopIn, 0, coarse.HoopIn / 3.5);
            Assert.InRange(fine.HoopOut, 0, coarse.HoopOut / 1.2);
            Assert.InRange(fine.Widening, 0, coarse.Widening / 1.8);
            Assert.InRange(fine.RadialIn, 0, coarse.RadialIn / 1.3);
        }
    }

    /// <summary>The greatest errors among the directions as shares of the exact values.</summary>
    private static (double HoopIn, double HoopOut, double RadialIn, double Widening) ThickCylinder(double cellMm)
    {
        Mesh mesh = Shapes.Ring(10, 20, 2 * cellMm, 2000, 0, Math.PI / 2);
        VoxelGrid grid = VoxelGrid.Over(mesh, GridFrame.Job, cellMm, Cancel);
        var loading = new Loading(grid);
        HoldPlanes(loading, x: true, y: true);
        for (int k = 0; k <= grid.NZ; k++)
            for (int j = 0; j <= grid.NY; j++)
                for (int i = 0; i <= grid.NX; i++) loading.Fix(grid.Corner(i, j, k), 2);
        Surfaces.Push(loading, mesh, t => mesh.FaceOfTriangle[t] == Shapes.Right, (_, normal) => normal * -1);
        Solution s = Statics.Solve(Plastic, loading, cancel: Cancel);
        double hoopIn = 0, hoopOut = 0, radialIn = 0, widening = 0;
        for (int d = 1; d < 30; d++)
        {
            double a = Math.PI / 60 * d;
            Point3 n = new(Math.Cos(a), Math.Sin(a), 0), up = new(0, 0, cellMm);
            Stress bore = SurfaceStress.At(s, n * 10 + up, n * -1)!.Value;
            hoopIn = Math.Max(hoopIn, Math.Abs(Across(SurfaceStress.WithTraction(bore, n * -1, n, Plastic), n) * 3 / 5 - 1));
            hoopOut = Math.Max(hoopOut, Math.Abs(Across(Free(s, n * 20 + up, n), n) * 3 / 2 - 1));
            radialIn = Math.Max(radialIn, Math.Abs(bore.XX * n.X * n.X + 2 * bore.XY * n.X * n.Y + bore.YY * n.Y * n.Y + 1));
            widening = Math.Max(widening, Math.Abs(Point3.Dot(s.MovementAt(n * 10 + up)!.Value, n) / 0.008413043 - 1));
        }

        return (hoopIn, hoopOut, radialIn, widening);

        static double Across(Stress t, Point3 n) => t.XX * n.Y * n.Y - 2 * t.XY * n.X * n.Y + t.YY * n.X * n.X;
    }

    /// <summary>
    /// V11, cantilever 100 × 20 × 20, E 2300, ν 0.35, 50 N across the tip, clamped fully (COMPUTED + MEASURED): the general-purpose solver's trilinear bricks give .548510, .549701
    /// and .550395 at 80 × 16 × 16, 120 × 24 × 24 and 200 × 40 × 40; the beam with shear .561087 is stiffer only by its clamp. Root stress by the beam 3.75 MPa, tried at a quarter's length.
    /// </summary>
    [Theory]
    [InlineData(80, 0.548510)]
    [InlineData(120, 0.549701)]
    [InlineData(200, 0.550395)]
    public void Cantilever(int along, double tip)
    {
        int across = along / 5;
        VoxelGrid grid = VoxelGrid.OfShares(along, across, across, 100.0 / along, (_, _, _) => 1);
        var loading = new Loading(grid);
        for (int k = 0; k <= across; k++)
            for (int j = 0; j <= across; j++)
            {
                loading.Fix(grid.Corner(0, j, k));
                double share = (j == 0 || j == across ? 0.5 : 1) * (k == 0 || k == across ? 0.5 : 1) / (across * across);
                loading.Push(grid.Corner(along, j, k), new(0, 0, 50 * share));
            }

        Solution s = Statics.Solve(Plastic, loading, new(1e-9), cancel: Cancel);
        double mean = 0;
        for (int k = 0; k <= across; k++)
            for (int j = 0; j <= across; j++) mean += s.At(along, j, k).Z / ((across + 1) * (across + 1));
        output.WriteLine($"{mean:0.0000000}, {s.Iterations} iterations");
        Assert.Equal(tip, mean, 2e-6);
        double bending = SurfaceStress.At(s, new(25, 10, 20), new(0, 0, 1))!.Value.XX;
        Assert.InRange(-bending / (3.75 * 0.75), 0.98, 1.02);
        Assert.InRange(s.Iterations, 5, 20);
    }

    /// <summary>
    /// V2, NAFEMS LE1 (READ): quarter of an elliptic membrane, (2, 1) inside and (3.25, 2.75) outside, 0.1 thick, outward 10 MPa on the outer edge, E 210 GPa, ν 0.3:
    /// 92.7 MPa along y at (2, 0). Within 5 % on 12 cells to the metre, 2 % on finer ones.
    /// </summary>
    [Fact]
    public void Elliptic_membrane()
    {
        double[] found = [.. new[] { 12, 24, 48 }.Select(perMetre => Membrane(1.0 / perMetre))];
        output.WriteLine($"{string.Join("  ", found.Select(f => $"{f:0.00} ({100 * (f / 92.7 - 1):0.0} %)"))}; target 92.7");
        Assert.InRange(found[0] / 92.7, 0.95, 1.05);
        foreach (double f in found[1..]) Assert.InRange(f / 92.7, 0.98, 1.02);
        Assert.True(Math.Abs(found[2] - found[1]) < Math.Abs(found[1] - found[0]));
    }

    private static double Membrane(double cell)
    {
        Mesh mesh = EllipticPlate(2 * cell);
        VoxelGrid grid = VoxelGrid.Over(mesh, GridFrame.Job, cell, Cancel);
        var loading = new Loading(grid);
        HoldPlanes(loading, x: true, y: true);
        for (int j = 0; j <= grid.NY; j++)
            for (int i = 0; i <= grid.NX; i++) loading.Fix(grid.Corner(i, j, 1), 2);
        Surfaces.Push(loading, mesh, t => mesh.FaceOfTriangle[t] == Shapes.Left, (_, normal) => normal * 10);
        Solution s = Statics.Solve(LayeredStiffness.Isotropic(210e3, 0.3), loading, cancel: Cancel);
        return Free(s, new(2, 0, cell), new(-1, 0, 0)).YY;
    }

    /// <summary>
    /// V3, NAFEMS LE10 (READ): the same ellipses as a thick plate of 0.6 under 1 MPa from above; the outer face keeps its place in x and y, its middle line in z:
    /// −5.38 MPa along y at (2, 0) on top. Within 5 % on 12 cells through the plate, 2 % on 24.
    /// </summary>
    [Fact]
    public void Thick_elliptic_plate()
    {
        double[] found = [.. new[] { 6, 12, 24 }.Select(through => ThickPlate(through))];
        output.WriteLine($"{string.Join("  ", found.Select(f => $"{f:0.000} ({100 * (f / -5.38 - 1):0.0} %)"))}; target -5.38");
        Assert.InRange(found[1] / -5.38, 0.95, 1.05);
        Assert.InRange(found[2] / -5.38, 0.98, 1.02);
        Assert.True(Math.Abs(found[2] - found[1]) < Math.Abs(found[1] - found[0]));
    }

    private double ThickPlate(int through)
    {
        double cell = 0.6 / through;
        Mesh mesh = EllipticPlate(0.6);
        VoxelGrid grid = VoxelGrid.Over(mesh, GridFrame.Job, cell, Cancel);
        LayeredStiffness steel = LayeredStiffness.Isotropic(210e3, 0.3);
        var loading = new Loading(grid);
        HoldPlanes(loading, x: true, y: true);
        Surfaces.Hold(loading, mesh, t => mesh.FaceOfTriangle[t] == Shapes.Left, (_, _) => [new(1, 0, 0), new(0, 1, 0)], steel);
        // A line of springs where the outer face crosses the plane of corners at half height.
        int half = through / 2;
        for (int s = 0; s < 600; s++)
        {
            double a = Math.PI / 2 * (s + 0.5) / 600;
            Point3 p = new Point3(3.25 * Math.Cos(a), 2.75 * Math.Sin(a), 0) * (1 / cell);
            int i = (int)p.X, j = (int)p.Y;
            if (grid.Share(i, j, half) == 0) continue;
            for (int c = 0; c < 4; c++)
                loading.Spring(grid.Corner(i + (c & 1), j + (c >> 1), half), new(0, 0, 1), 210e3 * 0.02 * ((c & 1) == 0 ? i + 1 - p.X : p.X - i) * (c < 2 ? j + 1 - p.Y : p.Y - j));
        }

        Surfaces.Push(loading, mesh, t => mesh.FaceOfTriangle[t] == Shapes.Top, (_, _) => new(0, 0, -1));
        Solution solved = Statics.Solve(steel, loading, cancel: Cancel);
        output.WriteLine($"{solved.Unknowns} unknowns, {solved.Iterations} iterations");
        Point3 outward = new(0, 0, 1);
        return SurfaceStress.WithTraction(SurfaceStress.At(solved, new(2, 0, 0.6), outward)!.Value, outward, outward * -1, steel).YY;
    }

    private static Mesh EllipticPlate(double thickness)
    {
        double[] angles = [.. Enumerable.Range(0, 361).Select(s => Math.PI / 720 * s)];
        return Shapes.Strip([.. angles.Select(a => (3.25 * Math.Cos(a), 2.75 * Math.Sin(a)))], [.. angles.Select(a => (2 * Math.Cos(a), Math.Sin(a)))], closed: false, 0, thickness);
    }

    /// <summary>Planes of symmetry in the grid's lowest planes of corners.</summary>
    private static void HoldPlanes(Loading loading, bool x, bool y)
    {
        VoxelGrid grid = loading.Grid;
        for (int k = 0; k <= grid.NZ; k++)
        {
            for (int j = 0; x && j <= grid.NY; j++) loading.Fix(grid.Corner(0, j, k), 0);
            for (int i = 0; y && i <= grid.NX; i++) loading.Fix(grid.Corner(i, 0, k), 1);
        }
    }

    private static bool IsAt(Mesh mesh, int t, int axis, double at) => Enumerable.Range(0, 3).All(c => Math.Abs(mesh.Points[3 * mesh.Triangles[3 * t + c] + axis] - at) < 1e-9);
}
