using Sparewright.Measure;
using Sparewright.Measure.Numbers;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;
using Sparewright.Reconcile.Readings;
using Xunit;

namespace Sparewright.Reconcile.Tests.Readings;

/// <summary>The one formula on elements set down by hand. The expected values are worked out on paper beside each case.</summary>
public class CaliperGeometryTests
{
    private static readonly Place Here = new(7, 5);

    private static readonly Vector Right = new(1, 0, 0), Back = new(0, 1, 0), Up = new(0, 0, 1);

    private static RoundElement Boss(string name, Vector at, Vector along, double radius) => new(name, at, along, radius, false);

    private static RoundElement Hole(string name, Vector at, Vector along, double radius) => new(name, at, along, radius, true);

    private static FlatElement Flat(string name, Vector at, Vector normal) => new(name, at, normal);

    private static SideElement Side(string name, Region region, bool hollow = false) => new(name, Frame.Job, region, hollow);

    private static CaliperValue Take(ReadingWay way, Element first, Element? second = null, Direction? across = null, SizeExpression? atHeight = null)
    {
        var elements = new[] { first, second }.OfType<Element>().DistinctBy(e => e.Name).ToDictionary(e => e.Name);
        var shape = new PlacedShape(new Dictionary<string, Dual>(), [], elements, []);
        return CaliperGeometry.Of(new CaliperReading("r1", way, new(first.Name, Here), second is null ? null : new(second.Name, Here), across, [1], false, false, null, atHeight, null, Here), shape);
    }

    private static void Reads(double expected, CaliperValue value)
    {
        Assert.Null(value.Refusal);
        Assert.Equal(expected, value.Mm!.Value.Value, 1e-12);
    }

    private static void Refused(string because, string remedy, CaliperValue value)
    {
        Assert.Null(value.Mm);
        Assert.Equal(Here, value.Refusal!.Place);
        Assert.StartsWith("r1: ", value.Refusal.What);
        Assert.Contains(because, value.Refusal.What);
        Assert.Contains(remedy, value.Refusal.Remedy);
    }

    // ---- one element ------------------------------------------------------------------------------------------------

    [Fact]
    public void A_boss_is_its_diameter_outside() => Reads(17, Take(ReadingWay.Outside, Boss("a.side", Vector.Zero, Up, 8.5)));

    [Fact]
    public void A_hole_is_its_diameter_inside() => Reads(5, Take(ReadingWay.Inside, Hole("a.wall", Vector.Zero, Up, 2.5)));

    [Fact]
    public void Outside_jaws_do_not_close_in_a_hole() =>
        Refused("`a.wall` is hollow", "read its diameter inside", Take(ReadingWay.Outside, Hole("a.wall", Vector.Zero, Up, 2.5)));

    [Fact]
    public void Inside_jaws_do_not_spread_on_a_boss() =>
        Refused("`a.side` bulges", "read its diameter outside", Take(ReadingWay.Inside, Boss("a.side", Vector.Zero, Up, 2.5)));

    [Fact]
    public void One_plane_has_no_size() => Refused("`a.top` is flat", "[a.top, …]", Take(ReadingWay.Outside, Flat("a.top", Vector.Zero, Up)));

    [Fact]
    public void An_axis_a_datum_and_a_rounded_edge_cannot_be_touched()
    {
        Refused("`a.axis` is an axis", "round face", Take(ReadingWay.Outside, new AxisElement("a.axis", Vector.Zero, Up)));
        Refused("`ground` is a datum", "face of the part", Take(ReadingWay.Outside, Flat("ground", Vector.Zero, Up)));
        Refused("rounded or bevelled edge", "radius_gauge", Take(ReadingWay.Outside, new EdgeFaceElement("a.face", 1)));
        Refused("`a.side#2` is ball-shaped", "beside it", Take(ReadingWay.Outside, new CurvedElement("a.side#2", "ball-shaped")));
    }

