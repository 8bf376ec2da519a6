using System.Globalization;
using Sparewright.Measure.Numbers;
using Sparewright.Part.Shape;

namespace Sparewright.Part.Elements;

/// <summary>Places the features that take material away: hole, slot, pocket, groove.</summary>
internal static class CutPlacer
{
    /// <summary>A cut that must leave nothing standing goes this much farther where no flat face tells it where to end.</summary>
    private const double ClearanceBeyondMm = 0.5;

    /// <summary>The usual point angle of a twist drill (common practice, no source).</summary>
    private const double DrillPointDegrees = 118;

    public static void Place(Placement p, Hole hole)
    {
        Dual radius = p.Positive(hole, hole.Diameter, "the diameter") / 2;
        if (Start(p, hole) is not { } start) return;
        (Frame frame, Dual from, Dual to) = start;
        RequireWallLeft(p, hole, frame, radius);
        string wall = hole.Name + ".wall", end = hole.Name + ".end";
        bool blind = hole.Reach is Reach.Depth;

        // The profile from the axis at the start, outward, down the wall, to the axis at the end; (radius, depth).
        var corners = new List<(PlanePoint At, string[] Names)>();
        Dual mouth = radius, wallFrom = from;
        if (hole.Counterbore is { } bore)
        {
            mouth = p.Positive(hole, bore.Diameter, "the counterbore's diameter") / 2;
            wallFrom = from + p.Positive(hole, bore.Depth, "the counterbore's depth");
            corners.Add((new(mouth, from), [hole.Name + ".counterbore.wall"]));
            corners.Add((new(mouth, wallFrom), [hole.Name + ".counterbore.floor"]));
            RequireWider(p, hole, mouth, radius, "counterbore");
        }
        else if (hole.Countersink is { } sink)
        {
            mouth = p.Positive(hole, sink.Diameter, "the countersink's diameter") / 2;
            Dual halfAngle = p.Value(sink.Angle) * (Math.PI / 360);
            if (!(halfAngle.Value is > 0.01 and < 1.56))
            {
                p.Say(hole.Place, string.Create(CultureInfo.InvariantCulture, $"{hole.Name}: a countersink of {p.Value(sink.Angle).Value:0.#}° is no cone"), "give its full angle, usually 90°");
                return;
            }

            wallFrom = from + (mouth - radius) / Dual.Tan(halfAngle);
            corners.Add((new(mouth, from), [hole.Name + ".countersink"]));
            RequireWider(p, hole, mouth, radius, "countersink");
        }

        if (wallFrom.Value >= to.Value)
            p.Say(hole.Place, string.Create(CultureInfo.InvariantCulture, $"{hole.Name}: its wider start is {wallFrom.Value - from.Value:0.###} mm deep, but the hole only {to.Value - from.Value:0.###} mm"), "make the start narrower or shallower, or the hole deeper");

        if (hole.Flat is { } flat)
        {
            PlaceWithFlat(p, hole, flat, frame, radius, from, to, corners, wallFrom);
        }
        else
        {
            corners.Add((new(radius, wallFrom), [wall]));
            if (blind && hole.End == HoleEnd.Cone)
            {
                Dual halfAngle = (hole.ConeAngle is null ? DrillPointDegrees : p.Value(hole.ConeAngle)) * (Math.PI / 360);
                corners.Add((new(radius, to), [end]));
                corners.Add((new(0, to + radius / Dual.Tan(halfAngle)), []));
            }
            else
            {
                corners.Add((new(radius, to), blind ? [end] : []));
                corners.Add((new(0, to), []));
            }

            Piece[] loop = Profile(from, corners);
            foreach (Element face in SideFaces.OfTurned(frame, loop, null, true)) p.Add(face);
            p.Add(new Combination(hole.Name, false, [new TurnedTool(frame, loop)], hole.Place));
        }

        p.Add(new AxisElement(hole.Name + ".axis", frame.At(new(0, 0), from), frame.N));
    }

    private static void RequireWider(Placement p, Hole hole, Dual mouth, Dual radius, string what)
    {
        if (mouth.Value <= radius.Value)
            p.Say(hole.Place, string.Create(CultureInfo.InvariantCulture, $"{hole.Name}: the {what} ({2 * mouth.Value:0.###} mm) is not wider than the hole ({2 * radius.Value:0.###} mm)"), $"make the {what} wider or leave it out");
    }

