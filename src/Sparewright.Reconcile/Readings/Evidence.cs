using Sparewright.Measure.Quantities;
using Sparewright.Measure.Uncertainty;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;

namespace Sparewright.Reconcile.Readings;

/// <summary>A reading as evidence of the sizes: what was read, corrected; how unsure that is, and what it shares with others; and what the part would show.</summary>
/// <param name="Reads">What the display said, once or repeatedly, in the unit.</param>
/// <param name="Resolution">The step of the display.</param>
/// <param name="Observed">The mean of the repeats, corrected.</param>
/// <param name="Budget">In the unit.</param>
/// <param name="Parts">The same, by what it shares with other readings.</param>
/// <param name="Shows">What the part would show if nothing erred; not a number where the reading cannot be taken at all.</param>
/// <param name="OrderKey">Its place among the observations, which must not hang on the order of the job.</param>
/// <param name="IfRead">The same reading, had the display said something else.</param>
internal sealed record Evidence(Reading Reading, IReadOnlyList<double> Reads, double Resolution, Unit Unit, double Observed, UncertaintyBudget Budget, IReadOnlyList<ErrorPart> Parts,
    Func<PlacedShape, JawSpan> Shows, string OrderKey, Func<IReadOnlyList<double>, Evidence> IfRead)
{
    /// <summary>What the part would show, or why it cannot be read there.</summary>
    public CaliperValue On(PlacedShape shape)
    {
        JawSpan span = Shows(shape);
        return span.Refused is { } why ? new(null, ProblemOf(Reading, why), span.At) : new(span.Mm, null, span.At);
    }

    /// <summary>A refusal at the place of its reading.</summary>
    public static Problem ProblemOf(Reading reading, Refusal why) => new(reading.Place, $"{reading.Id}: {why.Reason}", why.Remedy);
}
