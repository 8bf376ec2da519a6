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
    public static IReadOnlyList<ZeroShift> From(Ledger ledger, AdjustmentResult result)
    {
        var shifts = new List<ZeroShift>();
        foreach (var (error, estimate, u) in SharedErrorsTold.Of(ledger, result))
            if (error.Key is { Reach: ErrorReach.SameInstrumentAndWay, Way: { } way }) shifts.Add(new(error.Key.Of, way, estimate, u, error.StandardUncertaintyMm));
        return shifts;
    }
}
