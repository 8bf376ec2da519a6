using Sparewright.Fit;
using Sparewright.Fit.Capability;
using Sparewright.Fit.Ladder;
using Sparewright.Fit.Odds;
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

/// <summary>A job's fits before and after what trials taught.</summary>
public sealed record FoundTrials(FoundFits Before, FoundFits Now, IReadOnlyList<LearntKind> Kinds, IReadOnlyList<AnsweredLadder> Ladders)
{
    /// <summary>True when somebody should look: answers that contradict each other, trials that say too little, odds below the wanted ones.</summary>
    public bool NeedsAttention => Now.NeedsAttention || Ladders.Any(l => l.Result.OutOfOrder.Count > 0) || Now.Trials.Unused.Any(u => u.Remedy is not null);
}

/// <summary>What the trials of a job teach.</summary>
public static class TrialWork
{
    /// <param name="job">With its trials.</param>
    /// <param name="reconciled">The same job's readings; trials do not change them.</param>
    /// <param name="trialsBefore">How many of its trials, from the first, were known before.</param>
    public static Result<FoundTrials> Find(OpenedJob job, Reconciled reconciled, int trialsBefore)
    {
        OpenedJob earlier = job with { Job = job.Job with { Trials = [.. job.Job.Trials.Take(trialsBefore)] } };
        Result<FoundFits> first = FitWork.Find(earlier, reconciled, advise: false), second = FitWork.Find(job, reconciled, advise: false);
        return first.Value is { } before && second.Value is { } now ? new FoundTrials(before, now, [.. Kinds(before, now)], [.. Ladders(now)]) : (first.Failure ?? second.Failure)!;
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
