using System.Globalization;
using Sparewright.Measure.Numbers;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;
using Sparewright.Solid;

namespace Sparewright.Strength.Loads;

/// <summary>Finds a job's loads on its finished solid.</summary>
/// <param name="sizes">At which the solid was built.</param>
/// <param name="finestMm">The pieces of surface on which something acts are no longer than that; those of what holds twice that.</param>
/// <param name="densityGPerCm3">Of what it is made of, for its own weight.</param>
public sealed class LoadsOnSolid(Job job, IReadOnlyDictionary<string, Dual> sizes, IReadOnlyList<SolidFace> faces, Mesh mesh, double finestMm, double densityGPerCm3)
{
    /// <summary>Standard gravity in m/s² (CGPM 1901).</summary>
    private const double StandardGravity = 9.80665;

    /// <summary>Pieces that hold are so much longer than those on which something acts: nothing is judged close to them, and large ones were most of the work.</summary>
    private const double HoldingLonger = 2;

    private readonly List<Problem> _problems = [];
    private readonly List<string> _remarks = [];

    private double HoldingMm => HoldingLonger * finestMm;

    /// <summary>The case on the solid, or what must be put right first.</summary>
    public (SolidLoadCase? Case, IReadOnlyList<Problem> Problems) Of(Load load)
    {
        _problems.Clear();
        _remarks.Clear();
        var acting = new List<SurfaceLoad>();
        var holding = new List<SurfaceSupport>();
        Point3 weight = default;
        foreach (LoadAction action in load.Actions)
        {
            switch (action)
            {
                case LoadAction.OwnWeight own:
                    weight = Unit(own.Toward) * (densityGPerCm3 * 1e-6 * StandardGravity);
                    break;
                case LoadAction.Movement moved when PatchOf(moved.At, moved.Place, HoldingMm) is { } patch:
                    holding.Add(new(patch, SupportWay.Along, Unit(moved.Toward), moved.HowFar.At(sizes).Value));
                    break;
                case LoadAction.PressFit press when PatchOf(press.At, press.Place, HoldingMm) is { } patch:
                    Squeeze(press, patch, holding);
                    break;
                default:
                    if (Acting(action) is { } surface) acting.Add(surface);
                    break;
            }
        }

        foreach (ElementName screw in load.Holds.Screwed) Screw(screw, load.Holds.Washer, holding);
        foreach (ElementName rest in load.Holds.RestsOn)
            if (PatchOf(rest, HoldingMm) is { } patch) holding.Add(new(patch, SupportWay.PushedOnly, Round: AxisOf(new ActsAt([rest], null))));
        foreach (ElementName fast in load.Holds.HeldFast)
            if (PatchOf(fast, HoldingMm) is { } patch) holding.Add(new(patch, SupportWay.Fast));
        foreach (string by in load.Holds.HeldBy)
            if (PatchOf(new ActsAt([], by), load.Place, HoldingMm) is { } patch) holding.Add(new(patch, SupportWay.PushedOnly, Round: AxisOf(new ActsAt([], by))));
        return _problems.Count > 0 ? (null, [.. _problems]) : (new(load, acting, holding, weight, [.. _remarks]), []);
    }

    private SurfaceLoad? Acting(LoadAction action)
    {
        switch (action)
        {
            case LoadAction.Force force when PatchOf(force.At, force.Place, finestMm) is { } patch:
                Point3 total = Unit(force.Toward) * force.Newtons;
                return AxisOf(force.At) is { } axis && Spreading.AgainstRound(patch, axis.Direction, total) is { } pressed
                    ? new("as something round presses, by the cosine", patch, pressed)
                    : new("evenly", patch, Spreading.Evenly(patch, total));
            case LoadAction.Moment moment when FlatInBore(moment) is { } drive:
                return drive;
            case LoadAction.Moment moment when PatchOf(moment.At, moment.Place, finestMm) is { } patch:
                return new("as if its face were turned", patch, Spreading.Turning(patch, Unit(moment.About) * (1000 * moment.NewtonMetres)));
            case LoadAction.Pressure pressure when PatchOf(new ActsAt(pressure.At, null), pressure.Place, finestMm) is { } patch:
                return new("square to the face everywhere", patch, Spreading.Pressure(patch, pressure.Bar / 10));
            default:
                return null;
        }
    }

