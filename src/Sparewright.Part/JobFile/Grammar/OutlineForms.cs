using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;
using static Sparewright.Part.Grammar.PlaceForms;

namespace Sparewright.Part.Grammar;

/// <summary>Closed outlines on a face.</summary>
internal static class OutlineForms
{
    /// <summary>Any outline; outlines are made of outlines.</summary>
    public static readonly Form<Outline> Outline = new Named<Outline>("outline", "an outline", () => Kinds());

    private static OneOfForm<Outline> Kinds() => new("an outline", "outline",
        ("disc", Disc.Select((disc, _) => (Outline)disc)), ("rectangle", Rectangle), ("obround", Obround), ("polygon", Polygon), ("hexagon", Hexagon), ("path", Path),
        ("belt", Belt), ("joined", Joined), ("from", TakenAway), ("overlapped", Overlapped));

    private static readonly Form<IReadOnlyList<Outline>> Outlines = new ListForm<Outline>(Outline, "a list of outlines, at least two", 2);

    private static readonly Form<Disc> Disc = new MapForm<Disc>("a disc", "A full circle: one piece, #1.", map =>
    {
        var middle = map.Required("disc", PointOnFace, "its middle");
        var radius = map.Required("radius", SizeForms.Length, "its radius");
        return entry => new Disc(entry.Of(middle), entry.Of(radius), entry.Place);
    });

    private static readonly Form<Outline> Rectangle = new MapForm<Outline>("a rectangle",
        "A rectangle along the two coordinates. Pieces: #1 low-v side, #2 high-u side, #3 high-v side, #4 low-u side, then the corner arcs #5 … counter-clockwise from the low corner.", map =>
    {
        var size = map.Required("rectangle", new ListForm<SizeExpression>(SizeForms.Length, "two lengths [long, wide]", 2, 2), "how long (along the first coordinate) and how wide (along the second)");
        var middle = map.Optional("middle_at", PointOnFace, "where its middle is");
        var corner = map.Optional("corner_at", PointOnFace, "where its low corner is");
        var radius = map.Optional("corner_radius", SizeForms.Length, "rounds its corners");
        map.ExactlyOne("middle_at", "corner_at");
        return entry => new Rectangle(entry.Of(size)[0], entry.Of(size)[1], entry.Of(middle), entry.Of(corner), entry.Of(radius), entry.Place);
    });

    private static readonly Form<Outline> Obround = new MapForm<Outline>("an obround",
        "Two half discs and the straight sides between them. Pieces: #1 the right-hand side going from the first middle to the second, #2 arc about the second, #3 the other side, #4 arc about the first.", map =>
    {
        var middles = map.Required("obround", Between, "the two middles");
        var width = map.Required("width", SizeForms.Length, "its width, twice the radius of its ends");
        return entry => new Obround(entry.Of(middles).First, entry.Of(middles).Second, entry.Of(width), entry.Place);
    });

    private static readonly Form<Outline> Polygon = new MapForm<Outline>("a polygon", "Straight sides between corners: piece #k runs from corner k to the next; corner arcs follow, in order of corners.", map =>
    {
        var corners = map.Required("polygon", new ListForm<FacePoint>(PointOnFace, "a list of corners [u, v], at least three", 3), "its corners in order, either way round");
        var radius = map.Optional("corner_radius", SizeForms.Length, "rounds its corners");
        return entry => new Polygon(entry.Of(corners), entry.Of(radius), entry.Place);
    });

    private static readonly Form<Outline> Hexagon = new MapForm<Outline>("a hexagon", "A regular hexagon by its size across flats. Pieces #1 … #6 counter-clockwise from the low-v flat.", map =>
    {
        var middle = map.Required("hexagon", PointOnFace, "its middle");
        var across = map.Required("across_flats", SizeForms.Length, "its size across flats");
        var turn = map.Optional("turn", SizeForms.Angle, "turned by so much; without it two flats are parallel to the first coordinate");
        return entry => new Hexagon(entry.Of(middle), entry.Of(across), entry.Of(turn), entry.Place);
    });

    /// <summary>The start of a path, or a piece of it.</summary>
    private sealed record PathStep(FacePoint? Start, SizeExpression? StartCornerRadius, PathPiece? Piece, Place Place);

