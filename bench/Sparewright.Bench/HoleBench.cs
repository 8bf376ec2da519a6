using System.Diagnostics;
using System.Globalization;
using System.Text;
using Sparewright.Solid;
using Sparewright.Strength;
using Sparewright.Strength.Formulas;
using Sparewright.Strength.Grid;
using Sparewright.Strength.Solve;
using Sparewright.Strength.Stresses;
using Sparewright.Strength.Tests;

namespace Sparewright.Bench;

/// <summary>
/// Accuracy for its time: a strip 100 × 20 × 2 mm with a hole of 6 mm in its middle, pulled with 1 MPa. Who comes within 5 % of the handbook's peak (Roark, table 17.1) sooner: our cells with the stress
/// continued to the wall, or quadratic tetrahedra of a general-purpose solver on a mesh laid about this hole by hand, finer toward it, its sides' middles on the circle.
/// </summary>
internal static class HoleBench
{
    private const double Long = 100, Wide = 20, Thick = 2, Radius = 3, Within = 0.05;

    private static readonly LayeredStiffness Plastic = LayeredStiffness.Isotropic(2300, 0.35);

    private static double Peak => HoleInStrip.KtGross(2 * Radius / Wide);

    public static void Write(int runs)
    {
        Paper.UnderWay("strength: accuracy for its time");
        var rows = new List<string[]>();
        (double, double)? cells = null, tetrahedra = null;
        foreach (int across in (int[])[6, 8, 12, 16, 24])
        {
            Times times = new();
            double kt = 0;
            for (int run = 0; run < runs; run++) kt = InCells(across, times);
            rows.Add([$"{across} cells across the hole", Paper.Ratio(kt), Percent(kt), Paper.Ms(times.Clock), Paper.Ms(times.Processor)]);
            if (Math.Abs(kt / Peak - 1) <= Within) cells ??= (times.Clock, times.Processor);
        }

        foreach (var (around, outward) in ((int, int)[])[(4, 3), (6, 4), (8, 6), (12, 9)])
        {
            Times times = new();
            double? kt = 0;
            for (int run = 0; run < runs && kt is not null; run++) kt = InTetrahedra(around, outward, times);
            if (kt is not { } found)
            {
                rows.Add(["tetrahedra", "ccx is not installed", "", "", ""]);
                break;
            }

            rows.Add([$"tetrahedra, {4 * around} about the hole and {outward} outward", Paper.Ratio(found), Percent(found), Paper.Ms(times.Clock), Paper.Ms(times.Processor)]);
            if (Math.Abs(found / Peak - 1) <= Within) tetrahedra ??= (times.Clock, times.Processor);
        }

        Paper.Table([$"peak at the hole, handbook {Paper.Ratio(Peak)}", "peak", "off by", "ms", "ms of a processor"], rows);
        if (cells is var (ours, oursProcessor) && tetrahedra is var (its, itsProcessor))
            Paper.Words($"Within 5 % first: the general-purpose solver on that mesh takes {Paper.Ratio(its / ours)} times as long as our cells ({Paper.Ratio(itsProcessor / oursProcessor)} in processor time). Its mesh is given; ours begins with the surface.");
    }

    private static string Percent(double kt) => (100 * (kt / Peak - 1)).ToString("+0.0;−0.0", CultureInfo.InvariantCulture) + " %";

    private static double InCells(int across, Times times)
    {
        Mesh mesh = Shapes.PlateWithHole(Long, Wide, Thick, Radius, 180);
        using var self = Process.GetCurrentProcess();
        double before = self.TotalProcessorTime.TotalMilliseconds;
        var clock = Stopwatch.StartNew();
        VoxelGrid grid = VoxelGrid.Over(mesh, GridFrame.Job, 2 * Radius / across);
        var loading = new Loading(grid);
        double perCorner = Wide * Thick / (grid.NY * grid.NZ);
        for (int k = 0; k <= grid.NZ; k++)
            for (int j = 0; j <= grid.NY; j++)
            {
                loading.Fix(grid.Corner(0, j, k), 0);
                if (j == grid.NY / 2) loading.Fix(grid.Corner(0, j, k), 1);
                if (k == grid.NZ / 2) loading.Fix(grid.Corner(0, j, k), 2);
                double share = (j == 0 || j == grid.NY ? 0.5 : 1) * (k == 0 || k == grid.NZ ? 0.5 : 1);
                if (grid.IsUsed(grid.NX, j, k)) loading.Push(grid.Corner(grid.NX, j, k), new(perCorner * share, 0, 0));
            }

        Solution solution = Statics.Solve(Plastic, loading, new(1e-6));
        Point3 middle = grid.Origin + new Point3(Long / 2, Wide / 2, Thick / 2);
        Point3 outward = new(0, -1, 0);
        double kt = SurfaceStress.WithTraction(SurfaceStress.At(solution, middle - outward * Radius, outward)!.Value, outward, default, Plastic).XX;
        times.Add(clock.Elapsed.TotalMilliseconds, Since(self, before));
        return kt;
    }

