using System.CommandLine;
using System.Globalization;
using System.Text;
using Sparewright.Cli.Showing;
using Sparewright.Handover.Files;
using Sparewright.Part;
using Sparewright.Reconcile.Findings;
using Sparewright.Remake;
using Sparewright.Remake.Reports;
using Sparewright.Remake.Trials;

namespace Sparewright.Cli.Verbs.Trials;

/// <summary><c>trial JOB</c>: what the trials so far taught; <c>trial gauges</c>, <c>measured</c> and <c>part</c> write what another trial print showed into the job first.</summary>
internal static class TrialVerb
{
    public static Command Grammar(Surroundings around)
    {
        var job = Common.Job();
        var json = Common.Json();
        var inches = Common.Inches();
        var verb = new Command("trial", "What trial prints taught. With one of the words below, what another one showed is written into the job first.")
        { job, json, inches, GaugesTrial.Grammar(around), MeasuredTrial.Grammar(around), PartTrial.Grammar(around) };
        verb.SetAction(p => Run(around, p.GetRequiredValue(job), p.GetValue(json), p.GetValue(inches)));
        return verb;
    }

    private static int Run(Surroundings around, string path, bool json, bool inches)
    {
        Result<OpenedJob> opened = OpenedJob.Open(path);
        return opened.Value is { } job ? Show(around, job, 0, null, json, inches) : Answer.With(around, json, opened.Failure!);
    }

    /// <summary>Writes a trial into the job, and says what is learnt from it.</summary>
    /// <param name="trial">The trial as the job writes it.</param>
    public static int Write(Surroundings around, string path, JobValue.Group trial, bool json, bool inches)
    {
        Result<OpenedJob> opened = OpenedJob.Open(path);
        if (opened.Value is not { } job) return Answer.With(around, json, opened.Failure!);
        try
        {
            string text = Encoding.UTF8.GetString(File.ReadAllBytes(job.Path));
            JobEdit edit = TrialRecord.Added(text, trial);
            if (edit.Text is null) return Answer.With(around, json, Failure.Of(job.Path, [edit.Problem!]));
            JobReading reading = JobFile.Read(edit.Text);
            if (reading.Job is not { } changed) return Answer.With(around, json, Failure.Of(job.Path, reading.Problems));
            return Show(around, job with { Job = changed }, job.Job.Trials.Count, edit.Text, json, inches);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return Answer.With(around, json, Failure.Of(e));
        }
    }

    /// <summary>Learns, and only when something can be learnt writes the text: what nothing comes of is refused while it can still be put right.</summary>
    private static int Show(Surroundings around, OpenedJob job, int before, string? text, bool json, bool inches)
    {
        Result<Reconciled> reconciling = job.Reconcile();
        if (reconciling.Value is not { } reconciled) return Answer.With(around, json, reconciling.Failure!);
        Result<FoundTrials> finding = TrialWork.Find(job, reconciled, before);
        if (finding.Value is not { } found) return Answer.With(around, json, finding.Failure!);
        if (text is not null)
        {
            var useless = found.Now.Trials.Unused.Where(u => u.Remedy is not null && u.Place.Line >= job.Job.Trials[^1].Place.Line && job.Job.Trials[^1].Part is null).ToArray();
            if (useless.Length > 0) return Answer.With(around, json, new Failure(true, [.. useless.Select(u => $"trial: {u.What}: {u.Why}; {u.Remedy}")]));
            AtomicFile.Write(job.Path, text);
        }

        return Answer.With(around, json, () => RemadeJson.Of(found, text is not null), () => text is null ? RemadeReport.Of(found, inches)
            : new Report([new ReportPart.Line($"The trial of {job.Job.Trials[^1].On.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)} is written into {job.Path}."), .. RemadeReport.Of(found, inches).Parts]), found.NeedsAttention);
    }
}
