using System.CommandLine;
using Sparewright.Cli.Showing;
using Sparewright.Reconcile.Findings;
using Sparewright.Remake;
using Sparewright.Remake.Fits;
using Sparewright.Remake.Reports;

namespace Sparewright.Cli.Verbs;

/// <summary><c>fit JOB</c>: the odds that everything fits, and the sizes to draw for it.</summary>
internal static class FitVerb
{
    public static Command Grammar(Surroundings around)
    {
        var job = Common.Job();
        var json = Common.Json();
        var inches = Common.Inches();
        var verb = new Command("fit", "The odds that everything which the part meets will fit, before anything is printed, and the sizes to draw so that they are best.")
        { job, json, inches };
        verb.SetAction(parsed => Run(around, parsed.GetRequiredValue(job), parsed.GetValue(json), parsed.GetValue(inches)));
        return verb;
    }

    private static int Run(Surroundings around, string path, bool json, bool inches)
    {
        Result<OpenedJob> opened = OpenedJob.Open(path);
        if (opened.Value is not { } job) return Answer.With(around, json, opened.Failure!);
        Result<Reconciled> reconciling = job.Reconcile();
        if (reconciling.Value is not { } reconciled) return Answer.With(around, json, reconciling.Failure!);
        Result<FoundFits> finding = FitWork.Find(job, reconciled);
        return finding.Value is { } found
            ? Answer.With(around, json, () => RemadeJson.Of(found), () => RemadeReport.Of(found, inches), found.NeedsAttention)
            : Answer.With(around, json, finding.Failure!);
    }
}
