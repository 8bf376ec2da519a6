using Sparewright.Fit;
using Sparewright.Fit.Capability;
using Sparewright.Fit.Counterparts;
using Sparewright.Fit.Ladder;
using Sparewright.Fit.Odds;
using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Sparewright.Remake.Fits;
using Sparewright.Remake.Ladders;

namespace Sparewright.Remake.Trials;

/// <summary>What trials taught of one kind of surface.</summary>
/// <param name="AtMm">The drawn size that the figures are for: the middle of those that were tried.</param>
/// <param name="BiasBefore">By how much larger than drawn such sizes were taken to come out, in mm, before the trials.</param>
/// <param name="SpreadMm">From print to print, as a standard deviation.</param>
public sealed record LearntKind(SurfaceKind Kind, int Pieces, double AtMm, NormalLength BiasBefore, NormalLength Bias, double SpreadMm);

/// <summary>What the gauges of one counterpart told, as sizes of the job.</summary>
/// <param name="Size">The size that differs from gauge to gauge; null where the job says none that may change.</param>
/// <param name="GaugesMm">Its value in each gauge, from the tightest to the loosest.</param>
/// <param name="DrawMm">The value with the best odds for this fit alone.</param>
/// <param name="NextGaugeMm">Of one more gauge, where that is the next step.</param>
/// <param name="WantedOdds">What this fit alone must reach.</param>
public sealed record AnsweredLadder(string Counterpart, string? Size, IReadOnlyList<double> GaugesMm, LadderResult Result, double DrawMm, double? NextGaugeMm, double WantedOdds);

/// <summary>How much room the printer's own scatter has within a fit's window, once the printer is measured.</summary>
public sealed record RoomForScatter(string Counterpart, CapabilityIndices Indices);

/// <summary>A job's fits before and after what trials taught.</summary>
/// <param name="Days">Day by day, by how much a kind of surface came out otherwise than all days before made one expect.</param>
public sealed record FoundTrials(FoundFits Before, FoundFits Now, IReadOnlyList<LearntKind> Kinds, IReadOnlyList<AnsweredLadder> Ladders, IReadOnlyList<Drift> Days, IReadOnlyList<RoomForScatter> Rooms)
{
    /// <summary>What the part's own trial made of its sizes; null where it was not tried just now, or nothing can be learnt from how.</summary>
    public NextRevision? Revision { get; init; }

    /// <summary>True when somebody should look: answers that contradict each other, trials that say too little, a printer that has changed, odds below the wanted ones.</summary>
    public bool NeedsAttention => Now.NeedsAttention || Ladders.Any(l => l.Result.OutOfOrder.Count > 0) || Now.Trials.Unused.Any(u => u.Remedy is not null) || Days.Any(d => d.StandsOut);
}

/// <summary>A trial as it is to be kept.</summary>
/// <param name="Text">The job's text with it.</param>
public sealed record WrittenTrial(string Text, FoundTrials Found);

/// <summary>What the trials of a job teach.</summary>
public static class TrialWork
{
    /// <summary>What all trials of a job taught.</summary>
    public static Result<FoundTrials> Find(OpenedJob job, Reconciled reconciled) =>
        Find(job with { Job = job.Job with { Trials = [], Print = job.Job.Print is { } print ? print with { DrawnMm = PrintPlan.Unsaid.DrawnMm } : null } }, job, reconciled);

    /// <summary>What one more trial teaches, written into the text of a job: what nothing comes of is refused while it can still be put right. A trial of the part makes a new revision of the sizes that it moves.</summary>
    /// <param name="job">As it stands.</param>
    /// <param name="reconciled">Its readings; trials do not change them.</param>
    /// <param name="trial">As the job is to write it.</param>
    public static Result<WrittenTrial> Write(OpenedJob job, Reconciled reconciled, string text, JobValue.Group trial)
    {
        if (Instruments(trial).FirstOrDefault(name => !job.Job.Instruments.ContainsKey(name)) is { } unknown)
            return new Failure(true, [$"trial: {job.Path} has no instrument {unknown}; write it there under instruments, as `{unknown}: {{kind: digital caliper}}` (what is not said of it is taken as usual for its kind), or leave out which it was: then the job's only caliper counts, or a usual one"]);
        Result<OpenedJob> with = Edited(job, TrialRecord.Added(text, trial), out string written);
        if (with.Value is not { } tried) return with.Failure!;
        Trial last = tried.Job.Trials[^1];
        if (job.Job.Trials.Any(last.IsOfTheSamePrintAs)) return new Failure(true, ["trial: the job has these readings of that day already; taken twice they would count for more than they are; leave it as it is"]);

        Result<FoundTrials> finding = Find(job, tried, reconciled);
        if (finding.Value is not { } found) return finding.Failure!;
        UnusedTrial[] useless = [.. found.Now.Trials.Unused.Where(u => u.Remedy is not null && u.Place.Line >= last.Place.Line)];
        if (last.Part is null && useless.Length > 0) return new Failure(true, [.. useless.Select(u => $"trial: {u.What}: {u.Why}; {u.Remedy}")]);
        if (last.Part is not { } part || NextRevision.Of(found.Now, part) is not { } revision) return new WrittenTrial(written, found);

        Result<OpenedJob> redrawn = Edited(tried, revision.Written(written), out written);
        if (redrawn.Value is not { } revised) return redrawn.Failure!;
        finding = Find(job, revised, reconciled);
        return finding.Value is { } after ? new WrittenTrial(written, after with { Revision = revision }) : finding.Failure!;
    }

