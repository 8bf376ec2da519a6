using Sparewright.Part.Sizes;

namespace Sparewright.Part.Shape;

/// <summary>A point on a face, by two expressions (mm).</summary>
public sealed record FacePoint(SizeExpression U, SizeExpression V)
{
    public static readonly FacePoint Origin = new(0.0, 0.0);
}

/// <summary>
/// A closed outline on a face. Its pieces are numbered #1, #2 … in the order in which they are written, through the whole outline.
/// </summary>
public abstract record Outline(Place Place);

/// <summary>A full circle: one piece.</summary>
public sealed record Disc(FacePoint Middle, SizeExpression Radius, Place Place) : Outline(Place);

/// <summary>
/// A rectangle along the two coordinates. Pieces: #1 low-v side, #2 high-u side, #3 high-v side, #4 low-u side, then the corner arcs #5 … counter-clockwise from the low-u, low-v corner.
/// </summary>
/// <param name="Middle">Its middle; exactly one of Middle and Corner is given.</param>
/// <param name="Corner">Its low-u, low-v corner.</param>
public sealed record Rectangle(SizeExpression Long, SizeExpression Wide, FacePoint? Middle, FacePoint? Corner, SizeExpression? CornerRadius, Place Place) : Outline(Place);

/// <summary>Two half discs and the straight sides between them. Pieces: #1 right-hand side going from first to second centre, #2 arc about the second, #3 other side, #4 arc about the first.</summary>
public sealed record Obround(FacePoint First, FacePoint Second, SizeExpression Width, Place Place) : Outline(Place);

/// <summary>Straight sides between corners: piece #k runs from corner k to the next; corner arcs follow, in order of corners.</summary>
public sealed record Polygon(IReadOnlyList<FacePoint> Corners, SizeExpression? CornerRadius, Place Place) : Outline(Place);

/// <summary>A regular hexagon by its size across flats; with no turn, two flats are parallel to u. Pieces #1 … #6 counter-clockwise from the low-v flat.</summary>
public sealed record Hexagon(FacePoint Middle, SizeExpression AcrossFlats, SizeExpression? Turn, Place Place) : Outline(Place);

/// <summary>Lines and arcs from a start back to it, each corner rounded if asked. A closing line is added where the last piece does not end at the start.</summary>
public sealed record PathOutline(FacePoint Start, SizeExpression? StartCornerRadius, IReadOnlyList<PathPiece> Pieces, Place Place) : Outline(Place);

/// <summary>One piece of a path; CornerRadius rounds the corner at its end (only between straight pieces).</summary>
public abstract record PathPiece(FacePoint To, SizeExpression? CornerRadius, Place Place);

public sealed record LineTo(FacePoint To, SizeExpression? CornerRadius, Place Place) : PathPiece(To, CornerRadius, Place);

/// <summary>An arc to a point, through another point.</summary>
public sealed record ArcThrough(FacePoint Through, FacePoint To, Place Place) : PathPiece(To, null, Place);

/// <summary>An arc to a point of a given radius, less than half a turn, bending left or right as one goes.</summary>
public sealed record ArcOfRadius(SizeExpression Radius, bool TurningLeft, FacePoint To, Place Place) : PathPiece(To, null, Place);

/// <summary>
/// A belt around discs, taut, in the order given (counter-clockwise for three or more). Pieces alternate: #1 arc about the first disc, #2 straight to the second, #3 arc about the second …
/// </summary>
public sealed record Belt(IReadOnlyList<Disc> Discs, Place Place) : Outline(Place);

/// <summary>All of them together.</summary>
public sealed record JoinedOutlines(IReadOnlyList<Outline> Outlines, Place Place) : Outline(Place);

/// <summary>The first without the others.</summary>
public sealed record TakenAwayOutlines(Outline From, IReadOnlyList<Outline> Away, Place Place) : Outline(Place);

/// <summary>What all of them have in common.</summary>
public sealed record OverlappedOutlines(IReadOnlyList<Outline> Outlines, Place Place) : Outline(Place);
