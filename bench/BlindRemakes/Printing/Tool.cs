using Sparewright.Part;
using Sparewright.Reconcile.Findings;
using Sparewright.Remake;
using Sparewright.Remake.Fits;
using Sparewright.Remake.Ladders;

namespace Sparewright.BlindRemakes.Printing;

/// <summary>What the tool says of a job: how to draw it and how sure it is, or that it is not able to.</summary>
internal sealed record Said(FoundFits Found)
{
    /// <summary>That all fit at once.</summary>
    public double All => Found.AllTogether;

    /// <summary>That each fits, by name, at the sizes drawn for the fits.</summary>
    public IEnumerable<(string Name, double Odds)> Each => Found.Each.Select(e => (e.Name, e.Odds.Value));

    /// <summary>The same as measured.</summary>
    public IEnumerable<(string Name, double Odds)> EachAsMeasured => Found.Each.Select(e => (e.Name, e.AsMeasured.Value));

    public double AllAsMeasured => Found.Drawn.Before.AllTogether.Value;

    /// <summary>The sizes as measured, and as drawn for the fits.</summary>
    public IReadOnlyDictionary<string, double> AsMeasured => Found.Fits.DrawnMm;

    public IReadOnlyDictionary<string, double> ForTheFits => AsMeasured.ToDictionary(s => s.Key, s => s.Value + (Found.Drawn.Changes.FirstOrDefault(c => c.Size == s.Key)?.ByMm ?? 0));

    /// <summary>By how much edges on the bed are bevelled, by the counterpart that passes there.</summary>
    public IReadOnlyDictionary<string, double> ReliefMm => Found.Relief.GroupBy(r => r.Counterpart).ToDictionary(r => r.Key, r => r.Max(e => e.Relief.LegMm));

    /// <summary>How many copies to print in one go, where it says that this is worth their plastic; else one.</summary>
    /// <param name="under">Only where all fit with less than this.</param>
    public int Copies(double under) => All < under && Sparewright.Fit.Odds.Copies.Of(Found.Drawn.Case, All, Found.WantedOdds) is { Count: > 0 } copies && Found with { Copies = copies } is { InOneGo: { } worth } ? worth.Number : 1;

    /// <summary>The gauges that it proposes.</summary>
    /// <param name="payingForMm3">The part's volume, where only those are wanted of which the tool says that they pay; null for all.</param>
    public IReadOnlyList<GaugeSteps> Gauges(double? payingForMm3) =>
        [.. PlannedLadder.Of(Found).Where(p => payingForMm3 is not { } part || LadderWorth.Of(Found, p, part) is { Pays: true }).Select(p => p.Steps).OfType<GaugeSteps>()];

    /// <summary>Asks the tool, by the job's text.</summary>
    /// <returns>Null when it cannot say anything.</returns>
    public static Said? Of(string text)
    {
        JobReading read = JobFile.Read(text);
        if (read.Job is not { } job) throw new InvalidOperationException(string.Join('\n', read.Problems.Select(p => p.In("job.yaml"))) + "\n" + text);
        var opened = new OpenedJob("job.yaml", job, "", 0);
        return opened.ReconcileWithoutVolume().Value is Reconciled reconciled && FitWork.Find(opened, reconciled, advise: false).Value is { } found ? new(found) : null;
    }
}
