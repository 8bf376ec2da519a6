using Sparewright.Strength.Grid;
using Sparewright.Strength.Solve;
using Xunit;

namespace Sparewright.Strength.Tests.Solve;

public sealed class SlenderTests(ITestOutputHelper output)
{
    private static double Sampled(Func<double, double, double, bool> solid, int i, int j, int k)
    {
        int n = 0;
        for (int c = 0; c < 64; c++)
            if (solid(i + (c % 4 + .5) / 4, j + (c / 4 % 4 + .5) / 4, k + (c / 16 + .5) / 4)) n++;
        return n / 64.0;
    }

    private static bool Ring(double x, double y, double z, double r, double wall, bool slit)
    {
        double d = Math.Sqrt((x - r - 1.3) * (x - r - 1.3) + (y - r - 1.3) * (y - r - 1.3));
        return d < r && d > r - wall && z < wall * 2 && !(slit && Math.Abs(x - r - 1.3) < 1 && y > r);
    }

    private static bool Lattice(double x, double y, double z, double bar, double pitch) =>
        z < bar && (x % pitch < bar || y % pitch < bar);

    private static bool Hook(double x, double y, double z, double t, double length)
    {
        if (z > t) return false;
        double r = 3 * t;
        if (x < length) return y < t;
        double d = Math.Sqrt((x - length) * (x - length) + (y - r) * (y - r));
        return d < r && d > r - t;
    }

    [Theory]
    [InlineData("ring", 40, 6)]
    [InlineData("ring", 40, 3)]
    [InlineData("ring", 60, 1.7)]
    [InlineData("clip", 40, 6)]
    [InlineData("clip", 40, 3)]
    [InlineData("clip", 60, 1.7)]
    [InlineData("clip", 60, 6)]
    [InlineData("lattice", 2, 8)]
    [InlineData("lattice", 3, 12)]
    [InlineData("lattice", 4, 9)]
    [InlineData("lattice", 6, 18)]
    [InlineData("hook", 6, 150)]
    [InlineData("hook", 4, 150)]
    [InlineData("hook", 3, 200)]
    [InlineData("plate", 2.5, 120)]
    [InlineData("plate", 5, 240)]
    public void Converge(string shape, double a, double b)
    {
        Func<double, double, double, bool> solid = shape switch
        {
            "ring" => (x, y, z) => Ring(x, y, z, a, b, false),
            "clip" => (x, y, z) => Ring(x, y, z, a, b, true),
            "lattice" => (x, y, z) => Lattice(x, y, z, a, b),
            "plate" => (x, y, z) => z > 1.2 && z < 1.2 + a,
            _ => (x, y, z) => Hook(x, y, z, a, b),
        };
        int nx = shape switch { "ring" or "clip" => (int)(2 * a + 3), "lattice" => (int)(10 * b + a), "plate" => (int)b, _ => (int)(b + 4 * a) };
        int ny = shape switch { "hook" => (int)(6 * a + 1), _ => nx };
        int nz = shape switch { "ring" or "clip" => (int)(2 * b + 1), "lattice" => (int)(a + 1), _ => (int)a + 3 };
        var grid = VoxelGrid.OfShares(nx, ny, nz, 0.4, (i, j, k) => Sampled(solid, i, j, k));
        var loading = new Loading(grid);
        for (int k = 0; k <= nz; k++)
            for (int j = 0; j <= ny; j++)
                for (int i = 0; i <= nx; i++)
                {
                    if (!grid.IsUsed(i, j, k)) continue;
                    bool held = shape switch { "ring" => j <= 3, "clip" => j <= 3, _ => i == 0 };
                    bool loaded = shape switch { "ring" => j > ny - 5, "clip" => j > ny - 6 && i < a, "lattice" or "plate" => i == nx, _ => i > b + 2 * a && j < ny / 2 };
                    if (held) loading.Fix(grid.Corner(i, j, k));
                    else if (loaded) loading.Push(grid.Corner(i, j, k), new(0.01, 0.01, 0.02));
                }
        var watch = System.Diagnostics.Stopwatch.StartNew();
        Solution s = Statics.Solve(LayeredStiffness.Isotropic(2300, 0.35), loading, cancel: TestContext.Current.CancellationToken);
        output.WriteLine($"{shape} {a} {b}: {s.Unknowns} dof, {s.Iterations} its, {watch.ElapsedMilliseconds} ms, depth {s.Depth}, {s.Bytes / (double)s.Unknowns:0} B/DOF, cells {grid.Cells}");
    }
}