    /// <summary>A twist on the flat of a bore: the shaft presses on one half of the flat and leans against the round wall for it; it cannot pull.</summary>
    private SurfaceLoad? FlatInBore(LoadAction.Moment moment)
    {
        const string Flat = ".flat";
        if (moment.Bends || moment.At.Elements is not [{ Text: var name }] || !name.EndsWith(Flat, StringComparison.Ordinal)) return null;
        int[] wall = FacesOf(name[..^Flat.Length] + ".wall");
        if (wall.Length == 0 || faces[wall[0]] is not { Kind: SurfaceKind.Cylinder } round || Patch.Of(name, mesh, FacesOf(name).Contains, finestMm) is not { } flat) return null;
        Point3 about = Unit(moment.About);
        if (Math.Abs(Point3.Dot(about, round.Direction)) < 1 - 1e-9) return null;

        // The pressure grows with the lever arm, as the twist tilts the shaft's own flat.
        double[] arms = [.. flat.Samples.Select(s => Math.Max(0, Point3.Dot(about, Point3.Cross(s.At - round.Origin, s.Inward))))];
        double turned = flat.Samples.Index().Sum(s => arms[s.Index] * arms[s.Index] * s.Item.AreaMm2);
        if (turned <= 0) return null;
        Point3[] presses = [.. flat.Samples.Select((s, k) => s.Inward * (1000 * moment.NewtonMetres * arms[k] * s.AreaMm2 / turned))];
        Patch leansOn = Patch.Of(name[..^Flat.Length] + ".wall", mesh, wall.Contains, finestMm)!;
        Point3 back = presses.Aggregate(default(Point3), (sum, f) => sum - f);
        return Spreading.AgainstRound(leansOn, round.Direction, back) is { } leans
            ? new("as a shaft with a flat turns, leaning on the round wall", new Patch(name, [.. flat.Samples, .. leansOn.Samples]), [.. presses, .. leans])
            : null;
    }

    /// <summary>The wall goes so far out (or the boss in) that a counterpart that does not give way fits: half the interference in radius.</summary>
    private void Squeeze(LoadAction.PressFit press, Patch patch, List<SurfaceSupport> holding)
    {
        double interference = press.Interference.At(sizes).Value;
        if (AxisOf(press.At) is null)
            _problems.Add(new(press.Place, $"`{patch.Name}` is not round, so nothing is pressed on it by a difference in diameter", "name a hole's wall or a boss's side, or press with `newtons`"));
        else if (interference <= 0)
            _problems.Add(new(press.Place, string.Create(CultureInfo.InvariantCulture, $"an interference of {interference:0.###} mm presses nothing"), "check the sizes that it comes from"));
        else
            holding.Add(new(patch, SupportWay.PushedOnly, MovedMm: interference / 2, Round: AxisOf(press.At)));
        _remarks.Add($"what is pressed against `{patch.Name}` is taken as stiff, as steel would be");
    }

    /// <summary>The head holds its seat along the axis, the shank the wall across it; the screw clamps, so both ways.</summary>
    private void Screw(ElementName name, SizeExpression? washer, List<SurfaceSupport> holding)
    {
        string hole = name.Text.EndsWith(".wall", StringComparison.Ordinal) ? name.Text[..^".wall".Length] : name.Text;
        foreach (string each in CopiesOf(hole))
        {
            int[] wall = FacesOf(each + ".wall");
            if (wall.Length == 0 || faces[wall[0]].Kind != SurfaceKind.Cylinder)
            {
                _problems.Add(new(name.Place, $"`{name}` is no round hole of the finished solid that a screw could go through", "name a hole, or one copy of a row, as screw_hole#1"));
                continue;
            }

            SolidFace round = faces[wall[0]];
            double reachMm = (washer?.At(sizes).Value ?? 4 * round.RadiusMm) / 2;
            if (SeatOf(each, round, wall, reachMm) is not { } seat)
            {
                _problems.Add(new(name.Place, $"the head of the screw in `{each}` finds no seat: no countersink, no counterbore and no flat face around the hole", "give the hole one, make the `washer` wider, or hold the part otherwise"));
                continue;
            }

            holding.Add(new(seat, SupportWay.Along, round.Direction));
            holding.Add(new(Patch.Of(each + ".wall", mesh, wall.Contains, HoldingMm)!, SupportWay.Square, Round: new(round.Origin, round.Direction)));
        }
    }

    private Patch? SeatOf(string hole, SolidFace round, int[] wall, double reachMm)
    {
        foreach (string part in (string[])[".countersink", ".counterbore.floor"])
        {
            int[] own = FacesOf(hole + part);
            if (own.Length > 0) return Patch.Of(hole + part, mesh, own.Contains, HoldingMm);
        }

        // The flat faces at the ends of the wall, as far as the head or washer reaches.
        double[] heights = [.. Enumerable.Range(0, mesh.TriangleCount).Where(t => wall.Contains(mesh.FaceOfTriangle[t])).SelectMany(t => Enumerable.Range(0, 3).Select(c => HeightOf(mesh.Triangles[3 * t + c])))];
        double low = heights.Min(), high = heights.Max(), near = round.RadiusMm / 2;
        int[] ends = [.. Enumerable.Range(0, faces.Count).Where(f => faces[f].Kind == SurfaceKind.Plane && Math.Abs(Point3.Dot(faces[f].Direction, round.Direction)) > 1 - 1e-9 && IsEnd(Point3.Dot(faces[f].Origin - round.Origin, round.Direction)))];
        int[] start = FeatureOf(hole) is Hole { Start: HoleStart.FromFace from } ? [.. ends.Where(f => faces[f].Bears(from.Face.Text))] : [];
        return Patch.Of(hole + " seat", mesh, (start.Length > 0 ? start : ends).Contains, Math.Min(HoldingMm, reachMm / 4), at =>
        {
            Point3 r = at - round.Origin;
            return (r - round.Direction * Point3.Dot(r, round.Direction)).Length <= reachMm;
        });

        double HeightOf(int point) => Point3.Dot(new Point3(mesh.Points[3 * point], mesh.Points[3 * point + 1], mesh.Points[3 * point + 2]) - round.Origin, round.Direction);
        bool IsEnd(double height) => Math.Abs(height - low) <= near || Math.Abs(height - high) <= near;
    }

