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
        SagittaReading sagitta => RoundGeometry.Span(sagitta, sagitta.ChordReadsMm.Average(), shape),
        CounterpartReading counterpart => new(counterpart.Matches.At(shape.Sizes), null),
        ThreadPitchReading pitch => new(pitch.Turns * pitch.Pitch.At(shape.Sizes), null),
        _ => null,
    };

    /// <summary>What the display said, uncorrected.</summary>
    public static IReadOnlyList<double> Reads(Reading reading) => reading switch
    {
        CaliperReading caliper => caliper.ReadsMm,
        AngleReading angle => angle.ReadsDegrees,
        SagittaReading sagitta => sagitta.SagittaReadsMm,
        CounterpartReading counterpart => counterpart.ReadsMm,
        ThreadPitchReading pitch => pitch.ReadsMm,
        _ => [],
    };

    /// <summary>What its instrument shows.</summary>
    public static Unit UnitOf(Reading reading) => reading switch
    {
        AngleReading => Unit.Degree,
        WeightReading or FragmentWeightsReading => Unit.Gram,
        DisplacementReading displacement => displacement.Unit,
        _ => Unit.Millimetre,
    };

    /// <summary>Its place among the observations, whatever its place in the job.</summary>
    public static string OrderKey(Reading reading)
    {
        IReadOnlyList<double> reads = reading switch
        {
            WeightReading weight => weight.ReadsGrams,
            FragmentWeightsReading weights => [.. weights.Fragments.SelectMany(f => f.ReadsGrams).Order()],
            DisplacementReading displacement => displacement.Reads,
            SagittaReading sagitta => [.. sagitta.SagittaReadsMm, .. sagitta.ChordReadsMm],
            _ => Reads(reading),
        };
        return $"{What(reading)} {reading.With} {string.Join(' ', reads.Select(r => r.ToString("R", CultureInfo.InvariantCulture)))}";
    }

    /// <summary>What was measured, on what copy: the same for all readings of the same thing.</summary>
    public static string What(Reading reading)
    {
        string what = reading switch
        {
            CaliperReading r => string.Create(CultureInfo.InvariantCulture,
                $"{r.Way} {string.Join(' ', new[] { r.First.Text, r.Second?.Text }.Order(StringComparer.Ordinal))} {r.Across} {r.AtHeight} {r.Worn} {r.AcrossBreak} {r.Break} {r.Soft} {r.TiltDegrees} {string.Join(' ', r.OverPinsMm)}"),
            AngleReading r => $"angle {r.First} {r.Second}",
            SagittaReading r => $"radius {r.Of}",
            WeightReading r => string.Create(CultureInfo.InvariantCulture, $"weight {r.Of} {r.Density} {r.DensityPlusMinus}"),
            FragmentWeightsReading r => string.Create(CultureInfo.InvariantCulture, $"weights {r.Density} {r.DensityPlusMinus}"),
            DisplacementReading r => $"displacement {r.Of} {r.Unit.Symbol}",
            CounterpartReading r => string.Create(CultureInfo.InvariantCulture, $"counterpart {r.Counterpart} {r.Matches} {r.WithinMm}"),
            ThreadPitchReading r => string.Create(CultureInfo.InvariantCulture, $"thread {r.Pitch} {r.Turns}"),
            _ => reading.Id,
        };
        return $"{what} {reading.Copy}";
    }
}
