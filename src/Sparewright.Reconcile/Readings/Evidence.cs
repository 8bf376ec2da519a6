using Sparewright.Measure;
using Sparewright.Measure.Quantities;
using Sparewright.Measure.Uncertainty;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;

namespace Sparewright.Reconcile.Readings;

/// <summary>A reading as evidence of the sizes: what was read, corrected; how unsure that is, and what it shares with others; and what the part would show.</summary>
/// <param name="Reads">What the display said, once or repeatedly, in the unit.</param>
/// <param name="Observed">The mean of the repeats, corrected.</param>
/// <param name="Budget">In the unit.</param>
/// <param name="Parts">The same, by what it shares with other readings.</param>
/// <param name="Shows">What the part would show if nothing erred; not a number where the reading cannot be taken at all.</param>
/// <param name="IfRead">The same reading, had the display said something else.</param>
internal sealed record Evidence(Reading Reading, Instrument With, IReadOnlyList<double> Reads, Unit Unit, double Observed, UncertaintyBudget Budget, IReadOnlyList<ErrorPart> Parts,
    Func<PlacedShape, JawSpan> Shows, Func<IReadOnlyList<double>, Evidence> IfRead)
{
    /// <summary>The chance that repeats of one value lie at least as far apart as these.</summary>
    public double ChanceOfScatter { get; init; } = 1;

    /// <summary>What was read besides, and the same reading had the display said something else there; null where nothing was.</summary>
    public (string What, IReadOnlyList<double> Reads, Func<IReadOnlyList<double>, Evidence> IfRead)? AlsoRead { get; init; }

    /// <summary>What the part would show, or why it cannot be read there.</summary>
    public CaliperValue On(PlacedShape shape)
    {
        JawSpan span = Shows(shape);
        return span.Refused is { } why ? new(null, ProblemOf(Reading, why), span.At) : new(span.Mm, null, span.At);
    }

    /// <summary>A value in the unit, for people.</summary>
    public string Text(double value) => Unit.Kind == QuantityKind.Length ? Shown.Mm(value) : Shown.InUnit(value, Unit);

    /// <summary>A refusal at the place of its reading.</summary>
    public static Problem ProblemOf(Reading reading, Refusal why) => new(reading.Place, $"{reading.Id}: {why.Reason}", why.Remedy);
}
