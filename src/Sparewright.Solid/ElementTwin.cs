using Sparewright.Part.Elements;

namespace Sparewright.Solid;

/// <summary>How far the faces that bear an element's name lie from where the element says.</summary>
/// <param name="DeviationMm">The largest distance found, mm; infinite where a face is of another kind or looks the other way.</param>
/// <param name="Faces">How many faces were held against it.</param>
public sealed record TwinDeviation(string Element, double DeviationMm, int Faces);

/// <summary>
/// Every element exists twice: as geometry with derivatives, from which readings are computed, and as faces of the exact solid. This holds one against the other.
/// </summary>
public static class ElementTwin
{
    /// <summary>The deviation of each element that has faces on the solid; axes, datums and faces that later features took away have none.</summary>
    public static IReadOnlyList<TwinDeviation> Compare(PlacedShape shape, IReadOnlyList<SolidFace> faces)
    {
        var deviations = new List<TwinDeviation>();
        foreach (Element element in shape.Elements.Values)
        {
            if (Judge(element, shape) is not { } deviation) continue;
            var own = faces.Where(f => element is SideElement ? f.Bears(element.Name) : f.Names.Contains(element.Name)).ToList();
            if (own.Count > 0) deviations.Add(new(element.Name, own.Max(deviation), own.Count));
        }

        return deviations;
    }

    /// <summary>How a face is held against the element; null for elements that no face answers to, or whose surface they do not pin down.</summary>
    private static Func<SolidFace, double>? Judge(Element element, PlacedShape shape) => element switch
    {
        FlatElement flat => face => FromPlane(flat, face),
        RoundElement round => face => FromCylinder(round, face),
        ConeElement cone => face => FromCone(cone, face),
        SideElement side => face => side.Pieces().Min(piece => piece is FlatElement flat ? FromPlane(flat, face) : FromCylinder((RoundElement)piece, face)),
        EdgeFaceElement edge when shape.Features.OfType<EdgeTreatment>().Any(f => f.Name + ".face" == edge.Name && f.Kind != EdgeTreatmentKind.Chamfer) => face => FromRound(edge, face),
        _ => null,
    };

    private static double FromPlane(FlatElement flat, SolidFace face)
    {
        if (face.Kind != SurfaceKind.Plane) return double.PositiveInfinity;
        Point3 normal = Point3.Of(flat.Normal);
        double tilt = (face.Direction - normal).Length;
        return Math.Abs(Point3.Dot(face.At - Point3.Of(flat.Point), normal)) + tilt * Extent(face);
    }

    private static double FromCylinder(RoundElement round, SolidFace face)
    {
        if (face.Kind != SurfaceKind.Cylinder || face.Bulges == round.Hollow) return double.PositiveInfinity;
        return FromAxis(face, Point3.Of(round.AxisPoint), Point3.Of(round.AxisDirection)) + Math.Abs(face.RadiusMm - round.Radius.Value);
    }

    private static double FromCone(ConeElement cone, SolidFace face)
    {
        if (face.Kind != SurfaceKind.Cone || face.Bulges == cone.Hollow) return double.PositiveInfinity;
        Point3 axis = Point3.Of(cone.AxisDirection), basePoint = Point3.Of(cone.BasePoint);
        double height = Point3.Dot(face.Origin - basePoint, axis);
        double faceSlope = Math.Tan(face.HalfAngleDegrees * Math.PI / 180) * Math.Sign(Point3.Dot(face.Direction, axis));
        double radiusThere = cone.BaseRadius.Value + cone.Slope.Value * height;
        return FromAxis(face, basePoint, axis) + Math.Abs(face.RadiusMm - radiusThere) + Math.Abs(faceSlope - cone.Slope.Value) * (Extent(face) + (face.At - face.Origin).Length);
    }

    private static double FromRound(EdgeFaceElement edge, SolidFace face) => face.Kind switch
    {
        SurfaceKind.Cylinder or SurfaceKind.Sphere => Math.Abs(face.RadiusMm - edge.Radius.Value),
        SurfaceKind.Torus => Math.Abs(face.MinorRadiusMm - edge.Radius.Value),
        // Where rounds run into each other the surface is a free one.
        _ => 0,
    };

    /// <summary>How far the face's axis strays from the given one along the face.</summary>
    private static double FromAxis(SolidFace face, Point3 point, Point3 direction)
    {
        Point3 apart = face.Origin - point;
        // The face's axis, taken beside the face itself: its origin may lie far away along it.
        Point3 beside = apart + face.Direction * Point3.Dot(face.At - face.Origin, face.Direction);
        double tilt = Point3.Cross(face.Direction, direction).Length;
        return (beside - direction * Point3.Dot(beside, direction)).Length + tilt * Extent(face);
    }

    private static double Extent(SolidFace face) => (face.High - face.Low).Length;
}
