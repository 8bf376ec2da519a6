using System.Globalization;
using Sparewright.Solid;
using Sparewright.Strength.Formulas;
using Sparewright.Strength.Loads;

namespace Sparewright.Strength.Cases;

/// <summary>The usual formulas beside a solved case, where the shape allows one: what pulls and bends an arm or tube, an eye that a pin pulls at, a ring that is pressed from inside.</summary>
/// <param name="solverPlusMinus">The ± of the solver's stress as a share of it.</param>
internal sealed class SecondOpinions(Mesh mesh, IReadOnlyList<SolidFace> faces, ContactSolution solved, double solverPlusMinus)
{
    /// <summary>What the formulas leave out, as shares: beam theory one depth away from ends and steps; a ring longer or shorter than wide; the wall that a snap arm stands on gives way. Common practice, no source.</summary>
    private const double OfBeam = 0.1, OfRing = 0.15, OfSnap = 0.25;

    /// <summary>A pin-loaded eye has one to two times what an open hole has (from memory); told as the middle with its ±.</summary>
    private const double PinOverOpen = 1.5, OfPin = 1.0 / 3;

    /// <summary>So many sections are looked at between what acts and what holds.</summary>
    private const int Sections = 24;

    /// <summary>Sections alike to this share belong to one straight piece.</summary>
    private const double Alike = 0.02;

    private SolidLoadCase Case => solved.Loads.Case;

    private LayeredStiffness Material => solved.Solution.Material;

    public IReadOnlyList<SecondOpinion> All() => [.. Enumerable.Range(0, 3).SelectMany(Beam), .. Case.Loads.SelectMany(Eye), .. Rings()];

    // ---- arms and tubes ------------------------------------------------------------------------------------------

    private readonly record struct Acting(Point3 At, Point3 ForceN);

    private IEnumerable<SecondOpinion> Beam(int axis)
    {
        if (Case.WeightNPerMm3.Length > 0 || Case.Supports.Any(s => s.MovedMm != 0 && s.Way != SupportWay.Along)) yield break;
        var moved = Case.Supports.Index().Where(s => s.Item.MovedMm != 0).ToArray();
        Acting[] acts = [.. Case.Loads.SelectMany(l => l.Patch.Samples.Select((s, k) => new Acting(s.At, l.ForcesN[k]))), .. moved.Select(m => new Acting(m.Item.Patch.Centroid, solved.SupportsN[m.Index]))];
        Point3[] loaded = [.. Case.Loads.SelectMany(l => l.Patch.Samples.Select(s => s.At)), .. moved.SelectMany(m => m.Item.Patch.Samples.Select(s => s.At))];
        Point3[] held = [.. Case.Supports.Where(s => s.MovedMm == 0).SelectMany(s => s.Patch.Samples.Select(p => p.At))];
        if (acts.Length == 0 || held.Length == 0) yield break;

        Point3 force = default, aboutOrigin = default;
        foreach (Acting a in acts)
        {
            force += a.ForceN;
            aboutOrigin += Point3.Cross(a.At, a.ForceN);
        }

        double loadLow = loaded.Min(On), loadHigh = loaded.Max(On), heldLow = held.Min(On), heldHigh = held.Max(On);
        int side = loadLow > heldHigh ? 1 : loadHigh < heldLow ? -1 : 0;
        if (side == 0) yield break;
        double from = side > 0 ? heldHigh : loadHigh, to = side > 0 ? loadLow : heldLow;
        var cuts = Enumerable.Range(0, Sections).Select(k => from + (to - from) * (k + 0.5) / Sections).Select(at => (At: at, Cut: CrossSection.Of(mesh, axis, at))).ToArray();

        (double Most, CrossSection Cut, OutlinePiece Piece, double DepthMm)? found = null;
        foreach (var (at, cut) in cuts)
        {
            if (cut is null) continue;
            var (piece, stress) = Outermost(cut);
            double depth = DepthAt(cut, piece);
            bool isStraight = at - depth >= from && at + depth <= to && cuts.All(c => Math.Abs(c.At - at) > depth || c.Cut is { } other && IsAlike(cut, other));
            if (isStraight && Math.Abs(stress) > (found?.Most ?? 0)) found = (Math.Abs(stress), cut, piece, depth);
        }

        // Where it is all but only twisted, pull and bending are no measure of it.
        if (found is not { } best || best.Most < Math.Abs(On(aboutOrigin - Point3.Cross(best.Cut.Centroid, force))) / (best.Cut.AreaMm2 * best.DepthMm) || StressAlong(axis, best.Piece) is not { } solver) yield break;
        string where = string.Create(CultureInfo.InvariantCulture, $"{"xyz"[axis]} = {On(best.Cut.Centroid):0.0}");
        yield return new($"beam, cut at {where}{(moved.Length > 0 ? ", its moved end free to tilt" : "")}", "MPa", StressAt(best.Cut, best.Piece), OfBeam, solver, solverPlusMinus);
        if (moved is [var only] && Case.Load.Actions is [Part.Record.LoadAction.Movement { Snaps: true }] && Snap(only.Item, best.Cut, best.Piece, best.DepthMm, solver) is { } snap) yield return snap;

        double On(Point3 p) => CrossSection.Coordinate(p, axis);

        (OutlinePiece Piece, double Stress) Outermost(CrossSection cut)
        {
            OutlinePiece piece = cut.Outline.MaxBy(p => Math.Abs(StressAt(cut, p)));
            return (piece, StressAt(cut, piece));
        }

        double StressAt(CrossSection cut, OutlinePiece piece)
        {
            Point3 moment = aboutOrigin - Point3.Cross(cut.Centroid, force);
            return cut.StressMPa(side * On(force), side * CrossSection.Coordinate(moment, (axis + 1) % 3), side * CrossSection.Coordinate(moment, (axis + 2) % 3), piece.U, piece.V);
        }

        SecondOpinion? Snap(SurfaceSupport aside, CrossSection cut, OutlinePiece piece, double depthMm, double stressMPa)
        {
            // The arm ends where its section changes, toward what holds it.
            var toRoot = side > 0 ? cuts.Reverse() : cuts;
            double end = On(aside.Patch.Centroid), root = toRoot.SkipWhile(c => side * (c.At - On(cut.Centroid)) > 0).TakeWhile(c => c.Cut is { } other && IsAlike(cut, other)).Select(c => c.At).LastOrDefault(On(cut.Centroid));
            root -= side * (to - from) / Sections / 2;
            double longMm = Math.Abs(end - root), leverMm = Math.Abs(end - On(cut.Centroid));
            if (longMm < 2 * depthMm || leverMm <= 0) return null;
            double modulus = solved.Solution.Grid.Frame.ToGrid(Unit(axis)) is { Z: var z } && Math.Abs(z) > 0.99 ? Material.AcrossLayersMPa : Material.InLayerMPa;
            double strain = new SnapArm(longMm, 1, depthMm, Tapers: false).Strain(Math.Abs(aside.MovedMm));
            return new(string.Create(CultureInfo.InvariantCulture, $"snap arm, {longMm:0.0} mm long and {depthMm:0.0} mm thick, its root's strain"), "%", 100 * strain, OfSnap, 100 * Math.Abs(stressMPa) * longMm / leverMm / modulus, solverPlusMinus);
        }
    }

