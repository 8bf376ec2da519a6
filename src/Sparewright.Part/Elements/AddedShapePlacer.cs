using Sparewright.Measure.Numbers;
using Sparewright.Part.Shape;

namespace Sparewright.Part.Elements;

/// <summary>Places the features that add material: plate, boss, block, turned shape, rib, rounded end.</summary>
internal static class AddedShapePlacer
{
    public static void Place(Placement p, Plate plate)
    {
        Dual thickness = p.Positive(plate, plate.Thickness, "the thickness");
        if (p.Stand(plate.StandsOn, plate.At, plate.Turned) is not { } frame) return;
        string rim = plate.Name + ".rim";
        if (new OutlinePlacer(plate.Name, rim, p.Sizes, p.Problems).Place(plate.Outline) is not { } region) return;

        p.Add(new FlatElement(plate.Name + ".bottom", frame.Origin, -frame.N));
        p.Add(new FlatElement(plate.Name + ".top", frame.Origin + frame.N * thickness, frame.N));
        p.Add(new SideElement(rim, frame, region, false));
        foreach (Element side in SideFaces.OfPrism(frame, region, rim, false)) p.Add(side);
        p.Add(new Combination(plate.Name, true, [new PrismTool(frame, region, 0, thickness, [plate.Name + ".bottom"], [plate.Name + ".top"])], plate.Place));
    }

    public static void Place(Placement p, Boss boss)
    {
        Dual radius = p.Positive(boss, boss.Diameter, "the diameter") / 2;
        Dual topRadius = boss.TopDiameter is null ? radius : p.Positive(boss, boss.TopDiameter, "the top diameter") / 2;
        Dual height = p.Positive(boss, boss.Height, "the height");
        if (p.Stand(boss.StandsOn, boss.At, boss.Turned) is not { } frame) return;

        PlanePoint foot = new(0, 0), edge = new(radius, 0), topEdge = new(topRadius, height), top = new(0, height);
        Piece[] loop =
        [
            new StraightPiece(foot, edge, [boss.Name + ".bottom"]),
            new StraightPiece(edge, topEdge, [boss.Name + ".side"]),
            new StraightPiece(topEdge, top, [boss.Name + ".top"]),
            new StraightPiece(top, foot, []),
        ];
        foreach (Element face in SideFaces.OfTurned(frame, loop, null, false)) p.Add(face);
        p.Add(new AxisElement(boss.Name + ".axis", frame.Origin, frame.N));
        p.Add(new Combination(boss.Name, true, [new TurnedTool(frame, loop)], boss.Place));
    }

    public static void Place(Placement p, Block block)
    {
        Dual l = p.Positive(block, block.Long, "long"), d = p.Positive(block, block.Deep, "deep"), t = p.Positive(block, block.Tall, "tall");
        var low = new Vector(0, 0, 0);
        Frame frame = Frame.Job;
        if (block.CornerAt is { } corner) frame = frame.MovedTo(p.Value(corner));
        else if (block.MiddleAt is { } middle)
        {
            frame = frame.MovedTo(p.Value(middle));
            low = new Vector(-l / 2, -d / 2, -t / 2);
        }

        frame = p.Turned(frame, block.Turned);
        string Side(string side) => block.Name + "." + side;
        Vector Local(Dual x, Dual y, Dual z) => frame.At(new(low.X + x, low.Y + y), low.Z + z);
        void Face(string side, Vector at, Vector normal, Vector first, Dual halfFirst, Vector second, Dual halfSecond) =>
            p.Add(new FlatElement(Side(side), at, normal) { Rectangle = new(at, first, halfFirst, second, halfSecond) });
        Face("left", Local(0, d / 2, t / 2), -frame.U, frame.V, d / 2, frame.N, t / 2);
        Face("right", Local(l, d / 2, t / 2), frame.U, frame.V, d / 2, frame.N, t / 2);
        Face("front", Local(l / 2, 0, t / 2), -frame.V, frame.U, l / 2, frame.N, t / 2);
        Face("back", Local(l / 2, d, t / 2), frame.V, frame.U, l / 2, frame.N, t / 2);
        Face("bottom", Local(l / 2, d / 2, 0), -frame.N, frame.U, l / 2, frame.V, d / 2);
        Face("top", Local(l / 2, d / 2, t), frame.N, frame.U, l / 2, frame.V, d / 2);

        var a = new PlanePoint(low.X, low.Y);
        PlanePoint b = a + new PlanePoint(l, 0), c = a + new PlanePoint(l, d), e = a + new PlanePoint(0, d);
        var outline = new Region.Loop(
        [
            new StraightPiece(a, b, [Side("front")]),
            new StraightPiece(b, c, [Side("right")]),
            new StraightPiece(c, e, [Side("back")]),
            new StraightPiece(e, a, [Side("left")]),
        ]);
        p.Add(new Combination(block.Name, true, [new PrismTool(frame, outline, low.Z, low.Z + t, [Side("bottom")], [Side("top")])], block.Place));
    }

