using Sparewright.Measure;
using Sparewright.Measure.Quantities;
using Sparewright.Part.Record;

namespace Sparewright.Reconcile.Readings;

/// <summary>Which instrument a reading was taken with.</summary>
internal static class Instruments
{
    /// <summary>
    /// The one that the reading names; otherwise the job's only caliper, its only instrument for lengths, or, where the job names none, a digital caliper with the usual figures.
    /// </summary>
    public static (Instrument? With, Refusal? Why) Of(CaliperReading reading, IReadOnlyDictionary<string, Instrument> instruments)
    {
        if (reading.With is { } name)
        {
            Instrument named = instruments[name];
            return MeasuresLengths(named)
                ? (named, null)
                : (null, new($"`{name}` is a {named.Kind.Name()}, which does not measure lengths between faces", "name the caliper that it was read with"));
        }

        var lengths = instruments.Values.Where(MeasuresLengths).ToList();
        var calipers = lengths.Where(i => i.Kind.IsCaliper()).ToList();
        if (lengths.Count == 0) return (Instrument.Usual(InstrumentKind.DigitalCaliper), null);
        if (calipers.Count == 1) return (calipers[0], null);
        if (lengths.Count == 1) return (lengths[0], null);
        string[] names = [.. (calipers.Count > 0 ? calipers : lengths).Select(i => $"`{i.Name}`").Order(StringComparer.Ordinal)];
        return (null, new($"it does not say which of {string.Join(", ", names)} it was taken with", "add with: and the instrument's name"));
    }

    private static bool MeasuresLengths(Instrument instrument) => instrument.Kind is not (InstrumentKind.Scale or InstrumentKind.RadiusGauge);
}
