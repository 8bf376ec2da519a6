using Sparewright.Measure;
using Sparewright.Measure.Uncertainty;
using Sparewright.Reconcile.Adjust;
using Sparewright.Reconcile.Readings;

namespace Sparewright.Reconcile.Findings;

/// <summary>By how much an instrument reads too large in one way of measuring, as far as the readings say; mm.</summary>
/// <param name="AssumedMm">The standard uncertainty with which it was held to be zero before any reading.</param>
public sealed record ZeroShift(string Instrument, ReadingWay Way, double Mm, double StandardUncertaintyMm, double AssumedMm);

/// <summary>The zero shifts of which the readings say something.</summary>
internal static class ZeroShiftFindings
{
    /// <summary>A shift is told when it is known so much better than it was assumed, or is so many standard deviations off zero.</summary>
    private const double ClearlyNarrower = 0.7, ClearlyOff = 1.96;

    public static IReadOnlyList<ZeroShift> From(Ledger ledger, AdjustmentResult result)
    {
        var shifts = new List<ZeroShift>();
        int sizes = ledger.Start.Count;
        Dictionary<string, AdjustedObservation> assumed = result.Observations.Where(o => !o.IsEvidence).ToDictionary(o => o.Name, StringComparer.Ordinal);
        foreach (var (k, error) in ledger.Shared.All.Index())
        {
            if (error.Key is not { Reach: ErrorReach.SameInstrumentAndWay, Way: { } way }) continue;
            double u = result.StandardUncertainty(sizes + k);
            if (u < ClearlyNarrower * error.StandardUncertaintyMm || Math.Abs(assumed[error.Name].W ?? 0) > ClearlyOff)
                shifts.Add(new(error.Key.Of, way, result.Estimates[sizes + k], u, error.StandardUncertaintyMm));
        }

        return shifts;
    }
}
