using Sparewright.Solid;
using Sparewright.Strength.Grid;
using Sparewright.Strength.Solve;
using Xunit;

namespace Sparewright.Strength.Tests.Solve;

/// <summary>Shapes with thin walls, slits and many openings, where coarser grids no longer tell what is solid: the iterations stay few and the answer as balanced as ever.</summary>
public sealed class SlenderTests(ITestOutputHelper output)
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private static readonly LayeredStiffness Plastic = LayeredStiffness.Isotropic(2300, 0.35);

    [Theory]
    [InlineData(2.4, 4.8)]
    [InlineData(1.2, 2.4)]
    public void A_thin_ring(double wallMm, double heightMm) =>
        Solve(VoxelGrid.Over(Shapes.Ring(16 - wallMm, 16, heightMm, 180), GridFrame.Job, 0.4, Cancel), p => p.Y < -15, p => p.Y > 15);

    /// <summary>A ring with a slit of 0.8 mm, two cells, one of its lips pushed.</summary>
    [Theory]
    [InlineData(2.4, 4.8)]
    [InlineData(1.2, 2.4)]
    public void A_clip_like_a_C(double wallMm, double heightMm)
    {
        const double half = 0.4 / 16;
        Mesh clip = Shapes.Ring(16 - wallMm, 16, heightMm, 180, Math.PI / 2 + half, Math.PI * 5 / 2 - half);
        Solve(VoxelGrid.Over(clip, GridFrame.Job, 0.4, Cancel), p => p.Y < -15, p => p is { Y: > 13, X: < 0 and > -2 });
    }

    /// <summary>The same larger: where a grid is too large to be written down, the slit must stay open on coarser ones.</summary>
    [Fact]
    public void A_large_clip_like_a_C() => Solve(
        VoxelGrid.OfShares(200, 200, 30, 0.4, (i, j, _) => Math.Sqrt((i - 99.5) * (i - 99.5) + (j - 99.5) * (j - 99.5)) is > 96 and < 100 && !(j > 100 && i is 99 or 100) ? 1 : 0),
        p => p.Y < 1.2, p => p is { Y: > 72, X: < 39.6 and > 38 });

    /// <summary>A fork with a slit of one cell.</summary>
    [Fact]
    public void A_fork_with_a_narrow_slit() =>
        Solve(VoxelGrid.OfShares(120, 30, 16, 0.4, (i, j, _) => i > 15 && j == 15 ? 0 : 1), p => p.X == 0, p => p is { X: > 47, Y: > 6.3 });

    [Fact]
    public void A_cover_of_bars_two_cells_thick() => Solve(VoxelGrid.OfShares(144, 144, 2, 0.4, (i, j, _) => i % 10 < 2 || j % 10 < 2 ? 1 : 0), p => p.X == 0, p => p.X > 55.9);

    [Theory]
    [InlineData(2.4, 60)]
    [InlineData(1.2, 80)]
    public void A_long_thin_hook(double thickMm, double lengthMm)
    {
        double r = 3 * thickMm;
        List<(double, double)> outer = [(0, 0), (lengthMm, 0)], inner = [(0, thickMm), (lengthMm, thickMm)];
        for (int s = 1; s <= 40; s++)
        {
            double a = Math.PI * s / 40;
            outer.Add((lengthMm + r * Math.Sin(a), r - r * Math.Cos(a)));
            inner.Add((lengthMm + (r - thickMm) * Math.Sin(a), r - (r - thickMm) * Math.Cos(a)));
        }

        Solve(VoxelGrid.Over(Shapes.Strip(inner, outer, closed: false, 0, thickMm), GridFrame.Job, 0.4, Cancel), p => p.X < 0.1, p => p.X < lengthMm + 0.2 && p.Y > 1.5 * r);
    }

    /// <summary>A cover of bars 1.6 mm thick and wide, 3.6 mm apart.</summary>
    [Fact]
    public void A_cover_like_a_lattice() =>
        Solve(VoxelGrid.OfShares(94, 94, 4, 0.4, (i, j, _) => i % 9 < 4 || j % 9 < 4 ? 1 : 0), p => p.X == 0, p => p.X > 37.59);

    /// <summary>Sheets and lattices in which the second grid's cells are as long as walls are thick.</summary>
    [Theory]
    [InlineData(2)]
    [InlineData(3)]
    public void A_thin_sheet(int cellsThick) => Solve(VoxelGrid.OfShares(100, 80, cellsThick, 0.4, (_, _, _) => 1), p => p.X == 0, p => p.X > 39.99);

    [Fact]
    public void A_wider_lattice() => Solve(VoxelGrid.OfShares(144, 144, 4, 0.4, (i, j, _) => i % 10 < 4 || j % 10 < 4 ? 1 : 0), p => p.X == 0, p => p.X > 55.9);

    private void Solve(VoxelGrid grid, Func<Point3, bool> isHeld, Func<Point3, bool> isPushed)
    {
        var loading = new Loading(grid);
        for (int k = 0; k <= grid.NZ; k++)
            for (int j = 0; j <= grid.NY; j++)
                for (int i = 0; i <= grid.NX; i++)
                {
                    if (!grid.IsUsed(i, j, k)) continue;
                    if (isHeld(grid.PointOf(i, j, k))) loading.Fix(grid.Corner(i, j, k));
                    else if (isPushed(grid.PointOf(i, j, k))) loading.Push(grid.Corner(i, j, k), new(0.01, 0.01, 0.02));
                }

        Solution s = Statics.Solve(Plastic, loading, cancel: Cancel);
        output.WriteLine($"{s.Unknowns} unknowns, {s.Iterations} iterations, {s.Depth}, {s.Bytes / s.Unknowns} bytes an unknown");
        Point3 force = loading.Resultant.Force, back = s.Reactions.Values.Aggregate(default(Point3), (sum, r) => sum + r);
        output.WriteLine($"out of balance by {(force + back).Length / force.Length:0.0e0}, energy by {s.WorkNmm / 2 / s.EnergyNmm - 1:0.0e0}");
        Assert.InRange((force + back).Length / force.Length, 0, 1e-8);
        Assert.Equal(s.WorkNmm / 2, s.EnergyNmm, 1e-8 * s.EnergyNmm);
        Assert.InRange(s.Iterations, 1, 25);
        OnlyTheSolidMoves(s);
    }

    /// <summary>Coarser grids reach beyond the solid; what they told of corners there once counted as movement.</summary>
    private static void OnlyTheSolidMoves(Solution s)
    {
        double farthest = 0;
        for (int k = 0; k <= s.Grid.NZ; k++)
            for (int j = 0; j <= s.Grid.NY; j++)
                for (int i = 0; i <= s.Grid.NX; i++)
                    if (s.Grid.IsUsed(i, j, k)) farthest = Math.Max(farthest, s.At(i, j, k).Length);
                    else Assert.Equal(default, s.At(i, j, k));
        Assert.Equal(farthest, s.FarthestMm, 1e-12);
    }
}
