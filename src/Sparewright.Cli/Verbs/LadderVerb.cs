using System.CommandLine;
using Sparewright.Cli.Showing;
using Sparewright.Measure.Quantities;
using Sparewright.Reconcile.Findings;
using Sparewright.Remake;
using Sparewright.Remake.Fits;
using Sparewright.Remake.Ladders;
using Sparewright.Remake.Reports;
using Sparewright.Solid;

namespace Sparewright.Cli.Verbs;

/// <summary><c>ladder JOB [--out DIR]</c>: the fewest gauges that settle each fit, and their strips.</summary>
internal static class LadderVerb
{
    public static Command Grammar(Surroundings around)
    {
        var job = Common.Job();
        var output = Common.Out("where the strips and their pictures go; without it nothing is written");
        var only = new Option<string[]>("--for") { Description = "only the fit of this counterpart; may be given more than once", HelpName = "NAME", AllowMultipleArgumentsPerToken = false };
        var json = Common.Json();
        var inches = Common.Inches();
        var quiet = Common.Quiet();
        var verb = new Command("ladder", "The fewest gauges that settle each fit: small pieces of the real part in steps, on a strip to be printed and tried before the part is.")
        { job, output, only, json, inches, quiet };
        verb.SetAction((parsed, stop) => RunAsync(around, parsed.GetRequiredValue(job), parsed.GetValue(output), parsed.GetValue(only) ?? [], parsed.GetValue(json), parsed.Unit(inches), parsed.GetValue(quiet), stop));
        return verb;
    }

    private static async Task<int> RunAsync(Surroundings around, string path, string? outFolder, string[] only, bool json, LengthUnit unit, bool quiet, CancellationToken stop)
    {
        Result<OpenedJob> opened = OpenedJob.Open(path);
        if (opened.Value is not { } job) return Answer.With(around, json, opened.Failure!);
        if (only.FirstOrDefault(name => job.Job.Counterparts.All(c => c.Name != name)) is { } unknown)
        {
            string remedy = Spelling.Nearest(unknown, job.Job.Counterparts.Select(c => c.Name)) is { } nearest ? $"did you mean {nearest}?" : $"it has {string.Join(", ", job.Job.Counterparts.Select(c => c.Name))}";
            return Answer.With(around, json, new Failure(true, [$"{job.Path}: there is no counterpart {unknown}; {remedy}"]));
        }

        Result<Reconciled> reconciling = await job.ReconcileAsync(around.FindKernel, stop).ConfigureAwait(false);
        if (reconciling.Value is not { } reconciled) return Answer.With(around, json, reconciling.Failure!);
        Result<FoundFits> finding = FitWork.Find(job, reconciled, advise: false, cancel: stop);
        if (finding.Value is not { } found) return Answer.With(around, json, finding.Failure!);
        PlannedLadder[] planned = [.. PlannedLadder.Of(found).Where(p => only.Length == 0 || only.Contains(p.Counterpart))];

        var made = new List<MadeLadder>();
        Outcome<KernelProgram> kernel = around.FindKernel();
        if (outFolder is not null)
        {
            if (!kernel.IsGood) return Answer.With(around, json, new Failure(false, [kernel.Problem.ToString()]));
            using var progress = new ProgressLine(around.Error, around.MovesError, quiet);
            var work = new LadderWork(kernel.Value, around.Fonts, around.Clock);
            foreach (GaugeSteps steps in planned.Select(p => p.Steps).OfType<GaugeSteps>())
            {
                Result<MadeLadder> making = await work.MakeAsync(found, steps, outFolder, progress, stop).ConfigureAwait(false);
                if (making.Value is not { } ladder)
                {
                    progress.Dispose();
                    return Answer.With(around, json, making.Failure!);
                }

                made.Add(ladder);
            }
        }

        IReadOnlyDictionary<string, LadderWorth> worth = kernel.IsGood ? await LadderWork.WorthAsync(kernel.Value, found, planned, made, stop).ConfigureAwait(false) : new Dictionary<string, LadderWorth>();
        return Answer.With(around, json, () => RemadeJson.Of(found, planned, made, worth), () => RemadeReport.Of(found, planned, made, worth, outFolder, unit), planned.Any(p => p.Steps is not null && !p.Settles));
    }
}
