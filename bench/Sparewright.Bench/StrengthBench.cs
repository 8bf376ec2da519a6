using System.Diagnostics;
using System.Globalization;
using System.Numerics;
using System.Runtime.InteropServices;
using Sparewright.Strength;
using Sparewright.Strength.Grid;
using Sparewright.Strength.Solve;

namespace Sparewright.Bench;

/// <summary>
/// The strength solver on a cantilever of whole cells (100 × 20 × 20 mm, clamped, pushed at its tip) in ratios that hardly depend on the machine: of one application of the operator to what
/// memory could do, of a whole solution to one application, of a general-purpose solver to ours, of sizes and threads to each other. Runs that are compared alternate.
/// </summary>
internal static class StrengthBench
{
    private static readonly LayeredStiffness Plastic = LayeredStiffness.Isotropic(2300, 0.35);

    public static void Write(int runs)
    {
        Paper.Heading("Strength");
        Paper.UnderWay("strength: the first solution of this process");
        Loading million = Cantilever(200);
        Times first = new();
        Solution solution = Timed(million, null, first);

        Paper.UnderWay("strength: operator, memory and solutions in turn");
        Times apply = new(), triad = new(), ours = new(), twin = new(), whole = new(), single = new(), small = new(), four = new();
        Loading seventyThousand = Cantilever(80), fourMillion = Cantilever(320);
        Solution? smallSolution = null, fourSolution = null, oneThread = null;
        using OperatorRun operatorRun = new(million, Environment.ProcessorCount), alone = new(million, 1);
        Times applyAlone = new();
        for (int run = 0; run < runs; run++)
        {
            apply.Add(operatorRun.ApplyMs());
            triad.Add(operatorRun.TriadMs());
            ours.Add(operatorRun.KernelMs());
            if (operatorRun.TwinMs() is { } twinMs) twin.Add(twinMs);
            Timed(million, null, whole);
            oneThread = Timed(million, 1, single);
            applyAlone.Add(alone.ApplyMs());
            smallSolution = Timed(seventyThousand, null, small);
            if (run < 3) fourSolution = Timed(fourMillion, null, four);
        }

        // The least traffic of one application: read u, allocate and write r, 12 bytes an unknown; a triad moves 3 × 4 bytes an entry.
        double ofBandwidth = triad.Clock / apply.Clock * (12.0 * operatorRun.Unknowns) / (12.0 * OperatorRun.TriadLength);
        Paper.Table(["what", "figure", "goal"],
        [
            ["one application, single precision, 1.0 million unknowns: share of what a triad in the same run moves", Paper.Ratio(ofBandwidth), "≥ 0.30"],
            ["the kernel in C (gcc -O3 -march=native) over ours, one thread, the same data", twin.Count > 0 ? Paper.Ratio(twin.Clock / ours.Clock) : "no gcc here", "≥ 0.85"],
            ["largest difference of the two, as a share of the largest force", operatorRun.TwinDiffers is { } differs ? differs.ToString("0.0e0", CultureInfo.InvariantCulture) : "no gcc here", "≤ 1e-6"],
            ["whole solution over one application (1e-8)", Whole(whole.Clock / apply.Clock), "≤ 300"],
            ["the same by one thread, in processor time", Whole(single.Processor / applyAlone.Clock), "≤ 300"],
            ["iterations at 0.07, 1.0 and 4.1 million unknowns", $"{smallSolution!.Iterations}, {solution.Iterations}, {fourSolution!.Iterations}", "≤ 15, within 2"],
            ["bytes an unknown that the solver holds at 4.1 million", Paper.Ratio((double)fourSolution.Bytes / fourSolution.Unknowns), "≤ 80"],
            ["one thread over all", Paper.Ratio(single.Clock / whole.Clock), "≥ 1.5"],
            ["all threads give the bits of one", oneThread!.Raw.SequenceEqual(solution.Raw) ? "yes" : "no", "yes"],
            ["first solution of a process over the median", Paper.Ratio(first.Clock / whole.Clock), "≤ 2"],
            ["time at 4.1 over 1.0 million unknowns", Paper.Ratio(four.Clock / whole.Clock), "≤ 4.8"],
        ]);
        GeneralPurpose(runs > 2 ? [80, 120] : [80]);
        Thin();
        Paper.Words($"Median {Paper.Ms(whole.Clock)} ms for {solution.Unknowns.ToString(CultureInfo.InvariantCulture)} unknowns, {Paper.Ms(small.Clock)} ms for {smallSolution.Unknowns.ToString(CultureInfo.InvariantCulture)}, everything included but the grid; {Environment.ProcessorCount} threads.");
    }

