using Sparewright.Measure.Uncertainty;
using Sparewright.Part.Sizes;
using Sparewright.Reconcile.Adjust;
using Quantity = Sparewright.Part.Sizes.Quantity;

namespace Sparewright.Reconcile.Nominals;

/// <summary>By how much a part shrank in its mould from the values on its drawing, as its lengths together say.</summary>
/// <param name="Share">1 − part/drawing; 0.006 is 0.6 %.</param>
/// <param name="StandardUncertainty">Of the share.</param>
/// <param name="Odds">That it shrank at all from round values.</param>
public sealed record MouldShrink(double Share, double StandardUncertainty, double Odds);

/// <summary>What was meant by the sizes of a part.</summary>
/// <param name="Nominals">For each free size, or null: angles, undecided sizes, and those too uncertain for any proposal.</param>
/// <param name="Systems">The systems of grids that are worth a thought, with their odds by all lengths together; they make one.</param>
/// <param name="Shrink">Null where the part cannot have shrunk.</param>
internal sealed record DesignersChoice(IReadOnlyList<Nominal?> Nominals, IReadOnlyList<(DesignSystem System, double Odds)> Systems, MouldShrink? Shrink);

/// <summary>
/// What the designer meant, for all sizes of a part at once. The part is metric or in inches as a whole, and if it was moulded it may have shrunk as a whole: each system's odds are its prior times how well its grids foretell
/// all sizes, and each size's odds are mixed by them. A nominal that is all but certain is then taken as known, and the sizes tied to it by readings are judged anew, narrower (the covariance is conditioned on it).
/// Nothing is rounded here: these are proposals.
/// </summary>
internal static class DesignerMeant
{
    /// <summary>How many parts of a hundred are metric. Our judgement, no source.</summary>
    private const double MetricPrior = 0.85;

    /// <summary>How many moulded parts shrank from round values that nobody had enlarged for it in the mould. Our judgement, no source.</summary>
    private const double ShrunkPrior = 0.1;

    /// <summary>By which shares: below the least it is not told from none, the most is about what unfilled polypropylene and acetal do (from memory).</summary>
    private const double LeastShrink = 0.003, MostShrink = 0.025;

    /// <summary>Shrinking is asked of so many lengths at least, in steps no finer than this.</summary>
    private const int LeastLengthsToShrink = 4;

    private const double FinestShrinkStep = 5e-5;

    /// <summary>A nominal of at least these odds narrows the others.</summary>
    private const double AllButCertain = 0.98;

    /// <summary>A runner-up below these odds is not named; a best below these is no proposal; a system below these is not thought of.</summary>
    private const double WorthNaming = 0.005, WorthProposing = 0.5, WorthAThought = 1e-6;

    /// <summary>What is tied to a settled size is never believed to be known better than this, mm.</summary>
    private const double LeastU = 0.001;

    /// <summary>Values nearer to each other than this are one: they are written with six decimals.</summary>
    private const double SameMm = 1e-6;

    /// <summary>A value that was ruled out rules out those that shrank to within this share of it.</summary>
    private const double SameShrunk = 5e-4;

    private static readonly DesignSystem Metric = new(NominalGrids.Metric, 0), Inch = new(NominalGrids.Inch, 0);

