using Sparewright.Reconcile.Adjust;
using Sparewright.Reconcile.Readings;

namespace Sparewright.Reconcile.Findings;

/// <summary>The errors that readings share and of which they say something.</summary>
internal static class SharedErrorsTold
{
    /// <summary>One is told when it is known so much better than it was assumed, or is so many standard deviations off zero.</summary>
    private const double ClearlyNarrower = 0.7, ClearlyOff = 1.96;

    /// <returns>Each with its estimate and standard uncertainty, in its own unit.</returns>
    public static IEnumerable<(SharedError Error, double Estimate, double StandardUncertainty)> Of(Ledger ledger, AdjustmentResult result)
    {
        int sizes = ledger.Start.Count;
        Dictionary<string, AdjustedObservation> assumed = result.Observations.Where(o => !o.IsEvidence).ToDictionary(o => o.Name, StringComparer.Ordinal);
        foreach (var (k, error) in ledger.Shared.All.Index())
        {
            double u = result.StandardUncertainty(sizes + k);
            if (u < ClearlyNarrower * error.StandardUncertaintyMm || Math.Abs(assumed[error.Name].W ?? 0) > ClearlyOff) yield return (error, result.Estimates[sizes + k], u);
        }
    }
}
