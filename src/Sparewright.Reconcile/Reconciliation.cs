using System.Diagnostics.CodeAnalysis;
using Sparewright.Measure;
using Sparewright.Measure.Numbers;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Sizes;
using Sparewright.Reconcile.Adjust;
using Sparewright.Reconcile.Explain;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Next;
using Sparewright.Reconcile.Nominals;
using Sparewright.Reconcile.Readings;

namespace Sparewright.Reconcile;

/// <summary>
/// All readings at once, against the shape's own geometry, with their uncertainties: the sizes that agree with them best, how sure each is,
/// which readings contradict the others, and what nothing decides.
/// </summary>
public static class Reconciliation
{
    /// <summary>Chance that a job without any gross error raises an alarm: each reading's own level follows from the number of readings.</summary>
    public const double FalseAlarmLevel = 0.01;

    /// <summary>
    /// A single suspect is set aside only when it is the wrong one with at least these odds, how it may have gone wrong weighed in (<see cref="WeighedSet"/>).
    /// </summary>
    public const double OddsToSetAside = 0.95;

    /// <summary>Reconciles a job.</summary>
    /// <param name="problems">Why it cannot be done: readings that no caliper can take, undecided sizes without a starting value.</param>
    /// <param name="volume">The volume of the solid near the sizes that are to be found; without it weights and displaced water have no say.</param>
    public static bool TryReconcile(Job job, [NotNullWhen(true)] out Reconciled? reconciled, out IReadOnlyList<Problem> problems, InstrumentDefaults? defaults = null, PartVolume? volume = null)
    {
        reconciled = null;
        if (!Ledger.TryOpen(job, defaults ?? InstrumentDefaults.Published, out Ledger? ledger, out problems, volume)) return false;

        IReadOnlyList<Bound> bounds = ledger.Bounds();
        AdjustmentProblem free = ledger.Problem();
        if (!Bounded.TrySolve(free, bounds, out AdjustmentResult? all, out AdjustmentFailure? failure))
        {
            problems = [.. ledger.ShapeAt([.. ledger.Start]).Problems, AsProblem(job, failure)];
            return false;
        }

        bool CanBe(IReadOnlyList<double> unknowns) => !ledger.ProblemsOf(ledger.ShapeAt([.. unknowns])).Any();
        if (!CanBe(all.Estimates) && Straightened.Point(free, CanBe) is { } seenFrom)
        {
            // A reading that is wrong by far has dragged the part to where it cannot exist, and there nothing tells right from wrong: all are judged from where the part is without that one.
            free = Straightened.At(free, seenFrom);
            if (Bounded.TrySolve(free, bounds, out AdjustmentResult? straight, out _)) all = straight;
        }

        AdjustmentProblem problem = all.Problem;
        AdjustmentResult Without(IReadOnlySet<int> left) => Adjustment.Without(free, left, all) is { } rest ? Bounded.With(rest, bounds) : all;
        SuspectSearch search = Suspects.Find(all, FalseAlarmLevel, OddsToSetAside);
        IReadOnlyList<WeighedSet> sets = WeighedSet.Of(search, problem, all, ledger);
        HashSet<int> aside = [.. sets.Where(s => s.StandsOut(OddsToSetAside)).Select(s => s.Leader.Suspect.Index)];
        AdjustmentResult final = aside.Count == 0 ? all : Without(aside);
        PlacedShape shape = ledger.ShapeAt([.. final.Estimates]);
        if (sets.Count > aside.Count && (ledger.ProblemsOf(shape).Any() || PaidForByAll(final, ledger)))
        {
            // With a reading that is wrong by far the part cannot even exist, or sizes that it has nothing to do with are dragged along: then it is drawn without the likeliest culprits, and their contradictions stay open.
            HashSet<int> leaders = [.. sets.Select(s => s.Leader.Suspect.Index)];
            (final, aside) = (Without(leaders), leaders);
            shape = ledger.ShapeAt([.. final.Estimates]);
        }

        double[] estimates = [.. final.Estimates.Take(job.Sizes.Free.Count)];
        problems = [.. ledger.ProblemsOf(shape), .. WithoutStart(job, final)];
        if (problems.Count > 0) return false;

        var contradictions = ContradictionFindings.From(sets, all, aside, ledger, shape);
        var reached = new Lazy<IReadOnlyList<PossibleReading>>(() => Reach.Readings(shape, job.Drafts, AsNumbers(job, shape)));
        var (sizes, shrink) = SizeFindings.From(job, final, shape);
        reconciled = new Reconciled(
            sizes, ReadingFindings.From(ledger, shape, all, final, contradictions, sets), final.Global, contradictions,
            UndecidedFindings.From(job, final, ledger, shape), estimates, final, shape)
        {
            ZeroShifts = ZeroShiftFindings.From(ledger, final),
            CommonShift = CommonShiftFindings.From(sets, free, all, ledger),
            SettledAgainst = sets.Count == 0 ? [] : [.. job.Sizes.All.Where(s => s.Nominal is not null && AgreesWithout(job, s.Name, defaults, volume)).Select(s => s.Name)],
            Shrink = shrink,
            SharedErrors = SharedErrorFindings.From(ledger, final),
            Correlations = CorrelationFindings.From(job.Sizes.Free, final),
            Unit = PartUnit.Of(job.Sizes.Free, final),
            PlanFound = new(() => MeasuringPlan.Of(job, ledger, shape, reached.Value)),
            NextFound = new(() => NextReadings.Of(job, final, sets, problem, ledger, shape, reached.Value)),
        };
        return true;
    }

