using Sparewright.Measure.Numbers;

namespace Sparewright.Part.Elements;

/// <summary>
/// A face or axis that a feature brings with it, as exact geometry whose coordinates carry derivatives by the sizes.
/// Names are whole: <c>socket.top</c>.
/// </summary>
public abstract record Element(string Name);

/// <summary>A flat face.</summary>
/// <param name="Point">A point on it: where things stand that say nothing else.</param>
/// <param name="Normal">Unit, away from the material.</param>
public sealed record FlatElement(string Name, Vector Point, Vector Normal) : Element(Name)
{
    /// <summary>The face's sides where it is a rectangle (the sides of a block).</summary>
    public FaceRectangle? Rectangle { get; init; }

    /// <summary>Origin and directions given by a datum; others have the job's coordinates with the constant one left out.</summary>
    public Frame? Coordinates { get; init; }
}

/// <summary>The extent of a rectangular face: its middle, two unit directions in it, and half its length along each.</summary>
public sealed record FaceRectangle(Vector Middle, Vector First, Dual HalfFirst, Vector Second, Dual HalfSecond);

/// <summary>A round (cylindrical) face.</summary>
/// <param name="Hollow">True for a hole's wall, false for a boss's side.</param>
public sealed record RoundElement(string Name, Vector AxisPoint, Vector AxisDirection, Dual Radius, bool Hollow) : Element(Name);

/// <summary>A conical face: at a height h along the axis from the base point its radius is BaseRadius + Slope·h.</summary>
public sealed record ConeElement(string Name, Vector BasePoint, Vector AxisDirection, Dual BaseRadius, Dual Slope, bool Hollow) : Element(Name);

/// <summary>An axis.</summary>
public sealed record AxisElement(string Name, Vector Point, Vector Direction) : Element(Name);

/// <summary>A side that goes round: all pieces of an outline, swept square to the face.</summary>
/// <param name="Hollow">True for a pocket's wall, false for a plate's rim.</param>
public sealed record SideElement(string Name, Frame Frame, Region Region, bool Hollow) : Element(Name)
{
    /// <summary>The single faces of which it consists, under their own names.</summary>
    public IEnumerable<Element> Pieces() => SideFaces.OfPrism(Frame, Region, Name, Hollow);
}

/// <summary>The face of an edge round or fillet, known by its radius; of a chamfer, by its setback.</summary>
public sealed record EdgeFaceElement(string Name, Dual Radius) : Element(Name);

/// <summary>A face on which no caliper jaw finds one value (a ball or ring surface).</summary>
public sealed record CurvedElement(string Name, string Kind) : Element(Name);
