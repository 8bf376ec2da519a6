using Sparewright.Measure;
using Sparewright.Measure.Numbers;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Adjust;

namespace Sparewright.Reconcile.Readings;

/// <summary>A reading of the ledger with what its instrument makes of it.</summary>
/// <param name="Measured">The corrected value with its budget; null for what is no length (a weight, gauge leaves).</param>
/// <param name="Decides">False for what is only compared: worn surfaces, gauge leaves, weights.</param>
public sealed record LedgerEntry(Reading Reading, MeasuredLength? Measured, bool Decides);

/// <summary>All readings of a job as evidence: corrected, with uncertainties, and as observations of the sizes.</summary>
public sealed class Ledger
{
    private readonly Job _job;
    private readonly ShapeInHand _shape;

    private Ledger(Job job, IReadOnlyList<LedgerEntry> entries)
    {
        _job = job;
        Entries = entries;
        _shape = new ShapeInHand(job);
    }

    /// <summary>Every reading, in the order of the job.</summary>
    public IReadOnlyList<LedgerEntry> Entries { get; }

    /// <summary>Opens the ledger of a job: corrects every length and draws up its budget.</summary>
    public static Ledger Of(Job job, InstrumentDefaults defaults)
    {
        PlacedShape start = ShapePlacer.Place(job.Shape, job.Sizes.At(StartOf(job)));
        return new Ledger(job, [.. job.Readings.Select(r => Entry(job, r, start, defaults))]);
    }

    /// <summary>Where the search for each free size begins: what is said of it, or 10 (mm or degrees) where nothing is.</summary>
    public static double[] StartOf(Job job) => [.. job.Sizes.Free.Select(s => s.Given switch
    {
        Part.Sizes.Given.About about => about.Value,
        Part.Sizes.Given.Likely likely => likely.Value,
        _ => 10.0,
    })];

    /// <summary>The shape at given free sizes (the one in hand is not placed again).</summary>
    public PlacedShape ShapeAt(ReadOnlySpan<double> free) => _shape.At(free);

    /// <summary>What each entry would read on a shape, or why no caliper can read it there; null for what is no caliper reading.</summary>
    public static CaliperValue? Computed(LedgerEntry entry, PlacedShape shape) =>
        entry.Reading is CaliperReading reading ? CaliperGeometry.Of(reading, shape) : null;

    /// <summary>The deciding entries as observations of the free sizes, and what the job itself holds likely.</summary>
    public IReadOnlyList<Observation> Observations()
    {
        var observations = new List<Observation>();
        foreach (LedgerEntry entry in Entries.Where(e => e.Decides))
        {
            var reading = (CaliperReading)entry.Reading;
            observations.Add(new Observation(reading.Id, entry.Measured!.ValueMm, entry.Measured.Budget.StandardUncertaintyMm,
                sizes => CaliperGeometry.Of(reading, _shape.At(sizes)).Mm ?? double.NaN));
        }

        for (int k = 0; k < _job.Sizes.Free.Count; k++)
        {
            int index = k;
            if (_job.Sizes.Free[k].Given is Part.Sizes.Given.Likely likely)
                observations.Add(new Observation(LikelyId(_job.Sizes.Free[k].Name), likely.Value, likely.PlusMinus / 2, sizes => sizes[index]));
        }

        return observations;
    }

    /// <summary>How what a job holds likely of a size is called among the observations.</summary>
    public static string LikelyId(string size) => $"likely {size}";

    private static LedgerEntry Entry(Job job, Reading reading, PlacedShape start, InstrumentDefaults defaults)
    {
        if (reading is not CaliperReading caliper) return new(reading, null, false);
        bool inHole = caliper is { Way: ReadingWay.Inside, Second: null } && start.Elements.GetValueOrDefault(caliper.First.Text) is RoundElement { Hollow: true };
        SurfaceState surface = (caliper.Worn ? SurfaceState.Worn : 0) | (caliper.AcrossBreak ? SurfaceState.AcrossBreak : 0);
        var length = new LengthReading(InstrumentOf(job, caliper), caliper.Way, caliper.ReadsMm, inHole, surface);
        return new(reading, MeasuredLength.From(length, defaults), !caliper.Worn);
    }

    private static Instrument InstrumentOf(Job job, CaliperReading reading)
    {
        if (reading.With is { } name && job.Instruments.TryGetValue(name, out Instrument? named)) return named;
        return job.Instruments.Values.FirstOrDefault(i => i.Kind.IsCaliper()) ?? Instrument.Usual(InstrumentKind.DigitalCaliper);
    }

    /// <summary>Keeps the shape placed last, so that all observations at the same sizes look at one and the same shape.</summary>
    private sealed class ShapeInHand(Job job)
    {
        private double[]? _sizes;
        private PlacedShape? _shape;

        public PlacedShape At(ReadOnlySpan<double> free)
        {
            if (_shape is not null && free.SequenceEqual(_sizes)) return _shape;
            _sizes = free.ToArray();
            return _shape = ShapePlacer.Place(job.Shape, job.Sizes.At(free));
        }

        public PlacedShape At(ReadOnlySpan<Dual> sizes)
        {
            Span<double> free = sizes.Length <= 512 ? stackalloc double[sizes.Length] : new double[sizes.Length];
            for (int k = 0; k < free.Length; k++) free[k] = sizes[k].Value;
            return At(free);
        }
    }
}
