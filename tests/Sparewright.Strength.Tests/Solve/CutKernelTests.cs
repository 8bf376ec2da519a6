using CsCheck;
using Sparewright.Strength.Grid;
using Sparewright.Strength.Solve;
using Xunit;

namespace Sparewright.Strength.Tests.Solve;

/// <summary>Cells over which solid is not spread evenly: their kernel, matrix, diagonal and coarser grids.</summary>
public sealed class CutKernelTests
{
    private static readonly Gen<(int NX, int NY, int NZ, int Seed, int Threads)> Grids =
        Gen.Select(Gen.Int[1, 21], Gen.Int[1, 6], Gen.Int[1, 6], Gen.Int[0, 100000], Gen.Int[1, 4]);

    private static readonly LayeredStiffness Layered = new(2400, 1700, 0.36, 0.3, 620);

    [Fact]
    public void A_full_cell_by_its_moments_has_the_matrix_of_a_full_cell()
    {
        var matrix = new double[24 * 24];
        float[] moments = [.. CutCells.Whole];
        new CutMatrix(Layered.Elastic, 0.7).Of(moments, matrix);
        double[] expected = BrickMatrix.Of(Layered.Elastic, 0.7);
        for (int n = 0; n < matrix.Length; n++) Assert.Equal(expected[n], matrix[n], 1e-5 * expected[0]);
    }

    [Fact]
    public void The_kernel_agrees_with_the_matrix_and_the_diagonal_is_its_own() => Grids.Sample(g =>
    {
        var random = new Random(g.Seed);
        BrickRows rows = Cut(g.NX, g.NY, g.NZ, random);
        if (rows.Slots == 0) return;
        using var level = new BrickLevel(rows, BrickFactors.Of(Layered.Elastic, 0.7), new Workers(g.Threads, CancellationToken.None));
        using NativeArray<double> u = new(level.Length), r = new(level.Length);
        using NativeArray<float> uf = new(level.Length), rf = new(level.Length);
        for (int n = 0; n < level.Length; n++) uf.Span[n] = (float)(u.Span[n] = (float)(random.NextDouble() - 0.5));
        level.Apply(u, r);
        level.Apply(uf, rf);
        double[] expected = new double[level.Length], diagonal = new double[level.Length];
        ForEachMatrix(rows, (at, matrix) =>
        {
            for (int m = 0; m < 24; m++)
            {
                diagonal[at[m]] += matrix[m * 24 + m];
                for (int n = 0; n < 24; n++) expected[at[m]] += matrix[m * 24 + n] * u.Span[at[n]];
            }
        });
        double scale = expected.Max(Math.Abs) + 1e-9;
        for (int n = 0; n < level.Length; n++)
        {
            Assert.Equal(expected[n], r.Span[n], 1e-7 * scale);
            Assert.Equal(expected[n], rf.Span[n], 3e-6 * scale);
            if (diagonal[n] > 0) Assert.Equal(diagonal[n], 1 / level.InverseDiagonal.Span[n], 1e-5 * diagonal[n]);
        }
    }, iter: 60);

    /// <summary>What a movement of the coarser grid costs is what it costs on the finer one.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void A_coarser_grid_is_as_stiff_as_the_finer_one_for_its_own_movements(int times) => Grids.Sample(g =>
    {
        var random = new Random(g.Seed);
        BrickRows fine = Cut(g.NX, g.NY, g.NZ, random);
        if (fine.Slots == 0) return;
        var workers = new Workers(g.Threads, CancellationToken.None);
        using var finest = new BrickLevel(fine, BrickFactors.Of(Layered.Elastic, 0.7), workers);
        using BrickLevel once = finest.Coarser();
        // On the grid after that twin cells lie within coarser ones.
        BrickLevel level = times == 1 ? finest : once;
        using BrickLevel coarser = level.Coarser();
        using NativeArray<float> down = new(level.Length), up = new(coarser.Length);
        using NativeArray<double> u = new(level.Length), ku = new(level.Length), v = new(coarser.Length), kv = new(coarser.Length);
        for (int n = 0; n < up.Length; n++) v.Span[n] = up.Span[n] = (float)random.NextDouble() - 0.5f;
        new Transfer(coarser.From!, workers).AddInterpolated(up, down);
        for (int n = 0; n < down.Length; n++) u.Span[n] = down.Span[n];
        level.Apply(u, ku);
        coarser.Apply(v, kv);
        double left = 0, right = 0;
        for (int n = 0; n < u.Length; n++) left += u.Span[n] * ku.Span[n];
        for (int n = 0; n < v.Length; n++) right += v.Span[n] * kv.Span[n];
        Assert.Equal(left, right, 1e-5 * left);
    }, iter: 60);

    /// <summary>A grid of which some cells hold a box somewhere, some are even, some are empty.</summary>
    private static BrickRows Cut(int nx, int ny, int nz, Random random)
    {
        var cells = new List<int>();
        var values = new List<float>();
        var shares = new float[nx * ny * nz];
        for (int cell = 0; cell < shares.Length; cell++)
        {
            if (random.NextDouble() < 0.4) continue;
            if (random.NextDouble() < 0.3)
            {
                shares[cell] = (float)random.NextDouble();
                continue;
            }

            var sides = new double[3][];
            for (int axis = 0; axis < 3; axis++)
            {
                double low = 1.4 * random.NextDouble() - 1, high = low + 0.4 + random.NextDouble() * (0.6 - low);
                sides[axis] = [(high - low) / 2, (high * high - low * low) / 4, (high * high * high - low * low * low) / 6];
            }

            cells.Add(cell);
            for (int m = 0; m < CutCells.PerCell; m++) values.Add((float)(sides[0][m % 3] * sides[1][m / 3 % 3] * sides[2][m / 9]));
            shares[cell] = values[^CutCells.PerCell];
        }

        return BrickRows.Of(nx, ny, nz, shares, new(nx, ny, [.. cells], [.. values]), []);
    }

    private static void ForEachMatrix(BrickRows rows, Action<int[], double[]> visit)
    {
        var cut = new CutMatrix(Layered.Elastic, 0.7);
        var matrix = new double[24 * 24];
        var moments = new float[CutCells.PerCell];
        foreach (BrickRows.Run run in rows.Runs)
            for (int cell = 0; cell < run.Blocks * BrickRows.Block; cell++)
            {
                if (rows.Shares[run.Shares + cell] == 0) continue;
                rows.MomentsOf(run, cell, moments);
                cut.Of(moments, matrix);
                visit([.. Enumerable.Range(0, 24).Select(n => n % 3 * rows.Slots + run.Corner(n / 3) + cell)], matrix);
            }
    }
}
