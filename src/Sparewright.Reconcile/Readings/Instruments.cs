using Sparewright.Measure;
using Sparewright.Measure.Quantities;
using Sparewright.Part.Record;

namespace Sparewright.Reconcile.Readings;

/// <summary>Which instrument a length was read with.</summary>
public static class Instruments
{
    /// <inheritdoc cref="Of(string?, QuantityKind, IReadOnlyDictionary{string, Instrument})"/>
    internal static (Instrument? With, Refusal? Why) Of(Reading reading, QuantityKind shows, IReadOnlyDictionary<string, Instrument> instruments) => Of(reading.With, shows, instruments);

    /// <summary>
    /// The one that is named; otherwise the job's only caliper, its only instrument that shows such a quantity, or, where the job names none, the usual one with the usual figures.
    /// </summary>
    /// <param name="name">As the job says it; null where it does not.</param>
    /// <param name="shows">What was read.</param>
    public static (Instrument? With, Refusal? Why) Of(string? name, QuantityKind shows, IReadOnlyDictionary<string, Instrument> instruments)
    {
        if (name is not null)
        {
            Instrument named = instruments[name];
            return Fits(named, shows)
                ? (named, null)
                : (null, new($"`{name}` is a {named.Kind.Name()}, which does not measure {Noun(shows)}", $"name the {Usual(shows).Name()} that it was read with"));
        }

        var fitting = instruments.Values.Where(i => Fits(i, shows)).ToList();
        var calipers = fitting.Where(i => i.Kind.IsCaliper()).ToList();
        if (fitting.Count == 0) return (Instrument.Usual(Usual(shows)), null);
        if (calipers.Count == 1) return (calipers[0], null);
        if (fitting.Count == 1) return (fitting[0], null);
        string[] names = [.. (calipers.Count > 0 ? calipers : fitting).Select(i => $"`{i.Name}`").Order(StringComparer.Ordinal)];
        return (null, new($"it does not say which of {string.Join(", ", names)} it was taken with", "add with: and the instrument's name"));
    }

    /// <summary>Gauge leaves are no instrument to read lengths with.</summary>
    private static bool Fits(Instrument instrument, QuantityKind shows) => instrument.Kind.Shows() == shows && instrument.Kind != InstrumentKind.RadiusGauge;

    private static InstrumentKind Usual(QuantityKind shows) => shows switch
    {
        QuantityKind.Angle => InstrumentKind.Protractor,
        QuantityKind.Mass => InstrumentKind.Scale,
        QuantityKind.Volume => InstrumentKind.MeasuringCylinder,
        _ => InstrumentKind.DigitalCaliper,
    };

    private static string Noun(QuantityKind shows) => shows switch
    {
        QuantityKind.Angle => "angles",
        QuantityKind.Mass => "weights",
        QuantityKind.Volume => "volumes",
        _ => "lengths between faces",
    };
}
