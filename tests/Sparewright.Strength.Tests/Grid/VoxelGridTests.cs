using CsCheck;
using Sparewright.Solid;
using Sparewright.Strength.Grid;
using Xunit;

namespace Sparewright.Strength.Tests.Grid;

public sealed class VoxelGridTests
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public void A_box_in_whole_cells_is_whole_everywhere()
    {
        VoxelGrid grid = VoxelGrid.Over(Shapes.Box(4, 3, 2), GridFrame.Job, 0.5, Cancel);
        Assert.Equal((8, 6, 4), (grid.NX, grid.NY, grid.NZ));
        Assert.Equal(8 * 6 * 4, grid.Cells);
        Assert.Equal(24, grid.VolumeMm3, 1e-9);
        for (int i = 0; i < 8; i++) Assert.Equal(1f, grid.Share(i, 3, 2));
    }

    [Fact]
    public void Cut_cells_hold_the_part_of_them_that_is_solid()
    {
        // Cells of 1 mm under a box that ends at 2.25, 1.5, 1.75.
        VoxelGrid grid = VoxelGrid.Over(Shapes.Box(2.25, 1.5, 1.75), GridFrame.Job, 1, Cancel);
        Assert.Equal(1, grid.Share(0, 0, 0), 1e-6);
        Assert.Equal(0.25, grid.Share(2, 0, 0), 1e-6);
        Assert.Equal(0.25 * 0.5 * 0.75, grid.Share(2, 1, 1), 1e-6);
        Assert.Equal(0.5 * 0.75, grid.Share(1, 1, 1), 1e-6);
    }

    [Fact]
    public void Shapes_turned_and_moved_at_will_keep_the_volume_of_their_mesh() =>
        Gen.Select(Gen.Int[0, 3], Gen.Double[-1, 1].Array[3], Gen.Double[0, 6], Gen.Double[0.31, 1.3]).Sample((shape, d, angle, cellMm) =>
        {
            Mesh mesh = shape switch
            {
                0 => Shapes.Sphere(4, 24),
                1 => Shapes.Ring(2, 5, 6, 40),
                2 => Shapes.Box(7, 5, 3),
                _ => Shapes.PlateWithHole(12, 9, 2.3, 2, 24),
            };
            var axis = new Point3(d[0], d[1], d[2]);
            if (axis.Length < 0.1) return;
            axis *= 1 / axis.Length;
            Mesh moved = Shapes.Moved(mesh, p => p * Math.Cos(angle) + Point3.Cross(axis, p) * Math.Sin(angle) + axis * (Point3.Dot(axis, p) * (1 - Math.Cos(angle))) + new Point3(d[1], d[2], d[0]));
            VoxelGrid grid = VoxelGrid.Over(moved, GridFrame.Job, cellMm, Cancel);
            // Beyond the last cells up to a millionth of one is left out: a sliver along each of the grid's far sides.
            double sliverMm3 = 1e-6 * cellMm * cellMm * cellMm * (grid.NX * grid.NY + grid.NY * grid.NZ + grid.NZ * grid.NX);
            Assert.Equal(mesh.VolumeMm3(), grid.VolumeMm3, 1e-9 * mesh.VolumeMm3() + sliverMm3);
        }, iter: 40);

    [Fact]
    public void Every_cell_of_a_tilted_half_space_agrees_with_the_sum_over_many_points()
    {
        // A big box turned by 30° about z and 20° about x, seen in a window of cells at one of its edges.
        GridFrame turned = GridFrame.WithUp(new(0.3, 0.2, 0.9));
        VoxelGrid grid = VoxelGrid.Over(Shapes.Box(10, 10, 10), turned, turned.ToGrid(new(10, 5, 10)) - new Point3(2, 2, 2), 1, 4, 4, 4, Cancel);
        double worst = 0;
        for (int c = 0; c < 64; c++)
        {
            int i = c % 4, j = c / 4 % 4, k = c / 16, inside = 0;
            const int n = 40;
            for (int s = 0; s < n * n * n; s++)
            {
                Point3 p = turned.ToJob(grid.PointOf(i + (s % n + 0.5) / n, j + (s / n % n + 0.5) / n, k + (s / n / n + 0.5) / n));
                if (p.X is > 0 and < 10 && p.Y is > 0 and < 10 && p.Z is > 0 and < 10) inside++;
            }

            double share = (double)inside / (n * n * n);
            if (share > 0.02) worst = Math.Max(worst, Math.Abs(share - grid.Share(i, j, k)));
        }

        Assert.InRange(worst, 0, 3e-3);
    }

    [Fact]
    public void What_is_too_small_is_left_out_and_loose_specks_go()
    {
        VoxelGrid grid = VoxelGrid.Over(Shapes.Box(2.003, 1, 1), GridFrame.Job, 1, Cancel);
        Assert.Equal(0, grid.Share(2, 0, 0));
        Assert.Equal(2.003, grid.VolumeMm3, 1e-9);
        VoxelGrid specks = VoxelGrid.OfShares(40, 30, 3, 1, (i, j, k) => i < 38 ? 1 : i == 39 && j == 0 && k == 0 ? 0.5 : 0);
        Assert.Equal(2, Pieces.Of(specks).Count);
        Assert.Equal(0, specks.WithoutSpecks().Share(39, 0, 0));
        Assert.Equal(38 * 30 * 3, specks.WithoutSpecks().Cells);
    }

    [Fact]
    public void Cells_that_touch_in_an_edge_are_two_pieces() =>
        Assert.Equal(2, Pieces.Of(VoxelGrid.OfShares(2, 2, 1, 1, (i, j, _) => i == j ? 1 : 0)).Count);
}
