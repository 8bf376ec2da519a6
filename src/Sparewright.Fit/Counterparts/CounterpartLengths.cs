using System.Globalization;
using Sparewright.Fit.Tables;
using Sparewright.Measure;
using Sparewright.Measure.Numbers;
using Sparewright.Measure.Quantities;
using Sparewright.Measure.Uncertainty;
using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Readings;

namespace Sparewright.Fit.Counterparts;

/// <summary>
/// How big counterparts are themselves, and how far their holes are apart: from readings with the budget of their instrument, or from limits by standard, between which every length is as likely
/// as another (GUM 4.3.7, a rectangular distribution: u = a/√3).
/// </summary>
/// <param name="instruments">The job's.</param>
/// <param name="sizes">Every size of the job, for nominal sizes that are written with them.</param>
public sealed class CounterpartLengths(IReadOnlyDictionary<string, Instrument> instruments, IReadOnlyDictionary<string, Dual> sizes, InstrumentDefaults? defaults = null)
{
    /// <summary>How well a centre is found by eye, ± mm: common practice, no source.</summary>
    private const double ByEyeMm = 0.2;

    /// <summary>How far a real pitch may be off a nominal one where nothing is said: ISO 2768-1 for lengths.</summary>
    private const string NothingSaid = "nothing said, so ± by ISO 2768-1 class m";

    private readonly InstrumentDefaults _defaults = defaults ?? InstrumentDefaults.Published;

    /// <summary>How big it is at the place that matters: the outside of what enters the part, the inside of what goes over it.</summary>
    /// <exception cref="ArgumentException">The counterpart has no size of its own.</exception>
    public FoundLength SizeOf(Counterpart counterpart)
    {
        bool inside = counterpart.How is Meeting.GoesOver or Meeting.Meets;
        return counterpart.Size switch
        {
            OwnSize.Measured measured => Read(counterpart, measured.ReadsMm, inside ? ReadingWay.Inside : ReadingWay.Outside, inside),
            OwnSize.Told told => Told(told, inside),
            OwnSize.OfThread { Thread: var thread, Place: var place } => OfThread(counterpart.Kind, thread, place),
            OwnSize.OfGauge { Number: var gauge, Place: var place } => Threads.WoodScrews.FirstOrDefault(s => s.Gauge == gauge) is { Screw: { HighMm: > 0 } screw }
                ? Between(screw, $"wood screw of gauge {gauge.ToString(CultureInfo.InvariantCulture)}, 0.060 + 0.013 n in")
                : new Problem(place, $"there is no table for a wood screw of gauge {gauge.ToString(CultureInfo.InvariantCulture)}", $"measure it and write `reads`; the gauges known are {string.Join(", ", Threads.WoodScrews.Select(s => s.Gauge.ToString(CultureInfo.InvariantCulture)))}"),
            OwnSize.OfBearing { Designation: var designation, Place: var place } => Bearings.Of(designation) is var (bore, outer)
                ? Between(inside ? bore : outer, $"{(inside ? "bore" : "outer diameter")} of bearing {designation}, ISO 15 and ISO 492")
                : new Problem(place, $"there is no table for the bearing {designation}", $"measure it and write `reads`, or its `diameter` with `tolerance`{Near(designation, Bearings.All.Select(b => b.Designation))}"),
            _ => throw new ArgumentException("the counterpart has no size of its own", nameof(counterpart)),
        };
    }

    /// <summary>How far its holes are apart.</summary>
    /// <exception cref="ArgumentException">The counterpart has no pitch.</exception>
    public FoundLength PitchOf(Counterpart counterpart)
    {
        switch (counterpart.Pitch)
        {
            case OwnPitch.Told told:
                double nominal = told.Nominal.At(sizes).Value;
                return told.PlusMinusMm is { } plusMinus ? PlusMinus(nominal, plusMinus, "told") : General(nominal, "pitch");
            case OwnPitch.Measured measured:
                FoundLength found = Read(counterpart, measured.ReadsMm, ReadingWay.Outside, inHole: false);
                return found.Value is { } centres
                    ? centres with { Length = new(centres.Length.MeanMm, Math.Sqrt(centres.Length.VarianceMm2 + ByEyeMm * ByEyeMm / 3)), Words = $"{centres.Words}, centres found by eye to ± {Shown.Number(ByEyeMm)} mm (common practice, no source)" }
                    : found;
            case OwnPitch.BetweenWalls walls:
                return BetweenWalls(counterpart, walls);
            default:
                throw new ArgumentException("the counterpart has no pitch", nameof(counterpart));
        }
    }

    /// <summary>Web and span together: half their sum, whatever the diameters. One of them alone: with the holes' own diameter.</summary>
    private FoundLength BetweenWalls(Counterpart counterpart, OwnPitch.BetweenWalls walls)
    {
        double? hole = null;
        FoundLength own = default;
        if (walls.WebReadsMm.Count > 0 && walls.SpanReadsMm.Count > 0) hole = (walls.SpanReadsMm.Average() - walls.WebReadsMm.Average()) / 2;
        else if ((own = SizeOf(counterpart)).Value is { } size) hole = size.Length.MeanMm;
        else return own;

        FoundLength web = walls.WebReadsMm.Count > 0 ? Read(counterpart, walls.WebReadsMm, ReadingWay.Outside, inHole: false) : default;
        FoundLength span = walls.SpanReadsMm.Count > 0 ? Read(counterpart, walls.SpanReadsMm, ReadingWay.Inside, inHole: false, [hole.Value, hole.Value]) : default;
        if ((web.Problem ?? span.Problem) is { } problem) return problem;
        if (web.Value is { } near && span.Value is { } far)
            return new OwnLength(new((near.Length.MeanMm + far.Length.MeanMm) / 2, Math.Sqrt(near.Length.VarianceMm2 + far.Length.VarianceMm2) / 2), $"half of web {near.Words} and span {far.Words}");
        OwnLength wall = (web.Value ?? span.Value)!;
        double sign = web.Value is not null ? 1 : -1;
        return new OwnLength(new(wall.Length.MeanMm + sign * own.Value!.Length.MeanMm, Math.Sqrt(wall.Length.VarianceMm2 + own.Value.Length.VarianceMm2)),
            $"{(sign > 0 ? "web" : "span")} {wall.Words}, {(sign > 0 ? "plus" : "less")} the diameter {own.Value.Words}");
    }