    private static double Since(Process self, double beforeMs)
    {
        self.Refresh();
        return self.TotalProcessorTime.TotalMilliseconds - beforeMs;
    }

    /// <summary>The peak by the general-purpose solver; null where it is not installed.</summary>
    private static double? InTetrahedra(int around, int outward, Times times)
    {
        var mesh = new MappedStrip(around, outward);
        string folder = Directory.CreateTempSubdirectory("sparewright-bench-").FullName;
        try
        {
            File.WriteAllText(Path.Combine(folder, "part.inp"), mesh.Deck());
            var start = new ProcessStartInfo("ccx", ["-i", "part"]) { WorkingDirectory = folder, RedirectStandardOutput = true };
            start.Environment["OMP_NUM_THREADS"] = Environment.ProcessorCount.ToString(CultureInfo.InvariantCulture);
            var clock = Stopwatch.StartNew();
            using Process process = Process.Start(start) ?? throw new InvalidOperationException("the general-purpose solver did not start");
            Task<string> said = process.StandardOutput.ReadToEndAsync();
            double processor = 0;
            while (!process.WaitForExit(5))
            {
                process.Refresh();
                if (!process.HasExited) processor = process.TotalProcessorTime.TotalMilliseconds;
            }

            times.Add(clock.Elapsed.TotalMilliseconds, processor);
            return process.ExitCode == 0 ? mesh.PeakIn(File.ReadLines(Path.Combine(folder, "part.frd"))) : throw new InvalidOperationException(said.Result);
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

    /// <summary>The strip in blocks about its hole, each cut into six tetrahedra with middles on their edges.</summary>
    private sealed class MappedStrip(int around, int outward)
    {
        private readonly Dictionary<(int, int), int> _middles = [];
        private readonly List<Point3> _points = [];
        private readonly List<int[]> _elements = [];

        /// <summary>How much closer blocks lie toward the hole.</summary>
        private const double Crowding = 2.2;

        private int Round => 4 * around;

        public string Deck()
        {
            // Corners first: about, outward, across the thickness.
            for (int k = 0; k <= 1; k++)
                for (int s = 0; s <= outward; s++)
                    for (int a = 0; a < Round; a++) _points.Add(Corner(a, s, k));
            for (int s = 0; s < outward; s++)
                for (int a = 0; a < Round; a++) Cut(a, s);
            var deck = new StringBuilder("*NODE, NSET=ALL\n");
            foreach (var (n, p) in _points.Index()) Line($"{n + 1}, {p.X:0.0000000000}, {p.Y:0.0000000000}, {p.Z:0.0000000000}");
            Line($"*ELEMENT, TYPE=C3D10, ELSET=PART");
            foreach (var (n, e) in _elements.Index()) Line($"{n + 1}, {string.Join(", ", e.Select(i => i + 1))}");
            Line($"*MATERIAL, NAME=PLASTIC");
            Line($"*ELASTIC");
            Line($"2300, 0.35");
            Line($"*SOLID SECTION, ELSET=PART, MATERIAL=PLASTIC");
            Line($"*STEP");
            Line($"*STATIC");
            Line($"*BOUNDARY");
            foreach (var (n, p) in _points.Index())
            {
                if (p.X < -Long / 2 + 1e-6) Line($"{n + 1}, 1, 1");
                if (Math.Abs(p.Y) < 1e-6 && p.X < 0) Line($"{n + 1}, 2, 2");
                if (Math.Abs(p.Z) < 1e-6 && p.X < -Long / 2 + 1e-6) Line($"{n + 1}, 3, 3");
            }

            Line($"*DLOAD");
            int[][] sides = [[0, 1, 2], [0, 3, 1], [1, 3, 2], [2, 3, 0]];
            foreach (var (n, e) in _elements.Index())
                for (int side = 0; side < 4; side++)
                    if (sides[side].All(c => _points[e[c]].X > Long / 2 - 1e-6)) Line($"{n + 1}, P{side + 1}, -1");
            Line($"*NODE FILE");
            Line($"U");
            Line($"*EL FILE");
            Line($"S");
            Line($"*END STEP");
            return deck.ToString();

            void Line(FormattableString line) => deck.Append(line.ToString(CultureInfo.InvariantCulture)).Append('\n');
        }

        /// <summary>The largest pull along the strip at the corners on the hole.</summary>
        public double PeakIn(IEnumerable<string> lines)
        {
            double most = 0;
            foreach (string line in lines.SkipWhile(l => !l.StartsWith(" -4  STRESS", StringComparison.Ordinal)).TakeWhile(l => !l.StartsWith(" -3", StringComparison.Ordinal)))
            {
                if (!line.StartsWith(" -1", StringComparison.Ordinal)) continue;
                Point3 at = _points[int.Parse(line.AsSpan(3, 10), CultureInfo.InvariantCulture) - 1];
                if (Math.Sqrt(at.X * at.X + at.Y * at.Y) < Radius + 1e-6) most = Math.Max(most, double.Parse(line.AsSpan(13, 12), CultureInfo.InvariantCulture));
            }

            return most;
        }

        private int Number(int a, int s, int k) => (k * (outward + 1) + s) * Round + a % Round;

        private static Point3 OnCircle(double angle, double z) => new(Radius * Math.Cos(angle), Radius * Math.Sin(angle), z);

        private Point3 Corner(int a, int s, int k)
        {
            double z = (k - 0.5) * Thick, share = Math.Pow((double)s / outward, Crowding);
            Point3 inner = OnCircle(2 * Math.PI * a / Round, z), outer = OnRim(a) + new Point3(0, 0, z);
            return inner + (outer - inner) * share;
        }

        /// <summary>Places around the strip's rim, as many between two of its middles as about a quarter of the hole, one of them its corner.</summary>
        private Point3 OnRim(int a)
        {
            int quarter = a / around, within = a % around, corner = Math.Max(1, around / 4);
            // In odd quarters the other way round, so that the four are mirrors of each other.
            int step = quarter % 2 == 0 ? within : around - within;
            double x = step <= corner ? Long / 2 : Long / 2 * (around - step) / (around - corner), y = step <= corner ? Wide / 2 * step / corner : Wide / 2;
            return quarter switch { 0 => new(x, y, 0), 1 => new(-x, y, 0), 2 => new(-x, -y, 0), _ => new(x, -y, 0) };
        }

        private void Cut(int a, int s)
        {
            int At(int c) => Number(a + (c & 1), s + (c >> 1 & 1), c >> 2);
            foreach (var (first, second) in ((int, int)[])[(1, 2), (2, 1), (1, 4), (4, 1), (2, 4), (4, 2)])
            {
                int[] corners = [At(0), At(first), At(first | second), At(7)];
                Point3 o = _points[corners[0]];
                if (Point3.Dot(Point3.Cross(_points[corners[1]] - o, _points[corners[2]] - o), _points[corners[3]] - o) < 0) (corners[1], corners[2]) = (corners[2], corners[1]);
                _elements.Add([.. corners, Middle(0, 1), Middle(1, 2), Middle(2, 0), Middle(0, 3), Middle(1, 3), Middle(2, 3)]);

                int Middle(int m, int n)
                {
                    var key = (Math.Min(corners[m], corners[n]), Math.Max(corners[m], corners[n]));
                    if (_middles.TryGetValue(key, out int known)) return known;
                    Point3 p = (_points[key.Item1] + _points[key.Item2]) * 0.5;
                    if (OnHole(_points[key.Item1]) && OnHole(_points[key.Item2])) p = OnCircle(Math.Atan2(p.Y, p.X), p.Z);
                    _points.Add(p);
                    return _middles[key] = _points.Count - 1;
                }
            }

            static bool OnHole(Point3 p) => Math.Abs(p.X * p.X + p.Y * p.Y - Radius * Radius) < 1e-9;
        }
    }
}
