using System.Diagnostics;
using System.Runtime.Intrinsics.X86;
using CsCheck;
using Sparewright.Strength.Grid;
using Sparewright.Strength.Solve;
using Xunit;

namespace Sparewright.Strength.Tests.Solve;

/// <summary>The fast kernel against plain sums over the 24 × 24 matrix.</summary>
public sealed class BrickKernelTests
{
    private static readonly Gen<(int NX, int NY, int NZ, int Seed, int Threads)> Grids =
        Gen.Select(Gen.Int[1, 21], Gen.Int[1, 6], Gen.Int[1, 6], Gen.Int[0, 100000], Gen.Int[1, 4]);

    private static readonly LayeredStiffness Layered = new(2400, 1700, 0.36, 0.3, 620);

    [Fact]
    public void Both_precisions_agree_with_the_plain_matrix() => Grids.Sample(g =>
    {
        var random = new Random(g.Seed);
        VoxelGrid grid = VoxelGrid.OfShares(g.NX, g.NY, g.NZ, 0.7, (_, _, _) => random.NextDouble() < 0.4 ? 0 : random.NextDouble());
        BrickRows rows = BrickRows.Of(grid);
        if (rows.Slots == 0) return;
        var workers = new Workers(g.Threads, CancellationToken.None);
        using var level = new BrickLevel(rows, BrickFactors.Of(Layered.Elastic, 0.7), workers);
        using NativeArray<double> u = new(level.Length), r = new(level.Length);
        using NativeArray<float> uf = new(level.Length), rf = new(level.Length);
        // What fills up blocks must not matter.
        for (int n = 0; n < level.Length; n++) uf.Span[n] = (float)(u.Span[n] = (float)(random.NextDouble() - 0.5));
        r.Span.Fill(double.NaN);
        level.Apply(u, r);
        level.Apply(uf, rf);

        double[] expected = Plain(grid, rows, u.Span.ToArray(), BrickMatrix.Of(Layered.Elastic, 0.7));
        double scale = expected.Max(Math.Abs) + 1e-9;
        for (int n = 0; n < level.Length; n++)
        {
            Assert.Equal(expected[n], r.Span[n], 1e-13 * scale);
            Assert.Equal(expected[n], rf.Span[n], 3e-6 * scale);
        }
    }, iter: 150);

    /// <summary>The same once more in a process that may not use the machine's wide vectors: what other machines do.</summary>
    [Fact]
    public async Task The_portable_path_agrees_with_the_plain_matrix_too()
    {
        if (!Avx.IsSupported) Assert.Skip("skipped: this machine takes the portable path anyhow");
        var start = new ProcessStartInfo(Path.Combine(AppContext.BaseDirectory, typeof(BrickKernelTests).Assembly.GetName().Name!), ["-method", $"{typeof(BrickKernelTests).FullName}.{nameof(Both_precisions_agree_with_the_plain_matrix)}"]) { RedirectStandardOutput = true };
        start.Environment["DOTNET_EnableAVX"] = "0";
        using Process process = Process.Start(start)!;
        string said = await process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.True(process.ExitCode == 0, said);
        Assert.Contains("Total: 1,", said, StringComparison.Ordinal);
    }

    [Fact]
    public void The_diagonal_is_that_of_the_plain_matrix()
    {
        double[] k = BrickMatrix.Of(Layered.Elastic, 0.7);
        BrickFactors f = BrickFactors.Of(Layered.Elastic, 0.7);
        for (int n = 0; n < 24; n++) Assert.Equal(n % 3 == 2 ? f.DiagonalZ : f.DiagonalXY, k[n * 24 + n], 1e-10);
    }

