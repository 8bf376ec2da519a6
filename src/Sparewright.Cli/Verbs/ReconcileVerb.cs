using System.CommandLine;
using Sparewright.Cli.Showing;
using Sparewright.Measure.Quantities;
using Sparewright.Reconcile.Findings;
using Sparewright.Remake;
using Sparewright.Remake.Reports;

namespace Sparewright.Cli.Verbs;

/// <summary><c>reconcile JOB</c>: sizes with ±, contradictions, what nothing decides.</summary>
internal static class ReconcileVerb
{
    public static Command Grammar(Surroundings around)
    {
        var job = Common.Job();
        var json = Common.Json();
        var inches = Common.Inches();
        var budget = new Option<bool>("--budget") { Description = "tell the budget of each reading too, line by line" };
        var verb = new Command("reconcile", "Works out the sizes from all readings at once, each with its ±, and names readings that contradict the others.")
        { job, json, inches, budget };
        verb.SetAction((parsed, stop) => RunAsync(around, parsed.GetRequiredValue(job), parsed.GetValue(json), parsed.Unit(inches), parsed.GetValue(budget), stop));
        return verb;
    }

    private static async Task<int> RunAsync(Surroundings around, string path, bool json, LengthUnit unit, bool budget, CancellationToken stop)
    {
        Result<OpenedJob> opened = OpenedJob.Open(path);
        if (opened.Value is not { } job) return Answer.With(around, json, opened.Failure!);
        Result<Reconciled> result = await job.ReconcileAsync(around.FindKernel, stop).ConfigureAwait(false);
        if (result.Value is not { } reconciled) return Answer.With(around, json, result.Failure!);
        return Answer.With(around, json, () => RemadeJson.Of(job, reconciled), () => RemadeReport.Of(job, reconciled, unit, budget), reconciled.NeedsAttention);
    }
}