    /// <param name="hardware">The sizes that hardware may ask for.</param>
    /// <param name="moulded">Whether the part was moulded, and may have shrunk.</param>
    public static DesignersChoice Of(IReadOnlyList<Size> free, IReadOnlyDictionary<string, HardwareUse> hardware, AdjustmentResult result, bool moulded = false)
    {
        int n = free.Count;
        var meant = new Nominal?[n];
        int[] lengths = [.. Enumerable.Range(0, n).Where(k => free[k].Quantity == Quantity.Length && result.IsDecided(k) && result.StandardUncertainty(k) > 0)];
        double[] mm = [.. lengths.Select(k => result.Estimates[k])];
        var covariance = new double[lengths.Length, lengths.Length];
        for (int a = 0; a < lengths.Length; a++)
            for (int b = 0; b < lengths.Length; b++) covariance[a, b] = result.Covariance(lengths[a], lengths[b]);

        HardwareUse?[] uses = [.. lengths.Select(k => hardware.GetValueOrDefault(free[k].Name))];
        double[] u = [.. lengths.Select((_, k) => Math.Sqrt(covariance[k, k]))];
        (DesignSystem System, double Prior)[] priors = Priors(mm, u, moulded);
        double[][] logs = [.. mm.Select((x, k) => priors.Select(s => Math.Log(Evidence(s.System, x, u[k], uses[k]))).ToArray())];
        double[] together = [.. priors.Select((s, k) => Math.Log(s.Prior) + logs.Sum(l => l[k]))];
        (DesignSystem System, double Odds)[] systems = Weighed(priors, together);

        var open = Enumerable.Range(0, lengths.Length).ToHashSet();
        // By all the others: its own evidence must not count twice.
        (DesignSystem, double)[][] byOthers = [.. logs.Select(own => Weighed(priors, [.. together.Select((all, k) => all - own[k])]))];
        while (open.Count > 0)
        {
            foreach (int k in open) meant[lengths[k]] = Judge(byOthers[k], mm[k], Math.Sqrt(Math.Max(covariance[k, k], LeastU * LeastU)), free[lengths[k]].NotMeant, uses[k]);
            // The surest first; what it settles makes the next ones surer.
            int surest = open.Where(k => meant[lengths[k]] is { Best: { Odds: >= AllButCertain, ShrunkFromMm: null } }).OrderByDescending(k => meant[lengths[k]]!.Best.Odds).ThenBy(k => k).FirstOrDefault(-1);
            if (surest < 0) break;
            open.Remove(surest);
            Condition(mm, covariance, surest, meant[lengths[surest]]!.Best.Value, open);
        }

        return new(meant, systems, priors.Any(p => p.System.IsShrunk) ? ShrinkOf(systems) : null);
    }

    /// <summary>What one length of which nothing else is known was meant to be.</summary>
    internal static Nominal? Alone(double mm, double u) => Judge([(new(NominalGrids.Mixed, 0), 1.0)], mm, u, [], null);

    /// <summary>The same of a diameter of a part that is known to be metric.</summary>
    internal static Nominal? Alone(double mm, double u, HardwareUse use) => Judge([(Metric, 1.0)], mm, u, [], use);

    private static (DesignSystem System, double Prior)[] Priors(double[] mm, double[] u, bool moulded)
    {
        bool mayShrink = moulded && mm.Length >= LeastLengthsToShrink;
        double asDrawn = mayShrink ? 1 - ShrunkPrior : 1;
        var priors = new List<(DesignSystem, double)> { (Metric, asDrawn * MetricPrior), (Inch, asDrawn * (1 - MetricPrior)) };
        if (!mayShrink) return [.. priors];
        // Half of what all lengths together tell apart.
        double step = Math.Max(FinestShrinkStep, 0.5 * mm.Zip(u, (x, own) => own / x).Min() / Math.Sqrt(mm.Length));
        int steps = Math.Max(1, (int)Math.Ceiling((MostShrink - LeastShrink) / step));
        for (int k = 0; k <= steps; k++)
        {
            double shrink = LeastShrink + k * (MostShrink - LeastShrink) / steps, prior = ShrunkPrior / (steps + 1);
            priors.Add((new(NominalGrids.Metric, shrink), prior * MetricPrior));
            priors.Add((new(NominalGrids.Inch, shrink), prior * (1 - MetricPrior)));
        }

        return [.. priors];
    }

    /// <summary>The systems that are worth a thought, with their odds by the logarithms of their evidence.</summary>
    private static (DesignSystem System, double Odds)[] Weighed((DesignSystem System, double Prior)[] systems, double[] logs)
    {
        double most = logs.Max();
        (DesignSystem System, double Weight)[] worth = [.. systems.Select((s, k) => (s.System, Math.Exp(logs[k] - most))).Where(s => s.Item2 > WorthAThought)];
        double sum = worth.Sum(s => s.Weight);
        return [.. worth.Select(s => (s.System, s.Weight / sum))];
    }

    private static MouldShrink ShrinkOf((DesignSystem System, double Odds)[] systems)
    {
        (DesignSystem System, double Odds)[] shrunk = [.. systems.Where(s => s.System.IsShrunk)];
        double odds = shrunk.Sum(s => s.Odds), mean = shrunk.Sum(s => s.Odds * s.System.Shrink) / odds, square = shrunk.Sum(s => s.Odds * s.System.Shrink * s.System.Shrink) / odds;
        return odds > 0 ? new(mean, Math.Sqrt(Math.Max(0, square - mean * mean)), odds) : new(0, 0, 0);
    }

