using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using Sparewright.Measure;
using Sparewright.Measure.Numbers;
using Sparewright.Measure.Quantities;
using Sparewright.Measure.Uncertainty;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;
using Sparewright.Reconcile.Adjust;

namespace Sparewright.Reconcile.Readings;

/// <summary>A reading of the ledger with what its instrument makes of it.</summary>
/// <param name="Measured">The corrected value with its budget; null for what is no length (a weight, gauge leaves).</param>
/// <param name="Decides">False for what only bounds a size (worn surfaces, gauge leaves) or is only compared (weights).</param>
public sealed record LedgerEntry(Reading Reading, MeasuredLength? Measured, bool Decides)
{
    /// <summary>What it says of the sizes; null for what only says something by gauge leaves, or nothing.</summary>
    internal Evidence? Evidence { get; init; }

    /// <summary>Why it has no say, where that has a reason worth telling.</summary>
    public string? WhyNotUsed { get; init; }
}

/// <summary>All readings of a job as evidence: corrected, with uncertainties, and as observations of the sizes.</summary>
public sealed class Ledger
{
    private readonly Job _job;
    private readonly ShapeInHand _shape;
    private readonly PlacedShape _first;
    private readonly InstrumentDefaults _defaults;
    private readonly PartVolume? _volume;
    private readonly Ring[] _rings;

    private Ledger(Job job, ShapeInHand shape, PlacedShape first, double[] start, InstrumentDefaults defaults, PartVolume? volume)
    {
        (_job, _shape, _first, Start, _defaults, _volume) = (job, shape, first, start, defaults, volume);
        Copies = CopySpread.Of(job);
        Entries = [.. job.Readings.Select(Enter)];
        IReadOnlyList<ErrorPart>[] read = [.. Entries.Where(e => e.Decides || IsBound(e)).Select(e => e.Evidence!.Parts)];
        _rings = [.. RingsOf(job, read)];
        Shared = new(start.Length, read.Concat(_rings.Select(r => r.Parts)));
    }

    /// <summary>Every reading, in the order of the job.</summary>
    public IReadOnlyList<LedgerEntry> Entries { get; }

    /// <summary>The errors that the deciding readings share; unknowns behind the sizes.</summary>
    internal SharedErrors Shared { get; }

    /// <summary>How copies differ, where there are several.</summary>
    internal CopySpread? Copies { get; }

    /// <summary>Where the search for each free size begins, mm or degrees.</summary>
    public IReadOnlyList<double> Start { get; }

    /// <summary>Opens the ledger of a job: finds the instruments and the starting sizes, corrects every length and draws up its budget.</summary>
    /// <param name="problems">Readings that no caliper can take at any sizes, sizes that begin nowhere, instruments that do not fit.</param>
    public static bool TryOpen(Job job, InstrumentDefaults defaults, [NotNullWhen(true)] out Ledger? ledger, out IReadOnlyList<Problem> problems, PartVolume? volume = null)
    {
        ledger = null;
        var shape = new ShapeInHand(job);
        Reading[] readings = [.. job.Readings.Where(r => ReadingGeometry.Reads(r).Count > 0).OrderBy(ReadingGeometry.OrderKey, StringComparer.Ordinal)];
        var (start, sizesWithoutStart) = StartingSizes.Find(job, readings, shape);
        PlacedShape first = shape.At(start);

        Problem[] impossible = [.. readings.Select(r => (r, Span: ReadingGeometry.Span(r, first)!)).Where(t => !t.Span.HasValue).Select(t => Evidence.ProblemOf(t.r, t.Span.Refused!))];
        var instruments = readings.Concat(job.Readings.Where(PartVolume.IsOfVolume)).ToDictionary(r => r.Id, r => Instruments.Of(r, ReadingGeometry.UnitOf(r).Kind, job.Instruments));
        List<Problem> found =
        [
            .. impossible,
            .. impossible.Length > 0 ? first.Problems : [],
            .. sizesWithoutStart,
            .. readings.Concat(job.Readings.Where(PartVolume.IsOfVolume)).Where(r => instruments[r.Id].Why is not null).Select(r => Evidence.ProblemOf(r, instruments[r.Id].Why!)),
            .. job.Readings.OfType<GaugeLeafReading>().Where(r => RoundOf(r, first) is null).Select(r => new Problem(r.Place, $"{r.Id}: there is no edge round or fillet `{r.Round}`", "name a round of the shape")),
        ];
        problems = [.. found.DistinctBy(p => (p.Place, p.What)).OrderBy(p => p.Place.Line).ThenBy(p => p.Place.Column)];
        if (found.Count > 0) return false;

        ledger = new(job, shape, first, start, defaults, volume);
        return true;
    }