    /// <summary>Ours and a general-purpose solver at a million unknowns too: minutes, so only by hand.</summary>
    public static void WriteGeneralPurpose()
    {
        Paper.Heading("Strength beside a general-purpose solver");
        GeneralPurpose([80, 120, 200]);
    }

    /// <summary>Seconds of a general-purpose solver over ours on so many cells along the cantilever, ours with everything but the grid.</summary>
    private static void GeneralPurpose(int[] cellsAlong)
    {
        var goals = new Dictionary<int, string> { [80] = "≥ 20", [120] = "≥ 60", [200] = "≥ 150" };
        var rows = new List<string[]>();
        foreach (int along in cellsAlong)
        {
            Paper.UnderWay($"strength: the general-purpose solver on {along} cells along");
            Loading loading = Cantilever(along);
            Times ours = new();
            Solution solution = Timed(loading, null, ours);
            for (int run = 0; run < 4; run++) Timed(loading, null, ours);
            string unknowns = $"{solution.Unknowns.ToString(CultureInfo.InvariantCulture)} unknowns";
            rows.Add(GeneralSolverRun.Best(loading, 2300, 0.35) is var (seconds, processor, bytes)
                ? [unknowns, Paper.Ratio(1000 * seconds / ours.Clock), goals[along], Paper.Ratio(1000 * processor / ours.Processor), $"{Paper.Ratio(seconds)} s, {Paper.Ms(ours.Clock)} ms", Paper.Ratio((double)bytes / solution.Bytes), "≥ 8"]
                : [unknowns, "ccx is not installed", goals[along], "", "", "", ""]);
        }

        Paper.Table(["the better of two iterative solvers of a general-purpose program over ours", "time", "goal", "processor time", "its, our time", "memory", "goal"], rows);
    }

    /// <summary>What the solver holds for each unknown where walls are a few cells thick: the levels of groups take more there than the cells.</summary>
    private static void Thin()
    {
        var rows = new List<string[]>();
        foreach (var (name, grid, isHeld, isPushed) in ThinParts())
        {
            Paper.UnderWay($"strength: {name}");
            var loading = new Loading(grid);
            for (int k = 0; k <= grid.NZ; k++)
                for (int j = 0; j <= grid.NY; j++)
                    for (int i = 0; i <= grid.NX; i++)
                    {
                        if (!grid.IsUsed(i, j, k)) continue;
                        if (isHeld(i, j, k)) loading.Fix(grid.Corner(i, j, k));
                        else if (isPushed(i, j, k)) loading.Push(grid.Corner(i, j, k), new(0.01, 0.01, 0.02));
                    }

            Solution solution = Timed(loading, null, new Times());
            rows.Add([name, solution.Unknowns.ToString(CultureInfo.InvariantCulture), solution.Iterations.ToString(CultureInfo.InvariantCulture), Whole((double)solution.Bytes / solution.Unknowns)]);
        }

        Paper.Table(["thin parts", "unknowns", "iterations (≤ 25)", "bytes an unknown (goal ≤ 80)"], rows);
    }

    private static IEnumerable<(string Name, VoxelGrid Grid, Func<int, int, int, bool> IsHeld, Func<int, int, int, bool> IsPushed)> ThinParts()
    {
        foreach (int wall in (int[])[2, 3, 4])
        {
            int half = 48 + wall;
            double Ring(int i, int j) => Math.Sqrt((i + 0.5 - half) * (i + 0.5 - half) + (j + 0.5 - half) * (j + 0.5 - half));
            yield return ($"a ring with a wall of {wall} cells", VoxelGrid.OfShares(2 * half, 2 * half, 8, 0.4, (i, j, _) => Math.Abs(Ring(i, j) - half + wall / 2.0) <= wall / 2.0 ? 1 : 0), (i, _, _) => i < 3, (i, _, _) => i > 2 * half - 3);
        }

        foreach (int thick in (int[])[2, 4])
            yield return ($"a lattice of bars {thick} cells thick", VoxelGrid.OfShares(144, 144, thick, 0.4, (i, j, _) => i % 10 < thick || j % 10 < thick ? 1 : 0), (i, _, _) => i == 0, (i, _, _) => i >= 140);
        yield return ("a sheet of 3 cells", VoxelGrid.OfShares(300, 200, 3, 0.4, (_, _, _) => 1), (i, _, _) => i == 0, (i, _, _) => i == 300);
    }

    private static string Whole(double x) => x.ToString("0", CultureInfo.InvariantCulture);

    private static Solution Timed(Loading loading, int? threads, Times times)
    {
        using var self = Process.GetCurrentProcess();
        double before = self.TotalProcessorTime.TotalMilliseconds;
        var clock = Stopwatch.StartNew();
        Solution solution = Statics.Solve(Plastic, loading, new(Threads: threads));
        double ms = clock.Elapsed.TotalMilliseconds;
        self.Refresh();
        times.Add(ms, self.TotalProcessorTime.TotalMilliseconds - before);
        return solution;
    }

