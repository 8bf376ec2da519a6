using Sparewright.Part.Elements;
using Sparewright.Reconcile.Adjust;
using Sparewright.Reconcile.Readings;

namespace Sparewright.Reconcile.Explain;

/// <summary>A suspect with the ways in which it may have gone wrong.</summary>
/// <param name="Odds">That it is the wrong one, these ways weighed in.</param>
internal sealed record WeighedSuspect(Suspect Suspect, double Odds, IReadOnlyList<Explanation> Explanations);

/// <summary>
/// Readings of which some are wrong, the likeliest first. Residuals alone often cannot tell them apart; how each may have gone wrong often can: a value that
/// is right but for two swapped digits is a likelier culprit than one that would have to be off by an odd amount. "Only reading i is wrong" is as
/// likely as the rest fit together without it, e to −χ²/2, times q(observed)·σ/√r: q is the density of all its slips, σ/√r stands for how surely the others foretell it (Bayes' rule). Where one does not
/// explain the contradiction, pairs are weighed in the same way.
/// </summary>
internal sealed record WeighedSet(IReadOnlyList<WeighedSuspect> Members, int HowManyWrong)
{
    public WeighedSuspect Leader => Members[0];

    /// <summary>Those that cannot be told from the leader at these odds; the leader alone when it is a culprit without a rival.</summary>
    public IReadOnlyList<WeighedSuspect> Rivals(double odds) => HowManyWrong != 1 ? Members : [.. Members.Where(m => m == Leader || m.Odds * odds >= Leader.Odds * (1 - odds))];

    /// <summary>Whether the leader alone is the wrong one, at these odds.</summary>
    public bool StandsOut(double odds) => HowManyWrong == 1 && Leader.Odds >= odds;

    /// <summary>Weighs the sets that a search found.</summary>
    public static IReadOnlyList<WeighedSet> Of(SuspectSearch search, AdjustmentProblem problem, AdjustmentResult all, Ledger ledger)
    {
        var sets = new List<WeighedSet>();
        foreach (SuspectSet set in search.Sets)
        {
            int[] others = [.. search.Sets.Where(s => s != set).Select(s => s.Leader.Index)];
            sets.AddRange(set.HowManyWrong switch
            {
                1 => [One(set, others, problem, all, ledger)],
                2 when set.Members.Count <= MostToPair => Two(set, others, problem, all, ledger),
                _ => [AsFound(set, [.. set.Members.Select(m => Explained.Of([m], others, problem, all, ledger).Told[0])])],
            });
        }

        return sets;
    }

    private static WeighedSet AsFound(SuspectSet set, IReadOnlyList<IReadOnlyList<Explanation>> told) => new([.. set.Members.Select((m, k) => new WeighedSuspect(m, m.Odds, told[k]))], set.HowManyWrong);

    private static WeighedSet One(SuspectSet set, int[] others, AdjustmentProblem problem, AdjustmentResult all, Ledger ledger)
    {
        Explained[] alone = [.. set.Members.Select(m => Explained.Of([m], others, problem, all, ledger))];
        if (Explained.Odds(alone) is not { } odds) return AsFound(set, [.. alone.Select(e => e.Told[0])]);
        return new([.. alone.Select((e, k) => new WeighedSuspect(e.Wrong[0], odds[k], e.Told[0])).OrderByDescending(w => Math.Round(w.Odds, 9)).ThenBy(w => w.Suspect.Index)], 1);
    }

