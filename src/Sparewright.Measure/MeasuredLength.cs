using System.Globalization;
using Sparewright.Measure.Numbers;
using Sparewright.Measure.Uncertainty;

namespace Sparewright.Measure;

/// <summary>What makes a surface hard to measure; several may hold at once.</summary>
[Flags]
public enum SurfaceState
{
    Sound = 0,
    Soft = 1,
    Worn = 2,
    BrokenEdge = 4,

    /// <summary>The reading spans a glued break.</summary>
    AcrossBreak = 8,
}

/// <summary>A length as an instrument showed it, once or several times.</summary>
/// <param name="ReadsMm">What the display said, uncorrected, mm; at least one.</param>
/// <param name="InRoundHole">Inside jaws stood across the diameter of a round hole, so that their flats make it read small.</param>
public sealed record LengthReading(
    Instrument With, ReadingWay Way, IReadOnlyList<double> ReadsMm, bool InRoundHole = false, SurfaceState Surface = SurfaceState.Sound)
{
    /// <summary>Diameters, roughly, of the round holes on whose far walls inside jaws rest when they span from one feature to another, mm.</summary>
    public IReadOnlyList<double> FarWallDiametersMm { get; init; } = [];
}

/// <summary>Something known to be wrong with what the display said, and put right.</summary>
/// <param name="Mm">Added to the reading.</param>
public sealed record Correction(string Name, double Mm, string How);

/// <summary>A length as measured: the mean of the repeats, corrected, with its uncertainty budget.</summary>
/// <param name="MeanMm">Mean of what the display said.</param>
/// <param name="ValueMm">After the corrections: the best estimate of the true length.</param>
public sealed record MeasuredLength(double MeanMm, double ValueMm, IReadOnlyList<Correction> Corrections, UncertaintyBudget Budget)
{
    /// <summary>The chance that repeats of one length lie at least as far apart as these, by the scatter usual for the instrument (F test of the two variances); 1 when read once.</summary>
    public double ChanceOfScatter { get; private init; } = 1;

    /// <summary>
    /// How surely the assumed repeatability of an instrument is known: as if from this many degrees of freedom, i.e. to about 35 %
    /// (GUM G.4.2: ν ≈ ½ (Δu/u)⁻²; the 35 % is our judgement).
    /// </summary>
    private const double AssumedRepeatabilityDegrees = 4;

    /// <summary>The chord of inside jaws that nobody measured, 0.5 ± 0.2 mm: the range seen on calipers, our judgement.</summary>
    private const double AssumedFlatMm = 0.5, AssumedFlatHalfWidthMm = 0.2;

    /// <summary>A stated chord is taken to be known to ± 0.1 mm: common practice, no source.</summary>
    private const double StatedFlatHalfWidthMm = 0.1;

    /// <summary>
    /// A scale does not err alike all along: so much of the variance of its permissible error is drawn anew at each place, the rest shifts all readings of one way alike.
    /// What a caliper may err more by when it does not read outside is a shift altogether (ISO 13385-1 states it as a limit of the scale shift error; our notes on it, from a maker's catalogue).
    /// How much is which no standard says; the half is our judgement.
    /// </summary>
    private const double FromPlaceToPlace = 0.5;

    /// <summary>Corrects a reading and draws up its budget by the GUM (JCGM 100:2008), each line with where it comes from.</summary>
    /// <exception cref="ArgumentException">No repeats, or one that is not finite.</exception>
    public static MeasuredLength From(LengthReading reading, InstrumentDefaults? defaults = null)
    {
        if (reading.ReadsMm.Count == 0 || !reading.ReadsMm.All(double.IsFinite))
            throw new ArgumentException("a reading needs at least one finite value", nameof(reading));
        defaults ??= InstrumentDefaults.Published;

        double mean = reading.ReadsMm.Average();
        double zero = reading.With.ZeroError ?? 0;
        var corrections = new List<Correction>();
        if (zero != 0) corrections.Add(new("zero error", -zero, $"shows {Text(zero)} mm when closed"));

        double afterZero = mean - zero;
        var lines = new List<BudgetLine> { Repeats(reading, defaults) };
        lines.AddRange(InstrumentLines(reading, defaults, afterZero));
        lines.AddRange(SurfaceLines(reading.Surface, defaults));

        double value = afterZero;
        if (TouchesWithFlats(reading))
        {
            var (flat, halfWidth) = JawFlatOf(reading.With);
            Dual diameter = JawFlat.DiameterMm(Dual.Unknown(0, afterZero), Dual.Unknown(1, flat));
            value = diameter.Value;
            corrections.Add(new("jaw flats in a round hole", value - afterZero, $"D = √(R² + b²), b = {FlatText(reading.With, flat)}"));
            lines = [.. lines.Select(line => line with { StandardUncertaintyMm = line.StandardUncertaintyMm * Math.Abs(diameter.Gradient.By(0)) })];
            lines.Add(BudgetLine.Rectangular("jaw flats", halfWidth * diameter.Gradient.By(1), $"b ± {Text(halfWidth)} mm, rectangular", ErrorReach.SameJawFlats));
        }
        else if (SpansWithFlats(reading))
        {
            var (flat, halfWidth) = JawFlatOf(reading.With);
            Dual missing = reading.FarWallDiametersMm.Where(d => d > flat).Aggregate((Dual)0, (sum, d) => sum + JawFlat.ShortfallMm(d, Dual.Unknown(0, flat)));
            value = afterZero + missing.Value;
            corrections.Add(new("jaw flats on round far walls", missing.Value, $"½(D − √(D² − b²)) at each, b = {FlatText(reading.With, flat)}"));
            lines.Add(BudgetLine.Rectangular("jaw flats", halfWidth * missing.Gradient.By(0), $"b ± {Text(halfWidth)} mm, rectangular", ErrorReach.SameJawFlats));
        }

        return new(mean, value, corrections, new UncertaintyBudget(lines)) { ChanceOfScatter = ScatterOf(reading, defaults) };
    }

