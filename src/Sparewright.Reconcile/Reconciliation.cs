using System.Diagnostics.CodeAnalysis;
using Sparewright.Measure;
using Sparewright.Measure.Numbers;
using Sparewright.Measure.Quantities;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Sizes;
using Sparewright.Reconcile.Adjust;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Readings;
using Quantity = Sparewright.Part.Sizes.Quantity;

namespace Sparewright.Reconcile;

/// <summary>
/// All readings at once, against the shape's own geometry, with their uncertainties: the sizes that agree with them best, how sure each is,
/// which readings contradict the others, and what nothing decides.
/// </summary>
public static class Reconciliation
{
    /// <summary>Chance that a job without any gross error raises an alarm: each reading's own level follows from the number of readings.</summary>
    public const double FalseAlarmLevel = 0.05;

    /// <summary>A reading is set aside only when it is the wrong one with at least these odds.</summary>
    public const double OddsToSetAside = 0.95;

    /// <summary>A reading that carries less than this share of a size's variance does not count as deciding it.</summary>
    private const double LeastShare = 0.05;

    /// <summary>Reconciles a job.</summary>
    /// <param name="problems">Why it cannot be done: readings that no caliper can take, undecided sizes without a starting value.</param>
    public static bool TryReconcile(Job job, [NotNullWhen(true)] out Reconciled? reconciled, out IReadOnlyList<Problem> problems, InstrumentDefaults? defaults = null)
    {
        reconciled = null;
        Ledger ledger = Ledger.Of(job, defaults ?? InstrumentDefaults.Published);
        double[] start = Ledger.StartOf(job);
        PlacedShape first = ledger.ShapeAt(start);
        problems = [.. first.Problems, .. ledger.Entries.Select(e => Ledger.Computed(e, first)?.Refusal).OfType<Problem>(), .. UnknownRounds(job, first)];
        if (problems.Count > 0)
        {
            problems = [.. problems.Concat(StartsFromNothing(job)).DistinctBy(p => (p.Place, p.What))];
            return false;
        }

        var problem = new AdjustmentProblem([.. job.Sizes.Free.Select((s, k) => new Unknown(s.Name, start[k]))], ledger.Observations());
        if (!Adjustment.TrySolve(problem, out AdjustmentResult? all, out AdjustmentFailure? failure))
        {
            problems = [AsProblem(job, failure)];
            return false;
        }

        SuspectSearch search = Suspects.Find(all, FalseAlarmLevel, OddsToSetAside);
        var aside = search.Sets.Where(s => s.IsSingle && s.Leader.Odds >= OddsToSetAside).Select(s => s.Leader.Index).ToHashSet();
        AdjustmentResult final = all;
        if (aside.Count > 0 && Adjustment.TrySolve(problem.From(all.Estimates) with { Observations = [.. problem.Observations.Where((_, k) => !aside.Contains(k))] }, out AdjustmentResult? without, out _))
            final = without;

        double[] free = [.. final.Estimates];
        PlacedShape shape = ShapePlacer.Place(job.Shape, job.Sizes.At(free));
        problems = [.. shape.Problems, .. WithoutStart(job, final)];
        if (problems.Count > 0) return false;

        var contradictions = search.Sets.Select(set => AsContradiction(ledger, shape, all, set, aside.Contains(set.Leader.Index))).ToList();
        reconciled = new Reconciled(
            [.. job.Sizes.All.Select(s => SizeOf(job, final, s))],
            [.. ledger.Entries.Select(e => ReadingOf(e, shape, all, final, contradictions))],
            final.Global, contradictions, [.. final.NullSpace.Directions.Select(d => AsUndecided(job, shape, d))], free, final, shape);
        return true;
    }

    // ---- what cannot be reconciled --------------------------------------------------------------------------------

    private static IEnumerable<Problem> UnknownRounds(Job job, PlacedShape shape) => job.Readings.OfType<GaugeLeafReading>()
        .Where(r => RoundOf(r, shape) is null)
        .Select(r => new Problem(r.Place, $"{r.Id}: there is no edge round or fillet `{r.Round}`", "name a round of the shape"));

    /// <summary>Where the shape cannot even be placed at the starting values, sizes without one are the likely reason.</summary>
    private static IEnumerable<Problem> StartsFromNothing(Job job) => job.Sizes.Free.Where(s => s.Given is Given.Nothing)
        .Select(s => new Problem(s.Place, $"`{s.Name}` has no starting value", "say about how big it is: {about: …}"));

    private static IEnumerable<Problem> WithoutStart(Job job, AdjustmentResult result) => job.Sizes.Free
        .Where((s, k) => s.Given is Given.Nothing && !result.IsDecided(k))
        .Select(s => new Problem(s.Place, $"nothing decides `{s.Name}`, and it has no starting value to be drawn at", "measure something that depends on it, or say {about: …}"));

