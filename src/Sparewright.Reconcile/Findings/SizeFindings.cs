using Sparewright.Measure.Numbers;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Sizes;
using Sparewright.Reconcile.Adjust;
using Sparewright.Reconcile.Nominals;
using Sparewright.Reconcile.Readings;

namespace Sparewright.Reconcile.Findings;

/// <summary>The sizes as an adjustment leaves them, and which readings decide each.</summary>
internal static class SizeFindings
{
    /// <summary>A reading that carries less than this share of a size's variance does not count as deciding it.</summary>
    private const double LeastShare = 0.05;

    /// <summary>A size rests on a reading that carries this share of its variance; when nothing checks that reading, the size is weak.</summary>
    private const double RestsOnShare = 0.25;

    /// <summary>Below this (<see cref="AdjustedObservation.Check"/>) a reading counts as hardly checked: an error of 13 standard uncertainties may go unnoticed (δ₀/√r with δ₀ = 4.13).</summary>
    private const double HardlyChecked = 0.1;

    /// <summary>Odds from which it is told that the part shrank.</summary>
    private const double WorthTelling = 0.5;

    /// <summary>Every size of the job, in its order, and by how much the part may have shrunk in its mould.</summary>
    public static (IReadOnlyList<ReconciledSize> Sizes, MouldShrink? Shrink) From(Job job, AdjustmentResult result, PlacedShape shape)
    {
        double[][] influences = [.. Enumerable.Range(0, result.Observations.Count).Select(result.Influence)];
        Dictionary<string, int> unknown = job.Sizes.Free.Index().ToDictionary(f => f.Item.Name, f => f.Index, StringComparer.Ordinal);
        DesignersChoice meant = DesignerMeant.Of(job.Sizes.Free, StandardHardware.In(job.Shape), result, moulded: job.MadeBy == MadeBy.Moulding);
        SameSize?[] same = EqualSizes.Of(job.Sizes.Free, SizeUse.In(job.Shape).ToLookup(u => u.Size, u => u.Kind), result, meant.Systems);
        CentredPlace?[] centred = CentredPlaces.Of(job.Sizes.Free, job.Shape, shape, result, meant.Systems);
        HashSet<string> likely = [.. job.Sizes.All.Select(s => Ledger.LikelyId(s.Name))];
        IReadOnlyList<ReconciledSize> sizes = [.. job.Sizes.All.Select(size => Find(size, shape.Sizes[size.Name], result, influences, likely) with
        {
            Nominal = unknown.TryGetValue(size.Name, out int k) ? meant.Nominals[k] : null,
            SameAs = unknown.TryGetValue(size.Name, out int n) ? same[n] : null,
            Centred = unknown.TryGetValue(size.Name, out int c) ? centred[c] : null,
            IsSettled = size.Nominal is not null,
        })];
        return (sizes, meant.Shrink is { Odds: >= WorthTelling } ? meant.Shrink : null);
    }

    private static ReconciledSize Find(Size size, Dual dual, AdjustmentResult result, double[][] influences, HashSet<string> likely)
    {
        DerivedValue value = result.Of(_ => dual);
        if (!value.IsDecided) return new(size.Name, size.Quantity, value.Value, double.PositiveInfinity, [], SizeStatus.Undecided);
        if (value.StandardUncertainty == 0) return new(size.Name, size.Quantity, value.Value, 0, [], SizeStatus.Fixed);

        var shares = Shares(dual.Gradient, result, influences);
        bool weak = shares.Any(s => s.Share >= RestsOnShare && result.Observations[s.Observation].Check < HardlyChecked);
        string[] deciding = [.. shares.Select(s => result.Observations[s.Observation].Name)];
        return new(size.Name, size.Quantity, value.Value, value.StandardUncertainty, [.. deciding.Where(name => !likely.Contains(name))], weak ? SizeStatus.Weak : SizeStatus.Decided)
        {
            AlsoLikely = deciding.Any(likely.Contains),
        };
    }

    /// <summary>
    /// What each observation does to the variance of a size, (∂size/∂observation · u)² with its whole uncertainty u, over all of these; they add up to one. What is only assumed is no evidence.
    /// Small ones are left out, the largest come first.
    /// </summary>
    private static List<(int Observation, double Share)> Shares(Gradient size, AdjustmentResult result, double[][] influences)
    {
        var parts = new double[influences.Length];
        for (int j = 0; j < parts.Length; j++)
        {
            if (!result.Observations[j].IsEvidence) continue;
            double influence = size.Along(influences[j]);
            parts[j] = influence * influence * result.Observations[j].WholeUncertainty * result.Observations[j].WholeUncertainty;
        }

        double all = parts.Sum();
        var shares = parts.Select((part, j) => (Observation: j, Share: part / all)).Where(s => s.Share >= LeastShare);
        return [.. shares.OrderByDescending(s => Math.Round(s.Share, 9)).ThenBy(s => s.Observation)];
    }
}
