using Sparewright.Cli.Showing;
using Sparewright.Measure.Quantities;
using Sparewright.Remake;
using Sparewright.Remake.Reports;
using Sparewright.Solid;

namespace Sparewright.Cli.Verbs;

/// <summary>What <c>remake</c> and <c>solid</c> have in common: a run of the pipeline with progress.</summary>
internal static class MakingRun
{
    public static async Task<int> GoAsync(Surroundings around, string path, string? outFolder, Extent extent, bool json, LengthUnit unit, bool quiet, Func<Remade, byte[]> asJson, CancellationToken stop, Func<Remade, LengthUnit, Report>? asReport = null)
    {
        using var progress = new ProgressLine(around.Error, around.MovesError, quiet);
        progress.Report(new(Stage.Read, 0, $"reading {path}"));
        Result<OpenedJob> opened = OpenedJob.Open(path);
        if (opened.Value is not { } job) return Answer.With(around, json, opened.Failure!);
        Outcome<KernelProgram> kernel = around.FindKernel();
        if (!kernel.IsGood) return Answer.With(around, json, new Failure(false, [kernel.Problem.ToString()]));

        Result<Remade> result = await new RemakePipeline(kernel.Value, around.Fonts, around.Clock).RunAsync(job, outFolder, extent, progress, stop).ConfigureAwait(false);
        progress.Dispose();
        return result.Value is { } remade
            ? Answer.With(around, json, () => asJson(remade), () => asReport is null ? RemadeReport.Of(remade, unit) : asReport(remade, unit), remade.NeedsAttention)
            : Answer.With(around, json, result.Failure!);
    }
}
