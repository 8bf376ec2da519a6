using System.Diagnostics.CodeAnalysis;
using System.Text.Json.Nodes;
using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;
using Sparewright.Part.Yaml;
using static Sparewright.Part.Grammar.PlaceForms;

namespace Sparewright.Part.Grammar;

/// <summary>The features of a shape, one group of keys for each kind.</summary>
internal static class FeatureForms
{
    /// <summary>Any feature; rows and rings copy features.</summary>
    public static readonly Form<Feature> AnyFeature = new Named<Feature>("feature", "a feature", () => Kinds());

    private static OneOfForm<Feature> Kinds() => new("a feature", "feature",
        ("plate", Plate), ("boss", Boss), ("block", Block), ("turned_shape", TurnedShape), ("rib", Rib), ("rounded_end", RoundedEnd),
        ("hole", Hole), ("slot", Slot), ("pocket", Pocket), ("groove", Groove), ("edge_round", EdgeRound), ("fillet", Fillet), ("chamfer", Chamfer),
        ("row", Row), ("ring", Ring), ("mirror", Mirror), ("datum", Datum));

    /// <summary>The features in the order in which they are built.</summary>
    public static readonly Form<IReadOnlyList<Feature>> Shape = new ShapeForm();

    private const string StandsOnAbout = "the flat element or datum that it stands on; `ground` unless said";
    private const string AtAbout = "where on that face; the projection of the job's origin unless said";

    private static readonly Form<Feature> Plate = new MapForm<Feature>("a plate", "A plate of a thickness on an outline. Elements: `.top` `.bottom` `.rim` `.rim#k`.", map =>
    {
        var name = map.Required("plate", NewFeature, "its name");
        var thickness = map.Required("thickness", SizeForms.Length, "its thickness");
        var outline = map.Required("outline", OutlineForms.Outline, "its outline");
        var standsOn = map.Optional("stands_on", Element, StandsOnAbout);
        var at = map.Optional("at", PointOnFace, AtAbout);
        var turned = map.Optional("turned", Turned, "turns it");
        return entry => new Plate(entry.Of(name), entry.Of(thickness), entry.Of(outline), Ground(entry, standsOn), entry.Of(at), entry.Place) { Turned = entry.Of(turned) };
    });

    private static readonly Form<Feature> Boss = new MapForm<Feature>("a boss", "A round boss, straight, or tapered to another diameter at its top. Elements: `.side` `.top` `.bottom` `.axis`.", map =>
    {
        var name = map.Required("boss", NewFeature, "its name");
        var diameter = map.Required("diameter", SizeForms.Length, "its diameter, at the bottom");
        var top = map.Optional("top_diameter", SizeForms.Length, "its diameter at the top, where it tapers");
        var height = map.Required("height", SizeForms.Length, "its height");
        var standsOn = map.Optional("stands_on", Element, StandsOnAbout);
        var at = map.Optional("at", PointOnFace, AtAbout);
        var turned = map.Optional("turned", Turned, "turns it");
        return entry => new Boss(entry.Of(name), entry.Of(diameter), entry.Of(top), entry.Of(height), Ground(entry, standsOn), entry.Of(at), entry.Place) { Turned = entry.Of(turned) };
    });

    private static readonly Form<Feature> Block = new MapForm<Feature>("a block", "A block. Elements: `.left` `.right` `.front` `.back` `.top` `.bottom`.", map =>
    {
        var name = map.Required("block", NewFeature, "its name");
        var @long = map.Required("long", SizeForms.Length, "its size to the right");
        var deep = map.Required("deep", SizeForms.Length, "its size to the back");
        var tall = map.Required("tall", SizeForms.Length, "its size upward");
        var corner = map.Optional("corner_at", PointInSpace, "where its left, front, bottom corner is");
        var middle = map.Optional("middle_at", PointInSpace, "where its middle is");
        var turned = map.Optional("turned", Turned, "turns it");
        map.ExactlyOne("corner_at", "middle_at");
        return entry => new Block(entry.Of(name), entry.Of(@long), entry.Of(deep), entry.Of(tall), entry.Of(corner), entry.Of(middle), entry.Place) { Turned = entry.Of(turned) };
    });