    private static bool IsAlike(CrossSection a, CrossSection b) =>
        Math.Abs(a.AreaMm2 - b.AreaMm2) < Alike * a.AreaMm2 && Math.Abs(a.Uu - b.Uu) < 2 * Alike * a.Uu && Math.Abs(a.Vv - b.Vv) < 2 * Alike * a.Vv;

    /// <summary>How deep the section is where it is bent: along the outline's normal at its outermost piece.</summary>
    private static double DepthAt(CrossSection cut, OutlinePiece piece)
    {
        double nu = CrossSection.Coordinate(piece.Outward, (cut.Axis + 1) % 3), nv = CrossSection.Coordinate(piece.Outward, (cut.Axis + 2) % 3);
        double[] along = [.. cut.Outline.Select(p => p.U * nu + p.V * nv)];
        return along.Max() - along.Min();
    }

    private double? StressAlong(int axis, OutlinePiece piece)
    {
        if (WeakestPlace.StressAt(solved.Solution, new(0, piece.At, piece.Outward), touched: false) is not { } stress) return null;
        return Across(stress, solved.Solution.Grid.Frame.ToGrid(Unit(axis)));
    }

    // ---- eyes ------------------------------------------------------------------------------------------------------

    private IEnumerable<SecondOpinion> Eye(SurfaceLoad load)
    {
        if (RoundOf(load.Patch, bulges: false) is not { } round) yield break;
        double newtons = load.TotalN.Length;
        if (newtons == 0 || Math.Abs(Point3.Dot(load.TotalN, round.Direction)) > 0.05 * newtons) yield break;
        Point3 toward = load.TotalN * (1 / newtons), across = Point3.Cross(round.Direction, toward), middle = MiddleOf(load.Patch, round);
        if (Case.Supports.Count == 0 || !Case.Supports.All(s => Point3.Dot(s.Patch.Centroid - middle, toward) < -2 * round.RadiusMm)) yield break;
        double thick = load.Patch.AreaMm2 / (2 * Math.PI * round.RadiusMm), least = 1.05 * round.RadiusMm;
        if (WallTo(toward) is not { } edge || WallTo(across) is not { } one || WallTo(across * -1) is not { } two || Math.Abs(one - two) > 0.1 * (one + two)) yield break;
        // Hardly any wall is no eye.
        if (edge < least || one + two < 2 * least) yield break;
        var lug = new Lug(one + two, 2 * round.RadiusMm, edge, thick);
        double solver = load.Patch.Samples.Max(s => WeakestPlace.StressAt(solved.Solution, new(0, s.At, s.Inward * -1), touched: true)?.Principal.First ?? 0);
        yield return new($"eye {load.Patch.Name}, torn beside the hole", "MPa", PinOverOpen * lug.NetSectionPeakMPa(newtons), OfPin, solver, solverPlusMinus);

        double? WallTo(Point3 along) => Ray.Crossings(mesh, middle, along) is { Count: >= 2 } crossings && Math.Abs(crossings[0] - round.RadiusMm) < 0.02 * round.RadiusMm ? crossings[1] : null;
    }

