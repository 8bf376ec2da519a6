using System.Globalization;
using Sparewright.Solid;
using Sparewright.Strength.Formulas;
using Sparewright.Strength.Loads;

namespace Sparewright.Strength.Cases;

/// <summary>The usual formulas beside a solved case, where the shape allows one: what pulls, bends and twists an arm or tube, an eye that a pin pulls at, a ring that is pressed from inside.</summary>
/// <param name="solverPlusMinus">The ± of the solver's stress as a share of it.</param>
internal sealed class SecondOpinions(Mesh mesh, IReadOnlyList<SolidFace> faces, ContactSolution solved, JudgedPlace place, double solverPlusMinus)
{
    /// <summary>What the formulas leave out, as shares: beam theory one depth away from ends and steps; a ring longer or shorter than wide; the wall that a snap arm stands on gives way. Common practice, no source.</summary>
    private const double OfBeam = 0.1, OfRing = 0.15, OfSnap = 0.25;

    /// <summary>A pin-loaded eye has one to two times what an open hole has (from memory); told as the middle with its ±.</summary>
    private const double PinOverOpen = 1.5, OfPin = 1.0 / 3;

    private SolidLoadCase Case => solved.Loads.Case;

    private LayeredStiffness Material => solved.Solution.Material;

    public IReadOnlyList<SecondOpinion> All() => [.. Enumerable.Range(0, 3).SelectMany(Along), .. Case.Loads.SelectMany(Eye), .. Rings()];

    // ---- arms and tubes ------------------------------------------------------------------------------------------

    private IEnumerable<SecondOpinion> Along(int axis) =>
        CutsBetween.Of(mesh, solved, axis) is { } cuts ? [.. Beam(cuts), .. new TwistOpinion(mesh, faces, solved, place, cuts, solverPlusMinus).All()] : [];

    private IEnumerable<SecondOpinion> Beam(CutsBetween cuts)
    {
        SurfaceSupport[] moved = [.. Case.Supports.Where(s => s.MovedMm != 0)];
        int side = cuts.Side;
        (double Most, CrossSection Cut, OutlinePiece Piece, double DepthMm)? found = null;
        foreach (var (at, cut) in cuts.Cuts)
        {
            if (cut is null) continue;
            OutlinePiece piece = cut.Outline.MaxBy(p => Math.Abs(StressAt(cut, p)));
            double depth = DepthAt(cut, piece), stress = Math.Abs(StressAt(cut, piece));
            if (stress > (found?.Most ?? 0) && cuts.StraightMm(at, cut) >= depth) found = (stress, cut, piece, depth);
        }

        // Where it is all but only twisted, pull and bending are no measure of it.
        if (found is not { } best || best.Most < Math.Abs(cuts.On(cuts.MomentAbout(best.Cut.Centroid))) / (best.Cut.AreaMm2 * best.DepthMm) || StressAlong(cuts.Axis, best.Piece) is not { } solver) yield break;
        string where = string.Create(CultureInfo.InvariantCulture, $"{"xyz"[cuts.Axis]} = {cuts.On(best.Cut.Centroid):0.0}");
        yield return new($"beam, cut at {where}{(moved.Length > 0 ? ", its moved end free to tilt" : "")}", "MPa", StressAt(best.Cut, best.Piece), OfBeam, solver, solverPlusMinus);
        if (moved is [var only] && Case.Load.Actions is [Part.Record.LoadAction.Movement { Snaps: true }] && Snap(only, best.Cut, best.Piece, best.DepthMm, solver) is { } snap) yield return snap;

        double StressAt(CrossSection cut, OutlinePiece piece)
        {
            Point3 moment = cuts.MomentAbout(cut.Centroid);
            return cut.StressMPa(side * cuts.On(cuts.ForceN), side * CrossSection.Coordinate(moment, (cuts.Axis + 1) % 3), side * CrossSection.Coordinate(moment, (cuts.Axis + 2) % 3), piece.U, piece.V);
        }

        SecondOpinion? Snap(SurfaceSupport aside, CrossSection cut, OutlinePiece piece, double depthMm, double stressMPa)
        {
            // The arm ends where its section changes, toward what holds it.
            var toRoot = side > 0 ? cuts.Cuts.Reverse() : cuts.Cuts;
            double end = cuts.On(aside.Patch.Centroid), middle = cuts.On(cut.Centroid);
            double root = toRoot.SkipWhile(c => side * (c.At - middle) > 0).TakeWhile(c => c.Cut is { } other && CutsBetween.IsAlike(cut, other)).Select(c => c.At).LastOrDefault(middle) - side * cuts.StepMm / 2;
            double longMm = Math.Abs(end - root), leverMm = Math.Abs(end - middle);
            if (longMm < 2 * depthMm || leverMm <= 0) return null;
            double modulus = solved.Solution.Grid.Frame.ToGrid(Unit(cuts.Axis)) is { Z: var z } && Math.Abs(z) > 0.99 ? Material.AcrossLayersMPa : Material.InLayerMPa;
            double strain = new SnapArm(longMm, 1, depthMm, Tapers: false).Strain(Math.Abs(aside.MovedMm));
            return new(string.Create(CultureInfo.InvariantCulture, $"snap arm, {longMm:0.0} mm long and {depthMm:0.0} mm thick, its root's strain"), "%", 100 * strain, OfSnap, 100 * Math.Abs(stressMPa) * longMm / leverMm / modulus, solverPlusMinus);
        }
    }

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

    internal static Point3 Unit(int axis) => axis switch { 0 => new(1, 0, 0), 1 => new(0, 1, 0), _ => new(0, 0, 1) };
}
