using System.CommandLine;
using System.Globalization;
using System.Text;
using Sparewright.Cli.Showing;
using Sparewright.Handover.Files;
using Sparewright.Measure.Quantities;
using Sparewright.Part;
using Sparewright.Reconcile.Findings;
using Sparewright.Remake;
using Sparewright.Remake.Reports;
using Sparewright.Remake.Trials;

namespace Sparewright.Cli.Verbs.Trials;

/// <summary><c>trial JOB</c>: what the trials so far taught; <c>trial gauges</c>, <c>measured</c>, <c>coupon</c> and <c>part</c> write what another trial print showed into the job first.</summary>
internal static class TrialVerb
{
    public static Command Grammar(Surroundings around)
    {
        var job = Common.Job();
        var json = Common.Json();
        var inches = Common.Inches();
        var verb = new Command("trial", "What trial prints taught. With one of the words below, what another one showed is written into the job first.")
        { job, json, inches, GaugesTrial.Grammar(around), MeasuredTrial.Grammar(around), CouponTrial.Grammar(around), PartTrial.Grammar(around) };
        verb.SetAction((p, stop) => RunAsync(around, p.GetRequiredValue(job), p.GetValue(json), p.Unit(inches), stop));
        return verb;
    }

    private static async Task<int> RunAsync(Surroundings around, string path, bool json, LengthUnit unit, CancellationToken stop)
    {
        Result<OpenedJob> opened = OpenedJob.Open(path);
        if (opened.Value is not { } job) return Answer.With(around, json, opened.Failure!);
        Result<Reconciled> reconciling = await job.ReconcileAsync(around.FindKernel, stop).ConfigureAwait(false);
        if (reconciling.Value is not { } reconciled) return Answer.With(around, json, reconciling.Failure!);
        Result<FoundTrials> finding = TrialWork.Find(job, reconciled);
        return finding.Value is { } found ? Answer.With(around, json, () => RemadeJson.Of(found, written: false), () => RemadeReport.Of(found, unit), found.NeedsAttention) : Answer.With(around, json, finding.Failure!);
    }

    /// <summary>Writes a trial into the job, and says what is learnt from it.</summary>
    /// <param name="trial">The trial as the job writes it.</param>
    public static async Task<int> WriteAsync(Surroundings around, string path, JobValue.Group trial, bool json, LengthUnit unit, CancellationToken stop)
    {
        Result<OpenedJob> opened = OpenedJob.Open(path);
        if (opened.Value is not { } job) return Answer.With(around, json, opened.Failure!);
        try
        {
            Result<Reconciled> reconciling = await job.ReconcileAsync(around.FindKernel, stop).ConfigureAwait(false);
            if (reconciling.Value is not { } reconciled) return Answer.With(around, json, reconciling.Failure!);
            Result<WrittenTrial> writing = TrialWork.Write(job, reconciled, Encoding.UTF8.GetString(File.ReadAllBytes(job.Path)), trial);
            if (writing.Value is not { } written) return Answer.With(around, json, writing.Failure!);
            AtomicFile.Write(job.Path, written.Text, stop);
            FoundTrials found = written.Found;
            return Answer.With(around, json, () => RemadeJson.Of(found, written: true),
                () => new Report([new ReportPart.Line($"The trial of {found.Now.Job.Job.Trials[^1].On.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)} is written into {job.Path}."), .. RemadeReport.Of(found, unit).Parts]), found.NeedsAttention);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return Answer.With(around, json, Failure.Of(e));
        }
    }
}