    // ---- rings -----------------------------------------------------------------------------------------------------

    private IEnumerable<SecondOpinion> Rings()
    {
        foreach (SurfaceLoad load in Case.Loads)
        {
            // Pressure acts square to the surface everywhere, the same on every mm².
            double[] perMm2 = [.. load.Patch.Samples.Select((s, k) => Point3.Dot(load.ForcesN[k], s.Inward) / s.AreaMm2)];
            if (perMm2.Max() - perMm2.Min() < 1e-9 * perMm2.Max() && Ring(load.Patch) is { } ring) yield return Hoop(load.Patch, ring, perMm2[0], "under pressure");
        }

        foreach (SurfaceSupport press in Case.Supports.Where(s => s is { MovedMm: > 0, Way: SupportWay.PushedOnly }))
            if (Ring(press.Patch) is { } ring)
                yield return Hoop(press.Patch, ring, new PressedHub(ring, Material.InLayerMPa, Material.NuInLayer, double.PositiveInfinity, 0).PressureMPa(press.MovedMm), "pressed on");
    }

    /// <summary>A bore with a wall equally thick all round, whose layers lie across its axis.</summary>
    private ThickRing? Ring(Patch bore)
    {
        if (RoundOf(bore, bulges: false) is not { } round || Math.Abs(solved.Solution.Grid.Frame.ToGrid(round.Direction).Z) < 0.99) return null;
        Point3 middle = MiddleOf(bore, round);
        var (s, t) = SquareTo(round.Direction);
        double?[] outer = [.. Enumerable.Range(0, 8).Select(k => 0.3 + k * Math.PI / 4).Select(a => Ray.Crossings(mesh, middle, s * Math.Cos(a) + t * Math.Sin(a)) is { Count: 2 } c ? (double?)c[1] : null)];
        if (outer.Any(o => o is null) || outer.Max() - outer.Min() > 0.05 * outer.Min()) return null;
        return new(round.RadiusMm, outer.Average()!.Value);
    }

    /// <summary>Around the outside, half-way along: there nothing touches, and the cells know the stress best.</summary>
    private SecondOpinion Hoop(Patch bore, ThickRing ring, double pressureMPa, string how)
    {
        SolidFace round = RoundOf(bore, bulges: false)!;
        Point3 middle = MiddleOf(bore, round);
        var (s, t) = SquareTo(round.Direction);
        double[] hoops = [.. Enumerable.Range(0, 16).Select(k => 0.3 + k * Math.PI / 8).Select(a =>
        {
            Point3 outward = s * Math.Cos(a) + t * Math.Sin(a);
            return WeakestPlace.StressAt(solved.Solution, new(0, middle + outward * ring.OuterMm, outward), touched: false) is { } stress ? Across(stress, solved.Solution.Grid.Frame.ToGrid(Point3.Cross(round.Direction, outward))) : double.NaN;
        }).Where(double.IsFinite)];
        return new(string.Create(CultureInfo.InvariantCulture, $"ring {how} at {bore.Name}, {ring.OuterMm - ring.InnerMm:0.0} mm thick, along its outside"), "MPa", ring.HoopMPa(pressureMPa, ring.OuterMm), OfRing, hoops.Length > 0 ? hoops.Average() : 0, solverPlusMinus);
    }

    private static (Point3 S, Point3 T) SquareTo(Point3 direction)
    {
        Point3 s = Point3.Cross(direction, Math.Abs(direction.X) < 0.6 ? new(1, 0, 0) : new Point3(0, 1, 0));
        s *= 1 / s.Length;
        return (s, Point3.Cross(direction, s));
    }

    // ---- measuring ---------------------------------------------------------------------------------------------------

    private SolidFace? RoundOf(Patch patch, bool bulges) => patch.Samples.Count == 0 ? null
        : faces.Where(f => f.Kind == SurfaceKind.Cylinder && f.Bulges == bulges && (f.Bears(patch.Name) || f.Bears(patch.Name + ".wall"))).FirstOrDefault();

    private static Point3 MiddleOf(Patch patch, SolidFace round) => round.Origin + round.Direction * Point3.Dot(patch.Centroid - round.Origin, round.Direction);

    /// <summary>The stress along a direction, both in the grid's axes.</summary>
    private static double Across(Stress s, Point3 d) => (s.XX * d.X * d.X + s.YY * d.Y * d.Y + s.ZZ * d.Z * d.Z + 2 * (s.YZ * d.Y * d.Z + s.XZ * d.X * d.Z + s.XY * d.X * d.Y)) / Math.Max(Point3.Dot(d, d), 1e-300);

    private static Point3 Unit(int axis) => axis switch { 0 => new(1, 0, 0), 1 => new(0, 1, 0), _ => new(0, 0, 1) };
}