    [Fact]
    public void A_name_that_is_no_element_is_answered_with_those_there_are()
    {
        var shape = new PlacedShape(new Dictionary<string, Dual>(), [], new Dictionary<string, Element> { ["a.top"] = Flat("a.top", Vector.Zero, Up), ["a.bottom"] = Flat("a.bottom", Vector.Zero, -Up) }, []);
        CaliperValue value = CaliperGeometry.Of(new CaliperReading("r1", ReadingWay.Outside, new("a.lid", Here), null, null, [1], false, false, null, null, null, Here), shape);
        Assert.Equal("r1: there is no element `a.lid` on the shape", value.Refusal!.What);
        Assert.Equal("`a` has a.bottom, a.top", value.Refusal.Remedy);
    }

    // ---- planes -------------------------------------------------------------------------------------------------------

    [Fact]
    public void Planes_back_to_back_are_a_thickness()
    {
        var top = Flat("a.top", new(3, 4, 5), Up);
        var bottom = Flat("a.bottom", Vector.Zero, -Up);
        Reads(5, Take(ReadingWay.Outside, top, bottom));
        Reads(5, Take(ReadingWay.Outside, bottom, top));
        Refused("face away from each other with material between", "read it outside", Take(ReadingWay.Inside, top, bottom));
        Refused("do not face the same way", "outside where material", Take(ReadingWay.Depth, top, bottom));
    }

    [Fact]
    public void Planes_face_to_face_are_a_gap()
    {
        var left = Flat("slot.side#1", new(2, 0, 0), Right);
        var right = Flat("slot.side#2", new(8.25, 1, 9), -Right);
        Reads(6.25, Take(ReadingWay.Inside, left, right));
        Refused("face each other with space between", "read it inside", Take(ReadingWay.Outside, left, right));
    }

    [Fact]
    public void Planes_that_look_the_same_way_are_a_depth_or_a_step()
    {
        var top = Flat("a.top", new(0, 0, 48), Up);
        var floor = Flat("bore.end", new(1, 1, 12), Up);
        Reads(36, Take(ReadingWay.Depth, top, floor));
        Reads(36, Take(ReadingWay.Step, floor, top));
        Refused("face the same way", "step or a depth", Take(ReadingWay.Outside, top, floor));
    }

    [Fact]
    public void Planes_that_are_not_parallel_are_refused()
    {
        var top = Flat("a.top", new(0, 0, 5), Up);
        var tilted = Flat("b.top", Vector.Zero, new(0, Math.Sin(0.01), -Math.Cos(0.01)));
        foreach (ReadingWay way in Enum.GetValues<ReadingWay>()) Refused("are not parallel", "parallel to it", Take(way, top, tilted));
    }

    // ---- round and plane ---------------------------------------------------------------------------------------------

    [Fact]
    public void A_boss_and_a_plane()
    {
        var boss = Boss("boss.side", new(10, 7, 0), Up, 3);
        // Jaws close over the boss, axis at x = 10, and the far face at x = 0 that looks left: 10 + 3.
        Reads(13, Take(ReadingWay.Outside, boss, Flat("plate.left", Vector.Zero, -Right)));
        // A wall at x = 0 looks at the boss: the gap is 10 − 3.
        Reads(7, Take(ReadingWay.Inside, Flat("wall.right", Vector.Zero, Right), boss));
        Refused("face each other", "read it inside", Take(ReadingWay.Outside, boss, Flat("wall.right", Vector.Zero, Right)));
        Refused("face away from each other", "read it outside", Take(ReadingWay.Inside, boss, Flat("plate.left", Vector.Zero, -Right)));
        Refused("is not parallel to `plate.top`", "plane that its axis runs along", Take(ReadingWay.Outside, boss, Flat("plate.top", Vector.Zero, Up)));
        Refused("a depth goes between parallel planes, and `boss.side` is round", "flat elements", Take(ReadingWay.Depth, boss, Flat("plate.left", Vector.Zero, -Right)));
    }

    [Fact]
    public void A_hole_and_a_plane()
    {
        var hole = Hole("hole.wall", new(10, 0, 0), Up, 2);
        // The web between the hole and the edge at x = 0: 10 − 2.
        Reads(8, Take(ReadingWay.Outside, hole, Flat("plate.left", Vector.Zero, -Right)));
        // In a D-bore the flat at x = 8.5 looks at the wall opposite: 1.5 + 2.
        Reads(3.5, Take(ReadingWay.Inside, hole, Flat("hole.flat", new(8.5, 0, 0), Right)));
    }

    // ---- two round faces -----------------------------------------------------------------------------------------------