    private static readonly Form<PathStep> Start = new MapForm<PathStep>("the start of a path", "Where a path begins and ends.", map =>
    {
        var start = map.Required("start", PointOnFace, "where the path begins");
        var radius = map.Optional("corner_radius", SizeForms.Length, "rounds the corner at the start");
        return entry => new PathStep(entry.Of(start), entry.Of(radius), null, entry.Place);
    });

    private static readonly Form<PathStep> Line = new MapForm<PathStep>("a line of a path", "A straight piece of a path.", map =>
    {
        var to = map.Required("line_to", PointOnFace, "where it ends");
        var radius = map.Optional("corner_radius", SizeForms.Length, "rounds the corner at its end, between straight pieces");
        return entry => new PathStep(null, null, new LineTo(entry.Of(to), entry.Of(radius), entry.Place), entry.Place);
    });

    private static readonly Form<PathStep> Arc = new MapForm<PathStep>("an arc of a path", "A round piece of a path: through a point, or of a radius, less than half a turn.", map =>
    {
        var to = map.Required("arc_to", PointOnFace, "where it ends");
        var through = map.Optional("through", PointOnFace, "a point on the arc");
        var radius = map.Optional("radius", SizeForms.Length, "its radius");
        var turning = map.OptionalValue("turning", new WordForm<bool>("a way to turn", ("left", true), ("right", false)), "which way it bends as one goes");
        map.ExactlyOne("through", "radius");
        map.AllOrNone("radius", "turning");
        return entry => new PathStep(null, null, entry.Of(through) is { } p
            ? new ArcThrough(p, entry.Of(to), entry.Place)
            : new ArcOfRadius(entry.Of(radius)!, entry.Of(turning)!.Value, entry.Of(to), entry.Place), entry.Place);
    });

    private static readonly Form<Outline> Path = new MapForm<Outline>("a path",
        "Lines and arcs from a start back to it. Pieces are numbered in order; a closing line is added where the last piece does not end at the start; corner arcs follow.", map =>
    {
        var steps = map.Required("path", new ListForm<PathStep>(new OneOfForm<PathStep>("a piece of a path", "piece of a path", ("start", Start), ("line_to", Line), ("arc_to", Arc)),
            "a list: {start: [u, v]}, then {line_to: …} and {arc_to: …}", 2), "the start, then the pieces in order");
        return entry =>
        {
            IReadOnlyList<PathStep> all = entry.Of(steps);
            if (all[0].Start is not { } start)
                return Refuse(entry, all[0].Place, "a path begins with its start", "put {start: [u, v]} first");
            if (all.Skip(1).FirstOrDefault(s => s.Piece is null) is { } second)
                return Refuse(entry, second.Place, "a path has one start", "write this piece as line_to or arc_to, or make a second outline and join them with `joined`");
            return new PathOutline(start, all[0].StartCornerRadius, [.. all.Skip(1).Select(s => s.Piece!)], entry.Place);
        };
    });

    private static readonly Form<Outline> Belt = new MapForm<Outline>("a belt",
        "A belt around discs, taut, in the order given (counter-clockwise for three or more). Pieces alternate: #1 arc about the first disc, #2 straight to the second, #3 arc about the second …", map =>
    {
        var discs = map.Required("belt", new ListForm<Disc>(Disc, "a list of discs, at least two", 2), "the discs that it goes round");
        return entry => new Belt(entry.Of(discs), entry.Place);
    });

    private static readonly Form<Outline> Joined = new MapForm<Outline>("joined outlines", "All of them together.", map =>
    {
        var outlines = map.Required("joined", Outlines, "the outlines");
        return entry => new JoinedOutlines(entry.Of(outlines), entry.Place);
    });

    private static readonly Form<Outline> TakenAway = new MapForm<Outline>("an outline with others taken away", "The first without the others.", map =>
    {
        var from = map.Required("from", Outline, "the outline that is left");
        var away = map.Required("taken_away", new OneOrMoreForm<Outline>(Outline, "an outline, or a list of them"), "what is taken away from it");
        return entry => new TakenAwayOutlines(entry.Of(from), entry.Of(away), entry.Place);
    });

    private static readonly Form<Outline> Overlapped = new MapForm<Outline>("overlapped outlines", "What all of them have in common.", map =>
    {
        var outlines = map.Required("overlapped", Outlines, "the outlines");
        return entry => new OverlappedOutlines(entry.Of(outlines), entry.Place);
    });

    private static Outline? Refuse(Entry entry, Place place, string what, string remedy)
    {
        entry.Findings.Add(place, what, remedy);
        return null;
    }
}
