using Sparewright.Measure.Quantities;
using Sparewright.Part.Elements;
using Sparewright.Reconcile.Adjust;
using Sparewright.Reconcile.Explain;
using Sparewright.Reconcile.Readings;

namespace Sparewright.Reconcile.Findings;

/// <summary>Readings that cannot all be right, in words.</summary>
internal static class ContradictionFindings
{
    /// <param name="aside">The observations of <paramref name="all"/> that are set aside.</param>
    public static IReadOnlyList<Contradiction> From(IReadOnlyList<WeighedSet> sets, AdjustmentResult all, IReadOnlySet<int> aside, Ledger ledger, PlacedShape shape) =>
        [.. sets.Select(set => Of(set, all, aside.Contains(set.Leader.Suspect.Index), ledger, shape))];

    private static Contradiction Of(WeighedSet set, AdjustmentResult all, bool setAside, Ledger ledger, PlacedShape shape)
    {
        Suspect leader = set.Leader.Suspect;
        string[] names = [.. set.Rivals(Reconciliation.OddsToSetAside).Select(m => m.Suspect.Name)];
        LedgerEntry? entry = ledger.Entries.FirstOrDefault(e => e.Reading.Id == leader.Name);
        AdjustedObservation observation = all.Observations[leader.Index];
        double should = entry is not null && setAside ? Ledger.Computed(entry, shape)!.Value.Mm!.Value.Value : observation.Observed - leader.EstimatedGrossError;
        return new(names, set.Leader.Odds, leader.W, observation.Check, observation.Observed, should, setAside, Words(set, names, entry, observation.Observed, should, setAside))
        {
            HowManyWrong = set.HowManyWrong,
            Unit = entry?.Evidence?.Unit ?? Unit.Millimetre,
        };
    }

    private static string Words(WeighedSet set, string[] names, LedgerEntry? leader, double observed, double should, bool setAside)
    {
        string Value(double value) => leader?.Evidence?.Text(value) ?? Shown.Mm(value);
        string says = leader is null ? names[0].StartsWith("likely ", StringComparison.Ordinal) ? $"what is held {names[0]}" : $"the {names[0]}" : $"{names[0]} ({ReadingWords.Of(leader.Reading)})";
        string words = $"{says} says {Value(observed)}; all others together say {Value(should)}";
        if (names.Length == 1) return setAside ? words : $"{words}; the odds that it is this one are too short to set it aside";
        string open = set.HowManyWrong == 1
            ? $"one of {string.Join(", ", names)} is wrong; the readings cannot tell which"
            : $"{set.HowManyWrong} of {string.Join(", ", names)} are wrong; the readings cannot tell which";
        return setAside ? $"{open}; with all of them the part could not be as the other readings have it, so {names[0]} is left out for now: {words}" : open;
    }
}