    /// <summary>The shape at given free sizes, behind which other unknowns may stand (the one in hand is not placed again).</summary>
    public PlacedShape ShapeAt(ReadOnlySpan<double> unknowns) => _shape.At(unknowns[..Start.Count]);

    /// <summary>What each entry would read on a shape, in its unit, or why it cannot be read there; null for gauge leaves, and for what says nothing.</summary>
    public static CaliperValue? Computed(LedgerEntry entry, PlacedShape shape) => entry.Evidence?.On(shape);

    /// <summary>The round that gauge leaves were held to, or null when the shape has none of that name.</summary>
    public static EdgeFaceElement? RoundOf(GaugeLeafReading reading, PlacedShape shape) =>
        (shape.Elements.GetValueOrDefault(reading.Round + ".face") ?? shape.Elements.GetValueOrDefault(reading.Round)) as EdgeFaceElement;

    /// <summary>
    /// All there is to adjust: the free sizes and the shared errors; the deciding entries as observations of both, what the job itself holds likely, what is assumed of the
    /// shared errors. Their order does not hang on the order of the ledger, so that the last digits of the sums do not either.
    /// </summary>
    public AdjustmentProblem Problem()
    {
        int sizes = Start.Count;
        var observations = new List<Observation>();
        foreach (Evidence evidence in Entries.Where(e => e.Decides).Select(e => e.Evidence!).OrderBy(e => ReadingGeometry.OrderKey(e.Reading), StringComparer.Ordinal))
        {
            ReadingError error = Shared.Of(evidence.Parts);
            observations.Add(new Observation(evidence.Reading.Id, evidence.Observed, error.OwnMm, x => Shared.Shown(evidence.Shows(_shape.At(x[..sizes])).Mm, error, x))
            {
                WholeUncertainty = evidence.Budget.StandardUncertaintyMm,
            });
        }

        foreach (Ring ring in _rings)
        {
            ReadingError error = Shared.Of(ring.Parts);
            observations.Add(new Observation(ring.Name, ring.ObservedMm, error.OwnMm, x => Shared.Shown(ring.SizeMm, error, x)) { IsEvidence = false });
        }

        for (int k = 0; k < sizes; k++)
        {
            int index = k;
            if (_job.Sizes.Free[k].Given is Given.Likely likely)
                observations.Add(new Observation(LikelyId(_job.Sizes.Free[k].Name), likely.Value, likely.PlusMinus / 2, x => x[index]));
        }

        return new([.. _job.Sizes.Free.Select((s, k) => new Unknown(s.Name, Start[k])), .. Shared.All.Select(e => new Unknown(e.Name, 0))], [.. observations, .. Shared.Assumed()]);
    }

    /// <summary>How the error of a reading is made up: one of the job's, or one that it should have been.</summary>
    internal ReadingError ErrorOf(CaliperReading reading, MeasuredLength measured) => Shared.Of(PartsOf(reading, reading.Way, measured.Budget));

    /// <summary>
    /// The own error that a reading would have if it told nothing of what the one reading of the same thing has told already. With p the error of the place, which both have, and e₀ and e of either alone, both together have
    /// the variance p² + 1/(1/e₀² + 1/e²); what that tells more than p² + e₀² is as much as an independent reading of 1/(1/both − 1/before) would tell (adding of informations).
    /// </summary>
    /// <param name="parts">Of its error.</param>
    internal double BesideTheSame(IReadOnlyList<ErrorPart> parts, double ownMm)
    {
        ErrorPart place = parts.FirstOrDefault(p => p.Key?.Reach == ErrorReach.SamePlace);
        if (place.Amount == 0 || Shared.Own([place], ErrorReach.SamePlace) == 0 || Entries.FirstOrDefault(e => e.Decides && e.Evidence!.Parts.Any(p => p.Key == place.Key)) is not { } same) return ownMm;
        double p2 = place.Amount * place.Amount, before = Shared.Of(same.Evidence!.Parts).OwnMm;
        return ReadingError.Beyond(p2, before * before - p2, ownMm * ownMm - p2);
    }