    /// <summary>A hole that covers the whole round end of a boss leaves nothing of it.</summary>
    private static void RequireWallLeft(Placement p, Hole hole, Frame frame, Dual radius)
    {
        if (hole.Start is not HoleStart.FromFace(var face, _)) return;
        int dot = face.Text.LastIndexOf('.');
        if (dot < 0 || p.Elements.GetValueOrDefault(face.Text[..dot] + ".side") is not RoundElement { Hollow: false } side) return;
        Vector apart = frame.Origin - side.AxisPoint;
        double distance = (apart - frame.N * Vector.Dot(apart, frame.N)).Length.Value;
        if (distance + side.Radius.Value <= radius.Value)
            p.Say(hole.Place, string.Create(CultureInfo.InvariantCulture, $"{hole.Name}: a hole of {2 * radius.Value:0.###} mm leaves no wall of `{side.Name}`, which is {2 * side.Radius.Value:0.###} mm"), "make the hole narrower or the boss wider");
    }

    /// <summary>The closed loop: axis at the start, the corners, back along the axis.</summary>
    private static Piece[] Profile(Dual from, List<(PlanePoint At, string[] Names)> corners)
    {
        var loop = new List<Piece> { new StraightPiece(new(0, from), corners[0].At, []) };
        for (int k = 0; k + 1 < corners.Count; k++) loop.Add(new StraightPiece(corners[k].At, corners[k + 1].At, corners[k].Names));
        loop.Add(new StraightPiece(corners[^1].At, new(0, from), []));
        return [.. loop];
    }

    private static void PlaceWithFlat(Placement p, Hole hole, HoleFlat flat, Frame frame, Dual radius, Dual from, Dual to, List<(PlanePoint At, string[] Names)> head, Dual wallFrom)
    {
        Dual distance = p.Positive(hole, flat.FromAxis, "the flat's distance from the axis");
        Vector toward = flat.Toward.Vector();
        var d = new PlanePoint(Vector.Dot(frame.U, toward), Vector.Dot(frame.V, toward));
        if (Math.Abs(d.Length.Value - 1) > 1e-9)
        {
            p.Say(hole.Place, $"{hole.Name}: the flat's direction runs along the hole", "choose a direction across the hole");
            return;
        }

        if (distance.Value >= radius.Value)
        {
            p.Say(hole.Place, string.Create(CultureInfo.InvariantCulture, $"{hole.Name}: a flat {distance.Value:0.###} mm from the axis misses the hole of radius {radius.Value:0.###} mm"), "bring the flat nearer than the radius");
            return;
        }

        Dual half = Dual.Sqrt(radius * radius - distance * distance);
        PlanePoint a = d * distance - d.Left * half, b = d * distance + d.Left * half, axis = new(0, 0);
        var region = new Region.Loop([new StraightPiece(a, b, [hole.Name + ".flat"]), new ArcPiece(b, a, axis, true, [hole.Name + ".wall"])]);
        bool blind = hole.Reach is Reach.Depth;
        foreach (Element face in SideFaces.OfPrism(frame, region, null, true)) p.Add(face);
        var tools = new List<Tool> { new PrismTool(frame, region, from, to, [], blind ? [hole.Name + ".end"] : []) };
        if (blind) p.Add(new FlatElement(hole.Name + ".end", frame.At(axis, to), -frame.N));
        if (head.Count > 0)
        {
            // A full cone or cylinder down to the axis: what it takes beyond the flat is the wider start itself.
            (PlanePoint, string[])[] mouth = hole.Countersink is null ? [] : [(new(radius, wallFrom), [])];
            Piece[] loop = Profile(from, [.. head, .. mouth, (new(0, wallFrom), [])]);
            foreach (Element face in SideFaces.OfTurned(frame, loop, null, true)) p.Add(face);
            tools.Add(new TurnedTool(frame, loop));
        }

        p.Add(new Combination(hole.Name, false, tools, hole.Place));
    }