    private static readonly Form<Feature> TurnedShape = new MapForm<Feature>("a turned shape",
        "An outline in (radius, height) turned about an axis that stands on a face. Elements: `.axis` `.top` `.bottom` (its outermost flat faces) `.side` `.side#k`, numbered as the outline's pieces.", map =>
    {
        var name = map.Required("turned_shape", NewFeature, "its name");
        var outline = map.Required("outline", OutlineForms.Outline, "its outline: first coordinate the distance from the axis, second the height");
        var standsOn = map.Optional("stands_on", Element, StandsOnAbout);
        var at = map.Optional("at", PointOnFace, AtAbout);
        var turned = map.Optional("turned", Turned, "turns it");
        return entry => new TurnedShape(entry.Of(name), entry.Of(outline), Ground(entry, standsOn), entry.Of(at), entry.Place) { Turned = entry.Of(turned) };
    });

    private static readonly Form<Feature> Rib = new MapForm<Feature>("a rib",
        "A thin upright wall on a face, centred on the line between two points. Elements: `.side#1` (to the left, going from first to second) `.side#2` `.top` `.bottom` `.end#1` `.end#2`.", map =>
    {
        var name = map.Required("rib", NewFeature, "its name");
        var between = map.Required("between", Between, "where on the face it runs from and to");
        var thickness = map.Required("thickness", SizeForms.Length, "how thick it is");
        var height = map.Required("height", SizeForms.Length, "how high it is, at the first point");
        var end = map.Optional("end_height", SizeForms.Length, "how high it is at the second point, where that differs");
        var standsOn = map.Optional("stands_on", Element, StandsOnAbout);
        var turned = map.Optional("turned", Turned, "turns it");
        return entry => new Rib(entry.Of(name), Ground(entry, standsOn), entry.Of(between).First, entry.Of(between).Second, entry.Of(thickness), entry.Of(height), entry.Of(end), entry.Place) { Turned = entry.Of(turned) };
    });

    private static readonly Form<Feature> RoundedEnd = new MapForm<Feature>("a rounded end",
        "A full round on a flat end (ISO 10303-224): a half cylinder centred on the flat face and as wide as it. The round face bears the flat face's name, which then has `.axis` too.", map =>
    {
        var name = map.Required("rounded_end", NewFeature, "its name");
        var of = map.Required("of", Element, "the flat face");
        var axis = map.Required("axis", ADirection, "the direction along which the half cylinder's axis runs");
        return entry => new RoundedEnd(entry.Of(name), entry.Of(of), entry.Of(axis), entry.Place);
    });

    private static readonly Form<Reach> Through = new WholeOrFeature();

    private static readonly Form<Counterbore> Counterbore = new MapForm<Counterbore>("a counterbore", "A wider cylindrical start of a hole. Elements: `.counterbore.wall` `.counterbore.floor`.", map =>
    {
        var diameter = map.Required("diameter", SizeForms.Length, "its diameter");
        var depth = map.Required("depth", SizeForms.Length, "its depth from the face");
        return entry => new Counterbore(entry.Of(diameter), entry.Of(depth));
    });

    private static readonly Form<Countersink> Countersink = new MapForm<Countersink>("a countersink", "A conical start of a hole. Element: `.countersink`.", map =>
    {
        var diameter = map.Required("diameter", SizeForms.Length, "its diameter at the face");
        var angle = map.Required("angle", SizeForms.Angle, "its full angle");
        return entry => new Countersink(entry.Of(diameter), entry.Of(angle));
    });

    private static readonly Form<HoleFlat> HoleFlat = new MapForm<HoleFlat>("a flat along a hole", "A flat along a hole, which makes a D-bore of it. Element: `.flat`.", map =>
    {
        var from = map.Required("from_axis", SizeForms.Length, "its distance from the axis");
        var toward = map.Required("toward", ADirection, "on which side of the axis it is");
        return entry => new HoleFlat(entry.Of(from), entry.Of(toward));
    });