    /// <summary>At which place of its scale a reading would be taken, as the shape looks: one at which readings of the job were taken, or a new one.</summary>
    internal Func<PossibleReading, ErrorKey> Places(PlacedShape shape)
    {
        var places = new Dictionary<(string, ReadingWay, string), ErrorKey>();
        foreach (LedgerEntry entry in Entries)
            if (entry is { Decides: true, Reading: CaliperReading reading } && Computed(entry, shape)?.Mm is { } shows && entry.Evidence!.Parts.FirstOrDefault(p => p.Key?.Reach == ErrorReach.SamePlace).Key is { } key)
                places[(InstrumentOf(reading).Name, reading.Way, ScalePlace.Of(shows, reading.Copy))] = key;
        return possible =>
        {
            string place = ScalePlace.Of(possible.Mm, null);
            return places.GetValueOrDefault((InstrumentOf(possible.Reading).Name, possible.Reading.Way, place)) ?? new(ErrorReach.SamePlace, place, possible.Reading.Way);
        };
    }

    /// <summary>The error of a reading that might be taken, by what it shares with others.</summary>
    /// <param name="at">The place of the scale.</param>
    internal IReadOnlyList<ErrorPart> PartsOf(CaliperReading reading, MeasuredLength measured, ErrorKey at) => PartsOf(reading, reading.Way, measured.Budget, at);

    private IReadOnlyList<ErrorPart> PartsOf(Reading reading, ReadingWay? way, UncertaintyBudget budget, ErrorKey? at = null)
    {
        Instrument with = InstrumentOf(reading);
        ErrorKey Key(ErrorReach reach) => reach switch
        {
            ErrorReach.SameSoftness => new(reach, "how far jaws press soft surfaces in", null),
            ErrorReach.SameBreak => new(reach, BreakOf((CaliperReading)reading), null),
            ErrorReach.SameCopy => new(reach, CopySpread.NameOf(reading), null),
            ErrorReach.SameDensity => new(reach, string.Create(CultureInfo.InvariantCulture, $"{DensityOf(reading):0.####} g/cm³"), null) { Unit = Unit.Gram },
            ErrorReach.SamePlace => at ?? new(reach, $"{with.Name} at {ScalePlace.Of(reading, _first)}", way) { Unit = ReadingGeometry.UnitOf(reading) },
            _ => new(reach, with.Name, way) { Unit = ReadingGeometry.UnitOf(reading) },
        };
        // What is pressed in farther reads smaller between outside jaws, and larger to inside ones and rods.
        return [.. ErrorPart.Of(budget, Key).Select(part => part.Key?.Reach == ErrorReach.SameSoftness && way == ReadingWay.Outside ? part with { Amount = -part.Amount } : part)];
    }

    /// <summary>The break, and the direction in which a reading crosses it: a gap makes all readings along one line longer alike.</summary>
    private string BreakOf(CaliperReading reading)
    {
        string name = reading.Break is { } said ? $"the break {said}" : "the break";
        if (JawContact.Of(reading, _first)?.Along is not { } along) return name;
        double[] d = [along.X.Value, along.Y.Value, along.Z.Value];
        int most = Array.FindIndex(d, c => Math.Abs(c) > 0.999);
        if (most >= 0) return $"{name}, {ReadingWords.Across(((Direction[])[Direction.Right, Direction.Back, Direction.Up])[most])}";
        double sign = Math.Sign(d.First(c => Math.Abs(c) > 1e-3));
        return string.Create(CultureInfo.InvariantCulture, $"{name}, along ({Math.Round(sign * d[0], 2):0.##}, {Math.Round(sign * d[1], 2):0.##}, {Math.Round(sign * d[2], 2):0.##})");
    }

