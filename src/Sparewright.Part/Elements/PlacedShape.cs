using Sparewright.Measure.Numbers;

namespace Sparewright.Part.Elements;

/// <summary>A simple piece of material or of emptiness in its place.</summary>
public abstract record Tool(Frame Frame);

/// <summary>A region swept along n, from one height to another. The faces at its two ends have names of their own.</summary>
public sealed record PrismTool(Frame Frame, Region Region, Dual From, Dual To, IReadOnlyList<string> FromNames, IReadOnlyList<string> ToNames) : Tool(Frame);

/// <summary>A closed loop in (radius along u, height along n), turned a full turn about n. Pieces on the axis make no face.</summary>
public sealed record TurnedTool(Frame Frame, IReadOnlyList<Piece> Loop) : Tool(Frame);

/// <summary>A feature in its place, with every number known and its derivatives.</summary>
public abstract record PlacedFeature(string Name, Place Place);

/// <summary>Tools that are joined to what is there so far, or cut from it.</summary>
public sealed record Combination(string Name, bool Joins, IReadOnlyList<Tool> Tools, Place Place) : PlacedFeature(Name, Place);

public enum EdgeTreatmentKind { EdgeRound, Fillet, Chamfer }

/// <summary>Which edges, by whole element names.</summary>
public abstract record PlacedEdges
{
    public sealed record Meeting(string First, string Second, Vector? Near) : PlacedEdges;

    public sealed record OfFeature(string Feature, IReadOnlyList<(string First, string Second)> Except) : PlacedEdges;
}

/// <summary>Edges rounded, filleted or bevelled.</summary>
/// <param name="Radius">Radius, or a chamfer's setback, in mm.</param>
/// <param name="AngleDegrees">A chamfer's angle from the first-named element; otherwise 0.</param>
public sealed record EdgeTreatment(string Name, EdgeTreatmentKind Kind, PlacedEdges Edges, Dual Radius, Dual AngleDegrees, Place Place) : PlacedFeature(Name, Place);

/// <summary>
/// The shape at given sizes: what is built, in order, and the elements that readings and later features name.
/// </summary>
/// <param name="Sizes">Every size, with its derivatives.</param>
/// <param name="Elements">By whole name; includes the datums <c>ground</c> and <c>upright</c>.</param>
/// <param name="Problems">What arithmetic alone can tell to be impossible at these sizes, naming the feature.</param>
public sealed record PlacedShape(IReadOnlyDictionary<string, Dual> Sizes, IReadOnlyList<PlacedFeature> Features, IReadOnlyDictionary<string, Element> Elements, IReadOnlyList<Problem> Problems);