    /// <summary>What a trial says that it was measured with.</summary>
    private static IEnumerable<string> Instruments(JobValue value) => value switch
    {
        JobValue.List list => list.Items.SelectMany(Instruments),
        JobValue.Group group => group.Entries.SelectMany(e => e is ("with", JobValue.Text { Written: var name }) ? [name] : Instruments(e.Value)),
        _ => [],
    };

    private static Result<OpenedJob> Edited(OpenedJob job, JobEdit edit, out string written)
    {
        written = edit.Text ?? "";
        if (edit.Text is null) return Failure.Of(job.Path, [edit.Problem!]);
        JobReading reading = JobFile.Read(edit.Text);
        return reading.Job is { } changed ? job with { Job = changed } : Failure.Of(job.Path, reading.Problems);
    }

    /// <param name="earlier">The same job as it was before; trials do not change its readings.</param>
    private static Result<FoundTrials> Find(OpenedJob earlier, OpenedJob job, Reconciled reconciled)
    {
        Result<FoundFits> first = FitWork.Find(earlier, reconciled, advise: false), second = FitWork.Find(job, reconciled, advise: false);
        return first.Value is { } before && second.Value is { } now
            ? new FoundTrials(before, now, [.. Kinds(before, now)], [.. Ladders(now)], Drift.Of(now.Process), [.. Rooms(now)])
            : (first.Failure ?? second.Failure)!;
    }

    private static IEnumerable<RoomForScatter> Rooms(FoundFits now)
    {
        foreach (ExpectedFit fit in now.Each)
            if (now.Drawn.Case.Conditions.FirstOrDefault(c => c.Name == fit.Name) is OneClearance { Clearance.Printed: [var printed] } one && now.Process[printed.Kind].Status == CapabilityStatus.Measured)
                yield return new(fit.Name, CapabilityIndices.Of(new(fit.Clearance.MeanMm, Math.Abs(printed.Factor) * now.Process[printed.Kind].SpreadMm), one.Window.LowMm, one.Window.HighMm));
    }

    private static IEnumerable<LearntKind> Kinds(FoundFits before, FoundFits now)
    {
        foreach (var kind in now.Trials.Evidence.GroupBy(e => e.Kind).OrderBy(k => k.Key))
        {
            double at = (kind.Min(e => e.DrawnMm) + kind.Max(e => e.DrawnMm)) / 2;
            yield return new(kind.Key, kind.Count(), at, before.Process[kind.Key].Bias(at), now.Process[kind.Key].Bias(at), now.Process[kind.Key].SpreadMm);
        }
    }

    private static IEnumerable<AnsweredLadder> Ladders(FoundFits now)
    {
        foreach (ExpectedFit fit in now.Each)
        {
            if (now.Drawn.Case.Conditions.FirstOrDefault(c => c.Name == fit.Name) is not OneClearance condition || CriticalFit.WhyNot(condition) is not null) continue;
            PrintedSize printed = condition.Clearance.Printed[0], asMeasured = ((OneClearance)now.Fits.Case.Conditions.First(c => c.Name == fit.Name)).Clearance.Printed[0];
            TriedTrial[] tried = [.. now.Trials.OfGauges.Where(g => g.Counterpart == fit.Name && g.Kind == printed.Kind)];
            if (tried.Length == 0) continue;
            ProcessCapability without = ProcessCapability.Learn(now.Process.Setting, [.. now.Process.Evidence.Except(tried)]);
            var critical = new CriticalFit(now.Drawn.Case with { Process = without }, condition, tried.Max(t => t.On));
            double wanted = PlannedLadder.WantedOf(now, fit);
            var result = LadderResult.Of(critical, [.. tried.Select(t => new GaugeAnswer(t.DrawnMm, t.Answer))], wanted);
            double Size(double mm) => CriticalFit.SizeMm(asMeasured, mm, now.Fits.DrawnMm);
            yield return new(fit.Name, asMeasured.PerSize.Keys.SingleOrDefault(), [.. result.Answers.Select(a => Size(a.DrawnMm))], result, Size(result.DrawnMm), result.NextGaugeMm is { } next ? Size(next) : null, wanted);
        }
    }
}