    public static void Place(Placement p, TurnedShape turned)
    {
        if (p.Stand(turned.StandsOn, turned.At, turned.Turned) is not { } frame) return;
        string side = turned.Name + ".side";
        if (new OutlinePlacer(turned.Name, side, p.Sizes, p.Problems).Place(turned.Outline) is not { } region) return;
        IReadOnlyList<Piece>? loop = region switch
        {
            Region.Loop l => l.Pieces,
            Region.Circle c => HalfCircles(c),
            _ => null,
        };
        if (loop is null)
        {
            p.Say(turned.Outline.Place, $"{turned.Name}: a turned shape needs one single outline", "draw it as one path, or add and cut further turned shapes");
            return;
        }

        if (loop.Min(q => q.From.U.Value) < -1e-9)
        {
            p.Say(turned.Outline.Place, $"{turned.Name}: the outline crosses the axis", "its first coordinate is the distance from the axis: keep it at 0 or more");
            return;
        }

        var faces = SideFaces.OfTurned(frame, loop, side, false).ToList();
        foreach (Element face in faces) p.Add(face);
        AddEnd(".top", frame.N);
        AddEnd(".bottom", -frame.N);
        p.Add(new AxisElement(turned.Name + ".axis", frame.Origin, frame.N));
        p.Add(new Combination(turned.Name, true, [new TurnedTool(frame, [.. loop.Select(Named)])], turned.Place));

        // The outermost flat faces are its top and bottom besides bearing their numbers.
        void AddEnd(string name, Vector outward)
        {
            FlatElement? end = faces.OfType<FlatElement>().Where(f => Vector.Dot(f.Normal, outward).Value > 0.5)
                .MaxBy(f => Vector.Dot(f.Point, outward).Value);
            if (end is not null) p.Add(end with { Name = turned.Name + name });
        }

        Piece Named(Piece piece)
        {
            string? numbered = piece.Names.FirstOrDefault(n => n != side);
            string? end = new[] { ".top", ".bottom" }.Select(n => turned.Name + n).FirstOrDefault(n =>
                numbered is not null && p.Elements.GetValueOrDefault(n) is FlatElement f && p.Elements.GetValueOrDefault(numbered) is FlatElement g
                && f.Point == g.Point && f.Normal == g.Normal);
            return end is null ? piece : piece with { Names = [.. piece.Names, end] };
        }
    }

    private static Piece[] HalfCircles(Region.Circle c)
    {
        PlanePoint low = c.Center - new PlanePoint(0, c.Radius), high = c.Center + new PlanePoint(0, c.Radius);
        return [new ArcPiece(low, high, c.Center, true, c.Names), new ArcPiece(high, low, c.Center, true, c.Names)];
    }

