using Sparewright.Measure;
using Sparewright.Measure.Numbers;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Adjust;
using Sparewright.Reconcile.Explain;
using Sparewright.Reconcile.Readings;

namespace Sparewright.Reconcile.Next;

/// <summary>
/// What to measure next. All readings that the shape allows are tried on paper: how far each would narrow the sizes on which a fit hangs (c-optimality), how much
/// it would tell of everything (D-optimality), whether it would tell suspects apart, and whether it would check what nothing checks yet.
/// A reading a of variance σ² turns the covariance C into C − Ca(Ca)ᵀ/(σ² + aᵀCa) (the rank-one update of least squares).
/// </summary>
internal static class NextReadings
{
    private const int MostTold = 6, MostForFits = 3, MostSizesNamed = 3;

    /// <summary>A reading that narrows a size by less than this share is not worth the walk to the bench.</summary>
    private const double WorthNarrowing = 0.1;

    /// <summary>One that narrows all sizes together by less, in logarithms, tells nothing of them.</summary>
    private const double LeastNarrowing = 1e-3;

    /// <summary>Suspects count as told apart when their two predictions lie this many standard deviations from each other.</summary>
    private const double ToldApart = 3;

    /// <summary>A reading on paper.</summary>
    /// <param name="Own">Standard uncertainty of that part of its error which no reading of the job has in common with it, but for one of the same thing.</param>
    /// <param name="Beside">The same, if only that counts which it would tell beside the one reading of the same thing (<see cref="Ledger.BesideTheSame"/>).</param>
    /// <param name="Gradient">How what it would show changes with the sizes and the shared errors.</param>
    /// <param name="Spread">Standard deviation of what it would show by all that is known; infinite where it would decide something.</param>
    /// <param name="Moves">C·a, for each unknown; empty where the spread is infinite.</param>
    private sealed record Tried(PossibleReading Possible, double Own, double Beside, Gradient Gradient, double Spread, double[] Moves)
    {
        public double Variance => Own * Own + Spread * Spread;

        private double VarianceBeside => Beside * Beside + Spread * Spread;

        public double Nats => 0.5 * Math.Log(1 + Spread * Spread / (Beside * Beside));

        /// <summary>By how much it would narrow all sizes: the sum of the logarithms of the ratios of their standard uncertainties. What it would tell of shared errors counts only as far as it narrows a size.</summary>
        public double Narrowing(double[] before)
        {
            double sum = 0;
            for (int k = 0; k < before.Length; k++)
                if (double.IsFinite(before[k]) && before[k] > 0) sum -= 0.5 * Math.Log(Math.Max(1e-12, 1 - Moves[k] * Moves[k] / (VarianceBeside * before[k] * before[k])));
            return sum;
        }

        /// <summary>The standard uncertainty that a size would have after it.</summary>
        public double After(int size, double before) => Math.Sqrt(Math.Max(0, before * before - Moves[size] * Moves[size] / VarianceBeside));
    }

