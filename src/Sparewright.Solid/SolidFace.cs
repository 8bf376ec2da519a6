using System.Text.Json;

namespace Sparewright.Solid;

public enum SurfaceKind { Plane, Cylinder, Cone, Sphere, Torus, Other }

/// <summary>A face of the exact solid: the element names that it bears and its exact surface. Lengths in mm, coordinates in the job's axes.</summary>
/// <param name="Names">Every element name that its history gave it; flush faces that became one bear the names of both.</param>
/// <param name="Origin">A point of the plane or axis; the middle of a sphere or torus.</param>
/// <param name="Direction">The outward unit normal of a plane, the axis direction otherwise.</param>
/// <param name="RadiusMm">Of a cylinder or sphere; of a cone, in the plane through Origin square to the axis; of a torus, the circle on which the tube's middle runs. Otherwise 0.</param>
/// <param name="MinorRadiusMm">The radius of a torus's tube, otherwise 0.</param>
/// <param name="HalfAngleDegrees">Between a cone's axis and its side; positive where the radius grows along Direction. Otherwise 0.</param>
/// <param name="Bulges">True when the material is inside the round surface (a boss), false when outside (a hole).</param>
/// <param name="Low">Lower corner of its box.</param>
/// <param name="High">Upper corner of its box.</param>
/// <param name="At">A point on the face.</param>
public sealed record SolidFace(IReadOnlyList<string> Names, SurfaceKind Kind, Point3 Origin, Point3 Direction, double RadiusMm, double MinorRadiusMm, double HalfAngleDegrees,
    bool Bulges, double AreaMm2, Point3 Low, Point3 High, Point3 At)
{
    /// <summary>Whether it bears the name, itself or as a numbered piece: <c>foot.rim#3</c> belongs to <c>foot.rim</c>.</summary>
    public bool Bears(string name) => Names.Any(n => n == name || (n.StartsWith(name, StringComparison.Ordinal) && n.Length > name.Length && n[name.Length] == '#'));

    internal static SolidFace From(JsonElement face)
    {
        SurfaceKind kind = face.GetProperty("type").GetString() switch
        {
            "plane" => SurfaceKind.Plane,
            "cylinder" => SurfaceKind.Cylinder,
            "cone" => SurfaceKind.Cone,
            "sphere" => SurfaceKind.Sphere,
            "torus" => SurfaceKind.Torus,
            _ => SurfaceKind.Other,
        };
        double Or0(string name) => face.TryGetProperty(name, out JsonElement value) ? value.GetDouble() : 0;
        Point3 PointOr0(string name) => face.TryGetProperty(name, out JsonElement value) ? Point3.From(value) : default;
        JsonElement box = face.GetProperty("boxMm");
        return new([.. face.GetProperty("names").EnumerateArray().Select(n => n.GetString()!)], kind, PointOr0("origin"), PointOr0("direction"), Or0("radius"), Or0("minorRadius"), Or0("halfAngle"),
            face.GetProperty("bulges").GetBoolean(), face.GetProperty("areaMm2").GetDouble(), Point3.From(box[0]), Point3.From(box[1]), Point3.From(face.GetProperty("at")));
    }
}
