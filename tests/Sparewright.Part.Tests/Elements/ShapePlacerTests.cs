using Sparewright.Measure.Numbers;
using Sparewright.Part.Elements;
using Sparewright.Part.Shape;
using Xunit;
using static Sparewright.Part.Tests.Elements.Shapes;

namespace Sparewright.Part.Tests.Elements;

public class ShapePlacerTests
{
    private static void Near(double expected, Dual actual) => Assert.Equal(expected, actual.Value, 9);

    private static void Near((double X, double Y, double Z) expected, Vector actual)
    {
        Near(expected.X, actual.X);
        Near(expected.Y, actual.Y);
        Near(expected.Z, actual.Z);
    }

    [Fact]
    public void Every_feature_of_the_knuckle_is_placed_without_a_problem()
    {
        PlacedShape shape = Place(Knuckle(), KnuckleSizes());
        Assert.Empty(shape.Problems);
        Assert.Equal(["foot", "socket", "lug", "lug_end", "bore", "pin_hole", "screws"], shape.Features.Select(f => f.Name));
    }

    [Fact]
    public void A_boss_stands_on_the_face_it_names()
    {
        PlacedShape shape = Place(Knuckle(), KnuckleSizes());
        var top = Assert.IsType<FlatElement>(shape.Elements["socket.top"]);
        Near((0, 0, 53), top.Point);
        Near((0, 0, 1), top.Normal);
        var side = Assert.IsType<RoundElement>(shape.Elements["socket.side"]);
        Near(8.5, side.Radius);
        Assert.False(side.Hollow);
    }

    [Fact]
    public void A_rounded_end_turns_the_flat_side_round_about_an_axis_where_the_flat_was()
    {
        PlacedShape shape = Place(Knuckle(), KnuckleSizes());
        var end = Assert.IsType<RoundElement>(shape.Elements["lug.right"]);
        Near(10, end.Radius);
        Near((28, 0, 43), end.AxisPoint);
        Near((0, 1, 0), end.AxisDirection);
        Assert.IsType<AxisElement>(shape.Elements["lug.right.axis"]);
        // Its flat ends lie in the lug's own front and back and bear their names.
        var prism = Assert.IsType<PrismTool>(((Combination)shape.Features[3]).Tools[0]);
        Assert.Contains("lug.front", prism.FromNames);
        Assert.Contains("lug.back", prism.ToNames);
    }

    [Fact]
    public void A_blind_hole_ends_at_its_depth_and_its_end_looks_out_of_it()
    {
        PlacedShape shape = Place(Knuckle(), KnuckleSizes());
        var end = Assert.IsType<FlatElement>(shape.Elements["bore.end"]);
        Near(53 - 36, end.Point.Z);
        Near((0, 0, 1), end.Normal);
        Assert.True(Assert.IsType<RoundElement>(shape.Elements["bore.wall"]).Hollow);
    }

    [Fact]
    public void A_hole_through_a_feature_ends_exactly_at_its_flat_sides()
    {
        PlacedShape shape = Place(Knuckle(), KnuckleSizes());
        var tool = Assert.IsType<TurnedTool>(((Combination)shape.Features[5]).Tools[0]);
        double low = tool.Loop.Min(p => p.From.V.Value), high = tool.Loop.Max(p => p.From.V.Value);
        Assert.Equal((-3, 3), (low, high));
    }

    [Fact]
    public void Copies_are_numbered_from_the_front_and_carry_the_pitch()
    {
        PlacedShape shape = Place(Knuckle(), KnuckleSizes());
        Near((0, -17, 5), ((RoundElement)shape.Elements["screw_hole#1.wall"]).AxisPoint with { Z = 5 });
        var second = (RoundElement)shape.Elements["screw_hole#2.wall"];
        Near(17, second.AxisPoint.Y);
        Assert.Equal(0.5, second.AxisPoint.Y.Gradient.By(0), 12);
        Assert.IsType<ConeElement>(shape.Elements["screw_hole#2.countersink"]);
    }

    [Fact]
    public void A_belt_with_unequal_discs_touches_them_at_the_common_tangent()
    {
        var belt = new Belt([new Disc(new(0.0, 0.0), 10.0, Here), new Disc(new(30.0, 0.0), 4.0, Here)], Here);
        PlacedShape shape = Place([new Plate("p", 3.0, belt, Element("ground"), null, Here)]);
        var straight = (FlatElement)shape.Elements["p.rim#2"];
        // n·(c₂ − c₁) = r₁ − r₂: 30 n_x = 6.
        Near(-Math.Sqrt(1 - 0.04), straight.Normal.Y);
        Near(0.2, straight.Normal.X);
        Near(10, Vector.Dot(straight.Point, straight.Normal));
    }