    public static IReadOnlyList<NextReading> Of(Job job, AdjustmentResult final, IReadOnlyList<WeighedSet> sets, AdjustmentProblem problem, Ledger ledger, PlacedShape shape, IReadOnlyList<PossibleReading> reached)
    {
        Func<PossibleReading, ErrorKey> placeOf = ledger.Places(shape);
        Tried[] tried = [.. reached.Select(p => Try(p, placeOf(p), final, ledger))];
        if (tried.Length == 0) return [];
        string[] names = [.. job.Sizes.Free.Select(s => s.Name)];
        double[] before = [.. names.Select((_, k) => final.StandardUncertainty(k))];
        int[] critical = [.. Enumerable.Range(0, names.Length).Where(k => double.IsFinite(before[k]) && job.Counterparts.Any(c => c.Changes == names[k]))];
        if (critical.Length == 0) critical = [.. Enumerable.Range(0, names.Length).Where(k => double.IsFinite(before[k]))];

        var told = new List<NextReading>();
        void Tell(Tried? best, Purpose purpose, string why)
        {
            if (best is null) return;
            int already = told.FindIndex(t => t.Text == best.Possible.Text);
            if (already < 0) told.Add(AsNext(best, purpose, why, names, before));
            else told[already] = told[already] with { Why = $"{told[already].Why}; {why}" };
        }

        foreach (var (decides, direction) in Deciding(tried, final.NullSpace.Directions))
            Tell(decides, Purpose.Decides, $"decides {string.Join(", ", NullSpace.Moves(direction).Select(k => names[k]).Take(MostSizesNamed))}");

        Tried[] finite = [.. tried.Where(t => double.IsFinite(t.Spread))];
        foreach (WeighedSet set in sets)
            if (set.Rivals(Reconciliation.OddsToSetAside) is [var first, var second, ..])
                Tell(TellsApart(first.Suspect, second.Suspect, finite, problem, final), Purpose.TellsApart, $"tells {first.Suspect.Name} from {second.Suspect.Name}");

        foreach (int k in critical.OrderByDescending(k => before[k]).Take(MostForFits))
            Tell(finite.Where(t => t.After(k, before[k]) < (1 - WorthNarrowing) * before[k]).MinBy(t => t.After(k, before[k])), Purpose.Narrows, $"narrows {names[k]}{(job.Counterparts.Any(c => c.Changes == names[k]) ? ", on which a fit hangs" : "")}");

        if (final.Observations.Where(o => o is { MayBeWrong: true, IsChecked: false }).Select(o => o.Name).FirstOrDefault(n => ledger.Entries.Any(e => e.Reading.Id == n)) is { } uncheckedId)
            Tell(Checks(uncheckedId, finite, final, ledger, shape), Purpose.Checks, $"checks {uncheckedId}, which nothing checks");

        Tell(finite.Where(t => t.Narrowing(before) > LeastNarrowing).MaxBy(t => Math.Round(t.Narrowing(before), 9)), Purpose.NarrowsAll, "tells most of all sizes together");
        return [.. told.Take(MostTold)];
    }

    private static Tried Try(PossibleReading possible, ErrorKey place, AdjustmentResult final, Ledger ledger)
    {
        MeasuredLength measured = ledger.Measure(possible.Reading with { ReadsMm = [possible.Mm.Value] });
        IReadOnlyList<ErrorPart> parts = ledger.PartsOf(possible.Reading, measured, place);
        ReadingError error = ledger.Shared.Of(parts);
        double beside = ledger.BesideTheSame(parts, error.OwnMm);
        Dual shown = ledger.Shared.Shown(possible.Mm, error, final.Estimates);
        DerivedValue foretold = final.Of(_ => shown);
        Gradient a = shown.Gradient;
        if (!foretold.IsDecided) return new(possible, error.OwnMm, beside, a, double.PositiveInfinity, []);
        var moves = new double[final.Estimates.Count];
        for (int k = 0; k < moves.Length; k++)
            if (final.IsDecided(k))
                for (int i = 0; i < a.Unknowns.Length; i++)
                    if (final.IsDecided(a.Unknowns[i])) moves[k] += final.Covariance(k, a.Unknowns[i]) * a.Derivatives[i];
        return new(possible, error.OwnMm, beside, a, foretold.StandardUncertainty, moves);
    }

