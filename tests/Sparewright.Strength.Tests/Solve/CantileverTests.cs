using Sparewright.Strength.Grid;
using Sparewright.Strength.Solve;
using Xunit;

namespace Sparewright.Strength.Tests.Solve;

public sealed class CantileverTests(ITestOutputHelper output)
{
    [Theory]
    [InlineData(80, 16)]
    [InlineData(120, 24)]
    [InlineData(200, 40)]
    public void Tip(int nx, int ny)
    {
        double h = 100.0 / nx;
        VoxelGrid grid = VoxelGrid.OfShares(nx, ny, ny, h, (_, _, _) => 1);
        var loading = new Loading(grid);
        for (int k = 0; k <= ny; k++)
            for (int j = 0; j <= ny; j++)
            {
                loading.Fix(grid.Corner(0, j, k));
                double share = (j is 0 || j == ny ? 0.5 : 1) * (k is 0 || k == ny ? 0.5 : 1) / (ny * ny);
                loading.Push(grid.Corner(nx, j, k), new(0, 0, -50 * share));
            }

        for (int repeat = 0; repeat < 4; repeat++)
        {
            var watch = System.Diagnostics.Stopwatch.StartNew();
            Solution s = Statics.Solve(LayeredStiffness.Isotropic(2300, 0.35), loading, cancel: TestContext.Current.CancellationToken);
            double mean = 0;
            for (int k = 0; k <= ny; k++)
                for (int j = 0; j <= ny; j++) mean += s.At(nx, j, k).Z / ((ny + 1) * (ny + 1));
            output.WriteLine($"{watch.Elapsed.TotalMilliseconds:0} ms, {s.Iterations} its, depth {s.Depth}, tip {-mean:0.000000} {-s.At(nx, ny / 2, ny / 2).Z:0.000000} energy {s.EnergyNmm} work {s.WorkNmm / 2}, {s.Bytes / (double)s.Unknowns:0.0} B/DOF");
        }
    }
}