    /// <summary>
    /// What only bounds the sizes. Wear takes material away: an outside reading of a worn surface says that there was at least so much, an inside one at most so much; a depth may have gone either way and says nothing.
    /// A round is bigger than one gauge leaf and smaller than the other, as well as one sees light beside a leaf.
    /// </summary>
    public IReadOnlyList<Bound> Bounds()
    {
        var bounds = new List<(string Key, Bound Bound)>();
        int sizes = Start.Count;
        foreach (LedgerEntry entry in Entries.Where(e => !e.Decides))
            if (entry.Reading is GaugeLeafReading leaf)
            {
                Instrument gauge = leaf.With is { } name ? _job.Instruments[name] : Instrument.Usual(InstrumentKind.RadiusGauge);
                double limit = _defaults.PermissibleError(gauge, ReadingWay.Outside, leaf.SmallerThanMm).Limit, sight = _defaults.Repeatability(gauge, ReadingWay.Outside);
                bounds.Add((string.Create(CultureInfo.InvariantCulture, $"leaf {leaf.Round} {leaf.BiggerThanMm} {leaf.SmallerThanMm}"),
                    new(leaf.Id, leaf.BiggerThanMm, leaf.SmallerThanMm, Math.Sqrt(limit * limit / 3 + sight * sight), x => RoundOf(leaf, _shape.At(x[..sizes]))!.Radius)));
            }
            else if (IsBound(entry))
            {
                Evidence worn = entry.Evidence!;
                ReadingError error = Shared.Of(worn.Parts);
                bool atLeast = entry.Reading is CaliperReading { Way: ReadingWay.Outside };
                bounds.Add((ReadingGeometry.OrderKey(worn.Reading), new(worn.Reading.Id, atLeast ? worn.Observed : double.NegativeInfinity, atLeast ? double.PositiveInfinity : worn.Observed, error.OwnMm,
                    x => Shared.Shown(worn.Shows(_shape.At(x[..sizes])).Mm, error, x))));
            }

        return [.. bounds.OrderBy(b => b.Key, StringComparer.Ordinal).Select(b => b.Bound)];
    }

    private static bool IsBound(LedgerEntry entry) => entry.Reading is CaliperReading { Worn: true, Way: ReadingWay.Outside or ReadingWay.Inside };

    private static readonly BudgetLine PinsLine = BudgetLine.Rectangular("gauge pins", 0.03, "their own size and how upright they stand, ± 0.03 mm together (common practice, no source)", ErrorReach.ThisReading);

    /// <summary>How what a job holds likely of a size is called among the observations; no reading can be called so.</summary>
    public static string LikelyId(string size) => $"likely {size}";

    /// <summary>Why the part cannot be at these sizes, or its readings not be taken there.</summary>
    public IEnumerable<Problem> ProblemsOf(PlacedShape shape) => shape.Problems.Concat(Entries.Select(e => Computed(e, shape)?.Refusal).OfType<Problem>());

    /// <summary>A ring of known size as an instrument showed it, corrected: evidence of how that one reads inside.</summary>
    private sealed record Ring(string Name, double SizeMm, double ObservedMm, IReadOnlyList<ErrorPart> Parts);

    /// <summary>Of the instruments whose inside jaws the readings have used.</summary>
    private IEnumerable<Ring> RingsOf(Job job, IReadOnlyList<ErrorPart>[] read)
    {
        HashSet<ErrorKey> shared = [.. read.SelectMany(parts => parts).Select(p => p.Key).OfType<ErrorKey>()];
        foreach (Instrument with in job.Instruments.Values.Where(i => i.Ring is not null).OrderBy(i => i.Name, StringComparer.Ordinal))
        {
            MeasuredLength measured = MeasuredLength.From(new(with, ReadingWay.Inside, with.Ring!.ReadsMm, InRoundHole: true), _defaults);
            var budget = new UncertaintyBudget([.. measured.Budget.Lines, BudgetLine.Rectangular("size of the ring", RingReading.SizeHalfWidthMm, "common practice, no source", ErrorReach.ThisReading)]);
            IReadOnlyList<ErrorPart> parts = ErrorPart.Of(with, ReadingWay.Inside, budget);
            if (parts.Any(p => p.Key is { } key && shared.Contains(key))) yield return new($"ring of {with.Name}", with.Ring.SizeMm, measured.ValueMm, parts);
        }
    }

