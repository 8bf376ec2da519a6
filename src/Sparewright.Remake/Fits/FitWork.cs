using Sparewright.Fit.Capability;
using Sparewright.Fit.Counterparts;
using Sparewright.Fit.Drawn;
using Sparewright.Fit.Ladder;
using Sparewright.Fit.Odds;
using Sparewright.Measure.Numbers;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Sparewright.Strength.Materials;

namespace Sparewright.Remake.Fits;

/// <summary>From a reconciled job to the odds that everything fits and the sizes to draw.</summary>
public static class FitWork
{
    /// <summary>What of the strength across the layers may stand for longer than hours: a rule from memory, 15 % for PLA, 25 % otherwise.</summary>
    private const double LongTimeShare = 0.25, LongTimeShareOfPla = 0.15;

    /// <summary>Sizes drawn for the fits are written to this, in mm.</summary>
    private const int Decimals = 2;

    /// <summary>The sizes to draw, and what is to be expected of them.</summary>
    /// <param name="process">What the printer has shown besides the job's own trials; null where nobody measured it.</param>
    /// <param name="advise">Whether to find what costs the odds and what would help, which takes longer than all the rest.</param>
    /// <exception cref="OperationCanceledException">Stopped.</exception>
    public static Result<FoundFits> Find(OpenedJob job, Reconciled reconciled, ProcessCapability? process = null, bool advise = true, CancellationToken cancel = default) =>
        Draw(job, reconciled, process, cancel) switch
        {
            { Value: { } drawing } when drawing.Sharp() is var shape => Judge(drawing, shape, drawing.ReliefOf(shape), advise, cancel),
            var failed => failed.Failure!,
        };

    /// <summary>Learns from the job's own trials; then the sizes with the best odds.</summary>
    /// <exception cref="OperationCanceledException">Stopped.</exception>
    public static Result<DrawnForFits> Draw(OpenedJob job, Reconciled reconciled, ProcessCapability? process = null, CancellationToken cancel = default)
    {
        process ??= ProcessCapability.Assumed(JobProcess.Of(job.Job.Print));
        if (!JobFits.TryFind(job.Job, reconciled, process, out JobFits? fits, out IReadOnlyList<Problem> problems)) return Failure.Of(job.Path, problems);
        var trials = JobTrials.Of(job.Job, fits);
        process = process.With(trials.Evidence);
        fits = fits with { Case = fits.Case with { Process = process } };
        cancel.ThrowIfCancellationRequested();
        return new DrawnForFits(job, reconciled, process, fits, Written(fits, Best(fits, job.Job), job.Job.Print is { ChangesLeast: true }), OtherSizes.Of(job.Job, reconciled, fits), trials);
    }

    /// <summary>What is to be expected of a part drawn so.</summary>
    /// <param name="shape">The part drawn so, nothing bevelled.</param>
    /// <param name="relief">What is bevelled.</param>
    /// <exception cref="OperationCanceledException">Stopped.</exception>
    public static FoundFits Judge(DrawnForFits drawing, PlacedShape shape, IReadOnlyList<RelievedEdge> relief, bool advise, CancellationToken cancel)
    {
        (JobFits fits, DrawnSizes drawn) = (drawing.Fits, drawing.Drawn);
        double wanted = Wanted(drawing.Job.Job);
        FitCase asMeasured = fits.Case with { Conditions = [.. fits.Met.Select(m => m.Condition)] };
        FitCase alone = asMeasured.Changed(drawing.ForTheFitsByMm);
        ExpectedFit[] each = [.. fits.Met.Select((m, k) => Expected(m, asMeasured, alone, k, fits, drawn)).Select(fit => fit with { Press = Press(drawing.Job.Job, fit, shape) })];
        bool looks = advise && fits.Met.Count > 0;
        cancel.ThrowIfCancellationRequested();
        IReadOnlyList<DoubtCost> costs = looks ? Sensitivity.Of(drawn.Case, drawn.Odds) : [];
        cancel.ThrowIfCancellationRequested();
        // Cures and ladders both ask for the gauges; whoever is first has them planned.
        var ladders = new Lazy<IReadOnlyList<FitLadder>>(() => FitLadder.Of(drawn.Case, drawn.Odds, wanted));
        IReadOnlyList<Cure> cures = looks && drawn.Odds.AllTogether.Value < wanted ? Cures.Of(drawn.Case, drawn.Odds, wanted, ladders.Value) : [];
        cancel.ThrowIfCancellationRequested();
        bool printable = each.All(e => e.Press is not { IsRefused: true });
        IReadOnlyList<Copies> copies = looks && printable ? Copies.Of(drawn.Case, drawn.Odds.AllTogether.Value, wanted) : [];
        return new(drawing, ladders) { Each = each, WantedOdds = wanted, Costs = costs, Cures = cures, Copies = copies, Relief = relief };
    }

    private static double Wanted(Job job) => job.WantedOdds ?? FoundFits.UsuallyWanted;

    /// <summary>The best sizes, or those that change least where the job says so; those that a trial of the part settled are drawn as it settled them.</summary>
    private static DrawnSizes Best(JobFits fits, Job job)
    {
        DrawnSizes Of(FitCase fit) => job.Print is { ChangesLeast: true } ? DrawnSizes.Least(fit, Wanted(job)) : DrawnSizes.Best(fit);
        if (job.Print?.DrawnMm is not { Count: > 0 } settledMm) return Of(fits.Case);
        var settled = settledMm.Where(s => fits.DrawnMm.ContainsKey(s.Key)).ToDictionary(s => s.Key, s => s.Value - fits.DrawnMm[s.Key], StringComparer.Ordinal);
        DrawnSizes best = Of(fits.Case.Changed(settled).Holding(settled.Keys));
        return best with { Before = FitOdds.Of(fits.Case), Changes = [.. best.Changes.Concat(settled.Where(s => s.Value != 0).Select(s => new SizeChange(s.Key, s.Value))).OrderBy(c => c.Size, StringComparer.Ordinal)] };
    }

