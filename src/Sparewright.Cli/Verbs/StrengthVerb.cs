using System.CommandLine;
using Sparewright.Cli.Showing;
using Sparewright.Measure.Quantities;
using Sparewright.Remake;
using Sparewright.Remake.Bearing;
using Sparewright.Remake.Reports;
using Sparewright.Solid;

namespace Sparewright.Cli.Verbs;

/// <summary><c>strength JOB</c>: whether the part will hold what the job says it has to bear.</summary>
internal static class StrengthVerb
{
    public static Command Grammar(Surroundings around)
    {
        var job = Common.Job();
        var json = Common.Json();
        var inches = Common.Inches();
        var quiet = Common.Quiet();
        var verb = new Command("strength", "Whether the print will hold each load of the job: margin with its ±, weakest place and how it would go, better way up, and where the old part was weakest.")
        { job, json, inches, quiet };
        verb.SetAction((parsed, stop) => RunAsync(around, parsed.GetRequiredValue(job), parsed.GetValue(json), parsed.Unit(inches), parsed.GetValue(quiet), stop));
        return verb;
    }

    private static async Task<int> RunAsync(Surroundings around, string path, bool json, LengthUnit unit, bool quiet, CancellationToken stop)
    {
        using var progress = new ProgressLine(around.Error, around.MovesError, quiet);
        progress.Report(new(Stage.Read, 0, $"reading {path}"));
        Result<OpenedJob> opened = OpenedJob.Open(path);
        if (opened.Value is not { } job) return Answer.With(around, json, opened.Failure!);
        Outcome<KernelProgram> kernel = around.FindKernel();
        if (!kernel.IsGood) return Answer.With(around, json, new Failure(false, [kernel.Problem.ToString()]));

        Result<StrengthFound> result = await new RemakePipeline(kernel.Value, around.Fonts, around.Clock).StrengthAsync(job, shows: false, progress, stop).ConfigureAwait(false);
        progress.Dispose();
        return result.Value is { } found
            ? Answer.With(around, json, () => RemadeJson.Of(found), () => StrengthReport.Of(found, unit), found.NeedsAttention)
            : Answer.With(around, json, result.Failure!);
    }
}