    private Patch? PatchOf(ActsAt at, Place place, double longestMm)
    {
        if (at.Counterpart is { } name) return PatchOf(job.Counterparts.First(c => c.Name == name).Where with { Place = place }, longestMm);
        if (at.Elements is [var one]) return PatchOf(one, longestMm);
        Patch?[] patches = [.. at.Elements.Select(e => PatchOf(e, longestMm))];
        return patches.Contains(null) ? null : new Patch(string.Join(", ", at.Elements), [.. patches.SelectMany(p => p!.Samples)]);
    }

    private Patch? PatchOf(ElementName name, double longestMm)
    {
        int[] wanted = TouchedBy(name.Text);
        Patch? patch = wanted.Length == 0 ? null : Patch.Of(name.Text, mesh, wanted.Contains, longestMm);
        if (patch is null)
        {
            string feature = name.Text.Split('.')[0] + ".";
            string[] there = [.. faces.SelectMany(f => f.Names).Where(n => n.StartsWith(feature, StringComparison.Ordinal)).Distinct().Order(StringComparer.Ordinal)];
            _problems.Add(new(name.Place, $"`{name}` has no face on the finished solid", there.Length > 0 ? $"there {(there.Length == 1 ? "is" : "are")} {string.Join(", ", there)}" : "name an element that is still there when the last feature has been built"));
        }

        return patch;
    }

    /// <summary>The axis of round faces that share one; null otherwise.</summary>
    private Axis? AxisOf(ActsAt at)
    {
        string[] names = at.Counterpart is { } by ? [job.Counterparts.First(c => c.Name == by).Where.Text] : [.. at.Elements.Select(e => e.Text)];
        SolidFace[] touched = [.. names.SelectMany(TouchedBy).Select(f => faces[f])];
        return touched.Length > 0 && touched.All(f => f.Kind == SurfaceKind.Cylinder && OnAxis(touched[0], f)) ? new(touched[0].Origin, touched[0].Direction) : null;
    }

    private static bool OnAxis(SolidFace a, SolidFace b) =>
        Point3.Cross(a.Direction, b.Direction).Length < 1e-9 && Point3.Cross(b.Origin - a.Origin, a.Direction).Length < 1e-6;

    /// <summary>The faces of an element, or of the round or surrounding faces of a feature that is named as a whole.</summary>
    private int[] TouchedBy(string name)
    {
        int[] own = FacesOf(name);
        if (own.Length > 0) return own;
        string[] copies = CopiesOf(name);
        foreach (string part in (string[])[".wall", ".side", ".rim"])
        {
            int[] round = [.. copies.SelectMany(c => FacesOf(c + part)).Distinct()];
            if (round.Length > 0) return round;
        }

        return [.. Enumerable.Range(0, faces.Count).Where(f => faces[f].Names.Any(n => copies.Any(c => n.StartsWith(c + ".", StringComparison.Ordinal))))];
    }

    private int[] FacesOf(string name) => [.. Enumerable.Range(0, faces.Count).Where(f => faces[f].Bears(name))];

    /// <summary>Every copy that a row or ring makes, and of a feature that is copied; otherwise the name itself.</summary>
    private string[] CopiesOf(string name) => job.Shape.Select(f => f switch
    {
        Row r when r.Name == name || r.Of.Name == name => Numbered(r.Of.Name, r.Count),
        Ring r when r.Name == name || r.Of.Name == name => Numbered(r.Of.Name, r.Count),
        _ => null,
    }).FirstOrDefault(c => c is not null) ?? [name];

    private static string[] Numbered(string name, int count) => [.. Enumerable.Range(1, count).Select(k => string.Create(CultureInfo.InvariantCulture, $"{name}#{k}"))];

    private Feature? FeatureOf(string name)
    {
        string own = name.Split('#')[0];
        return job.Shape.Select(f => f switch { Row r => r.Of, Ring r => r.Of, _ => f }).FirstOrDefault(f => f.Name == own);
    }

    private static Point3 Unit(Direction direction) => Point3.Of(direction.Vector());
}
