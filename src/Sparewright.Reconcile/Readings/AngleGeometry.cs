using Sparewright.Measure.Numbers;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;

namespace Sparewright.Reconcile.Readings;

/// <summary>
/// What a protractor shows in the corner of two flat faces: 180° less the angle between their normals away from the material, which is the angle through the material at an outer corner and through the
/// space at an inner one. Of a cone it is the angle from side to side, 2·atan |slope|. (Plain geometry; our own statement of it.)
/// </summary>
internal static class AngleGeometry
{
    /// <summary>Below this sine two faces make no corner.</summary>
    private const double Parallel = 1e-3;

    private const double DegreesPerRadian = 180 / Math.PI;

    /// <summary>In degrees, with derivatives by the sizes.</summary>
    public static JawSpan Span(AngleReading reading, PlacedShape shape)
    {
        if (!shape.Elements.TryGetValue(reading.First.Text, out Element? first)) return CaliperGeometry.Missing(reading.First, shape);
        if (reading.Second is null)
            return first is ConeElement cone
                ? new(2 * DegreesPerRadian * Dual.Atan(Dual.Abs(cone.Slope)), null)
                : Refuse($"`{first.Name}` alone has no angle", "name the flat face that makes the corner with it: [a.top, b.side]");
        if (!shape.Elements.TryGetValue(reading.Second.Text, out Element? second)) return CaliperGeometry.Missing(reading.Second, shape);
        if (first is not FlatElement a || JawRest.IsDatum(first.Name)) return NotFlat(first);
        if (second is not FlatElement b || JawRest.IsDatum(second.Name)) return NotFlat(second);

        Vector across = Vector.Cross(a.Normal, b.Normal);
        double sine = Math.Sqrt(Vector.Dot(across, across).Value);
        if (sine < Parallel) return Refuse($"`{a.Name}` and `{b.Name}` are parallel and make no corner", "measure the distance between them instead");
        return new(DegreesPerRadian * (Math.PI - Dual.Atan2(across.Length, Vector.Dot(a.Normal, b.Normal))), null);
    }

    private static JawSpan NotFlat(Element element) => Refuse($"`{element.Name}` is no flat face of the part, and a protractor cannot lie on it", "name a flat face");

    private static JawSpan Refuse(string reason, string remedy) => new(double.NaN, new(reason, remedy));
}
