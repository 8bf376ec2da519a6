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
/// likely as the rest fit together without it, e to −χ²/2, times q(observed)·σ/√r: q is the density of all its slips, σ/√r stands for how surely the others foretell it (Bayes' rule).
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
            var explained = set.Members.Select(m => (Suspect: m, Told: Explain(m, others, problem, all, ledger))).ToList();
            if (set.HowManyWrong != 1 || explained.All(e => e.Told.Density == 0))
            {
                sets.Add(new([.. explained.Select(e => new WeighedSuspect(e.Suspect, e.Suspect.Odds, e.Told.Told))], set.HowManyWrong));
                continue;
            }

            double[] logs = [.. explained.Select(e => Math.Log(e.Told.Density) - 0.5 * e.Told.Misfit + Math.Log(Math.Abs(e.Suspect.EstimatedGrossError / e.Suspect.W)))];
            double most = logs.Max(), sum = logs.Sum(l => Math.Exp(l - most));
            sets.Add(new([.. explained.Select((e, k) => new WeighedSuspect(e.Suspect, Math.Exp(logs[k] - most) / sum, e.Told.Told))
                .OrderByDescending(w => Math.Round(w.Odds, 9)).ThenBy(w => w.Suspect.Index)], 1));
        }

        return sets;
    }

    /// <summary>The ways in which a suspect may have gone wrong, how well they foretold it (1/mm), and how badly the rest fit together without it (χ²).</summary>
    private static (IReadOnlyList<Explanation> Told, double Density, double Misfit) Explain(Suspect suspect, int[] others, AdjustmentProblem problem, AdjustmentResult all, Ledger ledger)
    {
        HashSet<int> left = [suspect.Index, .. others];
        if (Adjustment.Without(problem, left, all) is not { } without) return ([], 0, 0);
        double misfit = without.Global.ChiSquare;
        PlacedShape shape = ledger.ShapeAt([.. without.Estimates]);
        // Without the wrong one the part can exist; where it cannot, this is not the wrong one.
        if (ledger.ProblemsOf(shape).Any()) return ([], 0, misfit);
        return ledger.Entries.FirstOrDefault(e => e.Reading.Id == suspect.Name) is { } entry && Explanations.Of(entry, without, ledger, shape, PossibleReadings.Of(shape)) is var (told, density)
            ? (told, density, misfit)
            : ([], Explanations.Anything(problem.Observations[suspect.Index].Observed - suspect.EstimatedGrossError), misfit);
    }
}
