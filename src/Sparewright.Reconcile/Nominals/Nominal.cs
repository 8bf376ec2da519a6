using Sparewright.Measure.Quantities;

namespace Sparewright.Reconcile.Nominals;

/// <summary>A value that the designer may have meant.</summary>
/// <param name="Value">In mm.</param>
/// <param name="Why">Which grid or standard it stands in: "whole mm", "1/16 in", "ISO 273 clearance for M4".</param>
/// <param name="Odds">That it was this one; all candidates and "no round number" together make one.</param>
public sealed record NominalCandidate(double Value, string Why, double Odds)
{
    private const int Decimals = 6;

    /// <summary>As a job writes it: <c>12.5</c>, <c>15/32 in</c>.</summary>
    public string Written => Why.EndsWith(" in", StringComparison.Ordinal) ? Why : Shown.Number(Math.Round(Value, Decimals));
}

/// <summary>What the designer may have meant by a size.</summary>
/// <param name="Best">The likeliest value.</param>
/// <param name="RunnerUp">The next likeliest, where there is one worth naming.</param>
/// <param name="NoneOdds">That it is no round number at all.</param>
public sealed record Nominal(NominalCandidate Best, NominalCandidate? RunnerUp, double NoneOdds);
