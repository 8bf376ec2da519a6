using System.Globalization;

namespace Sparewright.Measure;

/// <summary>What is known of an instrument, filled up with the published or customary figures of its kind (Data/*.csv, where their sources stand).</summary>
public sealed class InstrumentDefaults
{
    /// <summary>DIN 862: inside and depth readings may be wrong by this much more than outside ones.</summary>
    private const double NotOutsideExtraMm = 0.020;

    private readonly Dictionary<string, string[]> _kinds;
    private readonly IReadOnlyList<(double UpToMm, double?[] LimitsMm)> _caliperLimits;
    private readonly Dictionary<string, double> _surfaces;

    private InstrumentDefaults()
    {
        _kinds = DataTable.Rows(typeof(InstrumentDefaults), "instrument-defaults.csv").ToDictionary(row => row[0]);
        _caliperLimits = [.. DataTable.Rows(typeof(InstrumentDefaults), "caliper-error-limits.csv").Select(row =>
            (Number(row[0])!.Value, new[] { Number(row[1]) / 1000, Number(row[2]) / 1000, Number(row[3]) / 1000 }))];
        _surfaces = DataTable.Rows(typeof(InstrumentDefaults), "surface-extras.csv").ToDictionary(row => row[0], row => Number(row[1])!.Value);
    }

    /// <summary>The figures that come with this program.</summary>
    public static InstrumentDefaults Published { get; } = new();

    /// <summary>The smallest step of the display in mm (a scale: g).</summary>
    public double Resolution(Instrument instrument) => instrument.Resolution ?? Number(Row(instrument)[1])!.Value;

    /// <summary>
    /// The largest permissible error in mm (a scale: g) of a reading taken in this way at this length, and where the figure comes from.
    /// A caliper reads inside, depth and step 20 µm less surely than outside, whether its outside limit was stated or comes from the table.
    /// </summary>
    /// <returns>The limit, that part of it which is the scale's and applies outside too, and the source.</returns>
    public (double Limit, double OfScale, string Source) PermissibleError(Instrument instrument, ReadingWay way, double lengthMm)
    {
        var (limit, source) = instrument.Mpe is { } stated ? (stated, "stated for this instrument") : PermissibleErrorOfKind(instrument, Math.Abs(lengthMm));
        return instrument.Kind.IsCaliper() && way != ReadingWay.Outside
            ? (limit + NotOutsideExtraMm, limit, source + ", + 0.020 mm because not outside (DIN 862)")
            : (limit, limit, source);
    }

    /// <summary>The standard deviation of one reading taken again and again, in mm (a scale: g).</summary>
    public double Repeatability(Instrument instrument, ReadingWay way) => Number(Row(instrument)[4 + (int)way])!.Value;

    /// <summary>What one state of the surface adds to a reading's standard uncertainty, mm.</summary>
    public double SurfaceExtraMm(SurfaceState state) => _surfaces[state switch
    {
        SurfaceState.Soft => "soft",
        SurfaceState.Worn => "worn",
        SurfaceState.BrokenEdge => "broken edge",
        SurfaceState.AcrossBreak => "across break",
        _ => throw new ArgumentOutOfRangeException(nameof(state), state, "one state at a time"),
    }];

    private (double Limit, string Source) PermissibleErrorOfKind(Instrument instrument, double lengthMm)
    {
        string[] row = Row(instrument);
        if (Number(row[2]) is { } constant)
            return (constant + (Number(row[3]) ?? 0) * lengthMm / 1000, $"usual for a {instrument.Kind.Name()}");

        int column = instrument.Kind == InstrumentKind.DigitalCaliper ? 2 : Resolution(instrument) < 0.035 ? 1 : 0;
        foreach (var (upTo, limits) in _caliperLimits)
            if (lengthMm <= upTo && limits[column] is { } limit)
                return (limit, $"DIN 862 up to {upTo.ToString(CultureInfo.InvariantCulture)} mm");

        // Beyond the table the last limit grows in proportion: better than a limit that stops growing.
        var (last, atLast) = _caliperLimits.Last(r => r.LimitsMm[column] is not null);
        return (atLast[column]!.Value * lengthMm / last, "DIN 862, in proportion beyond its table");
    }

    private string[] Row(Instrument instrument) => _kinds[instrument.Kind.Name()];

    private static double? Number(string text) => text.Length == 0 ? null : double.Parse(text, CultureInfo.InvariantCulture);
}
