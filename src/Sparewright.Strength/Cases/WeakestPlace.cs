using Sparewright.Solid;
using Sparewright.Strength.Grid;
using Sparewright.Strength.Loads;
using Sparewright.Strength.Margins;
using Sparewright.Strength.Solve;
using Sparewright.Strength.Stresses;

namespace Sparewright.Strength.Cases;

/// <summary>Where a solved part is nearest to going.</summary>
/// <param name="Stress">In the grid's axes, MPa.</param>
/// <param name="SharpCorner">A sharp inner corner where the solver's cells show more, which says nothing but that there is one; null without.</param>
public sealed record WeakestPlace(SurfacePoint Point, Stress Stress, Reserve Reserve, SharpCorner? SharpCorner)
{
    /// <summary>Stress right at a sharp inner corner grows as the cells get smaller; it is read one wall line beside it (a usual nozzle draws 0.45 mm).</summary>
    private const double LineWidthMm = 0.45;

    /// <summary>So many points, the worst by the stress in the cell beneath, are looked at exactly.</summary>
    private const int LookedAt = 600;

    /// <param name="solution">Of the whole part or a window of it.</param>
    /// <param name="supportMm">What lies so near a support is not judged.</param>
    /// <param name="judge">The reserve of a stress in the grid's axes.</param>
    public static WeakestPlace? Find(Solution solution, SolidLoadCase @case, PartSurface surface, double supportMm, Func<Stress, Reserve> judge)
    {
        double cellMm = solution.Grid.CellMm;
        var supports = new Nearness(@case.Supports.SelectMany(s => s.Patch.Samples.Select(p => p.At)), supportMm);
        var loads = new Nearness(@case.Loads.SelectMany(s => s.Patch.Samples.Select(p => p.At)), TouchMm(cellMm));
        var corners = new Nearness(surface.SharpCorners.Select(c => c.At), Math.Max(LineWidthMm, 1.5 * cellMm));

        var judged = new (double Factor, bool AtCorner)[surface.Points.Count];
        Parallel.For(0, judged.Length, k =>
        {
            SurfacePoint p = surface.Points[k];
            judged[k] = supports.Has(p.At) || Beneath(solution, p) is not { } stress ? (double.PositiveInfinity, false) : (judge(stress).Factor, corners.Has(p.At));
        });

        int[] worst = [.. Enumerable.Range(0, judged.Length).Where(k => !judged[k].AtCorner && double.IsFinite(judged[k].Factor)).OrderBy(k => judged[k].Factor).ThenBy(k => k).Take(LookedAt)];
        var exact = new (Stress Stress, Reserve Reserve)[worst.Length];
        Parallel.For(0, worst.Length, n =>
        {
            SurfacePoint p = surface.Points[worst[n]];
            Stress stress = StressAt(solution, p, loads.Has(p.At))!.Value;
            exact[n] = (stress, judge(stress));
        });
        if (worst.Length == 0) return null;
        int least = Enumerable.Range(0, worst.Length).MinBy(n => exact[n].Reserve.Factor);

        int? sharp = Enumerable.Range(0, judged.Length).Where(k => judged[k].AtCorner && judged[k].Factor < exact[least].Reserve.Factor).OrderBy(k => judged[k].Factor).Select(k => (int?)k).FirstOrDefault();
        return new(surface.Points[worst[least]], exact[least].Stress, exact[least].Reserve,
            sharp is { } s ? surface.SharpCorners.MinBy(c => (c.At - surface.Points[s].At).Length) : null);
    }

    /// <summary>The reserve at each of some points of the surface, for looking at; NaN where none is judged: at a support, at a sharp inner corner, away from all cells.</summary>
    /// <param name="judge">The reserve of a stress in the grid's axes.</param>
    public static IReadOnlyList<double> Reserves(Solution solution, SolidLoadCase @case, PartSurface surface, IReadOnlyList<SurfacePoint> points, double supportMm, Func<Stress, Reserve> judge)
    {
        double cellMm = solution.Grid.CellMm;
        var supports = new Nearness(@case.Supports.SelectMany(s => s.Patch.Samples.Select(p => p.At)), supportMm);
        var loads = new Nearness(@case.Loads.SelectMany(s => s.Patch.Samples.Select(p => p.At)), TouchMm(cellMm));
        var corners = new Nearness(surface.SharpCorners.Select(c => c.At), LineWidthMm);
        var reserves = new double[points.Count];
        Parallel.For(0, reserves.Length, k =>
        {
            SurfacePoint p = points[k];
            reserves[k] = supports.Has(p.At) || corners.Has(p.At) || StressAt(solution, p, loads.Has(p.At)) is not { } stress ? double.NaN : judge(stress).Factor;
        });
        return reserves;
    }

    /// <summary>A point so near a load has traction on it.</summary>
    public static double TouchMm(double cellMm) => 1.5 * cellMm;

    /// <summary>The stress at a point of the surface, grid's axes; without traction where nothing touches it. Null away from all cells.</summary>
    /// <param name="touched">Whether something acts there.</param>
    public static Stress? StressAt(Solution solution, SurfacePoint point, bool touched)
    {
        GridFrame frame = solution.Grid.Frame;
        Point3 outward = frame.ToGrid(point.Outward);
        if (SurfaceStress.At(solution, frame.ToGrid(point.At), outward) is not { } stress) return Beneath(solution, point);
        return touched ? stress : SurfaceStress.WithoutTraction(stress, outward);
    }

    /// <summary>The stress in the cell right beneath a point of the surface.</summary>
    private static Stress? Beneath(Solution solution, SurfacePoint point)
    {
        VoxelGrid grid = solution.Grid;
        Point3 place = (grid.Frame.ToGrid(point.At) - grid.Origin) * (1 / grid.CellMm), inward = grid.Frame.ToGrid(point.Outward) * -1;
        // A cell that is all solid where there is one, else what there is.
        foreach (float least in (ReadOnlySpan<float>)[0.99f, 0.3f, 1e-6f])
            for (double depth = 0.25; depth < 1.8; depth += 0.25)
            {
                Point3 p = place + inward * depth;
                var (i, j, k) = ((int)Math.Floor(p.X), (int)Math.Floor(p.Y), (int)Math.Floor(p.Z));
                if (grid.Share(i, j, k) >= least) return CellStress.AtCentre(solution, i, j, k);
            }

        return null;
    }

    /// <summary>Which points lie near some others, by boxes as big as near is far.</summary>
    private sealed class Nearness
    {
        private readonly double _mm;
        private readonly Dictionary<(int, int, int), List<Point3>> _boxes = [];

        public Nearness(IEnumerable<Point3> points, double mm)
        {
            _mm = mm;
            foreach (Point3 p in points)
            {
                var box = BoxOf(p);
                if (!_boxes.TryGetValue(box, out List<Point3>? list)) _boxes[box] = list = [];
                list.Add(p);
            }
        }

        public bool Has(Point3 at)
        {
            var (x, y, z) = BoxOf(at);
            for (int k = z - 1; k <= z + 1; k++)
                for (int j = y - 1; j <= y + 1; j++)
                    for (int i = x - 1; i <= x + 1; i++)
                        if (_boxes.TryGetValue((i, j, k), out List<Point3>? list) && list.Exists(p => (p - at).Length <= _mm)) return true;
            return false;
        }

        private (int, int, int) BoxOf(Point3 p) => ((int)Math.Floor(p.X / _mm), (int)Math.Floor(p.Y / _mm), (int)Math.Floor(p.Z / _mm));
    }
}