    private static readonly Form<Feature> Hole = new MapForm<Feature>("a hole",
        "A round hole; it removes whatever is there so far. It goes `from` a flat element into the part, or along an `axis` through a point. Elements: `.wall` `.axis` `.end`.", map =>
    {
        var name = map.Required("hole", NewFeature, "its name");
        var from = map.Optional("from", Element, "the flat element that it goes in from");
        var axis = map.OptionalValue("axis", ADirection, "the direction of its axis, where it does not start from a face");
        var at = map.Optional("at", AnyPoint, "with `from`: where on the face, unless said on the axis of the face's own feature where that is round, otherwise the projection of the job's origin; with `axis`: a point [x, y, z] on the axis");
        var diameter = map.Required("diameter", SizeForms.Length, "its diameter");
        var depth = map.Optional("depth", SizeForms.Length, "makes it blind: its depth from the face, along the full diameter");
        var through = map.Optional("through", Through, "as far as that feature reaches, or all there is so far");
        var ends = map.OptionalOr("ends", new WordForm<HoleEnd>("an end of a hole", ("flat", HoleEnd.Flat), ("cone", HoleEnd.Cone)), HoleEnd.Flat, "how a blind hole ends; `flat` unless said");
        var coneAngle = map.Optional("cone_angle", SizeForms.Angle, "the full angle of a cone end; 118 unless said");
        var counterbore = map.Optional("counterbore", Counterbore, "a wider start");
        var countersink = map.Optional("countersink", Countersink, "a conical start");
        var flat = map.Optional("flat", HoleFlat, "a flat along it");
        map.ExactlyOne("from", "axis");
        map.ExactlyOne("depth", "through");
        return entry =>
        {
            IReadOnlyList<SizeExpression>? point = entry.Of(at);
            HoleStart start;
            if (entry.Of(axis) is { } direction)
            {
                if (point is not { Count: 3 })
                    return entry.Refuse<Feature>("at", "a hole along an axis needs a point [x, y, z] on it", "write at: [x, y, z]");
                if (entry.Of(depth) is not null)
                    return entry.Refuse<Feature>("depth", "a blind hole needs a face to start from", "write `from` with the face instead of `axis`, or `through`");
                start = new HoleStart.AlongAxis(direction, new SpacePoint(point[0], point[1], point[2]));
            }
            else
            {
                if (point is { Count: 3 })
                    return entry.Refuse<Feature>("at", "a hole from a face has a point [u, v] on it", "leave out the coordinate that is constant on the face");
                start = new HoleStart.FromFace(entry.Of(from)!, point is null ? null : new FacePoint(point[0], point[1]));
            }

            if (entry.Of(coneAngle) is not null && entry.Of(ends) != HoleEnd.Cone)
                return entry.Refuse<Feature>("cone_angle", "a hole that does not end in a cone has a cone angle", "add ends: cone, or remove `cone_angle`");
            if (entry.Of(ends) == HoleEnd.Cone && entry.Of(depth) is null)
                return entry.Refuse<Feature>("ends", "a hole that goes through has no end", "remove `ends`, or write `depth` instead of `through`");
            if (entry.Of(axis) is not null && (entry.Of(counterbore) is not null || entry.Of(countersink) is not null))
                return entry.Refuse<Feature>("axis", "a counterbore or countersink needs a face to start from", "write `from` with the face instead of `axis`");
            return new Hole(entry.Of(name), start, entry.Of(diameter), Reach(entry.Of(depth), entry.Of(through)), entry.Of(ends), entry.Of(coneAngle),
                entry.Of(counterbore), entry.Of(countersink), entry.Of(flat), entry.Place);
        };
    });