    [Fact]
    public void A_polygon_with_corner_radii_keeps_its_sides_and_rounds_tangentially()
    {
        var square = new Rectangle(20.0, 10.0, FacePoint.Origin, null, 2.0, Here);
        PlacedShape shape = Place([new Plate("p", 3.0, square, Element("ground"), null, Here)]);
        Near(-5, ((FlatElement)shape.Elements["p.rim#1"]).Point.Y);
        Near(10, ((FlatElement)shape.Elements["p.rim#2"]).Point.X);
        var corner = (RoundElement)shape.Elements["p.rim#5"];
        Near((-8, -3, 0), corner.AxisPoint);
        Near(2, corner.Radius);
    }

    [Fact]
    public void A_corner_radius_that_does_not_fit_is_refused_by_name()
    {
        var square = new Rectangle(20.0, 10.0, FacePoint.Origin, null, 6.0, Here);
        Problem problem = Place([new Plate("p", 3.0, square, Element("ground"), null, Here)]).Problems[0];
        Assert.Equal("p: the corner radii do not fit a side of 10 mm", problem.What);
    }

    [Fact]
    public void A_size_of_nothing_is_refused_by_name()
    {
        Problem problem = Assert.Single(Place([new Boss("peg", S("d"), null, 4.0, Element("ground"), null, Here)], ("d", -1)).Problems);
        Assert.Equal("peg: the diameter is -1 mm", problem.What);
    }

    [Fact]
    public void A_hole_as_wide_as_its_boss_is_refused_by_name()
    {
        IReadOnlyList<Feature> shape =
        [
            new Boss("peg", 10.0, null, 30.0, Element("ground"), null, Here),
            new Hole("bore", new HoleStart.FromFace(Element("peg.top"), null), 10.0, new Reach.Depth(5.0), HoleEnd.Flat, null, null, null, null, Here),
        ];
        Assert.Equal("bore: a hole of 10 mm leaves no wall of `peg.side`, which is 10 mm", Assert.Single(Place(shape).Problems).What);
    }

    [Fact]
    public void A_mirror_image_keeps_radii_and_turns_normals_round()
    {
        IReadOnlyList<Feature> shape =
        [
            new Block("wall", 4.0, 20.0, 30.0, new(10.0, 0.0, 0.0), null, Here),
            new Hole("eye", new HoleStart.FromFace(Element("wall.right"), new(5.0, 12.0)), 3.0, new Reach.ThroughFeature("wall", Here), HoleEnd.Flat, null, null, null, null, Here),
            new DatumPlane("middle", Element("wall.left"), -10.0, null, null, null, Here),
            new MirrorImage("other", [("wall", Here), ("eye", Here)], Element("middle"), Here),
        ];
        PlacedShape placed = Place(shape);
        Assert.Empty(placed.Problems);
        // wall.left looks to −x at x = 10; an offset of −10 along that normal puts the mirror at x = 20.
        Near(26, ((FlatElement)placed.Elements["other.wall.right"]).Point.X);
        Near((-1, 0, 0), ((FlatElement)placed.Elements["other.wall.right"]).Normal);
        var eye = (RoundElement)placed.Elements["other.eye.wall"];
        Near(1.5, eye.Radius);
        Near(5, eye.AxisPoint.Y);
        Near(12, eye.AxisPoint.Z);
    }

    [Fact]
    public void A_ring_starts_to_the_right_and_runs_counter_clockwise()
    {
        IReadOnlyList<Feature> shape =
        [
            new Plate("disc", 4.0, new Disc(FacePoint.Origin, 30.0, Here), Element("ground"), null, Here),
            new Ring("eyes", 4, 40.0, FacePoint.Origin, null,
                new Hole("eye", new HoleStart.FromFace(Element("disc.top"), null), 3.0, new Reach.ThroughWholePart(), HoleEnd.Flat, null, null, null, null, Here), Here),
        ];
        PlacedShape placed = Place(shape);
        Near((20, 0, 0), ((RoundElement)placed.Elements["eye#1.wall"]).AxisPoint with { Z = 0 });
        Near((0, 20, 0), ((RoundElement)placed.Elements["eye#2.wall"]).AxisPoint with { Z = 0 });
    }

