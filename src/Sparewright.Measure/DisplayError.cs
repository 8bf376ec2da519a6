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
    /// A scale that keeps ± L everywhere errs by up to b from place to place and shifts as a whole by no more than is left, L − b: it cannot use up its limit twice. Nobody says how the limit is shared out, so that
    /// every b up to L is as likely as another (our judgement), and within both ranges every value (GUM 4.3.7): the variances are E[b²]/3 = E[(L − b)²]/3 = L²/9 each. Their sum is less than the L²/3 of a rectangle,
    /// which only an instrument has that errs alike all along.
    /// </summary>
    private const double OfLimit = 1.0 / 3;

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

        // What a caliper may err more by when it does not read outside comes from other faces than the scale, and is a shift altogether (ISO 13385-1 states it as a limit of the scale shift error; our notes on it,
        // from a maker's catalogue): limits of two sources add where both are at their worst, their variances where they are independent (GUM 5.1.2).
        var (limit, ofScale, source) = defaults.PermissibleError(with, way, value);
        double jaws = limit - ofScale;
        yield return new("permissible error, as a shift", BudgetKind.B, Math.Sqrt(OfLimit * OfLimit * ofScale * ofScale + jaws * jaws / 3), double.PositiveInfinity,
            $"± {Text(limit)} {unit}: {source}; of the scale's ± {Text(ofScale)} {unit} what is left beside what differs from place to place, a/3{(jaws > 0 ? $", and ± {Text(jaws)} {unit} of the other faces, a/√3" : "")}", ErrorReach.SameInstrumentAndWay);
        yield return new("permissible error, from place to place", BudgetKind.B, OfLimit * ofScale, double.PositiveInfinity,
            $"of ± {Text(ofScale)} {unit} what is left beside the shift, a/3: both together keep the limit", ErrorReach.SamePlace);

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
