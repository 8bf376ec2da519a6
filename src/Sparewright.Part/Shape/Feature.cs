using Sparewright.Part.Sizes;

namespace Sparewright.Part.Shape;

/// <summary>The six directions of the job's axes: right +x, left −x, back +y, front −y, up +z, down −z.</summary>
public enum Direction { Right, Left, Back, Front, Up, Down }

/// <summary>Turning a shape about a direction through its own placement point, by the right-hand rule; degrees.</summary>
public sealed record Turn(Direction About, SizeExpression By);

/// <summary>A point in the job's axes (mm).</summary>
public sealed record SpacePoint(SizeExpression X, SizeExpression Y, SizeExpression Z);

/// <summary>A reference to an element (<c>socket.top</c>) or a datum (<c>ground</c>) by name.</summary>
public sealed record ElementName(string Text, Place Place)
{
    public override string ToString() => Text;
}

/// <summary>A piece of shape with a name. The list of features is built in order; order is meaning.</summary>
public abstract record Feature(string Name, Place Place);

// ---- adding material -------------------------------------------------------------------------------------------

/// <summary>Material of its own that is joined to what is there.</summary>
public abstract record AddedShape(string Name, Place Place) : Feature(Name, Place)
{
    public Turn? Turned { get; init; }
}

/// <summary>A plate of thickness t on an outline. Elements: .top .bottom .rim .rim#k.</summary>
public sealed record Plate(string Name, SizeExpression Thickness, Outline Outline, ElementName StandsOn, FacePoint? At, Place Place) : AddedShape(Name, Place);

/// <summary>
/// A round boss, straight, or tapered to another diameter at its top. Elements: .side .top .bottom .axis.
/// </summary>
public sealed record Boss(string Name, SizeExpression Diameter, SizeExpression? TopDiameter, SizeExpression Height, ElementName StandsOn, FacePoint? At, Place Place) : AddedShape(Name, Place);

/// <summary>A block, long to the right, deep to the back, tall upward. Elements: .left .right .front .back .top .bottom.</summary>
/// <param name="CornerAt">Its left-front-bottom corner; exactly one of CornerAt and MiddleAt is given.</param>
/// <param name="MiddleAt">Its middle.</param>
public sealed record Block(string Name, SizeExpression Long, SizeExpression Deep, SizeExpression Tall, SpacePoint? CornerAt, SpacePoint? MiddleAt, Place Place) : AddedShape(Name, Place);

/// <summary>
/// An outline in (radius, height) turned about an axis standing on a face. Elements: .axis .side .side#k (numbered as the outline's pieces).
/// </summary>
public sealed record TurnedShape(string Name, Outline Outline, ElementName StandsOn, FacePoint? At, Place Place) : AddedShape(Name, Place);

/// <summary>
/// A thin upright wall on a face from one point to another, as thick as said, centred on that line; its height may change along it.
/// Elements: .side#1 (to the left, going from first to second) .side#2 .top .bottom .end#1 .end#2.
/// </summary>
public sealed record Rib(string Name, ElementName StandsOn, FacePoint From, FacePoint To, SizeExpression Thickness, SizeExpression Height, SizeExpression? EndHeight, Place Place) : AddedShape(Name, Place);

/// <summary>
/// A full round on a flat end (ISO 10303-224 rounded_end): a half cylinder centred on the flat face and as wide as it. The round face bears the flat face's name, which then has <c>.axis</c> too.
/// </summary>
/// <param name="Of">The flat face.</param>
/// <param name="Axis">Along which direction the half cylinder's axis runs.</param>
public sealed record RoundedEnd(string Name, ElementName Of, Direction Axis, Place Place) : Feature(Name, Place);

// ---- taking material away ----------------------------------------------------------------------------------------

/// <summary>How far a hole, slot or pocket reaches.</summary>
public abstract record Reach
{
    /// <summary>Blind, so deep, measured along the full diameter.</summary>
    public sealed record Depth(SizeExpression Of) : Reach;

    /// <summary>Through the extent of one feature.</summary>
    public sealed record ThroughFeature(string Feature, Place Place) : Reach;

    /// <summary>Through all that is there so far.</summary>
    public sealed record ThroughWholePart : Reach;
}

/// <summary>Where a round hole starts and which way it goes.</summary>
public abstract record HoleStart
{
    /// <summary>From a flat element inward, at a point on it (default: the projection of the job's origin, or of the element's own feature's axis where it is round).</summary>
    public sealed record FromFace(ElementName Face, FacePoint? At) : HoleStart;

    /// <summary>Along a direction through a point.</summary>
    public sealed record AlongAxis(Direction Axis, SpacePoint At) : HoleStart;
}

public enum HoleEnd { Flat, Cone }

/// <summary>A wider cylindrical start. Elements: .counterbore.wall .counterbore.floor.</summary>
public sealed record Counterbore(SizeExpression Diameter, SizeExpression Depth);

/// <summary>A conical start, by its diameter at the face and the full angle in degrees. Element: .countersink.</summary>
public sealed record Countersink(SizeExpression Diameter, SizeExpression Angle);

/// <summary>A flat along the hole (D-bore): its distance from the axis toward a direction. Element: .flat.</summary>
public sealed record HoleFlat(SizeExpression FromAxis, Direction Toward);

