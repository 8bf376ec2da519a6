using System.Globalization;
using Sparewright.Reconcile.Findings;
using Sparewright.Remake.Outputs;

namespace Sparewright.Remake.Reports;

/// <summary>What the readings came to, as parts of a report.</summary>
internal static class Findings
{
    private const int MostDeciders = 4;

    public static IEnumerable<ReportPart> Of(Reconciled reconciled, bool inches)
    {
        yield return new ReportPart.Heading("Sizes");
        yield return new ReportPart.Table(["size", "value", "±", "decided by", "status"], [.. reconciled.Sizes.Select(s => SizeRow(s, inches))]);
        if (reconciled.Contradictions.Count > 0)
        {
            yield return new ReportPart.Heading(reconciled.Contradictions.Count == 1 ? "A contradiction" : "Contradictions");
            foreach (Contradiction contradiction in reconciled.Contradictions)
                yield return new ReportPart.Line(Words(contradiction, inches), Tone.LookHere);
        }

        if (reconciled.Undecided.Count > 0)
        {
            yield return new ReportPart.Heading("Not decided");
            foreach (UndecidedSizes undecided in reconciled.Undecided) yield return new ReportPart.Line(Words(undecided), Tone.LookHere);
        }

        foreach (ReconciledReading reading in reconciled.Readings.Where(r => r.Verdict == ReadingVerdict.ComparedAndDiffers))
            yield return new ReportPart.Line($"{reading.Reading.Id} ({reading.Says}) was only compared, and it differs{(reading.Adjusted is { } adjusted ? $": the part as drawn has {SizeText.Length(adjusted, inches)}" : "")}.", Tone.LookHere);
        if (reconciled.Global.DegreesOfFreedom > 0)
            yield return new ReportPart.Line(string.Create(CultureInfo.InvariantCulture,
                $"All deciding readings together: chi² {reconciled.Global.ChiSquare:0.0} on {reconciled.Global.DegreesOfFreedom:0} degrees of freedom; readings this far apart come by chance in {100 * reconciled.Global.P:0.#} of 100 jobs."));
    }

    /// <summary>One contradiction in a few sentences: which reading, what it said, what the others say, how sure that is.</summary>
    public static string Words(Contradiction contradiction, bool inches)
    {
        string numbers = string.Create(CultureInfo.InvariantCulture, $"w {contradiction.W:0.0}, redundancy {contradiction.Redundancy:0.00}");
        string end = contradiction.SetAside ? "The part is drawn without it: measure it once more." : "It cannot be told which one is wrong, so all of them stay in; contradiction open: measure them once more.";
        string also = inches ? $" (in inches: {SizeText.Length(contradiction.ObservedMm, true)} instead of {SizeText.Length(contradiction.ShouldReadMm, true)})" : "";
        return $"{contradiction.Words}{also} ({numbers}). {end}";
    }

    public static string Words(UndecidedSizes undecided)
    {
        string measure = undecided.Measure.Count == 0 ? "" : $" What would decide it: {string.Join("; or ", undecided.Measure)}.";
        return $"{string.Join(", ", undecided.Sizes)}: not measured, drawn as supposed; {undecided.Why}.{measure}";
    }

    private static ReportPart.Row SizeRow(ReconciledSize size, bool inches)
    {
        string by = size.DecidedBy.Count <= MostDeciders ? string.Join(" ", size.DecidedBy) : string.Join(" ", size.DecidedBy.Take(MostDeciders)) + " …";
        string status = size.Status switch
        {
            SizeStatus.Decided => "decided",
            SizeStatus.Weak => "weak: hardly checked",
            SizeStatus.Fixed => "fixed by the job",
            _ => "not measured",
        };
        return new(size.Status == SizeStatus.Undecided ? Tone.LookHere : Tone.Plain, size.Name, SizeText.Value(size, inches), SizeText.PlusMinus(size, inches), by, status);
    }
}
