using System.Diagnostics;
using System.Globalization;
using System.Text;
using Sparewright.Solid;
using Sparewright.Strength;
using Sparewright.Strength.Grid;
using Sparewright.Strength.Solve;
using Sparewright.Strength.Stresses;
using Sparewright.Strength.Tests;
using Xunit;

namespace Sparewright.Outside.Strength;

/// <summary>Our solver beside a general-purpose one (Debian package calculix-ccx, its fully integrated eight-corner bricks) on the same cells, supports and forces.</summary>
public sealed class GeneralSolver(ITestOutputHelper output)
{
    private static readonly LayeredStiffness Layered = new(2400, 1700, 0.36, 0.3, 620);

    /// <summary>A plate with a hole of layered material, its cut cells' shares rounded to eighths, held at one end, pulled aside and along at the other.</summary>
    [Fact]
    public async Task Displacements_agree_to_1e4_and_stresses_to_1e3()
    {
        string? program = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(':').Select(p => Path.Combine(p, "ccx")).FirstOrDefault(File.Exists);
        if (program is null) Assert.Skip("skipped: the general-purpose solver is not here; install the Debian package calculix-ccx");
        CancellationToken cancel = TestContext.Current.CancellationToken;
        VoxelGrid exact = VoxelGrid.Over(Shapes.PlateWithHole(24, 14, 5, 3.1, 64), GridFrame.WithUp(new(0.05, 0.1, 1)), 0.62, cancel);
        VoxelGrid grid = VoxelGrid.OfShares(exact.NX, exact.NY, exact.NZ, exact.CellMm, (i, j, k) => Math.Ceiling(8 * exact.Share(i, j, k) - 0.2) / 8).WithoutSpecks();
        var loading = new Loading(grid);
        for (int k = 0; k <= grid.NZ; k++)
            for (int j = 0; j <= grid.NY; j++)
                for (int i = 0; i <= grid.NX; i++)
                {
                    if (!grid.IsUsed(i, j, k)) continue;
                    if (i <= 2) loading.Fix(grid.Corner(i, j, k));
                    else if (i >= grid.NX - 3) loading.Push(grid.Corner(i, j, k), new(0.1, 0.05, -0.08));
                }

        Solution ours = Statics.Solve(Layered, loading, new(1e-10), cancel: cancel);
        Assert.InRange(ours.Unknowns, 20_000, 70_000);

        string folder = Directory.CreateTempSubdirectory("sparewright-").FullName;
        try
        {
            var cells = CellsOf(grid);
            await File.WriteAllTextAsync(Path.Combine(folder, "part.inp"), Deck(grid, cells, loading), cancel);
            var start = new ProcessStartInfo(program, ["-i", "part"]) { WorkingDirectory = folder, RedirectStandardOutput = true, RedirectStandardError = true };
            start.Environment["OMP_NUM_THREADS"] = "2";
            using Process process = Process.Start(start) ?? throw new InvalidOperationException("the general-purpose solver did not start");
            string said = await process.StandardOutput.ReadToEndAsync(cancel);
            await process.WaitForExitAsync(cancel);
            Assert.True(process.ExitCode == 0, said);
            var (displacements, stresses) = Read(await File.ReadAllLinesAsync(Path.Combine(folder, "part.dat"), cancel));

            double most = displacements.Values.Max(u => u.Length);
            double worst = displacements.Max(u => (u.Value - ours.At(u.Key - 1)).Length) / most;
            double mostStress = stresses.Values.Max(s => s.VonMises);
            double worstStress = cells.Index().Max(c => Largest(stresses[c.Index + 1] - CellStress.AtCentre(ours, c.Item.I, c.Item.J, c.Item.K) * c.Item.Share)) / mostStress;
            output.WriteLine($"{ours.Unknowns} unknowns, {cells.Count} cells: displacements differ by {worst:0.0e0} of the largest, stresses by {worstStress:0.0e0}");
            Assert.Equal(cells.Count, stresses.Count);
            Assert.InRange(worst, 0, 1e-4);
            Assert.InRange(worstStress, 0, 1e-3);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static List<(int I, int J, int K, double Share)> CellsOf(VoxelGrid grid)
    {
        var cells = new List<(int, int, int, double)>();
        for (int k = 0; k < grid.NZ; k++)
            for (int j = 0; j < grid.NY; j++)
                for (int i = 0; i < grid.NX; i++)
                    if (grid.Share(i, j, k) > 0) cells.Add((i, j, k, grid.Share(i, j, k)));
        return cells;
    }

    /// <summary>The cells as the other solver reads them: corners and cells counted from 1, one material for each eighth of solid.</summary>
    private static string Deck(VoxelGrid grid, List<(int I, int J, int K, double Share)> cells, Loading loading)
    {
        var deck = new StringBuilder("*NODE, NSET=ALL\n");
        for (int k = 0; k <= grid.NZ; k++)
            for (int j = 0; j <= grid.NY; j++)
                for (int i = 0; i <= grid.NX; i++)
                    if (grid.IsUsed(i, j, k)) Line($"{grid.Corner(i, j, k) + 1}, {i * grid.CellMm:R}, {j * grid.CellMm:R}, {k * grid.CellMm:R}");
        foreach (var kind in cells.Index().GroupBy(c => Math.Round(8 * c.Item.Share)))
        {
            Line($"*ELEMENT, TYPE=C3D8, ELSET=SHARE{kind.Key}");
            foreach (var (n, (i, j, k, _)) in kind)
                Line($"{n + 1}, {string.Join(", ", new[] { (0, 0, 0), (1, 0, 0), (1, 1, 0), (0, 1, 0), (0, 0, 1), (1, 0, 1), (1, 1, 1), (0, 1, 1) }.Select(c => grid.Corner(i + c.Item1, j + c.Item2, k + c.Item3) + 1))}");
            double share = kind.Key / 8, across = Layered.NuAcross * Layered.InLayerMPa / Layered.AcrossLayersMPa;
            Line($"*MATERIAL, NAME=PRINT{kind.Key}");
            Line($"*ELASTIC, TYPE=ENGINEERING CONSTANTS");
            Line($"{share * Layered.InLayerMPa:R}, {share * Layered.InLayerMPa:R}, {share * Layered.AcrossLayersMPa:R}, {Layered.NuInLayer:R}, {across:R}, {across:R}, {share * Layered.ShearInLayerMPa:R}, {share * Layered.ShearAcrossMPa:R}");
            Line($"{share * Layered.ShearAcrossMPa:R}, 293");
            Line($"*SOLID SECTION, ELSET=SHARE{kind.Key}, MATERIAL=PRINT{kind.Key}");
        }

        Line($"*STEP");
        Line($"*STATIC");
        Line($"*BOUNDARY");
        foreach (var ((corner, axis), mm) in loading.Fixed) Line($"{corner + 1}, {axis + 1}, {axis + 1}, {mm:R}");
        Line($"*CLOAD");
        foreach (var (corner, f) in loading.Forces)
        {
            Line($"{corner + 1}, 1, {f.X:R}");
            Line($"{corner + 1}, 2, {f.Y:R}");
            Line($"{corner + 1}, 3, {f.Z:R}");
        }

        Line($"*NODE PRINT, NSET=ALL");
        Line($"U");
        foreach (double kind in cells.Select(c => Math.Round(8 * c.Share)).Distinct())
        {
            Line($"*EL PRINT, ELSET=SHARE{kind}");
            Line($"S");
        }

        Line($"*END STEP");
        return deck.ToString();

        void Line(FormattableString line) => deck.Append(line.ToString(CultureInfo.InvariantCulture)).Append('\n');
    }

    /// <summary>Displacements by corner and stresses by cell: the mean over its eight points is that in its middle.</summary>
    private static (Dictionary<int, Point3> Displacements, Dictionary<int, Stress> Stresses) Read(string[] lines)
    {
        var displacements = new Dictionary<int, Point3>();
        var stresses = new Dictionary<int, Stress>();
        bool areStresses = false;
        foreach (string line in lines)
        {
            if (line.Contains("displacements", StringComparison.Ordinal)) areStresses = false;
            else if (line.Contains("stresses", StringComparison.Ordinal)) areStresses = true;
            string[] words = line.Split(' ', StringSplitOptions.RemoveEmptyEntries);
            if (words.Length < 4 || !int.TryParse(words[0], CultureInfo.InvariantCulture, out int number)) continue;
            double[] values = [.. words[1..].Select(w => double.Parse(w, CultureInfo.InvariantCulture))];
            if (!areStresses) displacements[number] = new(values[0], values[1], values[2]);
            else stresses[number] = stresses.GetValueOrDefault(number) + new Stress(values[1], values[2], values[3], values[6], values[5], values[4]) * 0.125;
        }

        return (displacements, stresses);
    }

    private static double Largest(Stress s) => new[] { s.XX, s.YY, s.ZZ, s.YZ, s.XZ, s.XY }.Max(Math.Abs);
}
