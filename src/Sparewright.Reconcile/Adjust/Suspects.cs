namespace Sparewright.Reconcile.Adjust;

/// <summary>A reading that may hold a gross error.</summary>
/// <param name="Index">Its place in the problem that was searched.</param>
/// <param name="W">Its test when the suspects before it are left out.</param>
/// <param name="Odds">That it is the wrong one, given that exactly one more is wrong and each was as likely as any other beforehand.</param>
/// <param name="EstimatedGrossError">How much too large it is, if it is the wrong one.</param>
public sealed record Suspect(int Index, string Name, double W, double Odds, double EstimatedGrossError);

/// <summary>Readings of which one is wrong; the readings cannot say which. A set of one is a culprit.</summary>
/// <param name="Members">The most likely first.</param>
public sealed record SuspectSet(IReadOnlyList<Suspect> Members)
{
    public Suspect Leader => Members[0];

    public bool IsSingle => Members.Count == 1;
}

/// <summary>What the search for gross errors found.</summary>
/// <param name="CriticalW">|w| above which a reading is suspect.</param>
/// <param name="Sets">In the order found; empty when no single reading stands out.</param>
/// <param name="Remaining">The adjustment without the leader of each set.</param>
public sealed record SuspectSearch(double CriticalW, IReadOnlyList<SuspectSet> Sets, AdjustmentResult Remaining);

/// <summary>
/// Finds readings that contradict the others: Baarda's data snooping, one at a time, the worst left out before the next search.
/// Two readings whose errors would look alike are never separated: under "only i is wrong" the misfit falls by w_i², so the likelihood ratio of two
/// suspects is exp((w_i² − w_j²)/2), which is 1 where their tests are fully correlated.
/// </summary>
public static class Suspects
{
    /// <summary>Searches at a level for all readings together (chance that good readings raise any alarm).</summary>
    /// <param name="separation">A rival stays in the set unless its leader is this many to one likelier: 0.95 means 19 to 1.</param>
    public static SuspectSearch Find(AdjustmentResult result, double level = 0.05, double separation = 0.95)
    {
        var original = Enumerable.Range(0, result.Observations.Count).ToList();
        int checkedReadings = result.Observations.Count(o => o.IsChecked);
        double critical = Reliability.CriticalW(level, checkedReadings);
        var sets = new List<SuspectSet>();
        var remaining = result;
        while (NextSet(remaining, original, critical, separation) is { } set)
        {
            sets.Add(set);
            int leader = original.IndexOf(set.Leader.Index);
            if (!Adjustment.TrySolve(remaining.Problem.Without(leader, remaining.Estimates), out var without, out _)) break;
            remaining = without;
            original.RemoveAt(leader);
        }

        return new(critical, sets, remaining);
    }

    private static SuspectSet? NextSet(AdjustmentResult result, List<int> original, double critical, double separation)
    {
        if (result.Global.DegreesOfFreedom == 0) return null;
        var tested = result.Observations.Select((observation, at) => (observation, at)).Where(o => o.observation.IsChecked).ToList();
        if (tested.Count == 0) return null;
        double worst = tested.Max(o => Math.Abs(o.observation.W!.Value));
        if (worst <= critical) return null;

        double Likelihood(double w) => Math.Exp(0.5 * (w * w - worst * worst));
        double all = tested.Sum(o => Likelihood(o.observation.W!.Value));
        double least = (1 - separation) / separation;
        return new([.. tested
            .Where(o => Likelihood(o.observation.W!.Value) >= least)
            .OrderByDescending(o => Math.Abs(o.observation.W!.Value)).ThenBy(o => o.at)
            .Select(o => new Suspect(original[o.at], o.observation.Name, o.observation.W!.Value, Likelihood(o.observation.W!.Value) / all, o.observation.EstimatedGrossError!.Value))]);
    }
}
