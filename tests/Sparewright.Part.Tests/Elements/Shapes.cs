using Sparewright.Part.Elements;
using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;

namespace Sparewright.Part.Tests.Elements;

/// <summary>Shapes written down in code, so that the placer is tested by itself.</summary>
internal static class Shapes
{
    public static readonly Place Here = new(1, 1);

    public static ElementName Element(string name) => new(name, Here);

    public static SizeExpression S(string name) => new SizeExpression.Name(name);

    public static SizeExpression Half(SizeExpression e) => new SizeExpression.Binary('/', e, 2.0);

    public static SizeExpression Minus(SizeExpression a, SizeExpression b) => new SizeExpression.Binary('-', a, b);

    public static SizeExpression Plus(SizeExpression a, SizeExpression b) => new SizeExpression.Binary('+', a, b);

    public static SizeExpression Neg(SizeExpression a) => new SizeExpression.Negative(a);

    /// <summary>Places the features at sizes that are all free, numbered in the given order.</summary>
    public static PlacedShape Place(IReadOnlyList<Feature> features, params (string Name, double Value)[] sizes) =>
        ShapePlacer.Place(features, new SizeTable([.. sizes.Select(s => new Size(s.Name, Quantity.Length, new Given.Nothing(), Here))]).At(sizes.Select(s => s.Value).ToArray()));

    /// <summary>A foot on a belt, a socket on it, a lug with a rounded end, a bore, a cross hole, two countersunk screw holes.</summary>
    public static IReadOnlyList<Feature> Knuckle()
    {
        SizeExpression pitch = S("screw_pitch"), footT = S("foot_t"), lugW = S("lug_w"), lugT = S("lug_t"), top = Plus(S("foot_t"), S("socket_len"));
        return
        [
            new Plate("foot", footT, new Belt([new Disc(new(0.0, Neg(Half(pitch))), Half(S("foot_w")), Here), new Disc(new(0.0, Half(pitch)), Half(S("foot_w")), Here)], Here), Element("ground"), null, Here),
            new Boss("socket", S("socket_od"), null, S("socket_len"), Element("foot.top"), null, Here),
            new Block("lug", S("lug_reach"), lugT, lugW, new(0.0, Neg(Half(lugT)), Minus(top, lugW)), null, Here),
            new RoundedEnd("lug_end", Element("lug.right"), Direction.Back, Here),
            new Hole("bore", new HoleStart.FromFace(Element("socket.top"), null), S("bore_d"), new Reach.Depth(S("seat")), HoleEnd.Flat, null, null, null, null, Here),
            new Hole("pin_hole", new HoleStart.AlongAxis(Direction.Back, new(S("lug_reach"), 0.0, Minus(top, Half(lugW)))), S("pin_d"), new Reach.ThroughFeature("lug", Here), HoleEnd.Flat, null, null, null, null, Here),
            new Row("screws", 2, pitch, Direction.Back, FacePoint.Origin, null,
                new Hole("screw_hole", new HoleStart.FromFace(Element("foot.top"), null), S("screw_d"), new Reach.ThroughFeature("foot", Here), HoleEnd.Flat, null, null, new Countersink(new SizeExpression.Binary('*', 2.0, S("screw_d")), 90.0), null, Here), Here),
        ];
    }

    public static (string, double)[] KnuckleSizes() =>
    [
        ("screw_pitch", 34), ("foot_t", 5), ("foot_w", 20), ("socket_od", 17), ("socket_len", 48), ("lug_reach", 28), ("lug_t", 6), ("lug_w", 20),
        ("bore_d", 12.2), ("seat", 36), ("pin_d", 5), ("screw_d", 4.5),
    ];
}