    private static readonly Form<Feature> Slot = new MapForm<Feature>("a slot",
        "A slot between two points, into a flat element. Elements: `.side#1` (to the left, going from first to second) `.side#2` `.end#1` `.end#2` `.floor` `.wall` (all sides and ends).", map =>
    {
        var name = map.Required("slot", NewFeature, "its name");
        var from = map.Required("from", Element, "the flat element that it goes in from");
        var between = map.Required("between", Between, "the middles of its two ends; with square ends, the middles of the end faces");
        var width = map.Required("width", SizeForms.Length, "its width");
        var ends = map.OptionalOr("ends", new WordForm<SlotEnds>("an end of a slot", ("round", SlotEnds.Round), ("square", SlotEnds.Square)), SlotEnds.Round, "`round` unless said");
        var depth = map.Optional("depth", SizeForms.Length, "its depth from the face");
        var through = map.Optional("through", Through, "as far as that feature reaches, or all there is so far");
        map.ExactlyOne("depth", "through");
        return entry => new Slot(entry.Of(name), entry.Of(from), entry.Of(between).First, entry.Of(between).Second, entry.Of(width), entry.Of(ends), Reach(entry.Of(depth), entry.Of(through)), entry.Place);
    });

    private static readonly Form<Feature> Pocket = new MapForm<Feature>("a pocket", "An outline sunk into a flat element. Elements: `.wall` `.wall#k` `.floor`.", map =>
    {
        var name = map.Required("pocket", NewFeature, "its name");
        var from = map.Required("from", Element, "the flat element that it goes in from");
        var outline = map.Required("outline", OutlineForms.Outline, "its outline");
        var at = map.Optional("at", PointOnFace, AtAbout);
        var depth = map.Optional("depth", SizeForms.Length, "its depth from the face");
        var through = map.Optional("through", Through, "as far as that feature reaches, or all there is so far");
        map.ExactlyOne("depth", "through");
        return entry => new Pocket(entry.Of(name), entry.Of(from), entry.Of(outline), entry.Of(at), Reach(entry.Of(depth), entry.Of(through)), entry.Place);
    });

    private static readonly Form<Feature> Groove = new MapForm<Feature>("a groove",
        "A groove all round, in a round side or in a hole's wall. Elements: `.floor` (round) `.near` `.far` (flat; near is the one closer to `from`).", map =>
    {
        var name = map.Required("groove", NewFeature, "its name");
        var @in = map.Required("in", Element, "the round element");
        var from = map.Required("from", Element, "the flat element square to the axis from which its place is measured");
        var offset = map.Required("offset", SizeForms.Length, "the distance of its near side from there, into the part");
        var width = map.Required("width", SizeForms.Length, "its width along the axis");
        var depth = map.Required("depth", SizeForms.Length, "its depth across the axis");
        return entry => new Groove(entry.Of(name), entry.Of(@in), entry.Of(from), entry.Of(offset), entry.Of(width), entry.Of(depth), entry.Place);
    });

    private static readonly Form<Feature> EdgeRound = new MapForm<Feature>("an edge round", "Rounds outer edges. Element: `.face`.", map =>
    {
        var name = map.Required("edge_round", NewFeature, "its name");
        Func<Entry, Edges?> edges = DeclareEdges(map);
        var radius = map.Required("radius", SizeForms.Length, "its radius");
        return entry => edges(entry) is { } where ? new EdgeRound(entry.Of(name), where, entry.Of(radius), entry.Place) : null;
    });

    private static readonly Form<Feature> Fillet = new MapForm<Feature>("a fillet", "Rounds inner edges. Element: `.face`.", map =>
    {
        var name = map.Required("fillet", NewFeature, "its name");
        Func<Entry, Edges?> edges = DeclareEdges(map);
        var radius = map.Required("radius", SizeForms.Length, "its radius");
        return entry => edges(entry) is { } where ? new Fillet(entry.Of(name), where, entry.Of(radius), entry.Place) : null;
    });

