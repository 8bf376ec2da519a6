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
    /// <param name="hardware">The sizes that screws may ask for.</param>
    public static Nominal?[] Of(IReadOnlyList<Size> free, IReadOnlyDictionary<string, HardwareKind> hardware, AdjustmentResult result)
    {
        int n = free.Count;
        var meant = new Nominal?[n];
        int[] lengths = [.. Enumerable.Range(0, n).Where(k => free[k].Quantity == Quantity.Length && result.IsDecided(k) && result.StandardUncertainty(k) > 0)];
        if (lengths.Length == 0) return meant;
        double[] mm = [.. lengths.Select(k => result.Estimates[k])];
        var covariance = new double[lengths.Length, lengths.Length];
        for (int a = 0; a < lengths.Length; a++)
            for (int b = 0; b < lengths.Length; b++) covariance[a, b] = result.Covariance(lengths[a], lengths[b]);

        HardwareKind?[] kinds = [.. lengths.Select(k => hardware.TryGetValue(free[k].Name, out HardwareKind kind) ? kind : (HardwareKind?)null)];
        double[][] systems = SystemOddsByOthers(mm, covariance, kinds);
        var open = Enumerable.Range(0, lengths.Length).ToHashSet();
        while (open.Count > 0)
        {
            foreach (int k in open) meant[lengths[k]] = Judge(mm[k], Math.Sqrt(Math.Max(covariance[k, k], LeastU * LeastU)), systems[k], free[lengths[k]].NotMeant, kinds[k]);
            // The surest first; what it settles makes the next ones surer.
            int surest = open.Where(k => meant[lengths[k]] is { } m && m.Best.Odds >= AllButCertain).OrderByDescending(k => meant[lengths[k]]!.Best.Odds).ThenBy(k => k).FirstOrDefault(-1);
            if (surest < 0) break;
            open.Remove(surest);
            Condition(mm, covariance, surest, meant[lengths[surest]]!.Best.Value, open);
        }

        return meant;
    }

    /// <summary>What one length of which nothing else is known was meant to be.</summary>
    internal static Nominal? Alone(double mm, double u) => Judge([(NominalGrids.Mixed, 1.0)], mm, u, [], null);

    /// <summary>The same of a hole or a countersink of a part that is known to be metric.</summary>
    internal static Nominal? Alone(double mm, double u, HardwareKind kind) => Judge([(NominalGrids.Metric, 1.0)], mm, u, [], kind);

    private static Nominal? Judge(double mm, double u, double[] systems, IReadOnlyList<Meant> ruledOut, HardwareKind? kind) =>
        Judge([.. Systems.Select((s, k) => (s.Grids, systems[k]))], mm, u, ruledOut, kind);

    private static Nominal? Judge((NominalGrids Grids, double Odds)[] systems, double mm, double u, IReadOnlyList<Meant> ruledOut, HardwareKind? kind)
    {
        var candidates = new List<(double Mm, string Words, double Evidence)>();
        double none = 0;
        foreach (var (grids, odds) in systems)
        {
            none += odds * NoneDensity(grids, kind);
            foreach (GridPoint point in Near(grids, mm, u, kind))
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
    private static double[][] SystemOddsByOthers(double[] mm, double[,] covariance, HardwareKind?[] kinds)
    {
        double[][] logs = [.. mm.Select((x, k) => Systems.Select(s => Math.Log(Evidence(s.Grids, x, Math.Sqrt(covariance[k, k]), kinds[k]))).ToArray())];
        double[] all = [.. Systems.Select((s, n) => Math.Log(s.Prior) + logs.Sum(l => l[n]))];
        return [.. logs.Select(own =>
        {
            double[] others = [.. all.Select((a, n) => a - own[n])];
            double most = others.Max(), sum = others.Sum(l => Math.Exp(l - most));
            return others.Select(l => Math.Exp(l - most) / sum).ToArray();
        })];
    }

    /// <summary>The odds of each system of grids by all lengths together.</summary>
    public static IReadOnlyList<(NominalGrids Grids, double Odds)> SystemOdds(IReadOnlyList<Size> free, AdjustmentResult result)
    {
        int[] lengths = [.. Enumerable.Range(0, free.Count).Where(k => free[k].Quantity == Quantity.Length && result.IsDecided(k) && result.StandardUncertainty(k) > 0)];
        double[] logs = [.. Systems.Select(s => Math.Log(s.Prior) + lengths.Sum(k => Math.Log(Evidence(s.Grids, result.Estimates[k], result.StandardUncertainty(k), null))))];
        double most = logs.Max(), sum = logs.Sum(l => Math.Exp(l - most));
        return [.. Systems.Select((s, k) => (s.Grids, Math.Exp(logs[k] - most) / sum))];
    }

    private static double Evidence(NominalGrids grids, double mm, double u, HardwareKind? kind) => NoneDensity(grids, kind) + Near(grids, mm, u, kind).Sum(p => p.Weight * Normal.Density(mm - p.Mm, u));

    /// <summary>The screws that we know are metric: in a part in inches they take nothing from the grids.</summary>
    private static bool Asks(NominalGrids grids, HardwareKind? kind) => kind is not null && ReferenceEquals(grids, NominalGrids.Metric);

    private static double NoneDensity(NominalGrids grids, HardwareKind? kind) => grids.NoneDensity * (Asks(grids, kind) ? 1 - StandardHardware.Share : 1);

    /// <summary>What a screw asks for comes first, and a value that is on a grid too is called by it.</summary>
    private static IReadOnlyList<GridPoint> Near(NominalGrids grids, double mm, double u, HardwareKind? kind)
    {
        IReadOnlyList<GridPoint> even = grids.Near(mm, u);
        if (!Asks(grids, kind)) return even;
        var points = StandardHardware.Near(kind!.Value, mm, u).ToList();
        foreach (GridPoint point in even)
        {
            double weight = (1 - StandardHardware.Share) * point.Weight;
            int same = points.FindIndex(p => Math.Abs(p.Mm - point.Mm) < SameMm);
            if (same < 0) points.Add(point with { Weight = weight });
            else points[same] = points[same] with { Weight = points[same].Weight + weight };
        }

        return points;
    }

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
