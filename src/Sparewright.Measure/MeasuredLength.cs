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

    /// <summary>By how much the instrument may have stood askew, degrees; 0 where it did not.</summary>
    public double TiltDegrees { get; init; }
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

    /// <summary>The chord of inside jaws that nobody measured, 0.5 ± 0.2 mm: the range seen on calipers, our judgement.</summary>
    private const double AssumedFlatMm = 0.5, AssumedFlatHalfWidthMm = 0.2;

    /// <summary>A stated chord is taken to be known to ± 0.1 mm: common practice, no source.</summary>
    private const double StatedFlatHalfWidthMm = 0.1;

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
        if (zero != 0) corrections.Add(new("zero error", -zero, $"shows {DisplayError.Text(zero)} mm when closed"));

        double straight = mean - zero;
        BudgetLine[] askew = [];
        if (reading.TiltDegrees > 0)
        {
            var (longer, spread) = Tilt.Of(reading.TiltDegrees);
            askew = [new("tilt", BudgetKind.B, Math.Abs(straight / longer) * spread, double.PositiveInfinity, $"1/cos of an angle within ± {DisplayError.Text(reading.TiltDegrees)}°, each as likely")];
            corrections.Add(new("tilt", straight / longer - straight, $"askew it reads longer by {DisplayError.Text(100 * (longer - 1))} % on average"));
            straight /= longer;
        }

        if (reading.Surface.HasFlag(SurfaceState.Soft))
        {
            double pressed = PressedIn(reading.Way, defaults);
            corrections.Add(new("soft surface", pressed, "pressed in by as much as not, on average"));
            straight += pressed;
        }

        double afterZero = straight;
        var lines = new List<BudgetLine>(askew) { DisplayError.Repeats(reading.With, reading.Way, reading.ReadsMm, defaults, "mm") };
        lines.AddRange(DisplayError.Lines(reading.With, reading.Way, defaults, afterZero, "mm"));
        lines.AddRange(SurfaceLines(reading.Surface, defaults));

        double value = afterZero;
        if (TouchesWithFlats(reading))
        {
            var (flat, halfWidth) = JawFlatOf(reading.With);
            Dual diameter = JawFlat.DiameterMm(Dual.Unknown(0, afterZero), Dual.Unknown(1, flat));
            value = diameter.Value;
            corrections.Add(new("jaw flats in a round hole", value - afterZero, $"D = √(R² + b²), b = {FlatText(reading.With, flat)}"));
            lines = [.. lines.Select(line => line with { StandardUncertaintyMm = line.StandardUncertaintyMm * Math.Abs(diameter.Gradient.By(0)) })];
            lines.Add(BudgetLine.Rectangular("jaw flats", halfWidth * diameter.Gradient.By(1), $"b ± {DisplayError.Text(halfWidth)} mm, rectangular", ErrorReach.SameJawFlats));
        }
        else if (SpansWithFlats(reading))
        {
            var (flat, halfWidth) = JawFlatOf(reading.With);
            Dual missing = reading.FarWallDiametersMm.Where(d => d > flat).Aggregate((Dual)0, (sum, d) => sum + JawFlat.ShortfallMm(d, Dual.Unknown(0, flat)));
            value = afterZero + missing.Value;
            corrections.Add(new("jaw flats on round far walls", missing.Value, $"½(D − √(D² − b²)) at each, b = {FlatText(reading.With, flat)}"));
            lines.Add(BudgetLine.Rectangular("jaw flats", halfWidth * missing.Gradient.By(0), $"b ± {DisplayError.Text(halfWidth)} mm, rectangular", ErrorReach.SameJawFlats));
        }

        return new(mean, value, corrections, new UncertaintyBudget(lines)) { ChanceOfScatter = DisplayError.ChanceOfScatter(reading.With, reading.Way, reading.ReadsMm, defaults) };
    }

    private static bool TouchesWithFlats(LengthReading reading) =>
        reading is { InRoundHole: true, Way: ReadingWay.Inside } && reading.With.Kind.IsCaliper() && reading.With.InsideJawFlat != 0;

    private static bool SpansWithFlats(LengthReading reading) =>
        reading is { FarWallDiametersMm.Count: > 0, Way: ReadingWay.Inside } && reading.With.Kind.IsCaliper() && reading.With.InsideJawFlat != 0;

    private static (double FlatMm, double HalfWidthMm) JawFlatOf(Instrument with) =>
        with.InsideJawFlat is { } stated ? (stated, Math.Min(StatedFlatHalfWidthMm, stated)) : (AssumedFlatMm, AssumedFlatHalfWidthMm);

    private static string FlatText(Instrument with, double flat) => $"{DisplayError.Text(flat)} mm{(with.InsideJawFlat is null ? " assumed" : "")}";

    /// <summary>By how much a reading of something soft is put right, mm: outside jaws press it in and read small; inside jaws, a rod and a step press it away and read large. Between nothing and twice this.</summary>
    private static double PressedIn(ReadingWay way, InstrumentDefaults defaults) => (way == ReadingWay.Outside ? 1 : -1) * Math.Sqrt(3) * defaults.SurfaceExtraMm(SurfaceState.Soft);

    private static IEnumerable<BudgetLine> SurfaceLines(SurfaceState surface, InstrumentDefaults defaults)
    {
        foreach (var (state, name, how, reach) in new[]
        {
            (SurfaceState.Soft, "soft surface", "how far jaws press it in (frets.com tip 159)", ErrorReach.SameSoftness),
            (SurfaceState.Worn, "worn surface", "common practice, no source", ErrorReach.ThisReading),
            (SurfaceState.BrokenEdge, "broken edge", "common practice, no source", ErrorReach.ThisReading),
            (SurfaceState.AcrossBreak, "across a glued break", "how far it gapes; common practice, no source", ErrorReach.SameBreak),
        })
            if (surface.HasFlag(state))
                yield return new(name, BudgetKind.B, defaults.SurfaceExtraMm(state), double.PositiveInfinity, how, reach);
    }
}