    private static Problem AsProblem(Job job, AdjustmentFailure failure)
    {
        Place place = job.Readings.FirstOrDefault(r => r.Id == failure.Name)?.Place ?? job.Sizes.All.FirstOrDefault(s => s.Name == failure.Name)?.Place ?? Place.None;
        return new Problem(place, $"{failure.Name}: {failure.Reason}", failure.Remedy);
    }

    // ---- sizes ------------------------------------------------------------------------------------------------------

    private static ReconciledSize SizeOf(Job job, AdjustmentResult result, Size size)
    {
        if (size.Given is Given.Fixed bound) return new(size.Name, size.Quantity, bound.Value, 0, [], SizeStatus.Fixed);
        DerivedValue value = result.Of(free => job.Sizes.At(Values(free))[size.Name]);
        if (!value.IsDecided) return new(size.Name, size.Quantity, value.Value, double.PositiveInfinity, [], SizeStatus.Undecided);
        if (value.StandardUncertainty == 0) return new(size.Name, size.Quantity, value.Value, 0, [], SizeStatus.Fixed);
        Gradient gradient = job.Sizes.At([.. result.Estimates])[size.Name].Gradient;
        var deciding = Deciding(result, gradient, value.StandardUncertainty);
        bool isChecked = deciding.Any(d => result.Observations[d].IsChecked);
        return new(size.Name, size.Quantity, value.Value, value.StandardUncertainty, [.. deciding.Select(d => result.Observations[d].Name)], isChecked ? SizeStatus.Decided : SizeStatus.Weak);
    }

    private static double[] Values(ReadOnlySpan<Dual> free)
    {
        var values = new double[free.Length];
        for (int k = 0; k < values.Length; k++) values[k] = free[k].Value;
        return values;
    }

    /// <summary>
    /// The share of reading j in the variance of a size g·x: (gᵀC aⱼ/σⱼ)² over gᵀCg, with aⱼ the reading's derivatives; the shares add up to one.
    /// </summary>
    private static List<int> Deciding(AdjustmentResult result, Gradient size, double standardUncertainty)
    {
        var unknowns = new Dual[result.Estimates.Count];
        for (int k = 0; k < unknowns.Length; k++) unknowns[k] = Dual.Unknown(k, result.Estimates[k]);
        var shares = new List<(int Observation, double Share)>();
        for (int j = 0; j < result.Problem.Observations.Count; j++)
        {
            Observation observation = result.Problem.Observations[j];
            Gradient a = observation.Computed(unknowns).Gradient;
            double influence = 0;
            for (int p = 0; p < size.Unknowns.Length; p++)
                for (int q = 0; q < a.Unknowns.Length; q++)
                {
                    double covariance = result.Covariance(size.Unknowns[p], a.Unknowns[q]);
                    if (!double.IsNaN(covariance)) influence += size.Derivatives[p] * covariance * a.Derivatives[q];
                }

            double share = influence / observation.StandardUncertainty / standardUncertainty;
            shares.Add((j, share * share));
        }

        return [.. shares.Where(s => s.Share >= LeastShare).OrderByDescending(s => s.Share).ThenBy(s => s.Observation).Select(s => s.Observation)];
    }

    // ---- readings -----------------------------------------------------------------------------------------------------

    private static ReconciledReading ReadingOf(LedgerEntry entry, PlacedShape shape, AdjustmentResult all, AdjustmentResult final, List<Contradiction> contradictions)
    {
        string says = ReadingWords.Of(entry.Reading);
        double? adjusted = Ledger.Computed(entry, shape)?.Mm?.Value;
        if (!entry.Decides) return new(entry.Reading, says, entry.Measured, entry.Measured?.ValueMm, adjusted, null, null, Compare(entry, shape, adjusted));

        string id = entry.Reading.Id;
        Contradiction? contradiction = contradictions.FirstOrDefault(c => c.Ids.Contains(id));
        ReadingVerdict verdict = contradiction switch { null => ReadingVerdict.Agrees, { SetAside: true } => ReadingVerdict.SetAside, _ => ReadingVerdict.Suspect };
        // A reading set aside is no longer in the final adjustment: its test is the one that found it.
        AdjustedObservation tested = (verdict == ReadingVerdict.SetAside ? all : final).Observations.First(o => o.Name == id);
        double? w = verdict == ReadingVerdict.SetAside ? contradiction!.W : tested.W;
        return new(entry.Reading, says, entry.Measured, entry.Measured!.ValueMm, adjusted, w, tested.Redundancy, verdict);
    }