/// <summary>A round hole. Elements: .wall .axis .end.</summary>
/// <param name="ConeAngle">Full angle of a cone end in degrees, 118 unless said (common drill point).</param>
public sealed record Hole(string Name, HoleStart Start, SizeExpression Diameter, Reach Reach, HoleEnd End, SizeExpression? ConeAngle,
    Counterbore? Counterbore, Countersink? Countersink, HoleFlat? Flat, Place Place) : Feature(Name, Place);

public enum SlotEnds { Round, Square }

/// <summary>A slot between two points, so wide, into a flat element. Elements: .side#1 (left, going from first to second) .side#2 .end#1 .end#2 .floor .wall (all sides and ends).</summary>
public sealed record Slot(string Name, ElementName From, FacePoint First, FacePoint Second, SizeExpression Width, SlotEnds Ends, Reach Reach, Place Place) : Feature(Name, Place);

/// <summary>An outline sunk into a flat element. Elements: .wall .wall#k .floor.</summary>
public sealed record Pocket(string Name, ElementName From, Outline Outline, FacePoint? At, Reach Reach, Place Place) : Feature(Name, Place);

/// <summary>
/// A groove all round, in a round side or in a hole's wall, so wide along the axis and so deep across it. Elements: .floor (round) .near .far (flat; near is the one closer to <c>from</c>).
/// </summary>
/// <param name="In">The round element.</param>
/// <param name="From">The flat element square to the axis from which the groove's near side is measured.</param>
/// <param name="Offset">Distance of the groove's near side from there, into the part.</param>
public sealed record Groove(string Name, ElementName In, ElementName From, SizeExpression Offset, SizeExpression Width, SizeExpression Depth, Place Place) : Feature(Name, Place);

// ---- edges ---------------------------------------------------------------------------------------------------------

/// <summary>Which edges.</summary>
public abstract record Edges
{
    /// <summary>All edges where the two elements meet; Near picks the one closest to a point.</summary>
    public sealed record Meeting(ElementName First, ElementName Second, SpacePoint? Near) : Edges;

    /// <summary>The edges between the feature's own faces as the list stands at that point, except where the listed pairs meet.</summary>
    public sealed record OfFeature(string Feature, Place Place, IReadOnlyList<(ElementName First, ElementName Second)> Except) : Edges;
}

/// <summary>Rounds outer edges. Element: .face.</summary>
public sealed record EdgeRound(string Name, Edges Edges, SizeExpression Radius, Place Place) : Feature(Name, Place);

/// <summary>Rounds inner edges. Element: .face.</summary>
public sealed record Fillet(string Name, Edges Edges, SizeExpression Radius, Place Place) : Feature(Name, Place);

/// <summary>Bevels edges: the setback is taken along the first-named element, the angle (default 45°) is between it and the bevel. Element: .face.</summary>
public sealed record Chamfer(string Name, Edges Edges, SizeExpression Setback, SizeExpression? Angle, Place Place) : Feature(Name, Place);

// ---- copies ----------------------------------------------------------------------------------------------------------

/// <summary>Copies of a feature in a row, numbered from the end that is left, front or down: <c>screw_hole#1</c>. Where the copied feature has a place, the row is centred on it unless it says otherwise.</summary>
/// <param name="MiddleAt">Middle of the row on the face; exactly one of MiddleAt and FirstAt is given.</param>
/// <param name="FirstAt">Place of copy 1.</param>
public sealed record Row(string Name, int Count, SizeExpression Pitch, Direction Along, FacePoint? MiddleAt, FacePoint? FirstAt, Feature Of, Place Place) : Feature(Name, Place);

/// <summary>Copies of a feature in a ring on a face, numbered from the direction <c>right</c> (first coordinate) counter-clockwise seen from up (on a side face: as its two coordinates turn, first toward second).</summary>
/// <param name="PitchCircle">Diameter of the circle on which the copies lie.</param>
/// <param name="FirstAngle">Angle of copy 1, degrees from the first coordinate.</param>
public sealed record Ring(string Name, int Count, SizeExpression PitchCircle, FacePoint MiddleAt, SizeExpression? FirstAngle, Feature Of, Place Place) : Feature(Name, Place);

/// <summary>
/// The mirror image of earlier features. With one feature it bears this name (<c>left_lug.top</c> is the image of <c>right_lug.top</c>); with several, each image is NAME.FEATURE.
/// </summary>
public sealed record MirrorImage(string Name, IReadOnlyList<(string Feature, Place Place)> Of, ElementName Across, Place Place) : Feature(Name, Place);

// ---- references --------------------------------------------------------------------------------------------------------

/// <summary>A named reference plane or axis. Adds no material.</summary>
public abstract record Datum(string Name, Place Place) : Feature(Name, Place);

/// <summary>A plane parallel to a flat element, offset along its outward normal, or tilted about a direction through a point.</summary>
/// <param name="Origin">Where its coordinates start; default the projection of the job's origin.</param>
/// <param name="Along">Which job direction, projected into the plane, its first coordinate runs along; the second is a quarter turn further, counter-clockwise seen from outside. Needed on a tilted plane.</param>
public sealed record DatumPlane(string Name, ElementName Plane, SizeExpression? Offset, SpacePoint? Origin, Direction? Along, Turn? Turned, Place Place) : Datum(Name, Place);

/// <summary>The axis of a round element.</summary>
public sealed record DatumAxis(string Name, ElementName Axis, Place Place) : Datum(Name, Place);
