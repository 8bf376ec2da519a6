using System.Diagnostics;
using System.Globalization;
using System.Text;
using Sparewright.Strength.Grid;
using Sparewright.Strength.Solve;

namespace Sparewright.Bench;

/// <summary>
/// The general-purpose solver (Debian package calculix-ccx) on the cells, supports and forces of a loading on whole cells. Its time holds the start of its process and its reading and writing; it stops at its own tolerance.
/// </summary>
internal static class GeneralSolverRun
{
    /// <summary>The better of its two iterative solvers: seconds by the clock and of processors, and the most memory that it was seen to hold; null where it is not installed.</summary>
    public static (double Seconds, double ProcessorSeconds, long Bytes)? Best(Loading loading, double modulusMPa, double nu)
    {
        var runs = new[] { "ITERATIVESCALING", "ITERATIVECHOLESKY" }.Select(solver => Run(loading, modulusMPa, nu, solver)).ToArray();
        return runs.Contains(null) ? null : runs.MinBy(r => r!.Value.ProcessorSeconds);
    }

    private static (double Seconds, double ProcessorSeconds, long Bytes)? Run(Loading loading, double modulusMPa, double nu, string solver)
    {
        string folder = Directory.CreateTempSubdirectory("sparewright-bench-").FullName;
        try
        {
            File.WriteAllText(Path.Combine(folder, "part.inp"), Deck(loading, modulusMPa, nu, solver));
            var start = new ProcessStartInfo("ccx", ["-i", "part"]) { WorkingDirectory = folder, RedirectStandardOutput = true };
            start.Environment["OMP_NUM_THREADS"] = Environment.ProcessorCount.ToString(CultureInfo.InvariantCulture);
            var clock = Stopwatch.StartNew();
            using Process process = Process.Start(start) ?? throw new InvalidOperationException("the general-purpose solver did not start");
            Task<string> said = process.StandardOutput.ReadToEndAsync();
            long most = 0;
            double processor = 0;
            while (!process.WaitForExit(50))
            {
                process.Refresh();
                try
                {
                    most = Math.Max(most, process.WorkingSet64);
                    processor = process.TotalProcessorTime.TotalSeconds;
                }
                catch (InvalidOperationException)
                {
                    // It ended between two looks.
                    break;
                }
            }

            process.WaitForExit();

            double seconds = clock.Elapsed.TotalSeconds;
            if (process.ExitCode != 0 || !File.Exists(Path.Combine(folder, "part.dat")) || new FileInfo(Path.Combine(folder, "part.dat")).Length == 0) throw new InvalidOperationException(said.Result);
            return (seconds, processor, most);
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return null;
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static string Deck(Loading loading, double modulusMPa, double nu, string solver)
    {
        VoxelGrid grid = loading.Grid;
        var deck = new StringBuilder("*NODE, NSET=ALL\n");
        for (int k = 0; k <= grid.NZ; k++)
            for (int j = 0; j <= grid.NY; j++)
                for (int i = 0; i <= grid.NX; i++) Line($"{grid.Corner(i, j, k) + 1}, {i * grid.CellMm:R}, {j * grid.CellMm:R}, {k * grid.CellMm:R}");
        Line($"*ELEMENT, TYPE=C3D8, ELSET=PART");
        int number = 0;
        for (int k = 0; k < grid.NZ; k++)
            for (int j = 0; j < grid.NY; j++)
                for (int i = 0; i < grid.NX; i++)
                    Line($"{++number}, {string.Join(", ", new[] { (0, 0, 0), (1, 0, 0), (1, 1, 0), (0, 1, 0), (0, 0, 1), (1, 0, 1), (1, 1, 1), (0, 1, 1) }.Select(c => grid.Corner(i + c.Item1, j + c.Item2, k + c.Item3) + 1))}");
        Line($"*MATERIAL, NAME=PLASTIC");
        Line($"*ELASTIC");
        Line($"{modulusMPa:R}, {nu:R}");
        Line($"*SOLID SECTION, ELSET=PART, MATERIAL=PLASTIC");
        Line($"*STEP");
        Line($"*STATIC, SOLVER={solver}");
        Line($"*BOUNDARY");
        foreach (var ((corner, axis), mm) in loading.Fixed) Line($"{corner + 1}, {axis + 1}, {axis + 1}, {mm:R}");
        Line($"*CLOAD");
        foreach (var (corner, force) in loading.Forces) Line($"{corner + 1}, 3, {force.Z:R}");
        Line($"*NODE PRINT, NSET=ALL");
        Line($"U");
        Line($"*END STEP");
        return deck.ToString();

        void Line(FormattableString line) => deck.Append(line.ToString(CultureInfo.InvariantCulture)).Append('\n');
    }
}