    [Fact]
    public void The_plain_matrix_gives_no_force_to_rigid_movements_and_is_symmetric()
    {
        double[] k = BrickMatrix.Of(Layered.Elastic, 0.7);
        for (int mode = 0; mode < 6; mode++)
        {
            var u = new double[24];
            for (int c = 0; c < 8; c++)
            {
                double x = c & 1, y = c >> 1 & 1, z = c >> 2;
                (u[3 * c], u[3 * c + 1], u[3 * c + 2]) = mode switch
                {
                    0 => (1.0, 0.0, 0.0),
                    1 => (0, 1, 0),
                    2 => (0, 0, 1),
                    3 => (0, -z, y),
                    4 => (z, 0, -x),
                    _ => (-y, x, 0),
                };
            }

            for (int m = 0; m < 24; m++) Assert.Equal(0, Enumerable.Range(0, 24).Sum(n => k[m * 24 + n] * u[n]), 1e-10);
        }

        for (int m = 0; m < 24; m++)
            for (int n = 0; n < m; n++) Assert.Equal(k[m * 24 + n], k[n * 24 + m], 1e-10);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    public void Transfer_up_is_the_transpose_of_transfer_down(int grid) => Grids.Sample(g =>
    {
        var random = new Random(g.Seed);
        BrickRows fine = BrickRows.Of(VoxelGrid.OfShares(g.NX, g.NY, g.NZ, 1, (_, _, _) => random.NextDouble() < 0.4 ? 0 : 1));
        if (fine.Slots == 0) return;
        var workers = new Workers(g.Threads, CancellationToken.None);
        var between = new Coarsening(fine, workers);
        // Twin cells come and go from grid to grid.
        for (int n = 0; n < grid; n++) between = new Coarsening(between.Coarse, workers);
        (fine, BrickRows coarse) = (between.Fine, between.Coarse);
        var transfer = new Transfer(between, workers);
        using NativeArray<float> a = new(3 * fine.Slots), b = new(3 * coarse.Slots), down = new(3 * fine.Slots), up = new(3 * coarse.Slots);
        float[] about = fine.SharesAbout(), aboutCoarse = coarse.SharesAbout();
        for (int n = 0; n < a.Length; n++) a.Span[n] = about[n % fine.Slots] > 0 ? (float)random.NextDouble() - 0.5f : 0;
        for (int n = 0; n < b.Length; n++) b.Span[n] = aboutCoarse[n % coarse.Slots] > 0 ? (float)random.NextDouble() - 0.5f : 0;
        transfer.AddInterpolated(b, down);
        transfer.Restrict(a, up);
        double left = 0, right = 0;
        for (int n = 0; n < a.Length; n++) left += a.Span[n] * down.Span[n];
        for (int n = 0; n < b.Length; n++) right += b.Span[n] * up.Span[n];
        Assert.Equal(left, right, 1e-4 * (1 + Math.Abs(left)));
    }, iter: 100);

    [Fact]
    public void No_grid_has_a_larger_scaled_eigenvalue_than_its_cell() => Grids.Sample(g =>
    {
        var random = new Random(g.Seed);
        VoxelGrid grid = VoxelGrid.OfShares(g.NX, g.NY, g.NZ, 1, (_, _, _) => random.NextDouble() < 0.3 ? 0 : random.NextDouble());
        BrickRows rows = BrickRows.Of(grid);
        if (rows.Slots == 0) return;
        using var level = new BrickLevel(rows, BrickFactors.Of(Layered.Elastic, 1), new(1, CancellationToken.None));
        using NativeArray<double> v = new(level.Length), w = new(level.Length);
        for (int n = 0; n < level.Length; n++) v.Span[n] = level.InverseDiagonal.Span[n] > 0 ? random.NextDouble() - 0.5 : 0;
        double quotient = 0;
        for (int round = 0; round < 30; round++)
        {
            level.Apply(v, w);
            double product = 0, norm = 0;
            for (int n = 0; n < level.Length; n++)
            {
                float inverse = level.InverseDiagonal.Span[n];
                if (inverse == 0) continue;
                product += v.Span[n] * w.Span[n];
                norm += v.Span[n] * v.Span[n] / inverse;
                v.Span[n] = w.Span[n] * inverse;
            }

            quotient = product / norm;
        }

        Assert.InRange(quotient, 0, 1.0001 * BrickMatrix.LargestScaledEigenvalue(BrickMatrix.Of(Layered.Elastic, 1)));
    }, iter: 40);

    private static double[] Plain(VoxelGrid grid, BrickRows rows, double[] u, double[] matrix)
    {
        var r = new double[u.Length];
        for (int k = 0; k < grid.NZ; k++)
            for (int j = 0; j < grid.NY; j++)
                for (int i = 0; i < grid.NX; i++)
                {
                    double share = grid.Share(i, j, k);
                    if (share == 0) continue;
                    int[] at = [.. Enumerable.Range(0, 24).Select(n => n % 3 * rows.Slots + rows.SlotOf(i + (n / 3 & 1), j + (n / 3 >> 1 & 1), k + n / 3 / 4))];
                    for (int m = 0; m < 24; m++)
                        for (int n = 0; n < 24; n++) r[at[m]] += share * matrix[m * 24 + n] * u[at[n]];
                }

        return r;
    }
}
