using Sparewright.Measure;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Adjust;
using Sparewright.Reconcile.Explain;
using Sparewright.Reconcile.Readings;

namespace Sparewright.Reconcile.Findings;

/// <summary>Each reading beside what it should have shown, and what became of it.</summary>
internal static class ReadingFindings
{
    private const double OddSetsPerJob = 0.01;

    /// <param name="all">The adjustment with every deciding reading in it.</param>
    /// <param name="final">The one without those set aside.</param>
    /// <param name="sets">Readings that stand in a contradiction, and how each may have gone wrong.</param>
    public static IReadOnlyList<ReconciledReading> From(Ledger ledger, PlacedShape shape, AdjustmentResult all, AdjustmentResult final, IReadOnlyList<Contradiction> contradictions,
        IReadOnlyList<WeighedSet> sets)
    {
        var explained = sets.SelectMany(s => s.Members).ToDictionary(m => m.Suspect.Name, m => m.Explanations, StringComparer.Ordinal);
        var inAll = all.Observations.ToDictionary(o => o.Name, StringComparer.Ordinal);
        var inFinal = final.Observations.ToDictionary(o => o.Name, StringComparer.Ordinal);
        // Of all repeats in a job, one set in a hundred jobs is called apart by mistake.
        double level = OddSetsPerJob / Math.Max(1, ledger.Entries.Count(e => e.Evidence is not null));
        return [.. ledger.Entries.Select(entry => (entry.Decides ? Deciding(entry, shape, inAll, inFinal, contradictions) with { Explanations = explained.GetValueOrDefault(entry.Reading.Id, []) } : Compared(entry, shape, final))
            with { RepeatsApart = entry.Evidence?.ChanceOfScatter < level })];
    }

    private static ReconciledReading Deciding(LedgerEntry entry, PlacedShape shape, Dictionary<string, AdjustedObservation> inAll, Dictionary<string, AdjustedObservation> inFinal, IReadOnlyList<Contradiction> contradictions)
    {
        string id = entry.Reading.Id;
        Contradiction? contradiction = contradictions.FirstOrDefault(c => c.Ids.Contains(id));
        ReadingVerdict verdict = contradiction switch { null => ReadingVerdict.Agrees, { SetAside: true } when contradiction.Ids[0] == id => ReadingVerdict.SetAside, _ => ReadingVerdict.Suspect };
        // A reading set aside is no longer in the final adjustment: its test is the one that found it.
        AdjustedObservation tested = verdict == ReadingVerdict.SetAside ? inAll[id] : inFinal[id];
        double? w = verdict == ReadingVerdict.SetAside ? contradiction!.W : tested.W;
        Evidence evidence = entry.Evidence!;
        return new(entry.Reading, ReadingWords.Of(entry.Reading), entry.Measured, evidence.Observed, evidence.On(shape).Mm?.Value, w, tested.Check, verdict) { Unit = evidence.Unit, Budget = evidence.Budget };
    }

    private static ReconciledReading Compared(LedgerEntry entry, PlacedShape shape, AdjustmentResult final)
    {
        string says = ReadingWords.Of(entry.Reading);
        switch (entry.Reading)
        {
            case GaugeLeafReading leaf:
                var radius = Ledger.RoundOf(leaf, shape)!.Radius;
                double slack = final.Of(_ => radius) is { IsDecided: true } known ? 2 * known.StandardUncertainty : 0;
                bool between = radius.Value >= leaf.BiggerThanMm - slack && radius.Value <= leaf.SmallerThanMm + slack;
                return new(leaf, says, null, null, radius.Value, null, null, between ? ReadingVerdict.Compared : ReadingVerdict.ComparedAndDiffers);
            case CaliperReading worn when Ledger.Computed(entry, shape)?.Mm is { } adjusted:
                double observed = entry.Measured!.ValueMm, own = entry.Measured.Budget.StandardUncertaintyMm;
                double of = final.Of(_ => adjusted) is { IsDecided: true } predicted ? predicted.StandardUncertainty : 0;
                return new(worn, says, entry.Measured, observed, adjusted.Value, null, null,
                    Excess(worn.Way, observed, adjusted.Value) > 2 * Math.Sqrt(own * own + of * of) ? ReadingVerdict.ComparedAndDiffers : ReadingVerdict.Compared)
                { Budget = entry.Measured.Budget };
            default:
                return new(entry.Reading, says, null, null, null, null, null, ReadingVerdict.Compared) { WhyNotUsed = entry.WhyNotUsed };
        }
    }

    /// <summary>How far a worn surface reads beyond what wear can do, mm: it takes material away, so that outside reads small and inside big; a depth may go either way.</summary>
    private static double Excess(ReadingWay way, double observed, double adjusted) => way switch
    {
        ReadingWay.Outside => observed - adjusted,
        ReadingWay.Inside => adjusted - observed,
        _ => double.NegativeInfinity,
    };
}