    [Fact]
    public void The_pieces_of_a_copied_side_bear_the_copy_s_names()
    {
        IReadOnlyList<Feature> shape =
        [
            new Block("bar", 60.0, 20.0, 5.0, new(0.0, 0.0, 0.0), null, Here),
            new Row("slots", 2, 30.0, Direction.Right, new(30.0, 10.0), null,
                new Slot("slot", Element("bar.top"), new(0.0, 0.0), new(8.0, 0.0), 4.0, SlotEnds.Round, new Reach.ThroughFeature("bar", Here), Here), Here),
        ];
        var side = (SideElement)Place(shape).Elements["slot#2.wall"];
        Assert.Equal(["slot#2.side#2", "slot#2.end#2", "slot#2.side#1", "slot#2.end#1"], side.Pieces().Select(p => p.Name));
    }

    [Fact]
    public void A_D_bore_has_a_flat_at_its_distance_that_faces_the_axis()
    {
        IReadOnlyList<Feature> shape =
        [
            new Boss("knob", 20.0, null, 15.0, Element("ground"), null, Here),
            new Hole("shaft", new HoleStart.FromFace(Element("knob.bottom"), null), 6.0, new Reach.Depth(12.0), HoleEnd.Flat, null, null, null, new HoleFlat(1.5, Direction.Back), Here),
        ];
        PlacedShape placed = Place(shape);
        var flat = (FlatElement)placed.Elements["shaft.flat"];
        Near(1.5, flat.Point.Y);
        Near((0, -1, 0), flat.Normal);
        Assert.True(((RoundElement)placed.Elements["shaft.wall"]).Hollow);
        Near(12, ((FlatElement)placed.Elements["shaft.end"]).Point.Z);
    }

    [Fact]
    public void A_groove_lies_between_its_two_sides_at_its_depth()
    {
        IReadOnlyList<Feature> shape =
        [
            new Boss("peg", 10.0, null, 30.0, Element("ground"), null, Here),
            new Groove("ring", Element("peg.side"), Element("peg.top"), 3.0, 1.5, 0.8, Here),
        ];
        PlacedShape placed = Place(shape);
        var floor = (RoundElement)placed.Elements["ring.floor"];
        Near(4.2, floor.Radius);
        Assert.False(floor.Hollow);
        Near(27, ((FlatElement)placed.Elements["ring.near"]).Point.Z);
        Near((0, 0, -1), ((FlatElement)placed.Elements["ring.near"]).Normal);
        Near(25.5, ((FlatElement)placed.Elements["ring.far"]).Point.Z);
    }

    [Fact]
    public void A_feature_on_a_tilted_face_asks_for_a_datum()
    {
        IReadOnlyList<Feature> shape =
        [
            new Block("arm", 10.0, 10.0, 10.0, new(0.0, 0.0, 0.0), null, Here) { Turned = new Turn(Direction.Up, 30.0) },
            new Boss("peg", 4.0, null, 5.0, Element("arm.right"), null, Here),
        ];
        Problem problem = Assert.Single(Place(shape).Problems);
        Assert.Contains("tilted", problem.What, StringComparison.Ordinal);
        Assert.Contains("datum", problem.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void Derivatives_of_every_element_agree_with_central_differences()
    {
        (string Name, double Value)[] sizes = KnuckleSizes();
        PlacedShape shape = Place(Knuckle(), sizes);
        const double h = 1e-5;
        for (int k = 0; k < sizes.Length; k++)
        {
            PlacedShape up = At(k, h), down = At(k, -h);
            foreach ((string name, Element element) in shape.Elements)
            {
                Dual[] exact = Numbers(element), high = Numbers(up.Elements[name]), low = Numbers(down.Elements[name]);
                for (int n = 0; n < exact.Length; n++)
                    Assert.Equal((high[n].Value - low[n].Value) / (2 * h), exact[n].Gradient.By(k), 6);
            }
        }

        PlacedShape At(int k, double step)
        {
            var moved = sizes.ToArray();
            moved[k].Value += step;
            return Place(Knuckle(), moved);
        }
    }

    private static Dual[] Numbers(Element element) => element switch
    {
        FlatElement e => [e.Point.X, e.Point.Y, e.Point.Z, e.Normal.X, e.Normal.Y, e.Normal.Z],
        RoundElement e => [e.AxisPoint.X, e.AxisPoint.Y, e.AxisPoint.Z, e.Radius],
        ConeElement e => [e.BasePoint.X, e.BasePoint.Y, e.BasePoint.Z, e.BaseRadius, e.Slope],
        AxisElement e => [e.Point.X, e.Point.Y, e.Point.Z],
        _ => [],
    };
}
