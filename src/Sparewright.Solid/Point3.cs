using System.Text.Json;
using Sparewright.Measure.Numbers;

namespace Sparewright.Solid;

/// <summary>A point (mm) or direction in the job's axes, as plain numbers.</summary>
public readonly record struct Point3(double X, double Y, double Z)
{
    public double Length => Math.Sqrt(Dot(this, this));

    public static Point3 operator +(Point3 a, Point3 b) => new(a.X + b.X, a.Y + b.Y, a.Z + b.Z);

    public static Point3 operator -(Point3 a, Point3 b) => new(a.X - b.X, a.Y - b.Y, a.Z - b.Z);

    public static Point3 operator *(Point3 a, double factor) => new(a.X * factor, a.Y * factor, a.Z * factor);

    public static double Dot(Point3 a, Point3 b) => a.X * b.X + a.Y * b.Y + a.Z * b.Z;

    public static Point3 Cross(Point3 a, Point3 b) => new(a.Y * b.Z - a.Z * b.Y, a.Z * b.X - a.X * b.Z, a.X * b.Y - a.Y * b.X);

    /// <summary>The values of a vector, without its derivatives.</summary>
    public static Point3 Of(Vector v) => new(v.X.Value, v.Y.Value, v.Z.Value);

    internal static Point3 From(JsonElement triple) => new(triple[0].GetDouble(), triple[1].GetDouble(), triple[2].GetDouble());

    internal void WriteTo(Utf8JsonWriter json, string name)
    {
        json.WriteStartArray(name);
        json.WriteNumberValue(X);
        json.WriteNumberValue(Y);
        json.WriteNumberValue(Z);
        json.WriteEndArray();
    }
}
