using System.Globalization;
using Sparewright.Measure.Numbers;
using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;

namespace Sparewright.Part.Elements;

/// <summary>What has been placed so far, and where the next feature finds its faces, sizes and extents.</summary>
internal sealed class Placement(IReadOnlyDictionary<string, Dual> sizes)
{
    private readonly Dictionary<string, List<Tool>> _addedBy = new(StringComparer.Ordinal);

    public IReadOnlyDictionary<string, Dual> Sizes => sizes;

    public Dictionary<string, Element> Elements { get; init; } = new(StringComparer.Ordinal)
    {
        ["ground"] = new FlatElement("ground", Vector.Zero, new(0, 0, 1)),
        ["upright"] = new AxisElement("upright", Vector.Zero, new(0, 0, 1)),
    };

    public List<PlacedFeature> Features { get; } = [];

    /// <summary>For each row and ring, the name that its numbered copies bear.</summary>
    public Dictionary<string, string> CopiesOf { get; } = new(StringComparer.Ordinal);

    public List<Problem> Problems { get; init; } = [];

    /// <summary>A placement that sees everything placed so far and collects what is placed next by itself, as the pattern of a copy.</summary>
    public Placement Apart()
    {
        var apart = new Placement(sizes) { Elements = new(Elements, StringComparer.Ordinal), Problems = Problems };
        foreach (var (name, tools) in _addedBy) apart._addedBy[name] = [.. tools];
        return apart;
    }

    public void Say(Place place, string what, string remedy) => Problems.Add(new Problem(place, what, remedy));

    public Dual Value(SizeExpression expression) => expression.At(sizes);

    public PlanePoint Value(FacePoint p) => new(p.U.At(sizes), p.V.At(sizes));

    public Vector Value(SpacePoint p) => new(p.X.At(sizes), p.Y.At(sizes), p.Z.At(sizes));

    /// <summary>A value that must be more than 0; says so and goes on with a tiny one when it is not.</summary>
    public Dual Positive(Feature feature, SizeExpression expression, string what)
    {
        Dual value = Value(expression);
        if (value.Value > 0) return value;
        Say(feature.Place, string.Create(CultureInfo.InvariantCulture, $"{feature.Name}: {what} is {value.Value:0.###} mm"), "it must be more than 0: check the sizes that it comes from");
        return 1e-3;
    }

    public void Add(Element element) => Elements[element.Name] = element;

    public void Add(Combination combination, string? partOf = null)
    {
        Features.Add(combination);
        if (combination.Joins) NoteAdded(partOf ?? combination.Name, combination.Tools);
    }

    /// <summary>Notes material as belonging to a feature, so that a hole can go through that feature.</summary>
    public void NoteAdded(string feature, IEnumerable<Tool> tools)
    {
        if (!_addedBy.TryGetValue(feature, out List<Tool>? list)) _addedBy[feature] = list = [];
        list.AddRange(tools);
    }

    /// <summary>The element of that name as a flat face, or null with a problem noted.</summary>
    public FlatElement? Flat(ElementName name)
    {
        switch (Elements.GetValueOrDefault(name.Text))
        {
            case FlatElement flat:
                return flat;
            case null:
                SayMissing(name);
                return null;
            case var other:
                Say(name.Place, $"`{name}` is {Describe(other)}, not flat", "name a flat element");
                return null;
        }
    }

    /// <summary>Any element of that name, or null with a problem noted.</summary>
    public Element? Any(ElementName name)
    {
        if (Elements.TryGetValue(name.Text, out Element? element)) return element;
        SayMissing(name);
        return null;
    }

    /// <summary>The frame of a flat element's coordinates: the job's, with the constant one left out, or those that a datum gives.</summary>
    public Frame? Face(ElementName name)
    {
        if (Flat(name) is not { } flat) return null;
        if (flat.Coordinates is { } given) return given;
        if (Directions.Of(flat.Normal) is not { } direction)
        {
            Say(name.Place, $"`{name}` is tilted, so the job's coordinates do not lie in it", "make a datum plane on it with `origin` and `along`, and use that");
            return null;
        }

        (Direction u, Direction v) = direction switch
        {
            Direction.Right or Direction.Left => (Direction.Back, Direction.Up),
            Direction.Back or Direction.Front => (Direction.Right, Direction.Up),
            _ => (Direction.Right, Direction.Back),
        };
        Vector n = direction.Vector();
        return new Frame(n * Vector.Dot(flat.Point, n), u.Vector(), v.Vector(), n);
    }

    /// <summary>Where a shape stands: the face's frame moved to a point on it and turned about that point.</summary>
    public Frame? Stand(ElementName standsOn, FacePoint? at, Turn? turn)
    {
        if (Face(standsOn) is not { } face) return null;
        Frame frame = at is null ? face : face.MovedTo(face.At(Value(at)));
        return Turned(frame, turn);
    }

    public Frame Turned(Frame frame, Turn? turn)
    {
        if (turn is null) return frame;
        Vector axis = turn.About.Vector();
        Dual angle = Value(turn.By) * (Math.PI / 180);
        return new(frame.Origin, frame.U.Turned(axis, angle), frame.V.Turned(axis, angle), frame.N.Turned(axis, angle));
    }

    /// <summary>How far a feature's own material reaches in a direction, or null with a problem noted when it has none.</summary>
    public Dual? Reach(string feature, Vector direction, Place place)
    {
        if (_addedBy.TryGetValue(feature, out List<Tool>? tools)) return Most(tools, direction);
        Say(place, $"`{feature}` adds no material that a hole could go through", "name a plate, boss, block, rib or turned shape that stands before it in the list");
        return null;
    }

    /// <summary>How far all material so far reaches in a direction, or null when there is none.</summary>
    public Dual? ReachOfAll(Vector direction)
    {
        var all = _addedBy.Values.SelectMany(t => t).ToList();
        return all.Count == 0 ? null : Most(all, direction);
    }

    /// <summary>Whether a flat face of the feature lies at that reach, so that a cut may end exactly there.</summary>
    public bool EndsFlat(string feature, Vector direction, Dual reach)
    {
        string prefix = feature + ".";
        foreach (Element element in Elements.Values)
        {
            if (element is FlatElement flat && flat.Name.StartsWith(prefix, StringComparison.Ordinal)
                && Vector.Dot(flat.Normal, direction).Value > 1 - 1e-12
                && Math.Abs((Vector.Dot(flat.Point, direction) - reach).Value) < 1e-9) return true;
        }

        return false;
    }

    private static Dual Most(List<Tool> tools, Vector direction) => tools.Select(t => Support.Of(t, direction)).Aggregate(Dual.Max);

    private void SayMissing(ElementName name) => Say(name.Place, $"there is no element `{name}` here",
        ElementNames.Beside(name.Text, Elements.Keys) ?? "name an element of a feature that stands before this one in the list");

    private static string Describe(Element element) => element switch
    {
        RoundElement => "round",
        ConeElement => "conical",
        AxisElement => "an axis",
        SideElement => "a side that goes round",
        EdgeFaceElement => "a rounded or bevelled edge",
        _ => "curved",
    };
}