    /// <summary>A value on the drawing, and all the evidence for it.</summary>
    private sealed class Candidate(double drawnMm, bool shrunk)
    {
        private double _evidence, _mm, _most;
        private GridPoint? _called;

        public double Evidence => _evidence;

        public bool Is(double mm, bool isShrunk) => isShrunk == shrunk && Math.Abs(drawnMm - mm) < SameMm;

        public void Add(GridPoint point, double evidence)
        {
            _evidence += evidence;
            _mm += evidence * point.Mm;
            if (_called is not null && evidence <= _most) return;
            (_called, _most) = (point, evidence);
        }

        public NominalCandidate Told(double total)
        {
            double mm = shrunk ? _mm / _evidence : _called!.Mm;
            string why = shrunk ? NominalCandidate.Shrunk(drawnMm, _called!.Form, mm) : _called!.Form == NominalForm.InchFraction ? NominalCandidate.Exactly(mm, _called.Form) : _called.Words;
            return new(mm, why, _evidence / total) { Form = _called!.Form, ShrunkFromMm = shrunk ? drawnMm : null };
        }
    }

    private static Nominal? Judge((DesignSystem System, double Odds)[] systems, double mm, double u, IReadOnlyList<Meant> ruledOut, HardwareUse? use)
    {
        var candidates = new List<Candidate>();
        double none = 0;
        foreach (var (system, odds) in systems)
        {
            none += odds * NoneDensity(system, use);
            foreach (GridPoint point in Near(system, mm, u, use))
            {
                if (ruledOut.OfType<Meant.Value>().Any(r => Math.Abs(r.MmOrDegrees - point.Mm) < (system.IsShrunk ? SameShrunk * point.Mm : SameMm))) continue;
                double evidence = odds * point.Weight * Normal.Density(mm - point.Mm, u), drawn = point.Mm / (1 - system.Shrink);
                if (evidence == 0) continue;
                if (candidates.Find(c => c.Is(drawn, system.IsShrunk)) is not { } candidate) candidates.Add(candidate = new(drawn, system.IsShrunk));
                candidate.Add(point, evidence);
            }
        }

        double total = none + candidates.Sum(c => c.Evidence);
        var told = candidates.OrderByDescending(c => c.Evidence).Take(2).Select(c => c.Told(total)).OrderByDescending(c => c.Odds).ThenBy(c => c.Value).ToList();
        return told is [var best, ..] && best.Odds >= WorthProposing ? new Nominal(best, told.Count > 1 && told[1].Odds >= WorthNaming ? told[1] : null, none / total) : null;
    }

    private static double Evidence(DesignSystem system, double mm, double u, HardwareUse? use)
    {
        double even = system.NoneDensity + system.Evidence(mm, u);
        return Asks(system, use) ? (1 - use!.Share) * even + use.Near(mm, u).Sum(p => p.Weight * Normal.Density(mm - p.Mm, u)) : even;
    }

    /// <summary>The hardware that we know is metric: in a part in inches it takes nothing from the grids. Nor does it shrink.</summary>
    private static bool Asks(DesignSystem system, HardwareUse? use) => use is not null && ReferenceEquals(system.Grids, NominalGrids.Metric) && !system.IsShrunk;

    private static double NoneDensity(DesignSystem system, HardwareUse? use) => system.NoneDensity * (Asks(system, use) ? 1 - use!.Share : 1);

    /// <summary>A value that hardware asks for and that is on a grid too is called by both, unless the hardware is the likelier.</summary>
    private static IReadOnlyList<GridPoint> Near(DesignSystem system, double mm, double u, HardwareUse? use)
    {
        IReadOnlyList<GridPoint> even = system.Near(mm, u);
        if (!Asks(system, use)) return even;
        var points = use!.Near(mm, u).ToList();
        foreach (GridPoint point in even)
        {
            double weight = (1 - use.Share) * point.Weight;
            int same = points.FindIndex(p => Math.Abs(p.Mm - point.Mm) < SameMm);
            if (same < 0) points.Add(point with { Weight = weight });
            else points[same] = points[same] with { Weight = points[same].Weight + weight, Words = weight > points[same].Weight ? $"{point.Words}, or {points[same].Words}" : points[same].Words };
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
}
