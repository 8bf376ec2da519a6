using System.Diagnostics;
using System.Globalization;
using Sparewright.Measure.Numbers;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Reconcile;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Nominals;
using Sparewright.Reconcile.Readings;

namespace Sparewright.Bench;

/// <summary>The full answer that a window waits for after each reading: sizes, contradictions with their explanations, proposals, what to measure next; in the process and warm.</summary>
internal static class LiveBench
{
    private const int Readings = 60, Sizes = 40;
    private const double GoalMs = 100;

    private const int WarmUps = 12;

    public static void Write(int runs)
    {
        Paper.UnderWay("live: the full answer");
        (string Name, Job Job)[] jobs =
        [
            ("all readings good", SyntheticJob.Of(Readings, Sizes, 0).Job),
            ("one wrong", SyntheticJob.Of(Readings, Sizes, 1).Job),
            ("two wrong", SyntheticJob.Of(Readings, Sizes, 2).Job),
            ("good, of a moulded part", SyntheticJob.Of(Readings, Sizes, 0).Job with { MadeBy = MadeBy.Moulding }),
            ("nothing read yet", SyntheticJob.Of(Readings, Sizes, 0).Job with { Readings = [] }),
        ];
        Paper.Heading(string.Create(CultureInfo.InvariantCulture, $"The full answer, {Readings} readings and {Sizes} sizes"));
        Paper.Words(string.Create(CultureInfo.InvariantCulture, $"Median ms of {runs} runs, warm, one thread: everything of {nameof(Reconciliation)} with proposals, and what to measure next (or the measuring plan where nothing is read). Goal: {GoalMs} ms for the whole. The parts as shares of the whole; proposals are part of reconciling."));
        Paper.Table(["job", "whole ms", "of the goal", "reconcile", "of which round values, shrink", "the same as another", "middles", "next readings", "plan", "of either: listing what can be read", "and reached"], jobs.Select(j => Row(j.Name, j.Job, runs)));
    }

    private static string[] Row(string name, Job job, int runs)
    {
        Times reconcile = new(), meant = new(), same = new(), middles = new(), next = new(), plan = new(), possible = new(), reached = new();
        for (int run = -WarmUps; run < runs; run++)
        {
            Times Kept(Times times) => run < 0 ? new() : times;
            Reconciled reconciled = Timed(Kept(reconcile), () => Reconciliation.TryReconcile(job, out Reconciled? r, out IReadOnlyList<Problem> problems) ? r : throw new InvalidOperationException(string.Join('\n', problems.Select(p => p.What))));
            DesignersChoice choice = Timed(Kept(meant), () => DesignerMeant.Of(job.Sizes.Free, StandardHardware.In(job.Shape), reconciled.Adjustment, job.MadeBy == MadeBy.Moulding));
            Timed(Kept(same), () => EqualSizes.Of(job.Sizes.Free, SizeUse.In(job.Shape).ToLookup(u => u.Size, u => u.Kind), reconciled.Adjustment, choice.Systems));
            Timed(Kept(middles), () => CentredPlaces.Of(job.Sizes.Free, job.Shape, reconciled.Shape, reconciled.Adjustment, choice.Systems));
            Timed(Kept(possible), () => PossibleReadings.Of(reconciled.Shape, new DraftHeights(job.Drafts, reconciled.Shape)));
            Timed(Kept(reached), () => Reach.Readings(reconciled.Shape, job.Drafts, ShapePlacer.Place(job.Shape, reconciled.Shape.Sizes.ToDictionary(s => s.Key, s => (Dual)s.Value.Value))));
            if (job.Readings.Count > 0) Timed(Kept(next), () => reconciled.Next.Count);
            else Timed(Kept(plan), () => reconciled.Plan.Count);
        }

        bool isPlan = plan.Count > 0;
        double whole = reconcile.Clock + (isPlan ? plan : next).Clock;
        string Share(Times part) => Paper.Ratio(part.Clock / whole);
        return [name, Paper.Ms(whole), Paper.Ratio(whole / GoalMs), Share(reconcile), Share(meant), Share(same), Share(middles), isPlan ? "" : Share(next), isPlan ? Share(plan) : "", Share(possible), Share(reached)];
    }

    private static T Timed<T>(Times times, Func<T> work)
    {
        var clock = Stopwatch.StartNew();
        T result = work();
        times.Add(clock.Elapsed.TotalMilliseconds);
        return result;
    }
}