    /// <summary>Every pair of the members is taken to be the two wrong ones; a pair that stands out is two culprits.</summary>
    private static WeighedSet[] Two(SuspectSet set, int[] others, AdjustmentProblem problem, AdjustmentResult all, Ledger ledger)
    {
        Explained[] pairs = [.. set.Members.Index().SelectMany(a => set.Members.Skip(a.Index + 1), (a, b) => Explained.Of([a.Item, b], others, problem, all, ledger))];
        if (Explained.Odds(pairs) is not { } odds) return [AsFound(set, [.. set.Members.Select(m => Explained.Of([m], others, problem, all, ledger).Told[0])])];
        WeighedSuspect[] members =
        [
            .. set.Members.Select(m =>
            {
                var its = pairs.Index().Where(p => p.Item.Wrong.Contains(m)).ToList();
                Explained best = its.MaxBy(p => odds[p.Index]).Item;
                return new WeighedSuspect(m, its.Sum(p => odds[p.Index]), best.Told[Array.IndexOf(best.Wrong, m)]);
            }).OrderByDescending(w => Math.Round(w.Odds, 9)).ThenBy(w => w.Suspect.Index),
        ];
        return odds.Max() >= Reconciliation.OddsToSetAside ? [.. members.Take(2).Select(m => new WeighedSet([m], 1))] : [new(members, 2)];
    }

    /// <summary>Of so many suspects every pair is tried.</summary>
    private const int MostToPair = 8;

    /// <summary>Suspects that are taken to be wrong together.</summary>
    /// <param name="Told">How each may have gone wrong.</param>
    /// <param name="LogEvidence">−∞ where they cannot be the wrong ones.</param>
    private sealed record Explained(Suspect[] Wrong, IReadOnlyList<IReadOnlyList<Explanation>> Told, double LogEvidence)
    {
        /// <summary>Of each of some guesses; null where none of them can be.</summary>
        public static double[]? Odds(Explained[] guesses)
        {
            double most = guesses.Max(g => g.LogEvidence), sum = guesses.Sum(g => Math.Exp(g.LogEvidence - most));
            return double.IsFinite(most) ? [.. guesses.Select(g => Math.Exp(g.LogEvidence - most) / sum)] : null;
        }

        /// <param name="others">What else is left out.</param>
        public static Explained Of(Suspect[] wrong, int[] others, AdjustmentProblem problem, AdjustmentResult all, Ledger ledger)
        {
            var none = new Explained(wrong, [.. wrong.Select(_ => (IReadOnlyList<Explanation>)[])], double.NegativeInfinity);
            HashSet<int> left = [.. wrong.Select(w => w.Index), .. others];
            if (Adjustment.Without(problem, left, all) is not { } without) return none;
            PlacedShape shape = ledger.ShapeAt([.. without.Estimates]);
            // Without the wrong ones the part can exist; where it cannot, these are not the wrong ones.
            if (ledger.ProblemsOf(shape).Any()) return none;
            var told = wrong.Select(w => Explain(w, without, shape, problem, ledger)).ToList();
            double log = told.Sum(t => Math.Log(t.Density)) - 0.5 * without.Global.ChiSquare + LogSpread(wrong, all);
            return new(wrong, [.. told.Select(t => t.Told)], double.IsNaN(log) ? double.NegativeInfinity : log);
        }

        /// <summary>How surely the others foretell them: for one σ/√r, for two σᵢσⱼ/√(rᵢrⱼ(1 − ρ²)).</summary>
        private static double LogSpread(Suspect[] wrong, AdjustmentResult all)
        {
            if (wrong is [var only]) return Math.Log(Math.Abs(only.EstimatedGrossError / only.W));
            AdjustedObservation a = all.Observations[wrong[0].Index], b = all.Observations[wrong[1].Index];
            double rho = all.TestCorrelation(wrong[0].Index, wrong[1].Index);
            return Math.Log(a.StandardUncertainty * b.StandardUncertainty) - 0.5 * Math.Log(a.Redundancy * b.Redundancy * (1 - rho * rho));
        }

        /// <summary>The ways in which a suspect may have gone wrong, and how well they foretold it (1/mm).</summary>
        private static (IReadOnlyList<Explanation> Told, double Density) Explain(Suspect suspect, AdjustmentResult without, PlacedShape shape, AdjustmentProblem problem, Ledger ledger) =>
            ledger.Entries.FirstOrDefault(e => e.Reading.Id == suspect.Name) is { } entry && Explanations.Of(entry, without, ledger, shape) is var (told, density)
                ? (told, density)
                : ([], Explanations.Anything(problem.Observations[suspect.Index].Observed - suspect.EstimatedGrossError));
    }
}
