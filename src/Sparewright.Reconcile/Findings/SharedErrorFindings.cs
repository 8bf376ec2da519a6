using Sparewright.Measure.Quantities;
using Sparewright.Measure.Uncertainty;
using Sparewright.Reconcile.Adjust;
using Sparewright.Reconcile.Readings;

namespace Sparewright.Reconcile.Findings;

/// <summary>An error that readings have in common beside their zero shifts, as far as the readings say: the gap of a break, how a copy differs, how far jaws press in.</summary>
/// <param name="Name">"gap of the break, left to right".</param>
/// <param name="AssumedStandardUncertainty">With which it was held to be zero before any reading.</param>
public sealed record SharedErrorFound(string Name, Unit Unit, double Value, double StandardUncertainty, double AssumedStandardUncertainty);

/// <summary>The shared errors of which the readings say something; zero shifts of lengths have a place of their own (<see cref="ZeroShiftFindings"/>).</summary>
internal static class SharedErrorFindings
{
    public static IReadOnlyList<SharedErrorFound> From(Ledger ledger, AdjustmentResult result)
    {
        var found = new List<SharedErrorFound>();
        foreach (var (error, estimate, u) in SharedErrorsTold.Of(ledger, result))
        {
            if (error.Key is { Reach: ErrorReach.SameInstrumentAndWay, Way: not null } or { Reach: ErrorReach.SameJawFlats or ErrorReach.SamePlace }) continue;
            // A copy's share is told in hundredths, whatever was read on it.
            double unit = error.Key.Reach == ErrorReach.SameCopy ? error.StandardUncertaintyMm / (100 * ledger.Copies!.Relative) : 1;
            found.Add(new(error.Name, error.Key.Reach == ErrorReach.SameCopy ? Percent : error.Key.Unit, estimate / unit, u / unit, error.StandardUncertaintyMm / unit));
        }

        return found;
    }

    private static readonly Unit Percent = new("%", QuantityKind.Number, 1);
}