    private static readonly Form<Feature> Chamfer = new MapForm<Feature>("a chamfer", "Bevels edges. Element: `.face`.", map =>
    {
        var name = map.Required("chamfer", NewFeature, "its name");
        Func<Entry, Edges?> edges = DeclareEdges(map);
        var setback = map.Required("setback", SizeForms.Length, "how far it reaches along the first-named element");
        var angle = map.Optional("angle", SizeForms.Angle, "the angle between that element and the bevel; 45 unless said");
        return entry => edges(entry) is { } where ? new Chamfer(entry.Of(name), where, entry.Of(setback), entry.Of(angle), entry.Place) : null;
    });

    private static readonly Form<Feature> Row = new MapForm<Feature>("a row",
        "Copies of a feature in a row, numbered from the end that is left, front or down: `screw_hole#1`. Where it says no place, it is centred on the place of the copied feature.", map =>
    {
        var name = map.Required("row", NewFeature, "its name");
        var count = map.Required("count", new CountForm("a number of copies", 1, 200), "how many copies");
        var pitch = map.Required("pitch", SizeForms.Length, "the distance from one to the next");
        var along = map.Required("along", ADirection, "the direction of the row");
        var middle = map.Optional("middle_at", PointOnFace, "where on the face the middle of the row is");
        var first = map.Optional("first_at", PointOnFace, "where on the face copy 1 is");
        var of = map.Required("of", AnyFeature, "the feature, written with its own keys");
        map.AtMostOne("middle_at", "first_at");
        return entry => new Row(entry.Of(name), entry.Of(count), entry.Of(pitch), entry.Of(along), entry.Of(middle), entry.Of(first), entry.Of(of), entry.Place);
    });

    private static readonly Form<Feature> Ring = new MapForm<Feature>("a ring",
        "Copies of a feature in a ring on a face, numbered counter-clockwise seen from up, from the direction `right`.", map =>
    {
        var name = map.Required("ring", NewFeature, "its name");
        var count = map.Required("count", new CountForm("a number of copies", 1, 200), "how many copies");
        var circle = map.Required("pitch_circle", SizeForms.Length, "the diameter of the circle on which the copies lie");
        var middle = map.OptionalOr("middle_at", PointOnFace, FacePoint.Origin, "where on the face the middle of the ring is; [0, 0] unless said");
        var angle = map.Optional("first_angle", SizeForms.Angle, "the angle of copy 1 from the first coordinate; 0 unless said");
        var of = map.Required("of", AnyFeature, "the feature, written with its own keys");
        return entry => new Ring(entry.Of(name), entry.Of(count), entry.Of(circle), entry.Of(middle), entry.Of(angle), entry.Of(of), entry.Place);
    });

    private static readonly Form<Feature> Mirror = new MapForm<Feature>("a mirror image",
        "The mirror image of earlier features. With one feature it bears this name (`left_lug.top` is the image of `right_lug.top`); with several, each image is NAME.FEATURE.", map =>
    {
        var name = map.Required("mirror", NewFeature, "its name");
        var of = map.Required("of", new OneOrMoreForm<(string Feature, Place Place)>(EarlierFeature, "a feature name, or a list of them"), "the features");
        var across = map.Required("across", Element, "the plane: a flat element or a datum");
        return entry => new MirrorImage(entry.Of(name), entry.Of(of), entry.Of(across), entry.Place);
    });

    private static readonly Form<Feature> Datum = new MapForm<Feature>("a datum", "A named reference plane or axis; it adds no material.", map =>
    {
        var name = map.Required("datum", NewFeature, "its name");
        var plane = map.Optional("plane", Element, "a plane parallel to this flat element");
        var axis = map.Optional("axis", Element, "the axis of this round element");
        var offset = map.Optional("offset", SizeForms.Length, "how far the plane is moved along the element's outward normal");
        var origin = map.Optional("origin", PointInSpace, "where the plane's coordinates start; the projection of the job's origin unless said");
        var along = map.OptionalValue("along", ADirection, "the job direction that its first coordinate follows, on a tilted plane");
        var turned = map.Optional("turned", Turned, "tilts the plane about a direction through its origin");
        map.ExactlyOne("plane", "axis");
        return entry =>
        {
            if (entry.Of(plane) is { } element)
                return new DatumPlane(entry.Of(name), element, entry.Of(offset), entry.Of(origin), entry.Of(along), entry.Of(turned), entry.Place);
            return entry.Of(offset) is null && entry.Of(origin) is null && entry.Of(along) is null && entry.Of(turned) is null
                ? new DatumAxis(entry.Of(name), entry.Of(axis)!, entry.Place)
                : entry.Refuse<Feature>("axis", "a datum axis is the axis of its element and nothing else", "remove `offset`, `origin`, `along` and `turned`");
        };
    });