    /// <summary>The instrument that a reading was taken with.</summary>
    public Instrument InstrumentOf(Reading reading) => Instruments.Of(reading, ReadingGeometry.UnitOf(reading).Kind, _job.Instruments).With!;

    /// <summary>The step of its display, in the unit that it shows.</summary>
    public double ResolutionOf(Reading reading) => _defaults.Resolution(InstrumentOf(reading));

    /// <summary>A reading corrected, with its budget: one of the job's, or what it would be if the display had said something else.</summary>
    public MeasuredLength Measure(CaliperReading reading)
    {
        // The shape at the starting sizes tells holes from bosses, and how wide the holes are, roughly: enough for what jaw flats lose in them.
        Dual? height = reading.AtHeight?.At(_first.Sizes);
        Element[] touched = [.. new[] { reading.First, reading.Second }.OfType<ElementName>().Select(name => _first.Elements.GetValueOrDefault(name.Text)).OfType<Element>()];
        double[] holes = [.. touched
            .Select(element => JawRest.On(element, height).Jaw).OfType<JawRest.OnRound>().Where(round => round.Hollow).Select(round => 2 * round.Radius.Value)];
        if (reading.OverPinsMm.Count > 0) holes = [];
        SurfaceState surface = (reading.Worn ? SurfaceState.Worn : 0) | (reading.AcrossBreak ? SurfaceState.AcrossBreak : 0) | (reading.Soft ? SurfaceState.Soft : 0)
            // In a hollow cone jaws rest on its rim alone, which is never quite sharp.
            | (touched.Any(e => e is ConeElement { Hollow: true }) ? SurfaceState.BrokenEdge : 0);
        bool acrossHole = reading.Second is null && holes.Length > 0;
        var length = new LengthReading(InstrumentOf(reading), reading.Way, reading.ReadsMm, acrossHole, surface) { FarWallDiametersMm = acrossHole ? [] : holes, TiltDegrees = reading.TiltDegrees };
        MeasuredLength measured = WithCopies(MeasuredLength.From(length, _defaults));
        return reading.OverPinsMm.Count == 0 ? measured : measured with { Budget = new([.. measured.Budget.Lines, PinsLine]) };
    }

    private LedgerEntry Enter(Reading reading) => reading switch
    {
        CaliperReading caliper => new(caliper, Measure(caliper), !caliper.Worn) { Evidence = EvidenceOf(caliper) },
        AngleReading angle => new(angle, null, true) { Evidence = EvidenceOf(angle) },
        SagittaReading sagitta => EntryOf(sagitta),
        WeightReading or FragmentWeightsReading or DisplacementReading when PartVolume.WhyNotUsed(reading, _job.MadeBy) is { } why => new(reading, null, false) { WhyNotUsed = why },
        WeightReading or FragmentWeightsReading or DisplacementReading when _volume is null => new(reading, null, false) { WhyNotUsed = "not used yet: it needs the volume of the exact solid" },
        WeightReading weight => new(weight, null, true) { Evidence = EvidenceOf(weight, _volume) },
        FragmentWeightsReading weights => new(weights, null, true) { Evidence = EvidenceOf(weights, _volume) },
        DisplacementReading displacement => new(displacement, null, true) { Evidence = EvidenceOf(displacement, _volume) },
        ThreadPitchReading pitch => EntryOf(pitch),
        CounterpartReading counterpart => EntryOf(counterpart),
        _ => new(reading, null, false),
    };

    private Evidence EvidenceOf(AngleReading reading)
    {
        Instrument with = InstrumentOf(reading);
        var measured = MeasuredValue.From(with, Unit.Degree, reading.ReadsDegrees, _defaults);
        return new(reading, with, reading.ReadsDegrees, Unit.Degree, measured.Value, measured.Budget, PartsOf(reading, null, measured.Budget), shape => AngleGeometry.Span(reading, shape),
            reads => EvidenceOf(reading with { ReadsDegrees = reads }))
        { ChanceOfScatter = measured.ChanceOfScatter };
    }

