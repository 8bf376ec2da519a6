using System.Globalization;
using Sparewright.Measure.Quantities;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;

namespace Sparewright.Reconcile.Readings;

/// <summary>What the part would show to each kind of reading, and what the display said; in the reading's own unit.</summary>
internal static class ReadingGeometry
{
    /// <summary>Null for what is no value of the shape: gauge leaves, and what cannot be computed from it.</summary>
    public static JawSpan? Span(Reading reading, PlacedShape shape) => reading switch
    {
        CaliperReading caliper => CaliperGeometry.Span(caliper, shape),
        AngleReading angle => AngleGeometry.Span(angle, shape),
        _ => null,
    };

    /// <summary>What the display said, uncorrected.</summary>
    public static IReadOnlyList<double> Reads(Reading reading) => reading switch
    {
        CaliperReading caliper => caliper.ReadsMm,
        AngleReading angle => angle.ReadsDegrees,
        _ => [],
    };

    /// <summary>What its instrument shows.</summary>
    public static Unit UnitOf(Reading reading) => reading switch
    {
        AngleReading => Unit.Degree,
        WeightReading => Unit.Gram,
        _ => Unit.Millimetre,
    };

    /// <summary>Its place among the observations, whatever its place in the job.</summary>
    public static string OrderKey(Reading reading) => reading switch
    {
        CaliperReading r => string.Create(CultureInfo.InvariantCulture,
            $"{r.Way} {r.First} {r.Second} {r.Across} {r.AtHeight} {r.Worn} {r.AcrossBreak} {r.With} {string.Join(' ', r.ReadsMm)}"),
        AngleReading r => string.Create(CultureInfo.InvariantCulture, $"angle {r.First} {r.Second} {r.With} {string.Join(' ', r.ReadsDegrees)}"),
        _ => reading.Id,
    };
}
