namespace Sparewright.Solid;

/// <summary>What a line of a view is: an edge of the part, the outline of a round surface, or where two surfaces run smoothly into each other.</summary>
public enum LineKind { Edge, Outline, Smooth }

/// <summary>One polyline of a view; x, y pairs in mm on the page at 1:1, y up.</summary>
public sealed record DrawnLine(LineKind Kind, bool Hidden, double[] Points);

/// <summary>The part seen from one direction, with hidden lines told from visible ones.</summary>
/// <param name="Sight">Unit direction in which the eye looks, in the part's axes.</param>
/// <param name="Up">Unit direction that points up the page, in the part's axes. Page x is sight × up.</param>
/// <param name="Lines">In a fixed order, so that the same part gives the same page.</param>
public sealed record DrawnView(double[] Sight, double[] Up, IReadOnlyList<DrawnLine> Lines);