    private Evidence EvidenceOf(WeightReading reading, PartVolume volume)
    {
        var measured = MeasuredValue.From(InstrumentOf(reading), Unit.Gram, reading.ReadsGrams, _defaults);
        return OfWhole(reading, reading.ReadsGrams, measured, [DensityLine(measured.Value, reading.Density, reading.DensityPlusMinus)], shape => reading.Density / Mm3PerCm3 * volume.Of(_job, shape), reads => EvidenceOf(reading with { ReadsGrams = reads }, volume));
    }

    /// <summary>Each fragment weighed by itself; what one of them was misread by is what the sum is off by.</summary>
    private Evidence EvidenceOf(FragmentWeightsReading reading, PartVolume volume)
    {
        Instrument scale = InstrumentOf(reading);
        var measured = MeasuredValue.Sum([.. reading.Fragments.Select(f => MeasuredValue.From(scale, Unit.Gram, f.ReadsGrams, _defaults))]);
        return OfWhole(reading, [.. reading.Fragments.Select(f => f.ReadsGrams.Average())], measured, [DensityLine(measured.Value, reading.Density, reading.DensityPlusMinus)], shape => reading.Density / Mm3PerCm3 * volume.Of(_job, shape),
            reads => EvidenceOf(reading with { Fragments = [.. reading.Fragments.Zip(reads, (f, grams) => (f.Fragment, (IReadOnlyList<double>)[grams]))] }, volume));
    }

    private static BudgetLine DensityLine(double grams, double density, double plusMinus) => new("density", BudgetKind.B, grams * plusMinus / 2 / density, double.PositiveInfinity,
        string.Create(CultureInfo.InvariantCulture, $"{density:0.####} ± {plusMinus:0.####} g/cm³ in 95 of 100 cases"), ErrorReach.SameDensity);

    private static double DensityOf(Reading reading) => reading is WeightReading weight ? weight.Density : ((FragmentWeightsReading)reading).Density;

    private Evidence EvidenceOf(DisplacementReading reading, PartVolume volume)
    {
        var measured = MeasuredValue.From(InstrumentOf(reading), reading.Unit, reading.Reads, _defaults);
        bool weighed = reading.Unit.Kind == QuantityKind.Mass;
        List<BudgetLine> lines = [new("bubbles, thread and meniscus", BudgetKind.B, BubblesCm3, double.PositiveInfinity, "common practice, no source")];
        if (weighed) lines.Add(BudgetLine.Rectangular("density of water", measured.Value * WaterHalfWidth, "0.998 ± 0.002 g/cm³ from 10 to 25 °C (usual tables; from memory)", ErrorReach.ThisReading));
        return OfWhole(reading, reading.Reads, measured, lines, shape => (weighed ? WaterGramsPerCm3 : 1) / Mm3PerCm3 * volume.Of(_job, shape), reads => EvidenceOf(reading with { Reads = reads }, volume));
    }

    private const double Mm3PerCm3 = 1000, WaterGramsPerCm3 = 0.998, WaterHalfWidth = 0.002, BubblesCm3 = 0.05;

    private Evidence OfWhole(Reading reading, IReadOnlyList<double> reads, MeasuredValue measured, IReadOnlyList<BudgetLine> besides, Func<PlacedShape, Dual> shows, Func<IReadOnlyList<double>, Evidence> ifRead)
    {
        var budget = new UncertaintyBudget([.. measured.Budget.Lines, .. besides, .. Copies?.Lines(measured.Value, power: 3) ?? []]);
        return new(reading, InstrumentOf(reading), reads, measured.Unit, measured.Value, budget, PartsOf(reading, null, budget), shape => new(shows(shape), null), ifRead) { ChanceOfScatter = measured.ChanceOfScatter };
    }