    [Fact]
    public void Two_holes_give_the_web_and_the_far_walls()
    {
        var one = Hole("hole#1.wall", new(0, -17, 0), Up, 2.25);
        var two = Hole("hole#2.wall", new(0, 17, 3), Up, 2.5);
        // c = 34: web 34 − 4.75, far walls 34 + 4.75; their mean is the pitch, also of unequal holes.
        Reads(29.25, Take(ReadingWay.Outside, one, two));
        Reads(38.75, Take(ReadingWay.Inside, one, two));
    }

    [Fact]
    public void Two_bosses_give_the_whole_and_the_gap()
    {
        var one = Boss("a.side", Vector.Zero, Up, 3);
        var two = Boss("b.side", new(30, 40, 0), -Up, 5);
        Reads(58, Take(ReadingWay.Outside, one, two));
        Reads(42, Take(ReadingWay.Inside, one, two));
    }

    [Fact]
    public void A_wall_about_a_bore_on_the_same_axis_is_the_difference_of_the_radii()
    {
        Dual outer = Dual.Unknown(0, 8.5), inner = Dual.Unknown(1, 6.1), x = Dual.Unknown(2, 4);
        var side = new RoundElement("socket.side", new(x, 0, 0), Up, outer, false);
        var bore = new RoundElement("bore.wall", new(x, 0, 7), Up, inner, true);
        Dual wall = Take(ReadingWay.Outside, side, bore).Mm!.Value;
        Assert.Equal(2.4, wall.Value, 1e-12);
        // Centred by construction, whatever x is: no slope along x, and none that is not a number.
        Assert.Equal([1.0, -1.0, 0.0], new[] { wall.Gradient.By(0), wall.Gradient.By(1), wall.Gradient.By(2) });
    }

    [Fact]
    public void Crossed_axes_are_measured_along_their_common_perpendicular()
    {
        var socket = Boss("socket.side", Vector.Zero, Up, 8.5);
        var end = Boss("lug.right", new(28, 0, 43), Back, 10);
        var pin = Hole("pin.wall", new(28, 5, 43), Back, 2.5);
        Reads(46.5, Take(ReadingWay.Outside, socket, end));
        Reads(9.5, Take(ReadingWay.Inside, socket, end));
        Reads(34, Take(ReadingWay.Outside, socket, pin));
        Refused("cross, and no jaw gets at both holes", "outer face", Take(ReadingWay.Outside, Hole("bore.wall", Vector.Zero, Up, 6), pin));
    }

    [Fact]
    public void Skew_axes_that_are_not_square_to_each_other_too()
    {
        // Directions z and (0, 1, 1)/√2, six apart along x.
        var a = Boss("a.side", new(0, 5, -3), Up, 1);
        var b = Boss("b.side", new(6, -2, 9), new(0, Math.Sqrt(0.5), Math.Sqrt(0.5)), 2);
        Reads(9, Take(ReadingWay.Outside, a, b));
    }

    [Fact]
    public void Where_nothing_is_left_between_the_jaws_the_reading_is_refused() =>
        Refused("leave nothing to measure between them", "check the elements", Take(ReadingWay.Outside, Hole("a.wall", Vector.Zero, Up, 3), Hole("b.wall", new(5, 0, 0), Up, 3)));

    // ---- cones -----------------------------------------------------------------------------------------------------------

    [Fact]
    public void A_cone_is_measured_at_a_height_above_the_ground()
    {
        // Stands on z = 5 with radius 10 and loses 0.1 mm of radius for each mm: at z = 15 its diameter is 18.
        var cone = new ConeElement("knob.side", new(3, 4, 5), Up, 10, -0.1, false);
        CaliperValue value = Take(ReadingWay.Outside, cone, atHeight: 15.0);
        Reads(18, value);
        Assert.Equal((3.0, 4.0, 15.0), (value.At!.Value.X.Value, value.At.Value.Y.Value, value.At.Value.Z.Value));
        Refused("differs from height to height", "at_height", Take(ReadingWay.Outside, cone));
        Refused("is hollow", "inside", Take(ReadingWay.Outside, cone with { Hollow = true }, atHeight: 15.0));
        Refused("comes to its point", "at_height", Take(ReadingWay.Outside, cone, atHeight: 106.0));
    }