    /// <summary>The frame whose n runs down the hole through its axis, and the heights along it between which the hole is cut.</summary>
    private static (Frame Frame, Dual From, Dual To)? Start(Placement p, Hole hole)
    {
        if (hole.Start is HoleStart.FromFace(var faceName, var at))
        {
            if (p.Face(faceName) is not { } face) return null;
            Frame frame = face.MovedTo(at is null ? DefaultPoint(p, faceName, face) : face.At(p.Value(at))).Inward();
            return Depth(p, hole, hole.Reach, frame) is { } depth ? (frame, 0, depth) : null;
        }

        var along = (HoleStart.AlongAxis)hole.Start;
        Vector axis = along.Axis.Vector();
        Frame across = AcrossAxis(along.Axis).MovedTo(p.Value(along.At));
        switch (hole.Reach)
        {
            case Reach.ThroughFeature(var feature, var place):
                if (p.Reach(feature, axis, place) is not { } far || p.Reach(feature, -axis, place) is not { } near) return null;
                Dual origin = Vector.Dot(across.Origin, axis);
                Dual low = -near - origin - (p.EndsFlat(feature, -axis, near) ? 0 : ClearanceBeyondMm);
                Dual high = far - origin + (p.EndsFlat(feature, axis, far) ? 0 : ClearanceBeyondMm);
                return (across, low, high);
            case Reach.ThroughWholePart:
                if (p.ReachOfAll(axis) is not { } most || p.ReachOfAll(-axis) is not { } least)
                {
                    p.Say(hole.Place, $"{hole.Name}: there is nothing to cut yet", "put it after the features that it goes through");
                    return null;
                }

                Dual middle = Vector.Dot(across.Origin, axis);
                return (across, -least - middle - ClearanceBeyondMm, most - middle + ClearanceBeyondMm);
            default:
                p.Say(hole.Place, $"{hole.Name}: a depth needs a face to start from", "write `from: FACE` instead of `axis`, or `through: …` instead of `depth`");
                return null;
        }
    }

    private static Frame AcrossAxis(Direction axis)
    {
        Vector n = axis.Vector();
        return axis switch
        {
            Direction.Right or Direction.Left => new(Vector.Zero, Direction.Back.Vector(), Direction.Up.Vector(), n),
            Direction.Back or Direction.Front => new(Vector.Zero, Direction.Right.Vector(), Direction.Up.Vector(), n),
            _ => new(Vector.Zero, Direction.Right.Vector(), Direction.Back.Vector(), n),
        };
    }

    /// <summary>On a round face's end the hole is in its middle; elsewhere at the projection of the job's origin.</summary>
    private static Vector DefaultPoint(Placement p, ElementName face, Frame frame)
    {
        string feature = face.Text[..Math.Max(face.Text.LastIndexOf('.'), 0)];
        bool round = p.Elements.GetValueOrDefault(feature + ".axis") is AxisElement axis
            && Math.Abs(Vector.Dot(axis.Direction, frame.N).Value) > 1 - 1e-12 && p.Elements.GetValueOrDefault(face.Text) is FlatElement;
        return round ? p.Flat(face)!.Point : frame.Origin;
    }

    /// <summary>How deep a cut goes that starts at the frame's origin and runs along its n.</summary>
    private static Dual? Depth(Placement p, Feature cut, Reach reach, Frame inward)
    {
        Vector n = inward.N;
        Dual start = Vector.Dot(inward.Origin, n);
        switch (reach)
        {
            case Reach.Depth(var of):
                Dual depth = p.Positive(cut, of, "the depth");
                if (p.ReachOfAll(n) is { } all && depth.Value >= (all - start).Value - 1e-9)
                {
                    p.Say(cut.Place, string.Create(CultureInfo.InvariantCulture, $"{cut.Name}: {depth.Value:0.###} mm deep goes right through the {(all - start).Value:0.###} mm that are there"), "make it shallower, or write `through: whole part`");
                    return null;
                }

                return depth;
            case Reach.ThroughFeature(var feature, var place):
                if (p.Reach(feature, n, place) is not { } far) return null;
                return far - start + (p.EndsFlat(feature, n, far) ? 0 : ClearanceBeyondMm);
            default:
                if (p.ReachOfAll(n) is { } most) return most - start + ClearanceBeyondMm;
                p.Say(cut.Place, $"{cut.Name}: there is nothing to cut yet", "put it after the features that it goes through");
                return null;
        }
    }

