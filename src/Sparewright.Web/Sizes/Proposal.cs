using Sparewright.Measure.Quantities;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Nominals;

namespace Sparewright.Web.Sizes;

/// <summary>A value that the designer may have meant, as a window shows it.</summary>
/// <param name="Value">"12 mm", "15/32 in".</param>
/// <param name="Why">"whole mm", or a standard.</param>
public sealed record Proposal(NominalCandidate Of, string Value, string Why, double Odds, string Percent)
{
    /// <summary>The likeliest value and the next; none where no proposal is worth making.</summary>
    public static IReadOnlyList<Proposal> All(ReconciledSize size, LengthUnit unit) =>
        size.Nominal is not { } nominal ? [] : [.. new[] { nominal.Best, nominal.RunnerUp }.OfType<NominalCandidate>().Select(c => From(c, unit))];

    private static Proposal From(NominalCandidate candidate, LengthUnit unit)
    {
        string value = candidate.Text(unit);
        return new(candidate, value, candidate.Why == value ? "a fraction of an inch" : candidate.Why, candidate.Odds, OddsInWords.Percent(candidate.Odds));
    }
}
