using Sparewright.Part;
using static Sparewright.Web.Shape.Forms.Terse;

namespace Sparewright.Web.Shape.Forms;

/// <summary>How each kind of outline is said.</summary>
internal static class OutlineSentences
{
    private static JobValue.Group DiscStart => Group(("disc", Zero2), ("radius", "5"));

    private static JobValue.Group RectangleStart => Group(("rectangle", List("20", "10")), ("middle_at", Zero2));

    public static FormSet All { get; } = new("outline",
    [
        Form("rectangle", "a rectangle", RectangleStart, Length("rectangle/0", "length"), "by", Length("rectangle/1", "width"),
            OneOf(
                Way("middle_at", "place it by its middle", Group(("middle_at", Zero2)), ", its middle at", Point2("middle_at", "middle")),
                Way("corner_at", "place it by its corner", Group(("corner_at", Zero2)), ", its low corner at", Point2("corner_at", "low corner"))),
            CornerRadius),
        Form("disc", "a disc", DiscStart, "of radius", Length("radius", "radius"), "around", Point2("disc", "middle")),
        Form("obround", "an obround", Group(("obround", List(Zero2, List("10", "0"))), ("width", "6")), Length("width", "width"), "wide, around", Point2("obround/0", "first middle"), "and", Point2("obround/1", "second middle")),
        Form("hexagon", "a hexagon", Group(("hexagon", Zero2), ("across_flats", "10")), Length("across_flats", "size across flats"), "across flats, around", Point2("hexagon", "middle"),
            May("turn", "turn it", "do not turn it", "30", ", turned by", Angle("turn", "angle of the turn"))),
        Form("polygon", "a polygon", Group(("polygon", List(Zero2, List("20", "0"), List("0", "10")))), May("corner_radius", "round its corners", "leave its corners sharp", "2", "of corners rounded by", Length("corner_radius", "radius of the corners")), "with these corners:",
            new FormPiece.Each("polygon", "corner", "one more corner", Zero2, 3, true, [Point2("", "corner")])),
        Form("path", "a path", Group(("path", List(Group(("start", Zero2)), Group(("line_to", List("20", "0"))), Group(("line_to", List("0", "10")))))), "of these pieces:",
            new FormPiece.Each("path", "piece", "one more piece", Group(("line_to", Zero2)), 2, true, [new FormPiece.Nested("", Pieces)])),
        Form("belt", "a belt", Group(("belt", List(DiscStart, Group(("disc", List("20", "0")), ("radius", "5"))))), "around these discs:",
            new FormPiece.Each("belt", "disc", "one more disc", DiscStart, 2, true, ["a disc of radius", Length("radius", "radius"), "around", Point2("disc", "middle")])),
        Form("joined", "joined outlines", Group(("joined", List(RectangleStart, DiscStart))), "of these:", Several("joined")),
        Form("overlapped", "overlapped outlines", Group(("overlapped", List(RectangleStart, DiscStart))), "what these have in common:", Several("overlapped")),
        Form("from", "an outline with others taken away", Group(("from", RectangleStart), ("taken_away", DiscStart)), ":", new FormPiece.Nested("from", Outlines), "without",
            new FormPiece.Each("taken_away", "outline", "take one more away", DiscStart, 1, true, [new FormPiece.Nested("", Outlines)])),
    ]);

    private static FormSet Outlines() => All;

    private static FormSet Pieces() => Steps;

    private static FormSet Steps { get; } = new("piece",
    [
        Form("start", "from", Group(("start", Zero2)), Point2("start", "start"), Round),
        Form("line_to", "straight to", Group(("line_to", Zero2)), Point2("line_to", "end of the line"), Round),
        Form("arc_to", "round to", Group(("arc_to", Zero2), ("radius", "5"), ("turning", "left")), Point2("arc_to", "end of the arc"),
            OneOf(
                Way("through", "say a point on the arc", Group(("through", List("0", "0"))), "by way of", Point2("through", "point on the arc")),
                Way("radius", "say its radius", Group(("radius", "5"), ("turning", "left")), "with radius", Length("radius", "radius"), "bending", new FormPiece.Slot("turning", SlotKind.Word, "which way it bends", null, ["left", "right"])))),
    ]);

    private static FormPiece CornerRadius => May("corner_radius", "round its corners", "leave its corners sharp", "2", ", its corners rounded by", Length("corner_radius", "radius of the corners"));

    private static FormPiece Round => May("corner_radius", "round this corner", "leave this corner sharp", "1", ", the corner rounded by", Length("corner_radius", "radius of the corner"));

    private static FormPiece.Each Several(string key) => new(key, "outline", "one more outline", DiscStart, 2, true, [new FormPiece.Nested("", Outlines)]);
}