    private static bool TouchesWithFlats(LengthReading reading) =>
        reading is { InRoundHole: true, Way: ReadingWay.Inside } && reading.With.Kind.IsCaliper() && reading.With.InsideJawFlat != 0;

    private static bool SpansWithFlats(LengthReading reading) =>
        reading is { FarWallDiametersMm.Count: > 0, Way: ReadingWay.Inside } && reading.With.Kind.IsCaliper() && reading.With.InsideJawFlat != 0;

    private static (double FlatMm, double HalfWidthMm) JawFlatOf(Instrument with) =>
        with.InsideJawFlat is { } stated ? (stated, Math.Min(StatedFlatHalfWidthMm, stated)) : (AssumedFlatMm, AssumedFlatHalfWidthMm);

    private static string FlatText(Instrument with, double flat) => $"{Text(flat)} mm{(with.InsideJawFlat is null ? " assumed" : "")}";

    /// <summary>
    /// Repeats are pooled with the repeatability assumed of the instrument (GUM 4.2.4, the pooled estimate of a well-characterised measurement):
    /// s_p² = (ν₀s₀² + (n−1)s²)/(ν₀ + n − 1), u = s_p/√n. So one reading gets the assumed figure, two equal ones are not believed to be perfect,
    /// many speak for themselves; the t factor for few repeats enters through the degrees of freedom.
    /// </summary>
    private static BudgetLine Repeats(LengthReading reading, InstrumentDefaults defaults)
    {
        int n = reading.ReadsMm.Count;
        double assumed = defaults.Repeatability(reading.With, reading.Way), squares = SquaresOf(reading.ReadsMm);
        double degrees = AssumedRepeatabilityDegrees + n - 1;
        double pooled = Math.Sqrt((AssumedRepeatabilityDegrees * assumed * assumed + squares) / degrees);
        return n == 1
            ? new("repeatability", BudgetKind.B, assumed, degrees, "read once: usual for this kind of instrument")
            : new("repeatability", BudgetKind.A, pooled / Math.Sqrt(n), degrees, $"{n} repeats, s = {Text(Math.Sqrt(squares / (n - 1)))} mm, pooled with {Text(assumed)} mm usual for this kind (GUM 4.2.4), /√{n}");
    }

    private static double ScatterOf(LengthReading reading, InstrumentDefaults defaults)
    {
        int degrees = reading.ReadsMm.Count - 1;
        if (degrees == 0) return 1;
        double assumed = defaults.Repeatability(reading.With, reading.Way), variance = SquaresOf(reading.ReadsMm) / degrees;
        return FisherF.UpperTail(variance / (assumed * assumed), degrees, AssumedRepeatabilityDegrees);
    }

    private static double SquaresOf(IReadOnlyList<double> repeats)
    {
        double mean = repeats.Average();
        return repeats.Sum(value => (value - mean) * (value - mean));
    }

    private static IEnumerable<BudgetLine> InstrumentLines(LengthReading reading, InstrumentDefaults defaults, double lengthMm)
    {
        double resolution = defaults.Resolution(reading.With);
        yield return BudgetLine.Rectangular("resolution", resolution / 2, $"step {Text(resolution)} mm, a/√12 (GUM F.2.2.1)", ErrorReach.ThisReading);

        var (limit, ofScale, source) = defaults.PermissibleError(reading.With, reading.Way, lengthMm);
        double whole = limit * limit / 3, here = FromPlaceToPlace * ofScale * ofScale / 3;
        yield return new("permissible error, as a shift", BudgetKind.B, Math.Sqrt(whole - here), double.PositiveInfinity,
            $"± {Text(limit)} mm, rectangular: {source}; without what differs from place to place", ErrorReach.SameInstrumentAndWay);
        yield return new("permissible error, from place to place", BudgetKind.B, Math.Sqrt(here), double.PositiveInfinity,
            $"half the variance of ± {Text(ofScale)} mm, rectangular: the scale does not err alike all along (our judgement)");

        yield return reading.With.ZeroError is null
            ? BudgetLine.Rectangular("zero error", resolution, "zero not checked: ± one step (common practice, no source)", ErrorReach.SameInstrumentAndWay)
            : BudgetLine.Rectangular("zero error", resolution / 2, "read with the resolution of the display, a/√12", ErrorReach.SameInstrumentAndWay);
    }

    private static IEnumerable<BudgetLine> SurfaceLines(SurfaceState surface, InstrumentDefaults defaults)
    {
        foreach (var (state, name, how) in new[]
        {
            (SurfaceState.Soft, "soft surface", "jaws press it in (frets.com tip 159)"),
            (SurfaceState.Worn, "worn surface", "common practice, no source"),
            (SurfaceState.BrokenEdge, "broken edge", "common practice, no source"),
            (SurfaceState.AcrossBreak, "across a glued break", "common practice, no source"),
        })
            if (surface.HasFlag(state))
                yield return new(name, BudgetKind.B, defaults.SurfaceExtraMm(state), double.PositiveInfinity, how);
    }

    private static string Text(double value) => value.ToString("0.####", CultureInfo.InvariantCulture);
}
