using static Sparewright.Web.Shape.Forms.Terse;

namespace Sparewright.Web.Shape.Forms;

/// <summary>How each kind of feature is said in plain English.</summary>
internal static class FeatureSentences
{
    public static FormSet All { get; } = new("feature",
    [
        Form("plate", "a plate", "A plate", Name("plate"), ",", Length("thickness", "thickness"), "thick, on", StandsOn, At, Turned, ". Its outline is", Outline, "."),
        Form("boss", "a round boss", "A round boss", Name("boss"), ", ⌀", Length("diameter", "diameter"),
            May("top_diameter", "narrow it toward the top", "make it straight", "8", ", narrowing to ⌀", Length("top_diameter", "diameter at the top"), "at its top"),
            ",", Length("height", "height"), "tall, on", StandsOn, At, Turned, "."),
        Form("block", "a block", "A block", Name("block"), ",", Length("long", "size to the right"), "long,", Length("deep", "size to the back"), "deep and", Length("tall", "size upward"), "tall,",
            OneOf(
                Way("corner_at", "place it by its corner", Group(("corner_at", Zero3)), "its left front bottom corner at", Point3("corner_at", "corner")),
                Way("middle_at", "place it by its middle", Group(("middle_at", Zero3)), "its middle at", Point3("middle_at", "middle"))),
            Turned, "."),
        Form("turned_shape", "a turned shape", "A turned shape", Name("turned_shape"), "on", StandsOn, At, Turned, ". Turned about its axis is", Outline, "."),
        Form("rib", "a rib", "A rib", Name("rib"), ",", Length("thickness", "thickness"), "thick and", Length("height", "height"), "high,",
            May("end_height", "let its height change", "keep its height even", "2", "at its end", Length("end_height", "height at its end"), "high,"),
            "on", StandsOn, ", from", Point2("between/0", "first end"), "to", Point2("between/1", "second end"), Turned, "."),
        Form("rounded_end", "a rounded end", "A rounded end", Name("rounded_end"), ": a full round on", Flat("of", "flat face"), ", its axis running", Direction("axis", "direction of the axis"), "."),
        Form("hole", "a round hole", "A round hole", Name("hole"), ", ⌀", Length("diameter", "diameter"),
            OneOf(
                Way("from", "start it from a face", Group(("from", "ground")), ", into", Flat("from", "face that it goes in from"), At),
                Way("axis", "lay it along an axis", Group(("axis", "up"), ("at", Zero3)), ", along", Direction("axis", "direction of the axis"), "through", Point3("at", "point on the axis"))),
            OneOf(
                Way("depth", "give it a depth", Group(("depth", "5")), ",", Length("depth", "depth"), "deep with a", Word("ends", "end of the hole", "flat", "flat", "cone"),
                    "end", May("cone_angle", "say the angle of its cone", "take the usual cone", "118", "of", Angle("cone_angle", "angle of the cone"))),
                ThroughWay),
            May("counterbore", "add a counterbore", "take the counterbore away", Group(("diameter", "8"), ("depth", "2")),
                ", with a counterbore ⌀", Length("counterbore/diameter", "diameter of the counterbore"), "and", Length("counterbore/depth", "depth of the counterbore"), "deep"),
            May("countersink", "add a countersink", "take the countersink away", Group(("diameter", "8"), ("angle", "90")),
                ", with a countersink ⌀", Length("countersink/diameter", "diameter of the countersink"), "of", Angle("countersink/angle", "angle of the countersink")),
            May("flat", "add a flat along it", "take the flat away", Group(("from_axis", "2"), ("toward", "right")),
                ", with a flat", Length("flat/from_axis", "distance of the flat from the axis"), "from its axis, toward", Direction("flat/toward", "side of the flat")),
            "."),
        Form("slot", "a slot", "A slot", Name("slot"), ",", Length("width", "width"), "wide, into", Flat("from", "face that it goes in from"), ", from", Point2("between/0", "first end"), "to", Point2("between/1", "second end"),
            ", with", Word("ends", "ends of the slot", "round", "round", "square"), "ends", Reach, "."),
        Form("pocket", "a pocket", "A pocket", Name("pocket"), "in", Flat("from", "face that it goes in from"), At, Reach, ". Its outline is", Outline, "."),
        Form("groove", "a groove", "A groove", Name("groove"), "all round", new FormPiece.Slot("in", SlotKind.RoundElement, "round element"), ",", Length("width", "width"), "wide and", Length("depth", "depth"), "deep,",
            Length("offset", "distance"), "from", Flat("from", "face that it is measured from"), "."),
        Form("edge_round", "an edge round", "An edge round", Name("edge_round"), "of radius", Length("radius", "radius"), Edges, "."),
        Form("fillet", "a fillet", "A fillet", Name("fillet"), "of radius", Length("radius", "radius"), Edges, "."),
        Form("chamfer", "a chamfer", "A chamfer", Name("chamfer"), ",", Length("setback", "setback"), "back from the edge",
            May("angle", "say its angle", "take 45 degrees", "45", "at", Angle("angle", "angle of the bevel")), Edges, "."),
        Form("row", "a row of copies", "A row", Name("row"), "of", Count, "copies,", Length("pitch", "pitch"), "apart, toward", Direction("along", "direction of the row"),
            AtMostOneOf(
                Way("middle_at", "say where its middle is", Group(("middle_at", Zero2)), ", its middle at", Point2("middle_at", "middle of the row")),
                Way("first_at", "say where the first is", Group(("first_at", Zero2)), ", the first at", Point2("first_at", "place of the first"))),
            ". Each is this:", Copied),
        Form("ring", "a ring of copies", "A ring", Name("ring"), "of", Count, "copies on a circle ⌀", Length("pitch_circle", "pitch circle"),
            May("middle_at", "move its middle", "put its middle back", Zero2, "around", Point2("middle_at", "middle of the ring")),
            May("first_angle", "turn the ring", "do not turn the ring", "45", ", the first at an angle of", Angle("first_angle", "angle of the first")),
            ". Each is this:", Copied),
        Form("mirror", "a mirror image", "The mirror image", Name("mirror"), "of",
            new FormPiece.Each("of", "feature", "mirror one more feature", "", 1, false, [new FormPiece.Slot("", SlotKind.Feature, "mirrored feature")]),
            "across", Flat("across", "plane"), "."),
        Form("datum", "a datum", "A datum", Name("datum"),
            OneOf(
                Way("plane", "make it a plane", Group(("plane", "ground")), ": a plane parallel to", Flat("plane", "flat element"),
                    May("offset", "move it outward", "do not move it outward", "10", ",", Length("offset", "distance"), "out from it"),
                    May("origin", "say where its coordinates start", "let its coordinates start as usual", Zero3, ", its coordinates starting at", Point3("origin", "origin")),
                    May("along", "say where its first coordinate runs", "let its first coordinate run as usual", "right", ", the first of them running", Direction("along", "direction of the first coordinate")),
                    Turned),
                Way("axis", "make it an axis", Group(("axis", "upright")), ": the axis of", new FormPiece.Slot("axis", SlotKind.RoundElement, "round element"))),
            "."),
    ]);