    /// <summary>A counterpart was made by itself: it matches the part within what lets them go together, and it is of no copy of the part.</summary>
    private LedgerEntry EntryOf(CounterpartReading reading)
    {
        MeasuredLength measured = MeasuredLength.From(new(InstrumentOf(reading), ReadingWay.Outside, reading.ReadsMm), _defaults);
        measured = measured with { Budget = new([.. measured.Budget.Lines, BudgetLine.Rectangular("made to match", reading.WithinMm, string.Create(CultureInfo.InvariantCulture, $"within ± {reading.WithinMm:0.###} mm, rectangular"), ErrorReach.ThisReading)]) };
        return new(reading, measured, true)
        {
            Evidence = new(reading, InstrumentOf(reading), reading.ReadsMm, Unit.Millimetre, measured.ValueMm, measured.Budget, PartsOf(reading, ReadingWay.Outside, measured.Budget),
                shape => ReadingGeometry.Span(reading, shape)!, reads => EntryOf(reading with { ReadsMm = reads }).Evidence!)
            { ChanceOfScatter = measured.ChanceOfScatter },
        };
    }

    private LedgerEntry EntryOf(ThreadPitchReading reading)
    {
        MeasuredLength measured = WithCopies(MeasuredLength.From(new(InstrumentOf(reading), ReadingWay.Outside, reading.ReadsMm), _defaults));
        return new(reading, measured, true)
        {
            Evidence = new(reading, InstrumentOf(reading), reading.ReadsMm, Unit.Millimetre, measured.ValueMm, measured.Budget, PartsOf(reading, ReadingWay.Outside, measured.Budget),
                shape => ReadingGeometry.Span(reading, shape)!, reads => EntryOf(reading with { ReadsMm = reads }).Evidence!)
            { ChanceOfScatter = measured.ChanceOfScatter },
        };
    }

    /// <summary>What is observed is the rise; an error of the chord makes the rise that is expected over it wrong.</summary>
    private LedgerEntry EntryOf(SagittaReading reading)
    {
        Instrument with = InstrumentOf(reading);
        MeasuredLength chord = MeasuredLength.From(new(with, ReadingWay.Outside, reading.ChordReadsMm), _defaults), rise = WithCopies(MeasuredLength.From(new(with, ReadingWay.Depth, reading.SagittaReadsMm), _defaults));
        double byChord = Sagitta.ByChord(chord.ValueMm, rise.ValueMm);
        var both = new UncertaintyBudget([.. rise.Budget.Lines, .. chord.Budget.Lines.Select(line => line with { Name = $"chord: {line.Name}", StandardUncertaintyMm = Math.Abs(byChord) * line.StandardUncertaintyMm })]);
        return new(reading, rise with { Budget = both }, true)
        {
            Evidence = new(reading, with, reading.SagittaReadsMm, Unit.Millimetre, rise.ValueMm, both,
                [.. PartsOf(reading, ReadingWay.Depth, rise.Budget), .. PartsOf(reading, ReadingWay.Outside, chord.Budget).Select(part => part with { Amount = -byChord * part.Amount })],
                shape => RoundGeometry.Span(reading, chord.ValueMm, shape), reads => EntryOf(reading with { SagittaReadsMm = reads }).Evidence!)
            {
                ChanceOfScatter = Math.Min(rise.ChanceOfScatter, chord.ChanceOfScatter),
                AlsoRead = ("the chord", reading.ChordReadsMm, reads => EntryOf(reading with { ChordReadsMm = reads }).Evidence!),
            },
        };
    }

    private MeasuredLength WithCopies(MeasuredLength measured) =>
        Copies is null ? measured : measured with { Budget = new([.. measured.Budget.Lines, .. Copies.Lines(measured.ValueMm)]) };

    private Evidence EvidenceOf(CaliperReading reading)
    {
        MeasuredLength measured = Measure(reading);
        return new(reading, InstrumentOf(reading), reading.ReadsMm, Unit.Millimetre, measured.ValueMm, measured.Budget, PartsOf(reading, reading.Way, measured.Budget), shape => CaliperGeometry.Span(reading, shape),
            reads => EvidenceOf(reading with { ReadsMm = reads }))
        { ChanceOfScatter = measured.ChanceOfScatter };
    }
}
