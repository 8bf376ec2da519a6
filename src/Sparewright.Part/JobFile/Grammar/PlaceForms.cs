using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;

namespace Sparewright.Part.Grammar;

/// <summary>Names, directions and points: how the shape says where.</summary>
internal static class PlaceForms
{
    private const string NamePattern = "[a-z][a-z0-9_]*";
    private const string CopyPattern = NamePattern + "(?:#[1-9][0-9]*)*";
    private const string ElementPattern = CopyPattern + @"(?:\." + CopyPattern + ")*";

    public static readonly string[] Given = ["ground", "upright"];

    /// <summary>The name that a feature gets.</summary>
    public static readonly Form<string> NewFeature = new PatternForm(NamePattern, "a feature name", "feature names have lower-case letters, digits and underscores, and begin with a letter")
        .Where(name => Given.Contains(name) ? ($"`{name}` is a datum that every job has", "give the feature another name") : null)
        .Noting((name, place, findings) => findings.Features.Introduce(name, place, findings.FeatureNumber, findings));

    /// <summary>A feature that there is, perhaps one copy of it: <c>lug</c>, <c>screw_hole#2</c>.</summary>
    public static readonly Form<(string Feature, Place Place)> EarlierFeature = new PatternForm(CopyPattern, "a feature name", "write the name of a feature, as socket, or of one copy, as screw_hole#2")
        .Noting(Use).Select((name, place) => (name, place));

    /// <summary>An element or a datum: <c>socket.top</c>, <c>screw_hole#1.wall</c>, <c>ground</c>.</summary>
    public static readonly Form<ElementName> Element = new PatternForm(ElementPattern, "an element", "write feature.element, as socket.top, or a datum, as ground")
        .Noting(Use).Select((text, place) => new ElementName(text, place));

    public static readonly Form<(ElementName First, ElementName Second)> ElementPair = new ListForm<ElementName>(Element, "two elements [socket.top, bore.end]", 2, 2)
        .Select((two, _) => (two[0], two[1]));

    public static readonly Form<IReadOnlyList<ElementName>> OneOrMoreElements = new OneOrMoreForm<ElementName>(Element, "an element, or a list of them");

    public static readonly Form<Direction> ADirection = new WordForm<Direction>("a direction",
        ("right", Direction.Right), ("left", Direction.Left), ("back", Direction.Back), ("front", Direction.Front), ("up", Direction.Up), ("down", Direction.Down));

    public static readonly Form<FacePoint> PointOnFace = new ListForm<SizeExpression>(SizeForms.Length, "a point [u, v] on the face", 2, 2)
        .Select((p, _) => new FacePoint(p[0], p[1]));

    public static readonly Form<SpacePoint> PointInSpace = new ListForm<SizeExpression>(SizeForms.Length, "a point [x, y, z]", 3, 3)
        .Select((p, _) => new SpacePoint(p[0], p[1], p[2]));

    /// <summary>A point on a face or in space: which one, the other keys say.</summary>
    public static readonly Form<IReadOnlyList<SizeExpression>> AnyPoint = new ListForm<SizeExpression>(SizeForms.Length, "a point [u, v] on the face, or [x, y, z] with an axis", 2, 3);

    /// <summary>From one point to another.</summary>
    public static readonly Form<(FacePoint First, FacePoint Second)> Between = new ListForm<FacePoint>(PointOnFace, "two points [[u, v], [u, v]]", 2, 2)
        .Select((p, _) => (p[0], p[1]));

    public static readonly Form<Turn> Turned = new MapForm<Turn>("a turn", "Turns a shape about a direction through its own placement point, by the right-hand rule.", map =>
    {
        var about = map.Required("about", ADirection, "the direction that it turns about");
        var by = map.Required("by", SizeForms.Angle, "by how much, in degrees");
        return entry => new Turn(entry.Of(about), entry.Of(by));
    });

    public static readonly Form<double> ReadLength = new QuantityForm(Measure.Quantities.QuantityKind.Length, "a length as the display said it");

    private static bool Use(string text, Place place, Findings findings)
    {
        findings.Features.Use(text, place, findings.FeatureNumber);
        return true;
    }
}
