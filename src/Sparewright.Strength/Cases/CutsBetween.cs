using Sparewright.Solid;
using Sparewright.Strength.Formulas;
using Sparewright.Strength.Loads;

namespace Sparewright.Strength.Cases;

/// <summary>What lies between all that acts on a part and all that holds it along one of the job's axes, cut square to it, and what these cuts carry.</summary>
internal sealed class CutsBetween
{
    /// <summary>So many sections are looked at.</summary>
    private const int Sections = 24;

    /// <summary>Sections alike to this share belong to one straight piece.</summary>
    private const double Alike = 0.02;

    private readonly Point3 _aboutOrigin;

    private CutsBetween(int axis, int side, double fromMm, double toMm, IEnumerable<CrossSection?> cuts, Point3 forceN, Point3 aboutOrigin)
    {
        (Axis, Side, FromMm, ToMm, ForceN, _aboutOrigin) = (axis, side, fromMm, toMm, forceN, aboutOrigin);
        Cuts = [.. cuts.Index().Select(c => (AtOf(fromMm, toMm, c.Index), c.Item))];
    }

    public int Axis { get; }

    /// <summary>1 where what acts lies at the greater coordinates, −1 where it lies at the smaller ones.</summary>
    public int Side { get; }

    public double FromMm { get; }

    public double ToMm { get; }

    /// <summary>How far the cuts are apart.</summary>
    public double StepMm => (ToMm - FromMm) / Sections;

    /// <summary>All that acts.</summary>
    public Point3 ForceN { get; }

    public IReadOnlyList<(double At, CrossSection? Cut)> Cuts { get; }

    /// <summary>Null where what acts does not lie on one side of all that holds, or its place is not told: the own weight, and what is moved square to a surface.</summary>
    public static CutsBetween? Of(Mesh mesh, ContactSolution solved, int axis)
    {
        SolidLoadCase @case = solved.Loads.Case;
        if (@case.WeightNPerMm3.Length > 0 || @case.Supports.Any(s => s.MovedMm != 0 && s.Way != SupportWay.Along)) return null;
        var moved = @case.Supports.Index().Where(s => s.Item.MovedMm != 0).ToArray();
        (Point3 At, Point3 ForceN)[] acts = [.. @case.Loads.SelectMany(l => l.Patch.Samples.Select((s, k) => (s.At, l.ForcesN[k]))), .. moved.Select(m => (m.Item.Patch.Centroid, solved.SupportsN[m.Index]))];
        Point3[] loaded = [.. @case.Loads.SelectMany(l => l.Patch.Samples.Select(s => s.At)), .. moved.SelectMany(m => m.Item.Patch.Samples.Select(s => s.At))];
        Point3[] held = [.. @case.Supports.Where(s => s.MovedMm == 0).SelectMany(s => s.Patch.Samples.Select(p => p.At))];
        if (acts.Length == 0 || held.Length == 0) return null;

        Point3 force = default, aboutOrigin = default;
        foreach (var (at, forceN) in acts)
        {
            force += forceN;
            aboutOrigin += Point3.Cross(at, forceN);
        }

        double loadLow = loaded.Min(On), loadHigh = loaded.Max(On), heldLow = held.Min(On), heldHigh = held.Max(On);
        int side = loadLow > heldHigh ? 1 : loadHigh < heldLow ? -1 : 0;
        if (side == 0) return null;
        double from = side > 0 ? heldHigh : loadHigh, to = side > 0 ? loadLow : heldLow;
        return new(axis, side, from, to, Enumerable.Range(0, Sections).Select(k => CrossSection.Of(mesh, axis, AtOf(from, to, k))), force, aboutOrigin);

        double On(Point3 p) => CrossSection.Coordinate(p, axis);
    }

    public double On(Point3 p) => CrossSection.Coordinate(p, Axis);

    /// <summary>The moment of all that acts about a point, N·mm.</summary>
    public Point3 MomentAbout(Point3 point) => _aboutOrigin - Point3.Cross(point, ForceN);

    /// <summary>How far from a cut its straight piece goes on, mm: to what acts, to what holds, or to the first cut that is not like it, whichever is nearest.</summary>
    public double StraightMm(double at, CrossSection cut) =>
        Cuts.Where(c => c.Cut is not { } other || !IsAlike(cut, other)).Select(c => Math.Abs(c.At - at)).Append(at - FromMm).Append(ToMm - at).Min();

    public static bool IsAlike(CrossSection a, CrossSection b) =>
        Math.Abs(a.AreaMm2 - b.AreaMm2) < Alike * a.AreaMm2 && Math.Abs(a.Uu - b.Uu) < 2 * Alike * a.Uu && Math.Abs(a.Vv - b.Vv) < 2 * Alike * a.Vv;

    private static double AtOf(double from, double to, int number) => from + (to - from) * (number + 0.5) / Sections;
}
