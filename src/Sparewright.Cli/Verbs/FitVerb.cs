using System.CommandLine;
using Sparewright.Cli.Showing;
using Sparewright.Measure.Quantities;
using Sparewright.Reconcile.Findings;
using Sparewright.Remake;
using Sparewright.Remake.Fits;
using Sparewright.Remake.Reports;

namespace Sparewright.Cli.Verbs;

/// <summary><c>fit JOB [--out DIR]</c>: the odds that everything fits, and the sizes to draw for it.</summary>
internal static class FitVerb
{
    public static Command Grammar(Surroundings around)
    {
        var job = Common.Job();
        var output = Common.Out("where print files and exact file of the part drawn for the fits go; without it nothing is written");
        var json = Common.Json();
        var inches = Common.Inches();
        var quiet = Common.Quiet();
        var verb = new Command("fit", "The odds that everything which the part meets will fit, before anything is printed, and the sizes to draw so that they are best.")
        { job, output, json, inches, quiet };
        verb.SetAction((parsed, stop) => parsed.GetValue(output) is { } folder
            ? MakingRun.GoAsync(around, parsed.GetRequiredValue(job), folder, Extent.ForTheFits, parsed.GetValue(json), parsed.Unit(inches), parsed.GetValue(quiet), RemadeJson.Fit, stop, RemadeReport.OfFits)
            : RunAsync(around, parsed.GetRequiredValue(job), parsed.GetValue(json), parsed.Unit(inches), stop));
        return verb;
    }

    private static async Task<int> RunAsync(Surroundings around, string path, bool json, LengthUnit unit, CancellationToken stop)
    {
        Result<OpenedJob> opened = OpenedJob.Open(path);
        if (opened.Value is not { } job) return Answer.With(around, json, opened.Failure!);
        Result<Reconciled> reconciling = await job.ReconcileAsync(around.FindKernel, stop).ConfigureAwait(false);
        if (reconciling.Value is not { } reconciled) return Answer.With(around, json, reconciling.Failure!);
        Result<FoundFits> finding = FitWork.Find(job, reconciled, cancel: stop);
        if (finding.Value is not { } found) return Answer.With(around, json, finding.Failure!);
        // What copies take is told by the part's own volume; without a kernel by parts.
        if (found.Copies.Count > 0 && around.FindKernel() is { IsGood: true, Value: var kernel })
            found = found with { PartMm3 = await found.VolumeMm3Async(kernel, stop).ConfigureAwait(false) };
        return Answer.With(around, json, () => RemadeJson.Of(found), () => RemadeReport.Of(found, unit), found.NeedsAttention);
    }
}
