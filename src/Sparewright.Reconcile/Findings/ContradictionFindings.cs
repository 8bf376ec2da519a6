using Sparewright.Measure.Quantities;
using Sparewright.Part.Elements;
using Sparewright.Reconcile.Adjust;
using Sparewright.Reconcile.Readings;

namespace Sparewright.Reconcile.Findings;

/// <summary>Readings that cannot all be right, in words.</summary>
internal static class ContradictionFindings
{
    /// <param name="aside">The observations of <paramref name="all"/> that are set aside.</param>
    public static IReadOnlyList<Contradiction> From(SuspectSearch search, AdjustmentResult all, HashSet<int> aside, Ledger ledger, PlacedShape shape) =>
        [.. search.Sets.Select(set => Of(set, all, aside.Contains(set.Leader.Index), ledger, shape))];

    private static Contradiction Of(SuspectSet set, AdjustmentResult all, bool setAside, Ledger ledger, PlacedShape shape)
    {
        Suspect leader = set.Leader;
        LedgerEntry? entry = ledger.Entries.FirstOrDefault(e => e.Reading.Id == leader.Name);
        AdjustedObservation observation = all.Observations[leader.Index];
        double should = entry is not null && setAside ? Ledger.Computed(entry, shape)!.Value.Mm!.Value.Value : observation.Observed - leader.EstimatedGrossError;
        return new([.. set.Members.Select(m => m.Name)], leader.Odds, leader.W, observation.Redundancy, observation.Observed, should, setAside, Words(set, entry, observation.Observed, should, setAside))
        {
            HowManyWrong = set.HowManyWrong,
        };
    }

    private static string Words(SuspectSet set, LedgerEntry? leader, double observed, double should, bool setAside)
    {
        if (!set.IsSingle)
        {
            string[] names = [.. set.Members.Select(m => m.Name)];
            return set.HowManyWrong == 1
                ? $"one of {string.Join(", ", names)} is wrong; the readings cannot tell which"
                : $"{set.HowManyWrong} of {string.Join(", ", names)} are wrong; the readings cannot tell which";
        }

        string says = leader is null ? $"what is held {set.Leader.Name}" : $"{set.Leader.Name} ({ReadingWords.Of(leader.Reading)})";
        string words = $"{says} says {Shown.Mm(observed)}; all others together say {Shown.Mm(should)}";
        return setAside ? words : $"{words}; the odds that it is this one are too short to set it aside";
    }
}