    /// <summary>The drawn sizes to the digits in which they are written.</summary>
    /// <param name="outwards">Never by less than was found: the least change that is enough.</param>
    private static DrawnSizes Written(JobFits fits, DrawnSizes best, bool outwards)
    {
        double Rounded(double drawnMm, double byMm)
        {
            double written = Math.Round(drawnMm, Decimals), step = Math.Sign(byMm) * Math.Pow(10, -Decimals);
            return outwards && step * (drawnMm - written) > 1e-9 * Math.Abs(step) ? Math.Round(written + step, Decimals) : written;
        }

        SizeChange[] changes = [.. best.Changes.Select(c => c with { ByMm = Rounded(fits.DrawnMm[c.Size] + c.ByMm, c.ByMm) - fits.DrawnMm[c.Size] })];
        FitCase changed = fits.Case.Changed(changes.ToDictionary(c => c.Size, c => c.ByMm, StringComparer.Ordinal));
        return best with { Changes = changes, Case = changed, Odds = FitOdds.Of(changed) };
    }

    private static ExpectedFit Expected(MetCounterpart met, FitCase asMeasured, FitCase alone, int number, JobFits fits, DrawnSizes drawn)
    {
        FitCondition condition = alone.Conditions[number];
        ConditionOdds odds = FitOdds.Of(alone with { Conditions = [condition] }).Each[0];
        Estimate before = FitOdds.Of(asMeasured with { Conditions = [asMeasured.Conditions[number]] }).Each[0].Odds;
        var (shown, times) = Shown(met, condition, odds, alone);
        string[] sizes = [.. condition.Lengths.SelectMany(l => l.Printed).SelectMany(p => p.PerSize.Keys).Distinct().Order(StringComparer.Ordinal)];
        return new(met, odds.Odds, before, new(times * shown.Clearance.MeanMm, times * shown.Clearance.StandardDeviationMm), times * shown.Low95Mm, times * shown.High95Mm,
            sizes.ToDictionary(s => s, s => Math.Round(fits.DrawnMm[s] + (drawn.Changes.FirstOrDefault(c => c.Size == s)?.ByMm ?? 0), 9), StringComparer.Ordinal));
    }

    /// <summary>A hole's clearance is twice its room; a pattern of holes shows by how much its farthest hole is off.</summary>
    private static (ConditionOdds Shown, double Times) Shown(MetCounterpart met, FitCondition condition, ConditionOdds odds, FitCase alone)
    {
        if (condition is OneClearance) return (odds, 1);
        if (met.Counterpart.Kind != CounterpartKind.Holes) return (odds, 2);
        IReadOnlyList<LengthSum> offsets = condition switch { FastenersInLine line => line.Offsets, FastenersInPlane plane => plane.Offsets, _ => [] };
        LengthSum farthest = offsets.MaxBy(o => o.Printed.Sum(p => Math.Abs(p.DrawnMm)))!;
        return (FitOdds.Of(alone with { Conditions = [new OneClearance(condition.Name, farthest, new(double.NegativeInfinity, double.PositiveInfinity, ""))] }).Each[0], 1);
    }

    /// <summary>What a pressed fit does to the hub around it, or to the part that is pressed in; null where nothing is pressed, or the material or the hub is not known.</summary>
    private static PressFit? Press(Job job, ExpectedFit fit, PlacedShape shape)
    {
        if (fit.Met.Counterpart.Kind is CounterpartKind.Insert or CounterpartKind.Screw or CounterpartKind.WoodScrew or CounterpartKind.Hose || fit.Met.Window is not { HighMm: <= 0 }) return null;
        if (fit.Met.Surfaces is not [{ IsRound: true } surface] || !(fit.Clearance.MeanMm < 0)) return null;
        if (MaterialTable.Published.Print(job.Print?.Material ?? "", []) is not { } printed) return null;
        double own = fit.Met.Own!.Length.MeanMm;
        double share = printed.Name.Contains("PLA", StringComparison.OrdinalIgnoreCase) ? LongTimeShareOfPla : LongTimeShare;
        var material = new PressMaterial(printed.Name, printed.Stiffness.InLayerMPa, printed.Stiffness.NuInLayer, printed.Strengths.TensionAcross.Value, share);
        double[] hollow = [.. About(surface, shape, own, hollow: true).Where(d => d < own)], solid = [.. About(surface, shape, own, hollow: false).Where(d => d > own)];
        // A hub without a round outside about the same axis is taken as twice its bore; a plug without a bore is solid.
        return fit.Met.Counterpart.How == Meeting.GoesOver ? PressFit.OfPlug(new(hollow.DefaultIfEmpty(0).Max(), own, material), -fit.Clearance.MeanMm)
            : PressFit.Of(new(own, solid.DefaultIfEmpty(2 * own).Min(), material), -fit.Clearance.MeanMm);
    }

    /// <summary>The diameters of the round faces about the axis of a surface.</summary>
    private static IEnumerable<double> About(MetSurface surface, PlacedShape shape, double ownMm, bool hollow) =>
        from round in shape.Elements.Values.OfType<RoundElement>()
        where round.Hollow == hollow && Vector.Cross(round.AxisDirection, surface.Along).Length.Value < 1e-9
            && Vector.Cross(round.AxisPoint - surface.Middle, surface.Along.Unit()).Length.Value < 0.1 * ownMm
        select 2 * round.Radius.Value;
}