    /// <summary>An error that many readings share is bent beyond anything that is assumed of it: one of them is wrong by so much that all the others are put right by its error.</summary>
    private static bool PaidForByAll(AdjustmentResult result, Ledger ledger) =>
        ledger.Shared.All.Index().Any(e => Math.Abs(result.Estimates[ledger.Start.Count + e.Index]) > BeyondAssuming * e.Item.StandardUncertaintyMm);

    /// <summary>In standard uncertainties of what is assumed; our judgement.</summary>
    private const double BeyondAssuming = 20;

    /// <summary>Whether nothing is at odds any more when a settled size is open again.</summary>
    private static bool AgreesWithout(Job job, string settled, InstrumentDefaults? defaults, PartVolume? volume) =>
        Ledger.TryOpen(job with { Sizes = job.Sizes.Reopened(settled) }, defaults ?? InstrumentDefaults.Published, out Ledger? ledger, out _, volume)
        && Bounded.TrySolve(ledger.Problem(), ledger.Bounds(), out AdjustmentResult? open, out _) && Suspects.Find(open, FalseAlarmLevel).Sets.Count == 0;

    private static PlacedShape AsNumbers(Job job, PlacedShape shape) => ShapePlacer.Place(job.Shape, shape.Sizes.ToDictionary(s => s.Key, s => (Dual)s.Value.Value, StringComparer.Ordinal));

    private static IEnumerable<Problem> WithoutStart(Job job, AdjustmentResult result) => job.Sizes.Free
        .Where((s, k) => s.Given is Given.Nothing && !result.IsDecided(k))
        .Select(s => new Problem(s.Place, $"nothing decides `{s.Name}`, and it has no starting value to be drawn at", "measure something that depends on it, or say {about: …}"));

    private static Problem AsProblem(Job job, AdjustmentFailure failure)
    {
        Place place = job.Readings.FirstOrDefault(r => r.Id == failure.Name)?.Place ?? job.Sizes.All.FirstOrDefault(s => s.Name == failure.Name || Ledger.LikelyId(s.Name) == failure.Name)?.Place ?? Place.None;
        return new Problem(place, $"{failure.Name}: {failure.Reason}", failure.Remedy);
    }
}
