using CsCheck;
using Sparewright.Strength.Grid;
using Sparewright.Strength.Solve;
using Xunit;

namespace Sparewright.Strength.Tests.Solve;

public sealed class SplittingTests
{
    private static readonly Workers Alone = new(1, CancellationToken.None);

    private static BrickRows Slit(int from, int width) => BrickRows.Of(VoxelGrid.OfShares(20, 8, 8, 1, (i, _, _) => i >= from && i < from + width ? 0 : 1));

    /// <summary>A block cut by a slit of one cell, or of two that begin at an odd place, has corners on both sides where cells twice as long lie across; one of two that begin at an even place needs none.</summary>
    [Theory]
    [InlineData(9, 1, true)]
    [InlineData(10, 1, true)]
    [InlineData(9, 2, true)]
    [InlineData(10, 2, false)]
    [InlineData(9, 3, false)]
    public void Narrow_slits_have_corners_on_both_sides(int from, int width, bool areSplit)
    {
        BrickRows coarse = new Coarsening(Slit(from, width), Alone).Coarse;
        // One side's cells along the slit, 4 × 4, have corners of their own, 5 × 5.
        Assert.Equal(areSplit ? 16 : 0, coarse.Twins.Count);
        Assert.Equal(areSplit ? 25 : 0, Enumerable.Range(0, coarse.Twins.Count).SelectMany(n => coarse.Twins.SlotsOf(n).ToArray()).Distinct().Count(slot => slot >= coarse.Twins.FirstSlot));
    }

    /// <summary>A ball's steps leave hardly a corner about which it does not hang together.</summary>
    [Fact]
    public void A_shape_without_slits_has_next_to_none()
    {
        BrickRows coarse = new Coarsening(BrickRows.Of(VoxelGrid.OfShares(40, 40, 40, 1, (i, j, k) => (i - 19.5) * (i - 19.5) + (j - 19.3) * (j - 19.3) + (k - 19.1) * (k - 19.1) < 360 ? 1 : 0)), Alone).Coarse;
        Assert.InRange(coarse.Twins.Count, 0, coarse.Cells / 100);
    }

    /// <summary>The sides of a slit move without each other on the grids of cells two, four and eight times as long.</summary>
    [Theory]
    [InlineData(9, 1)]
    [InlineData(10, 1)]
    [InlineData(9, 2)]
    [InlineData(10, 2)]
    public void Sides_of_a_slit_do_not_hold_on_to_each_other(int from, int width)
    {
        BrickRows rows = Slit(from, width);
        for (int times = 0; times < 3; times++)
        {
            rows = new Coarsening(rows, Alone).Coarse;
            using var level = new BrickLevel(rows, BrickFactors.Of(LayeredStiffness.Isotropic(2300, 0.35).Elastic, 1), Alone);
            int[] group = SidesOf(rows);
            Assert.Equal(2, group.Where(g => g >= 0).Distinct().Count());
            using NativeArray<double> u = new(level.Length), k = new(level.Length);
            for (int slot = 0; slot < rows.Slots; slot++) u.Span[slot] = group[slot] == group.Max() ? 1 : 0;
            level.Apply(u, k);
            foreach (double force in k.Span) Assert.Equal(0, force, 1e-2);
        }
    }

    /// <summary>Wherever solid lies, each coarser corner moves what hangs together about it: a piece of its own for each connected piece of the solid within reach.</summary>
    [Fact]
    public void About_each_corner_solid_hangs_together() => Gen.Select(Gen.Int[2, 9], Gen.Int[2, 7], Gen.Int[2, 7], Gen.Int).Sample((nx, ny, nz, seed) =>
    {
        var random = new Random(seed);
        BrickRows fine = BrickRows.Of(VoxelGrid.OfShares(nx, ny, nz, 1, (_, _, _) => random.NextDouble() < 0.6 ? 0 : 1));
        if (fine.Slots == 0) return;
        var between = new Coarsening(fine, Alone);
        // The finer corners that each coarser one moves, joined by the cells about it.
        var moves = new Dictionary<int, List<int>>();
        float[] about = fine.SharesAbout();
        for (int slot = 0; slot < fine.Slots; slot++)
        {
            if (about[slot] == 0) continue;
            Assert.Equal(1, between.About(slot).Sum(a => a.Weight), 1e-6);
            foreach (var (coarse, weight) in between.About(slot))
            {
                if (!moves.TryGetValue(coarse, out List<int>? moved)) moves[coarse] = moved = [];
                moved.Add(slot);
            }
        }

        int[][] cells = CornersOf(fine);
        foreach (List<int> moved in moves.Values)
        {
            // Cells of which some corner is moved; they all hang together.
            int[][] own = [.. cells.Where(cell => cell.Any(moved.Contains))];
            Assert.Single(Groups.Of(own.Length, (a, b) => own[a].Intersect(own[b]).Any()).Distinct());
        }
    }, iter: 60);

    /// <summary>The slots of the corners of each cell, twins last.</summary>
    private static int[][] CornersOf(BrickRows rows)
    {
        var cells = new List<int[]>();
        for (int k = 0; k < rows.NZ; k++)
            rows.ForEachCell(k, (i, j, layer, _) => cells.Add([.. Enumerable.Range(0, 8).Select(c => rows.SlotOf(i + (c & 1), j + (c >> 1 & 1), layer + (c >> 2)))]));
        return [.. cells, .. Enumerable.Range(0, rows.Twins.Count).Select(n => rows.Twins.SlotsOf(n).ToArray())];
    }

    /// <summary>The corners of each piece of a grid that hangs together, by slot; −1 where no solid is.</summary>
    private static int[] SidesOf(BrickRows rows)
    {
        int[][] cells = CornersOf(rows);
        int[] group = Groups.Of(cells.Length, (a, b) => cells[a].Intersect(cells[b]).Any());
        var of = new int[rows.Slots];
        Array.Fill(of, -1);
        foreach (var (n, cell) in cells.Index())
            foreach (int slot in cell) of[slot] = group[n];
        return of;
    }
}
