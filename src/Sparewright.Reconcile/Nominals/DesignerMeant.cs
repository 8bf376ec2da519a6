using Sparewright.Measure.Quantities;
using Sparewright.Measure.Uncertainty;
using Sparewright.Part.Sizes;
using Sparewright.Reconcile.Adjust;
using Quantity = Sparewright.Part.Sizes.Quantity;

namespace Sparewright.Reconcile.Nominals;

/// <summary>
/// What the designer meant, for all sizes of a part at once. The part is metric or in inches as a whole: each system's odds are its prior times how well its grids foretell all sizes,
/// and each size's odds are mixed by them. A nominal that is all but certain is then taken as known, and the sizes tied to it by readings are judged anew, narrower (the covariance is conditioned on it).
/// Nothing is rounded here: these are proposals.
/// </summary>
internal static class DesignerMeant
{
    /// <summary>How many parts of a hundred are metric. Our judgement, no source.</summary>
    private const double MetricPrior = 0.85;

    /// <summary>A nominal of at least these odds narrows the others.</summary>
    private const double AllButCertain = 0.98;

    /// <summary>A runner-up below these odds is not named; a best below these is no proposal.</summary>
    private const double WorthNaming = 0.005, WorthProposing = 0.5;

    /// <summary>What is tied to a settled size is never believed to be known better than this, mm.</summary>
    private const double LeastU = 0.001;

    /// <summary>Values nearer to each other than this are one: they are written with six decimals.</summary>
    private const double SameMm = 1e-6;

    private static readonly (NominalGrids Grids, double Prior)[] Systems = [(NominalGrids.Metric, MetricPrior), (NominalGrids.Inch, 1 - MetricPrior)];

    /// <summary>For each free size what was meant, or null: angles, undecided sizes, and those too uncertain for any proposal.</summary>
    public static Nominal?[] Of(IReadOnlyList<Size> free, AdjustmentResult result)
    {
        int n = free.Count;
        var meant = new Nominal?[n];
        int[] lengths = [.. Enumerable.Range(0, n).Where(k => free[k].Quantity == Quantity.Length && result.IsDecided(k) && result.StandardUncertainty(k) > 0)];
        if (lengths.Length == 0) return meant;
        double[] mm = [.. lengths.Select(k => result.Estimates[k])];
        var covariance = new double[lengths.Length, lengths.Length];
        for (int a = 0; a < lengths.Length; a++)
            for (int b = 0; b < lengths.Length; b++) covariance[a, b] = result.Covariance(lengths[a], lengths[b]);

        double[][] systems = SystemOddsByOthers(mm, covariance);
        var open = Enumerable.Range(0, lengths.Length).ToHashSet();
        while (open.Count > 0)
        {
            foreach (int k in open) meant[lengths[k]] = Judge(mm[k], Math.Sqrt(Math.Max(covariance[k, k], LeastU * LeastU)), systems[k], free[lengths[k]].NotMeant);
            // The surest first; what it settles makes the next ones surer.
            int surest = open.Where(k => meant[lengths[k]] is { } m && m.Best.Odds >= AllButCertain).OrderByDescending(k => meant[lengths[k]]!.Best.Odds).ThenBy(k => k).FirstOrDefault(-1);
            if (surest < 0) break;
            open.Remove(surest);
            Condition(mm, covariance, surest, meant[lengths[surest]]!.Best.Value, open);
        }

        return meant;
    }

    /// <summary>What one length of which nothing else is known was meant to be.</summary>
    internal static Nominal? Alone(double mm, double u) => Judge([(NominalGrids.Mixed, 1.0)], mm, u, []);

    private static Nominal? Judge(double mm, double u, double[] systems, IReadOnlyList<Meant> ruledOut) => Judge([.. Systems.Select((s, k) => (s.Grids, systems[k]))], mm, u, ruledOut);

    private static Nominal? Judge((NominalGrids Grids, double Odds)[] systems, double mm, double u, IReadOnlyList<Meant> ruledOut)
    {
        var candidates = new List<(double Mm, string Words, double Evidence)>();
        double none = 0;
        foreach (var (grids, odds) in systems)
        {
            none += odds * grids.NoneDensity;
            foreach (GridPoint point in grids.Near(mm, u))
            {
                if (ruledOut.OfType<Meant.Value>().Any(r => Math.Abs(r.MmOrDegrees - point.Mm) < SameMm)) continue;
                double evidence = odds * point.Weight * Normal.Density(mm - point.Mm, u);
                int same = candidates.FindIndex(c => Math.Abs(c.Mm - point.Mm) < SameMm);
                if (same < 0) candidates.Add((point.Mm, Words(point), evidence));
                else candidates[same] = (point.Mm, evidence > candidates[same].Evidence ? Words(point) : candidates[same].Words, candidates[same].Evidence + evidence);
            }
        }

        double total = none + candidates.Sum(c => c.Evidence);
        var told = candidates.Select(c => new NominalCandidate(c.Mm, c.Words, c.Evidence / total)).OrderByDescending(c => c.Odds).ThenBy(c => c.Value).Take(2).ToList();
        return told is [var best, ..] && best.Odds >= WorthProposing ? new Nominal(best, told.Count > 1 && told[1].Odds >= WorthNaming ? told[1] : null, none / total) : null;
    }

    /// <summary>For each length the odds of each system of grids by all the others: its own evidence must not count twice.</summary>
    private static double[][] SystemOddsByOthers(double[] mm, double[,] covariance)
    {
        double[][] logs = [.. mm.Select((x, k) => Systems.Select(s => Math.Log(Evidence(s.Grids, x, Math.Sqrt(covariance[k, k])))).ToArray())];
        double[] all = [.. Systems.Select((s, n) => Math.Log(s.Prior) + logs.Sum(l => l[n]))];
        return [.. logs.Select(own =>
        {
            double[] others = [.. all.Select((a, n) => a - own[n])];
            double most = others.Max(), sum = others.Sum(l => Math.Exp(l - most));
            return others.Select(l => Math.Exp(l - most) / sum).ToArray();
        })];
    }

    private static double Evidence(NominalGrids grids, double mm, double u) => grids.NoneDensity + grids.Near(mm, u).Sum(p => p.Weight * Normal.Density(mm - p.Mm, u));

    /// <summary>Takes one length as known: the others move and narrow as far as they are tied to it.</summary>
    private static void Condition(double[] mm, double[,] covariance, int known, double value, HashSet<int> open)
    {
        double variance = Math.Max(covariance[known, known], LeastU * LeastU), off = value - mm[known];
        int[] others = [.. open];
        double[] tie = [.. others.Select(k => covariance[k, known])];
        for (int a = 0; a < others.Length; a++)
        {
            mm[others[a]] += tie[a] / variance * off;
            for (int b = 0; b < others.Length; b++) covariance[others[a], others[b]] -= tie[a] * tie[b] / variance;
        }
    }

    private static string Words(GridPoint point) => point.Words.EndsWith(" in", StringComparison.Ordinal) ? Shown.InchFraction(point.Mm) : point.Words;
}