    private FoundLength Read(Counterpart counterpart, IReadOnlyList<double> reads, ReadingWay way, bool inHole, IReadOnlyList<double>? farWalls = null)
    {
        var (with, why) = Instruments.Of(counterpart.With, QuantityKind.Length, instruments);
        if (with is null) return new Problem(counterpart.Place, $"{counterpart.Kind.Name()} `{counterpart.Name}`: {why!.Reason}", why.Remedy);
        SurfaceState surface = counterpart.Kind == CounterpartKind.Hose ? SurfaceState.Soft : SurfaceState.Sound;
        var measured = MeasuredLength.From(new LengthReading(with, way, reads, inHole && counterpart.Kind.IsRound(), surface) { FarWallDiametersMm = farWalls ?? [] }, _defaults);
        string often = reads.Count == 1 ? "read once" : $"read {reads.Count.ToString(CultureInfo.InvariantCulture)} times";
        return new OwnLength(new(measured.ValueMm, Spread(measured.Budget)), $"{Shown.Number(Math.Round(measured.ValueMm, 3))} mm, {often} with {with.Name}", measured);
    }

    /// <summary>The standard deviation of what is known of it: a t distribution of few degrees of freedom is wider than a normal one by √(ν/(ν − 2)).</summary>
    private static double Spread(UncertaintyBudget budget)
    {
        double degrees = Math.Max(3, budget.EffectiveDegreesOfFreedom);
        return budget.StandardUncertaintyMm * (double.IsFinite(degrees) ? Math.Sqrt(degrees / (degrees - 2)) : 1);
    }

    private FoundLength Told(OwnSize.Told told, bool inside)
    {
        double nominal = told.Nominal.At(sizes).Value;
        if (!(nominal > 0)) return new Problem(told.Place, $"its nominal size comes out as {Shown.Number(Math.Round(nominal, 3))} mm", "write a length greater than 0");
        if (told.PlusMinusMm is { } plusMinus) return PlusMinus(nominal, plusMinus, "told");
        if (told.ToleranceClass is not { } text) return General(nominal, "size");
        if (!ToleranceClass.TryRead(text, out ToleranceClass? read, out Refusal? why)) return new Problem(told.Place, why.Reason, why.Remedy);
        if (read.IsHole != inside)
            return new Problem(told.Place, $"{read} is a class of {(read.IsHole ? "holes" : "shafts")}, and this is {(inside ? "a hole" : "what goes into the part")}", $"write {(inside ? read.Letters.ToUpperInvariant() : read.Letters.ToLowerInvariant())}{read.Grade.ToString(CultureInfo.InvariantCulture)} if that is what you mean");
        return read.Of(nominal) is { } limits
            ? Between(limits, $"{Shown.Number(nominal)} {read}, ISO 286-1")
            : new Problem(told.Place, $"the tables of ISO 286 here end at {Shown.Number(ToleranceClass.UpToMm)} mm", "give the ± as `plus_minus`");
    }

    private static FoundLength OfThread(CounterpartKind kind, string thread, Place place)
    {
        (Limits? Limits, IEnumerable<string> Known, string Words) found = kind switch
        {
            CounterpartKind.Nut => (Threads.Nut(thread), Threads.Metric.Select(t => t.Name), $"across the flats of an {thread} nut, h13"),
            CounterpartKind.Insert => (Threads.Inserts.FirstOrDefault(i => i.Thread == thread)?.Outer, Threads.Inserts.Select(i => i.Thread), $"outer diameter of an {thread} heat-set insert, by a seller's chart"),
            _ => (Threads.Screw(thread), Threads.Metric.Select(t => t.Name).Concat(Threads.SelfTapping.Select(t => t.Name)), $"{thread} screw, {(thread[0] == 'M' ? "ISO 965-1 6g" : "ISO 1478")}"),
        };
        return found.Limits is { } limits
            ? Between(limits, found.Words)
            : new Problem(place, $"there is no table for {kind.Name()} {thread}", $"measure it and write `reads`; the threads known are {string.Join(", ", found.Known)}");
    }

    private static OwnLength Between(Limits limits, string words) =>
        new(new((limits.LowMm + limits.HighMm) / 2, (limits.HighMm - limits.LowMm) / Math.Sqrt(12)), $"{Mm(limits.LowMm)} to {Mm(limits.HighMm)} mm: {words}");

    private static OwnLength PlusMinus(double nominal, double plusMinus, string who) => new(new(nominal, plusMinus / 2), $"{Shown.Number(nominal)} ± {Shown.Number(plusMinus)} mm, {who}");

    private static OwnLength General(double nominal, string what)
    {
        double plusMinus = GeneralTolerance.PlusMinusMm(nominal);
        return new(new(nominal, plusMinus / Math.Sqrt(3)), $"{what} {Shown.Number(nominal)} ± {Shown.Number(Math.Round(plusMinus, 3))} mm: {NothingSaid}");
    }

    private static string Near(string word, IEnumerable<string> known) => Spelling.Nearest(word, known) is { } near ? $"; or is it {near}?" : "";

    private static string Mm(double mm) => Shown.Number(Math.Round(mm, 3));
}