    public static void Place(Placement p, Slot slot)
    {
        Dual half = p.Positive(slot, slot.Width, "the width") / 2;
        if (p.Face(slot.From) is not { } face) return;
        Frame frame = face.Inward();
        PlanePoint first = p.Value(slot.First), second = p.Value(slot.Second);
        if (!((second - first).Length.Value > 1e-9))
        {
            p.Say(slot.Place, $"{slot.Name}: it starts and ends at the same point", "move its two ends apart");
            return;
        }

        string Named(string element) => slot.Name + "." + element;
        string[] Names(string element) => [Named("wall"), Named(element)];
        PlanePoint left = (second - first).Unit().Left * half;
        PlanePoint a = first - left, b = second - left, c = second + left, d = first + left;
        Piece end2 = slot.Ends == SlotEnds.Round ? new ArcPiece(b, c, second, true, Names("end#2")) : new StraightPiece(b, c, Names("end#2"));
        Piece end1 = slot.Ends == SlotEnds.Round ? new ArcPiece(d, a, first, true, Names("end#1")) : new StraightPiece(d, a, Names("end#1"));
        var region = new Region.Loop([new StraightPiece(a, b, Names("side#2")), end2, new StraightPiece(c, d, Names("side#1")), end1]);
        Sink(p, slot, slot.Reach, frame, region);
    }

    public static void Place(Placement p, Pocket pocket)
    {
        if (p.Stand(pocket.From, pocket.At, null) is not { } face) return;
        string wall = pocket.Name + ".wall";
        if (new OutlinePlacer(pocket.Name, wall, p.Sizes, p.Problems).Place(pocket.Outline) is { } region)
            Sink(p, pocket, pocket.Reach, face.Inward(), region);
    }

    private static void Sink(Placement p, Feature cut, Reach reach, Frame inward, Region region)
    {
        if (Depth(p, cut, reach, inward) is not { } depth) return;
        string wall = cut.Name + ".wall", floor = cut.Name + ".floor";
        bool blind = reach is Reach.Depth;
        p.Add(new SideElement(wall, inward, region, true));
        foreach (Element side in SideFaces.OfPrism(inward, region, wall, true)) p.Add(side);
        if (blind) p.Add(new FlatElement(floor, inward.At(new(0, 0), depth), -inward.N));
        p.Add(new Combination(cut.Name, false, [new PrismTool(inward, region, 0, depth, [], blind ? [floor] : [])], cut.Place));
    }

    public static void Place(Placement p, Groove groove)
    {
        Dual offset = p.Value(groove.Offset), width = p.Positive(groove, groove.Width, "the width"), depth = p.Positive(groove, groove.Depth, "the depth");
        if (p.Flat(groove.From) is not { } from || p.Any(groove.In) is not { } element) return;
        if (element is not RoundElement round)
        {
            p.Say(groove.In.Place, $"{groove.Name}: `{groove.In}` is not round", "a groove goes round a boss's side or a hole's wall");
            return;
        }

        if (Math.Abs(Vector.Dot(round.AxisDirection, from.Normal).Value) < 1 - 1e-12)
        {
            p.Say(groove.From.Place, $"{groove.Name}: `{groove.From}` is not square to the axis of `{groove.In}`", "measure the groove from a face that the axis goes straight through");
            return;
        }

        Dual inner = round.Hollow ? round.Radius : round.Radius - depth, outer = round.Hollow ? round.Radius + depth : round.Radius;
        if (!(inner.Value > 0))
        {
            p.Say(groove.Place, string.Create(CultureInfo.InvariantCulture, $"{groove.Name}: {depth.Value:0.###} mm deep reaches the axis"), "make it shallower than the radius");
            return;
        }

        Vector n = -from.Normal;
        Vector origin = round.AxisPoint + n * Vector.Dot(from.Point - round.AxisPoint, n);
        Vector u = Perpendicular(n);
        var frame = new Frame(origin, u, Vector.Cross(n, u), n);
        PlanePoint a = new(inner, offset), b = new(outer, offset), c = new(outer, offset + width), d = new(inner, offset + width);
        string[] floor = [groove.Name + ".floor"];
        Piece[] loop =
        [
            new StraightPiece(a, b, [groove.Name + ".near"]),
            new StraightPiece(b, c, round.Hollow ? floor : []),
            new StraightPiece(c, d, [groove.Name + ".far"]),
            new StraightPiece(d, a, round.Hollow ? [] : floor),
        ];
        foreach (Element face in SideFaces.OfTurned(frame, loop, null, true)) p.Add(face);
        p.Add(new AxisElement(groove.Name + ".axis", origin, n));
        p.Add(new Combination(groove.Name, false, [new TurnedTool(frame, loop)], groove.Place));
    }

    private static Vector Perpendicular(Vector n)
    {
        Vector other = Math.Abs(n.X.Value) < 0.9 ? new(1, 0, 0) : new(0, 1, 0);
        return (other - n * Vector.Dot(n, other)).Unit();
    }
}