    /// <summary>
    /// Readings that together decide what is open, one for each direction as far as there are such: first those that say something of one direction alone, and none whose say follows from those before it
    /// (their projections are made square to each other, as Gram and Schmidt do).
    /// </summary>
    private static IEnumerable<(Tried Tried, double[] Direction)> Deciding(Tried[] tried, IReadOnlyList<double[]> directions)
    {
        var left = tried.Where(t => double.IsInfinity(t.Spread)).Select(t => (Tried: t, Says: directions.Select(d => t.Possible.Gradient.Along(d) / t.Own).ToArray())).ToList();
        var open = Enumerable.Range(0, directions.Count).ToHashSet();
        while (open.Count > 0)
        {
            int Touched(double[] says) => open.Count(k => Math.Abs(says[k]) > LeastSay);
            var able = left.Where(l => Touched(l.Says) > 0).ToList();
            if (able.Count == 0) yield break;
            int fewest = able.Min(l => Touched(l.Says));
            var best = able.Where(l => Touched(l.Says) == fewest).MaxBy(l => Math.Round(open.Max(k => Math.Abs(l.Says[k])), 6));
            int of = open.MaxBy(k => Math.Round(Math.Abs(best.Says[k]), 6));
            yield return (best.Tried, directions[of]);
            open.Remove(of);
            double length = Math.Sqrt(best.Says.Sum(s => s * s));
            left = [.. left.Select(l => (l.Tried, Beside(l.Says, [.. best.Says.Select(s => s / length)])))];
        }

        static double[] Beside(double[] says, double[] unit)
        {
            double along = says.Zip(unit, (s, u) => s * u).Sum();
            return [.. says.Zip(unit, (s, u) => s - along * u)];
        }
    }

    /// <summary>A reading that moves by less than this share of its uncertainty for each mm says nothing.</summary>
    private const double LeastSay = 1e-6;

    /// <summary>The reading for which "the first is wrong" and "the second is wrong" foretell what lies farthest apart, if far enough.</summary>
    private static Tried? TellsApart(Suspect first, Suspect second, Tried[] tried, AdjustmentProblem problem, AdjustmentResult final)
    {
        if (!Adjustment.TrySolve(problem.Without(first.Index, final.Estimates), out AdjustmentResult? withoutFirst, out _)
            || !Adjustment.TrySolve(problem.Without(second.Index, final.Estimates), out AdjustmentResult? withoutSecond, out _)) return null;
        double[] apart = [.. withoutFirst.Estimates.Zip(withoutSecond.Estimates, (a, b) => a - b)];
        double Separation(Tried t) => Math.Abs(t.Gradient.Along(apart)) / Math.Sqrt(t.Variance);
        return tried.MaxBy(Separation) is { } best && Separation(best) > ToldApart ? best : null;
    }

    /// <summary>The reading that is most alike to one that nothing checks: were that one wrong, this one would show it.</summary>
    private static Tried? Checks(string id, Tried[] tried, AdjustmentResult final, Ledger ledger, PlacedShape shape)
    {
        LedgerEntry entry = ledger.Entries.First(e => e.Reading.Id == id);
        if (Ledger.Computed(entry, shape)?.Mm is not { } mm) return null;
        ReadingError error = ledger.Shared.Of(entry.Evidence!.Parts);
        double own = error.OwnMm;
        Gradient read = ledger.Shared.Shown(mm, error, final.Estimates).Gradient;
        // r = 1 − σ²/(σ² + …): after a, the reading's leverage falls by (a·C·b)²/((σ² + aᵀCa)·own²).
        double Gain(Tried t)
        {
            double shared = read.Along(t.Moves);
            return shared * shared / (t.Variance * own * own);
        }

        return tried.MaxBy(Gain) is { } best && Gain(best) > WorthNarrowing ? best : null;
    }

    private static NextReading AsNext(Tried tried, Purpose purpose, string why, string[] names, double[] before)
    {
        Narrowing[] narrows = double.IsInfinity(tried.Spread) ? [] :
        [
            .. names.Select((name, k) => (Name: name, Before: before[k], After: double.IsFinite(before[k]) ? tried.After(k, before[k]) : before[k]))
                .Where(n => n.Before > 0 && n.After < (1 - WorthNarrowing) * n.Before).OrderBy(n => n.After / n.Before).Select(n => new Narrowing(n.Name, n.Before, n.After)),
        ];
        return new(tried.Possible.Text, tried.Possible.Reading, double.IsInfinity(tried.Spread) ? null : tried.Possible.Mm.Value, double.IsInfinity(tried.Spread) ? double.PositiveInfinity : tried.Nats, purpose, why, narrows);
    }
}