    public static void Place(Placement p, Rib rib)
    {
        Dual thickness = p.Positive(rib, rib.Thickness, "the thickness");
        Dual height = p.Positive(rib, rib.Height, "the height");
        Dual endHeight = rib.EndHeight is null ? height : p.Value(rib.EndHeight);
        if (endHeight.Value < 0) p.Say(rib.Place, $"{rib.Name}: the height at its end is less than 0", "check the sizes that it comes from");
        if (p.Stand(rib.StandsOn, null, rib.Turned) is not { } face) return;
        PlanePoint from = p.Value(rib.From), to = p.Value(rib.To);
        Dual length = (to - from).Length;
        if (!(length.Value > 1e-9))
        {
            p.Say(rib.Place, $"{rib.Name}: it starts and ends at the same point", "move `from` and `to` apart");
            return;
        }

        PlanePoint way = (to - from) * (1 / length);
        var frame = new Frame(face.At(from), face.Along(way), face.N, face.Along(way.Left));
        string Side(string side) => rib.Name + "." + side;
        PlanePoint a = new(0, 0), b = new(length, 0), c = new(length, endHeight), d = new(0, height);
        var pieces = new List<Piece> { new StraightPiece(a, b, [Side("bottom")]) };
        if (endHeight.Value > 1e-9) pieces.Add(new StraightPiece(b, c, [Side("end#2")]));
        pieces.Add(new StraightPiece(c, d, [Side("top")]));
        pieces.Add(new StraightPiece(d, a, [Side("end#1")]));
        var outline = new Region.Loop(pieces);
        foreach (Element e in SideFaces.OfPrism(frame, outline, null, false)) p.Add(e);
        p.Add(new FlatElement(Side("side#1"), frame.At(b * 0.5, thickness / 2), frame.N));
        p.Add(new FlatElement(Side("side#2"), frame.At(b * 0.5, -thickness / 2), -frame.N));
        p.Add(new Combination(rib.Name, true, [new PrismTool(frame, outline, -thickness / 2, thickness / 2, [Side("side#2")], [Side("side#1")])], rib.Place));
    }

    public static void Place(Placement p, RoundedEnd end)
    {
        if (p.Flat(end.Of) is not { } flat) return;
        if (flat.Rectangle is not { } r)
        {
            p.Say(end.Of.Place, $"{end.Name}: `{end.Of}` is not a side of a block", "a rounded end goes on a rectangular side of a block");
            return;
        }

        Vector axis = end.Axis.Vector();
        bool alongFirst = Math.Abs(Vector.Dot(r.First, axis).Value) > 1 - 1e-12;
        if (!alongFirst && Math.Abs(Vector.Dot(r.Second, axis).Value) < 1 - 1e-12)
        {
            p.Say(end.Place, $"{end.Name}: its axis does not run along a side of `{end.Of}`", "choose a direction that lies in that face");
            return;
        }

        (Vector along, Dual halfLength, Vector across, Dual radius) = alongFirst
            ? (r.First, r.HalfFirst, r.Second, r.HalfSecond)
            : (r.Second, r.HalfSecond, r.First, r.HalfFirst);
        var frame = new Frame(r.Middle - along * halfLength, flat.Normal, across, along);
        PlanePoint low = new(0, -radius), high = new(0, radius), middle = new(0, 0);
        // Flush with the block's neighbouring sides, the half cylinder's flat ends bear their names.
        string feature = end.Of.Text.Split('.')[0];
        string[] Flush(Vector normal) =>
        [
            end.Name + (Vector.Dot(normal, along).Value > 0 ? ".end#2" : ".end#1"),
            .. p.Elements.Values.OfType<FlatElement>()
                .Where(f => f.Name.StartsWith(feature + ".", StringComparison.Ordinal) && Vector.Dot(f.Normal, normal).Value > 1 - 1e-12
                    && Math.Abs(Vector.Dot(f.Point - (r.Middle + normal * halfLength), normal).Value) < 1e-9)
                .Select(f => f.Name),
        ];
        string[] lowNames = Flush(-along), highNames = Flush(along);
        var region = new Region.Loop([new ArcPiece(low, high, middle, true, [end.Name + ".face", end.Of.Text]), new StraightPiece(high, low, [])]);
        p.Add(new FlatElement(end.Name + ".end#1", frame.Origin, -along));
        p.Add(new FlatElement(end.Name + ".end#2", frame.Origin + along * (2 * halfLength), along));
        p.Add(new RoundElement(end.Of.Text, r.Middle, along, radius, false));
        p.Add(new RoundElement(end.Name + ".face", r.Middle, along, radius, false));
        p.Add(new AxisElement(end.Of.Text + ".axis", r.Middle, along));
        p.Add(new Combination(end.Name, true, [new PrismTool(frame, region, 0, 2 * halfLength, lowNames, highNames)], end.Place));
        p.NoteAdded(feature, p.Features[^1] is Combination c ? c.Tools : []);
    }
}