    private static Func<Entry, Edges?> DeclareEdges(KeyList map)
    {
        var meeting = map.Optional("meeting", ElementPair.Select((pair, _) => new Pair(pair.First, pair.Second)), "all edges where these two elements meet");
        var near = map.Optional("near", PointInSpace, "with `meeting`: only the edge closest to this point");
        var edgesOf = map.Optional("edges_of", EarlierFeature.Select((feature, _) => new Owner(feature.Feature, feature.Place)), "the edges between that feature's own faces as the list stands at this point");
        var except = map.Optional("except", new ListForm<(ElementName First, ElementName Second)>(ElementPair, "a list of pairs of elements [[lug.top, lug.left]]"), "with `edges_of`: but not where these pairs of elements meet");
        map.ExactlyOne("meeting", "edges_of");
        map.AtMostOne("near", "edges_of");
        map.AtMostOne("except", "meeting");
        return entry => entry.Of(meeting) is { } pair ? new Edges.Meeting(pair.First, pair.Second, entry.Of(near))
            : new Edges.OfFeature(entry.Of(edgesOf)!.Feature, entry.Of(edgesOf)!.Place, entry.Of(except) ?? []);
    }

    private sealed record Pair(ElementName First, ElementName Second);

    private sealed record Owner(string Feature, Place Place);

    private static ElementName Ground(Entry entry, Key<ElementName?> standsOn) => entry.Of(standsOn) ?? new ElementName("ground", entry.Place);

    private static Reach Reach(SizeExpression? depth, Reach? through) => through ?? new Reach.Depth(depth!);

    private sealed class WholeOrFeature : Form<Reach>
    {
        public override string Phrase => "a feature name, or `whole part`";

        public override JsonObject Describe(Definitions definitions) => new()
        {
            ["anyOf"] = new JsonArray(new JsonObject { ["const"] = "whole part" }, EarlierFeature.Describe(definitions)),
        };

        public override bool TryRead(YamlNode node, Findings findings, [MaybeNullWhen(false)] out Reach value)
        {
            value = new Reach.ThroughWholePart();
            if (node is YamlScalar { Text: "whole part" }) return true;
            if (!EarlierFeature.TryRead(node, findings, out var feature)) return false;
            value = new Reach.ThroughFeature(feature.Feature, feature.Place);
            return true;
        }
    }

    /// <summary>The list of features: while it is read, the findings know which one is being read, because a feature may use earlier ones only.</summary>
    private sealed class ShapeForm : Form<IReadOnlyList<Feature>>
    {
        private readonly ListForm<Feature> _list = new(AnyFeature, "a list of features, at least one", 1, beforeEach: (findings, k) => findings.FeatureNumber = k);

        public override string Phrase => _list.Phrase;

        public override JsonObject Describe(Definitions definitions) => _list.Describe(definitions);

        public override Form? Under(YamlNode whole, string step) => _list.Under(whole, step);

        public override bool TryRead(YamlNode node, Findings findings, [MaybeNullWhen(false)] out IReadOnlyList<Feature> value)
        {
            bool good = _list.TryRead(node, findings, out value);
            int count = node is YamlList list ? Math.Min(list.Items.Count, Findings.MostProblems) : 0;
            findings.HasNamelessFeature = !good && (count == 0 || Enumerable.Range(0, count).Any(k => !findings.Features.HasAny(k)));
            findings.FeatureNumber = int.MaxValue;
            return good;
        }
    }
}
