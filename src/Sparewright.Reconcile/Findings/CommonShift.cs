using Sparewright.Measure;
using Sparewright.Measure.Uncertainty;
using Sparewright.Reconcile.Adjust;
using Sparewright.Reconcile.Explain;
using Sparewright.Reconcile.Readings;

namespace Sparewright.Reconcile.Findings;

/// <summary>One cause for several wrong readings: an instrument whose zero was not set while it measured in one way.</summary>
/// <param name="Mm">By how much it showed too much.</param>
/// <param name="Ids">Its readings in that way.</param>
public sealed record CommonShift(string Instrument, ReadingWay Way, double Mm, double StandardUncertaintyMm, IReadOnlyList<string> Ids)
{
    /// <summary>What it comes to, around the shift as one writes it: "-0.30 ± 0.04 mm".</summary>
    public string Words(string shift) =>
        $"all readings agree if {Instrument} showed {shift} too much in each {ReadingWords.Way(Way)} reading ({Listed.Of(Ids, 6)}): one zero that was not set rather than several slips. Set it to zero, and take these readings once more";
}

/// <summary>Looks for it where more than one reading must be wrong.</summary>
internal static class CommonShiftFindings
{
    /// <summary>Two readings at least: one alone would agree with whatever is said of it.</summary>
    private const int LeastReadings = 2;

    /// <param name="problem">With all readings, before anything is set aside.</param>
    public static CommonShift? From(IReadOnlyList<WeighedSet> sets, AdjustmentProblem problem, AdjustmentResult all, Ledger ledger)
    {
        if (sets.Sum(s => s.HowManyWrong) < LeastReadings) return null;
        CommonShift? best = null;
        double least = double.PositiveInfinity;
        foreach (var (k, error) in ledger.Shared.All.Index())
        {
            if (error.Key is not { Reach: ErrorReach.SameInstrumentAndWay, Way: { } way }) continue;
            string[] ids = [.. ledger.Entries.Where(e => e.Decides && e.Evidence!.Parts.Any(p => p.Key == error.Key)).Select(e => e.Reading.Id)];
            int assumed = problem.Observations.Index().First(o => !o.Item.IsEvidence && o.Item.Name == error.Name).Index;
            // Without what is assumed of the shift, is nothing at odds any more?
            if (ids.Length < LeastReadings || Adjustment.Without(problem, new HashSet<int> { assumed }, all) is not { } free || !free.IsDecided(ledger.Start.Count + k)
                || !free.Global.Passes(Reconciliation.FalseAlarmLevel) || Suspects.Find(free, Reconciliation.FalseAlarmLevel).Sets.Count > 0 || !(free.Global.ChiSquare < least)) continue;
            least = free.Global.ChiSquare;
            best = new(error.Key.Of, way, free.Estimates[ledger.Start.Count + k], free.StandardUncertainty(ledger.Start.Count + k), ids);
        }

        return best;
    }
}