    private static Loading Cantilever(int along)
    {
        int across = along / 5;
        VoxelGrid grid = VoxelGrid.OfShares(along, across, across, 100.0 / along, (_, _, _) => 1);
        var loading = new Loading(grid);
        for (int k = 0; k <= across; k++)
            for (int j = 0; j <= across; j++)
            {
                loading.Fix(grid.Corner(0, j, k));
                double share = (j == 0 || j == across ? 0.5 : 1) * (k == 0 || k == across ? 0.5 : 1) / (across * across);
                loading.Push(grid.Corner(along, j, k), new(0, 0, -50 * share));
            }

        return loading;
    }

    /// <summary>One operator and three long arrays, each timed as the least of ten goes.</summary>
    private sealed unsafe class OperatorRun : IDisposable
    {
        private const int Goes = 10;
        private readonly Workers _workers;
        private readonly BrickLevel _level;
        private readonly NativeArray<float> _u, _r, _a, _b, _c, _shares;
        private readonly BrickTwin? _twin = BrickTwin.Build();

        public OperatorRun(Loading loading, int threads)
        {
            VoxelGrid grid = loading.Grid;
            _workers = new(threads, CancellationToken.None);
            _level = new(BrickRows.Of(grid), BrickFactors.Of(Plastic.Elastic, grid.CellMm), _workers);
            _u = new(_level.Length);
            _r = new(_level.Length);
            _shares = new(_level.Rows.Shares.Length);
            _level.Rows.Shares.CopyTo(_shares.Span);
            for (int n = 0; n < _u.Length; n++) _u.Span[n] = n % 7;
            _a = new(TriadLength);
            _b = new(TriadLength);
            _c = new(TriadLength);
            Unknowns = 3 * (grid.NX + 1) * (grid.NY + 1) * (grid.NZ + 1);
        }

        public int Unknowns { get; }

        /// <summary>Far beyond every cache: 128 MiB each.</summary>
        public const int TriadLength = 1 << 25;

        public double ApplyMs() => Least(() => _level.Apply(_u, _r));

        /// <summary>The kernel alone, all layers by one thread.</summary>
        public double KernelMs() => Least(() => BrickKernel.Add(_level.Rows, _shares.Start, null, _level.Factors, _u.Start, _r.Start, 0, _level.Rows.NZ));

        public double? TwinMs() => _twin is null ? null : Least(() => _twin.Add(_level.Rows, _shares.Start, _level.Factors, _u.Start, _r.Start, 0, _level.Rows.NZ));

        /// <summary>How far the two kernels' forces are apart.</summary>
        public double? TwinDiffers
        {
            get
            {
                if (_twin is null) return null;
                using NativeArray<float> other = new(_r.Length);
                _r.Span.Clear();
                BrickKernel.Add(_level.Rows, _shares.Start, null, _level.Factors, _u.Start, _r.Start, 0, _level.Rows.NZ);
                _twin.Add(_level.Rows, _shares.Start, _level.Factors, _u.Start, other.Start, 0, _level.Rows.NZ);
                double most = 0, apart = 0;
                for (int n = 0; n < other.Length; n++)
                {
                    most = Math.Max(most, Math.Abs(other.Span[n]));
                    apart = Math.Max(apart, Math.Abs(other.Span[n] - _r.Span[n]));
                }

                return apart / most;
            }
        }

        public double TriadMs() => Least(() => _workers.For(64, piece =>
        {
            int length = TriadLength / 64;
            Span<Vector<float>> a = MemoryMarshal.Cast<float, Vector<float>>(_a.Slice(piece * length, length));
            ReadOnlySpan<Vector<float>> b = MemoryMarshal.Cast<float, Vector<float>>(_b.Slice(piece * length, length)), c = MemoryMarshal.Cast<float, Vector<float>>(_c.Slice(piece * length, length));
            for (int v = 0; v < a.Length; v++) a[v] = b[v] + c[v] * 1.5f;
        }));

        private static double Least(Action go)
        {
            double least = double.MaxValue;
            for (int n = 0; n < Goes; n++)
            {
                var clock = Stopwatch.StartNew();
                go();
                least = Math.Min(least, clock.Elapsed.TotalMilliseconds);
            }

            return least;
        }

        public void Dispose()
        {
            _level.Dispose();
            _twin?.Dispose();
            foreach (NativeArray<float> array in (NativeArray<float>[])[_u, _r, _a, _b, _c, _shares]) array.Dispose();
        }
    }
}