    private static ReadingVerdict Compare(LedgerEntry entry, PlacedShape shape, double? adjusted)
    {
        switch (entry.Reading)
        {
            case GaugeLeafReading leaf:
                double radius = RoundOf(leaf, shape)!.Radius.Value;
                return radius >= leaf.BiggerThanMm && radius <= leaf.SmallerThanMm ? ReadingVerdict.Compared : ReadingVerdict.ComparedAndDiffers;
            case CaliperReading { Worn: true } worn when adjusted is { } value:
                // Wear takes material away: an outside reading can only be too small, an inside one only too big.
                double excess = worn.Way == ReadingWay.Inside ? value - entry.Measured!.ValueMm : entry.Measured!.ValueMm - value;
                return excess > 2 * entry.Measured.Budget.StandardUncertaintyMm ? ReadingVerdict.ComparedAndDiffers : ReadingVerdict.Compared;
            default:
                return ReadingVerdict.Compared;
        }
    }

    private static EdgeFaceElement? RoundOf(GaugeLeafReading reading, PlacedShape shape) =>
        (shape.Elements.GetValueOrDefault(reading.Round + ".face") ?? shape.Elements.GetValueOrDefault(reading.Round)) as EdgeFaceElement;

    // ---- contradictions -------------------------------------------------------------------------------------------------

    private static Contradiction AsContradiction(Ledger ledger, PlacedShape shape, AdjustmentResult all, SuspectSet set, bool setAside)
    {
        Suspect leader = set.Leader;
        LedgerEntry? entry = ledger.Entries.FirstOrDefault(e => e.Reading.Id == leader.Name);
        double observed = all.Observations[leader.Index].Observed;
        double should = entry is not null && setAside ? Ledger.Computed(entry, shape)!.Value.Mm!.Value.Value : observed - leader.EstimatedGrossError;
        string says = entry is null ? $"what is held likely of {leader.Name}" : $"{leader.Name} ({ReadingWords.Of(entry.Reading)})";
        string words = set.IsSingle
            ? $"{says} says {Shown.Mm(observed)}; all others together say {Shown.Mm(should)}"
            : $"one of {string.Join(", ", set.Members.Select(m => m.Name))} is wrong; the readings cannot tell which";
        return new([.. set.Members.Select(m => m.Name)], leader.Odds, leader.W, all.Observations[leader.Index].Redundancy, observed, should, setAside, words);
    }

    // ---- undecided ---------------------------------------------------------------------------------------------------------

    private static UndecidedSizes AsUndecided(Job job, PlacedShape shape, double[] direction)
    {
        IReadOnlyList<int> moved = NullSpace.Moves(direction);
        string Unit(int k) => job.Sizes.Free[k].Quantity switch { Quantity.Length => "mm", Quantity.Angle => "°", _ => "" };
        string Name(int k) => $"`{job.Sizes.Free[k].Name}`";
        string Change(int k) => $"{Name(k)} {Shown.Number(Math.Round(Math.Abs(direction[k]), 3))} {Unit(k)} {(direction[k] > 0 ? "bigger" : "smaller")}".Replace(" °", "°", StringComparison.Ordinal);
        string why = moved.Count == 1
            ? $"no reading depends on {Name(moved[0])}"
            : $"{string.Join(" and ", moved.Select(Name))} appear only together: {string.Join(" and ", moved.Select(Change))}, and every reading would stay the same";
        return new([.. moved.Select(k => job.Sizes.Free[k].Name)], why, [.. moved.SelectMany(k => WhatWouldShow(shape, k)).Distinct().Take(8)]);
    }

    /// <summary>Faces from which a reading would depend on the size.</summary>
    private static IEnumerable<string> WhatWouldShow(PlacedShape shape, int size)
    {
        var elements = shape.Elements.Values.OrderBy(e => e.Name, StringComparer.Ordinal).ToList();
        foreach (RoundElement round in elements.OfType<RoundElement>().Where(r => r.Radius.Gradient.By(size) != 0).Take(2))
            yield return $"the diameter of {round.Name}";
        foreach (EdgeFaceElement edge in elements.OfType<EdgeFaceElement>().Where(e => e.Radius.Gradient.By(size) != 0).Take(2))
            yield return $"the radius of {edge.Name[..^".face".Length]}";
        foreach (FlatElement flat in elements.OfType<FlatElement>().Where(f => Vector.Dot(f.Point, f.Normal).Gradient.By(size) != 0).Take(2))
            yield return $"a distance to {flat.Name}";
        foreach (RoundElement round in elements.OfType<RoundElement>().Where(r => new[] { r.AxisPoint.X, r.AxisPoint.Y, r.AxisPoint.Z }.Any(x => x.Gradient.By(size) != 0)).Take(2))
            yield return $"a distance to {round.Name}";
    }
}
