using Sparewright.Solid;

namespace Sparewright.Handover.Picture;

/// <summary>The names of views (ISO 5456-2): what is seen looking from there.</summary>
public enum ViewName { Front, Top, Left, Right, Isometric }

/// <summary>
/// The picture of a part, all lengths in mm in the part's own axes: what is drawn, not where on the page.
/// </summary>
/// <param name="Title">What the title block says.</param>
/// <param name="Views">A front view, and as many of the others as are wanted; each once.</param>
/// <param name="Dimensions">The sizes to be shown, each once.</param>
/// <param name="CentreLines">The axes of round elements.</param>
/// <param name="Cautions">What goes into the strip across the top; none, no strip.</param>
/// <param name="Notes">Sentences beside the title block; those with a number answer the flags on dimensions.</param>
/// <param name="Mesh">Shades the isometric view, if given.</param>
public sealed record PartPicture(
    TitleBlock Title,
    IReadOnlyList<NamedView> Views,
    IReadOnlyList<Dimension> Dimensions,
    IReadOnlyList<CentreLine> CentreLines,
    IReadOnlyList<string> Cautions,
    IReadOnlyList<Note> Notes,
    Mesh? Mesh);

/// <summary>What the title block says, in the manner of ISO 7200.</summary>
/// <param name="Part">The part's name.</param>
/// <param name="About">What it is, in a sentence.</param>
/// <param name="Identification">Tells this revision of this part from every other.</param>
/// <param name="Date">Date of issue; there is no clock in here.</param>
/// <param name="State">In what state the drawn sizes are: "as measured".</param>
/// <param name="MadeBy">Name and version of what drew it.</param>
public sealed record TitleBlock(string Part, string About, string Identification, DateOnly Date, string State, string MadeBy);

/// <summary>A view under its name.</summary>
public sealed record NamedView(ViewName Name, DrawnView Drawn);

/// <summary>A sentence beside the title block.</summary>
/// <param name="Flag">The number in the flag that points here, or null for a plain note.</param>
public sealed record Note(string Text, int? Flag = null);

/// <summary>The axis of a round element from end to end, and the largest radius about it.</summary>
public sealed record CentreLine(Point3 From, Point3 To, double RadiusMm);

/// <summary>A size shown on the part.</summary>
/// <param name="Text">The value with its sign: "⌀12.20", "R1.5", "48.0".</param>
/// <param name="PlusMinus">The half width of its uncertainty, "±0.02"; null where none is known.</param>
public abstract record Dimension(string Text, string? PlusMinus)
{
    /// <summary>The number of a flag that says "look here", or null.</summary>
    public int? Flag { get; init; }

    /// <summary>Where it must stand; null leaves it to the layout.</summary>
    public ViewName? View { get; init; }
}

/// <summary>A distance between two places, measured along a direction.</summary>
/// <param name="From">One place, on the part.</param>
/// <param name="To">The other.</param>
/// <param name="Along">The direction in which the distance is meant.</param>
public sealed record LinearDimension(string Text, string? PlusMinus, Point3 From, Point3 To, Point3 Along) : Dimension(Text, PlusMinus);

/// <summary>A diameter or radius. Seen along its axis it is a leader to the circle, seen from the side a distance across it.</summary>
/// <param name="From">One end of its axis.</param>
/// <param name="To">The other end.</param>
/// <param name="RadiusMm">The radius that is drawn.</param>
public sealed record RoundDimension(string Text, string? PlusMinus, Point3 From, Point3 To, double RadiusMm) : Dimension(Text, PlusMinus)
{
    /// <summary>A point on the arc where the arrow must touch, where it is no full circle.</summary>
    public Point3? On { get; init; }
}
