using System.Globalization;
using Sparewright.Measure.Uncertainty;

namespace Sparewright.Measure;

/// <summary>What an instrument's display may be wrong by, whatever it measures; in the unit that it shows.</summary>
internal static class DisplayError
{
    /// <summary>
    /// How surely the assumed repeatability of an instrument is known: as if from this many degrees of freedom, i.e. to about 35 %
    /// (GUM G.4.2: ν ≈ ½ (Δu/u)⁻²; the 35 % is our judgement).
    /// </summary>
    private const double AssumedRepeatabilityDegrees = 4;

    /// <summary>
    /// A scale does not err alike all along: so much of the variance of its permissible error is drawn anew at each place, the rest shifts all readings of one way alike.
    /// What a caliper may err more by when it does not read outside is a shift altogether (ISO 13385-1 states it as a limit of the scale shift error; our notes on it, from a maker's catalogue).
    /// How much is which no standard says; the half is our judgement.
    /// </summary>
    private const double FromPlaceToPlace = 0.5;

    /// <summary>
    /// Repeats are pooled with the repeatability assumed of the instrument (GUM 4.2.4, the pooled estimate of a well-characterised measurement):
    /// s_p² = (ν₀s₀² + (n−1)s²)/(ν₀ + n − 1), u = s_p/√n. So one reading gets the assumed figure, two equal ones are not believed to be perfect,
    /// many speak for themselves; the t factor for few repeats enters through the degrees of freedom.
    /// </summary>
    public static BudgetLine Repeats(Instrument with, ReadingWay way, IReadOnlyList<double> reads, InstrumentDefaults defaults, string unit)
    {
        int n = reads.Count;
        double assumed = defaults.Repeatability(with, way), squares = SquaresOf(reads);
        double degrees = AssumedRepeatabilityDegrees + n - 1;
        double pooled = Math.Sqrt((AssumedRepeatabilityDegrees * assumed * assumed + squares) / degrees);
        return n == 1
            ? new("repeatability", BudgetKind.B, assumed, degrees, "read once: usual for this kind of instrument")
            : new("repeatability", BudgetKind.A, pooled / Math.Sqrt(n), degrees, $"{n} repeats, s = {Text(Math.Sqrt(squares / (n - 1)))} {unit}, pooled with {Text(assumed)} {unit} usual for this kind (GUM 4.2.4), /√{n}");
    }

    /// <summary>The chance that repeats of one value lie at least as far apart as these, by the scatter usual for the instrument (F test of the two variances); 1 when read once.</summary>
    public static double ChanceOfScatter(Instrument with, ReadingWay way, IReadOnlyList<double> reads, InstrumentDefaults defaults)
    {
        int degrees = reads.Count - 1;
        if (degrees == 0) return 1;
        double assumed = defaults.Repeatability(with, way), variance = SquaresOf(reads) / degrees;
        return FisherF.UpperTail(variance / (assumed * assumed), degrees, AssumedRepeatabilityDegrees);
    }

    /// <summary>What the display's step, the permissible error and the zero add.</summary>
    public static IEnumerable<BudgetLine> Lines(Instrument with, ReadingWay way, InstrumentDefaults defaults, double value, string unit)
    {
        double resolution = defaults.Resolution(with);
        yield return BudgetLine.Rectangular("resolution", resolution / 2, $"step {Text(resolution)} {unit}, a/√12 (GUM F.2.2.1)", ErrorReach.ThisReading);

        var (limit, ofScale, source) = defaults.PermissibleError(with, way, value);
        double whole = limit * limit / 3, here = FromPlaceToPlace * ofScale * ofScale / 3;
        yield return new("permissible error, as a shift", BudgetKind.B, Math.Sqrt(whole - here), double.PositiveInfinity,
            $"± {Text(limit)} {unit}, rectangular: {source}; without what differs from place to place", ErrorReach.SameInstrumentAndWay);
        yield return new("permissible error, from place to place", BudgetKind.B, Math.Sqrt(here), double.PositiveInfinity,
            $"half the variance of ± {Text(ofScale)} {unit}, rectangular: the scale does not err alike all along (our judgement)");

        yield return with.ZeroError is null
            ? BudgetLine.Rectangular("zero error", resolution, "zero not checked: ± one step (common practice, no source)", ErrorReach.SameInstrumentAndWay)
            : BudgetLine.Rectangular("zero error", resolution / 2, "read with the resolution of the display, a/√12", ErrorReach.SameInstrumentAndWay);
    }

    public static string Text(double value) => value.ToString("0.####", CultureInfo.InvariantCulture);

    private static double SquaresOf(IReadOnlyList<double> repeats)
    {
        double mean = repeats.Average();
        return repeats.Sum(value => (value - mean) * (value - mean));
    }
}