    [Fact]
    public void The_height_does_not_hang_on_which_way_the_cone_was_drawn()
    {
        // The same cone drawn from its top down: base at z = 25 with radius 8, axis down, growing by 0.1.
        Reads(18, Take(ReadingWay.Outside, new ConeElement("knob.side", new(3, 4, 25), -Up, 8, 0.1, false), atHeight: 15.0));
    }

    // ---- across ------------------------------------------------------------------------------------------------------------

    [Fact]
    public void A_side_that_goes_round_has_an_extent_across_a_direction()
    {
        var disc = new Region.Circle(new(1, 2), 10, ["foot.rim#1"]);
        var other = new Region.Circle(new(1, 32), 6, ["foot.rim#2"]);
        var both = Side("foot.rim", new Region.Joined([disc, other]));
        Reads(20, Take(ReadingWay.Outside, both, across: Direction.Right));
        Reads(46, Take(ReadingWay.Outside, both, across: Direction.Front));
        Reads(46, Take(ReadingWay.Inside, both with { Hollow = true }, across: Direction.Back));
        Refused("does not go round across up", "above and below", Take(ReadingWay.Outside, both, across: Direction.Up));
        Refused("faces outward", "read it outside", Take(ReadingWay.Inside, both, across: Direction.Right));
        Refused("goes all round and is no single surface", "foot.rim#1, foot.rim#2", Take(ReadingWay.Outside, both));
        Refused("goes all round and is no single surface", "foot.rim#1, foot.rim#2", Take(ReadingWay.Outside, Boss("a.side", new(50, 0, 0), Up, 1), both));
    }

    [Fact]
    public void A_side_of_one_circle_is_a_round_face()
    {
        var rim = Side("flange.rim", new Region.Circle(new(1, 2), 10, ["flange.rim", "flange.rim#1"]));
        Reads(20, Take(ReadingWay.Outside, rim));
        Reads(20, Take(ReadingWay.Outside, rim, across: Direction.Back));
        // From the left face at x = −30 over the rim: 31 + 10.
        Reads(41, Take(ReadingWay.Outside, rim, Flat("bar.left", new(-30, 0, 0), -Right)));
    }

    [Fact]
    public void Across_a_round_face_is_its_diameter_where_the_axis_stands_square()
    {
        Reads(17, Take(ReadingWay.Outside, Boss("a.side", Vector.Zero, Up, 8.5), across: Direction.Left));
        Refused("does not stand square", "leave `across` away", Take(ReadingWay.Outside, Boss("a.side", Vector.Zero, Up, 8.5), across: Direction.Up));
    }

    [Fact]
    public void Where_the_touching_point_is_taken_away_the_extent_is_refused()
    {
        var disc = new Region.Circle(new(0, 0), 10, ["cam.rim#1"]);
        Region Box(double u, double v, double halfU, double halfV) => new Region.Loop(
        [
            new StraightPiece(new(u - halfU, v - halfV), new(u + halfU, v - halfV), ["cam.rim#2"]), new StraightPiece(new(u + halfU, v - halfV), new(u + halfU, v + halfV), ["cam.rim#3"]),
            new StraightPiece(new(u + halfU, v + halfV), new(u - halfU, v + halfV), ["cam.rim#4"]), new StraightPiece(new(u - halfU, v + halfV), new(u - halfU, v - halfV), ["cam.rim#5"]),
        ]);
        var flattened = Side("cam.rim", new Region.TakenAway(disc, [Box(9, 0, 2, 8)]));
        Refused("another part of the outline takes it away", "cam.rim#1, cam.rim#2", Take(ReadingWay.Outside, flattened, across: Direction.Right));
        Reads(20, Take(ReadingWay.Outside, flattened, across: Direction.Back));
        // A notch in the middle of a long side leaves its corners for the jaw.
        Reads(30, Take(ReadingWay.Outside, Side("bar.rim", new Region.TakenAway(Box(0, 0, 15, 4), [Box(15, 0, 3, 2)])), across: Direction.Right));
        // A disc cut to a D by a box: the flat at x = 6 is there, so left to right is 10 + 6.
        Reads(16, Take(ReadingWay.Outside, Side("d.rim", new Region.Overlapped([disc, Box(-14, 0, 20, 20)])), across: Direction.Right));
    }
}