    private static FormPiece StandsOn => Flat("stands_on", "what it stands on", "ground");

    private static FormPiece At => May("at", "move it on that face", "put it back to the origin", Zero2, "at", Point2("at", "place on the face"));

    private static FormPiece Turned => May("turned", "turn it", "do not turn it", Group(("about", "up"), ("by", "90")),
        ", turned by", Angle("turned/by", "angle of the turn"), "about", Direction("turned/about", "direction that it turns about"));

    private static FormPiece Outline => new FormPiece.Nested("outline", () => OutlineSentences.All);

    private static FormPiece Copied => new FormPiece.Nested("of", () => All);

    private static FormPiece Count => new FormPiece.Slot("count", SlotKind.Count, "number of copies");

    private static Way ThroughWay => Way("through", "let it go through", Group(("through", "whole part")), ", right through", new FormPiece.Slot("through", SlotKind.Reach, "what it goes through"));

    private static FormPiece Reach => OneOf(Way("depth", "give it a depth", Group(("depth", "2")), ",", Length("depth", "depth"), "deep"), ThroughWay);

    private static FormPiece Edges => OneOf(
        Way("meeting", "choose where two faces meet", Group(("meeting", List("", ""))), "where", new FormPiece.Slot("meeting/0", SlotKind.Element, "first face"), "meets", new FormPiece.Slot("meeting/1", SlotKind.Element, "second face"),
            May("near", "take only one edge", "take every edge there", Zero3, ", only the edge nearest to", Point3("near", "point near the edge"))),
        Way("edges_of", "take all edges of a feature", Group(("edges_of", "")), "on all edges of", new FormPiece.Slot("edges_of", SlotKind.Feature, "feature"),
            May("except", "leave edges out", "leave no edges out", List(List("", "")), "but not",
                new FormPiece.Each("except", "edge", "leave out one more edge", List("", ""), 1, false, ["where", new FormPiece.Slot("0", SlotKind.Element, "first face"), "meets", new FormPiece.Slot("1", SlotKind.Element, "second face")]))));
}
