using Sparewright.Measure;
using Sparewright.Measure.Numbers;
using Sparewright.Measure.Uncertainty;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Sizes;
using Sparewright.Reconcile.Readings;

namespace Sparewright.Reconcile.Next;

/// <summary>A reading of a plan.</summary>
/// <param name="Text">As one writes it in the job, without what it reads.</param>
/// <param name="AboutMm">What it should read, roughly, by the sizes as they are supposed.</param>
/// <param name="Why">"decides od", "checks the wall, and two more".</param>
public sealed record PlannedReading(string Text, CaliperReading Reading, double AboutMm, string Why);

/// <summary>
/// The readings to take so that every size is decided by as few as can be and each of them is checked by others. First whatever tells most of what is not known yet, one after the other
/// (greedy D-optimality from a wide prior; V. V. Fedorov, Theory of Optimal Experiments, 1972; from memory), then whatever makes most of the unchecked readings checked. Of these, readings are left out that the rest can
/// do without, and exchanged for others that narrow the sizes more, as long as everything stays decided and checked (exchange of points; the same book).
/// </summary>
internal static class MeasuringPlan
{
    /// <summary>How little is known of a size before it is measured: its standard deviation, mm or degrees.</summary>
    private const double UnknownBy = 5;

    /// <summary>A size counts as decided when so little of that is left, and a reading as checked from this redundancy on.</summary>
    private const double DecidedShare = 0.05, CheckedRedundancy = 0.2;

    /// <summary>A reading decides something when what is known leaves its value open by so many times its own variance.</summary>
    private const double WorthDeciding = 100;

    private const double AsGoodAsMost = 0.6;

    /// <summary>An exchange must narrow the sizes by so much, all together, in logarithms; so many sweeps of exchanges are made, and so many of the best for each place are tried.</summary>
    private const double WorthExchanging = 0.01;
    private const int MostSweeps = 3, MostTried = 6;

    private const double WorthNaming = 0.05;
    private const int MostNamed = 4;

    /// <summary>Beyond so many no bench is long enough.</summary>
    private const int MostReadings = 200;

    /// <summary>What is still to be measured beside the readings that the job holds.</summary>
    public static IReadOnlyList<PlannedReading> Of(Job job, Ledger ledger, PlacedShape shape, IReadOnlyList<PossibleReading> reached)
    {
        int n = job.Sizes.Free.Count;
        Func<PossibleReading, ErrorKey> placeOf = ledger.Places(shape);
        var measurable = reached.Where(p => p.Gradient.Unknowns.Length > 0).Select(p =>
        {
            ErrorKey place = placeOf(p);
            MeasuredLength measured = ledger.Measure(p.Reading with { ReadsMm = [p.Mm.Value] });
            return (Possible: p, measured.Budget, Place: place, Parts: ledger.PartsOf(p.Reading, measured, place));
        }).ToList();
        var read = ledger.Entries.Where(e => e.Decides).Select(e => (Evidence: e.Evidence!, Shows: Ledger.Computed(e, shape)?.Mm)).ToList();
        var errors = new SharedErrors(n, measurable.DistinctBy(m => m.Place).Select(m => m.Parts).Concat(read.Select(r => r.Evidence.Parts)));
        double[] unshifted = new double[n + errors.All.Count];
        Line AsLine(string name, IReadOnlyList<PossibleReading> possible, Dual shows, IReadOnlyList<ErrorPart> parts, UncertaintyBudget budget)
        {
            ReadingError error = errors.Of(parts);
            Gradient gradient = errors.Shown(shows, error, unshifted).Gradient;
            double[] slopes = gradient.Derivatives.ToArray();
            double place = errors.Own(parts, ErrorReach.SamePlace);
            return new(name, possible, gradient.Unknowns.ToArray(), [.. slopes.Select(s => s / error.OwnMm)], error.OwnMm, place, budget.StandardUncertaintyMm);
        }

        // What is read at one place of the scale is one candidate: taken again, it is read at another place of its pattern, where there is one.
        Line[] candidates = [.. measurable.GroupBy(m => (m.Place, Math.Round(m.Budget.StandardUncertaintyMm, 9)))
            .Select(same => same.OrderBy(m => m.Possible.Text.Length).ThenBy(m => m.Possible.Text, StringComparer.Ordinal).ToArray())
            .Select(same => AsLine(same[0].Possible.Text, [.. same.Where(m => Unnumbered(m.Possible) == Unnumbered(same[0].Possible)).Select(m => m.Possible)], same[0].Possible.Mm, same[0].Parts, same[0].Budget))
            .OrderBy(l => l.Unknowns.Length).ThenBy(l => l.Name.Length).ThenBy(l => l.Name, StringComparer.Ordinal)];

        OnPaper Read()
        {
            var covariance = new double[unshifted.Length, unshifted.Length];
            for (int k = n; k < unshifted.Length; k++) covariance[k, k] = errors.All[k - n].StandardUncertaintyMm * errors.All[k - n].StandardUncertaintyMm;
            for (int k = 0; k < n; k++) covariance[k, k] = job.Sizes.Free[k].Given is Given.Likely likely ? likely.PlusMinus * likely.PlusMinus / 4 : UnknownBy * UnknownBy;
            var known = new OnPaper(n, covariance);
            foreach (var (evidence, shows) in read)
                if (shows is { } value) known.Take(AsLine(evidence.Reading.Id, [], value, evidence.Parts, evidence.Budget));
            return known;
        }

        List<Line> plan = [.. Steps(Read(), candidates, n).Select(s => s.Line)];
        OnPaper after = Read();
        foreach (Line line in plan) after.Take(line);
        plan = [.. Exchanged(Fewest(after, n), candidates, n).Taken.Where(t => t.Possible is not null)];

        // In the order in which one would choose them, if there were no others.
        var told = new List<PlannedReading>();
        foreach (var (line, decides, helps) in Steps(Read(), [.. plan.Select(l => l.First)], n, once: true))
            told.Add(new(line.Name, line.Possible!.Reading, line.Possible.Mm.Value,
                decides ? $"for {Listed.Of([.. line.Unknowns.Where(k => k < n).Select(k => job.Sizes.Free[k].Name)], MostNamed)}"
                : helps.Count == 0 ? "checks the others"
                : $"checks {Listed.Of([.. helps.Select(h => h.Possible is null ? h.Name : $"no. {1 + told.FindIndex(t => t.Text == h.Name)}")], MostNamed)}"));
        return told;
    }

    /// <summary>One reading after the other: what decides most, then what checks most.</summary>
    /// <param name="once">Each of the candidates is taken, and once only.</param>
    private static IEnumerable<(Line Line, bool Decides, IReadOnlyList<Line> Helps)> Steps(OnPaper known, IReadOnlyList<Line> candidates, int n, bool once = false)
    {
        List<Line> left = [.. candidates];
        void Take(Line line)
        {
            known.Take(line);
            if (once) left.Remove(line);
        }

        for (int count = 0; count < MostReadings && left.Count > 0; count++)
        {
            if (IsDecided(known, n)) break;
            Line best = left.MaxBy(c => Math.Round(known.Spread(c) / known.Whole(c), 6))!;
            if (known.Spread(best) < WorthDeciding * known.Whole(best)) break;
            Take(best);
            yield return (known.Taken[^1], true, []);
        }

        for (int count = 0; count < MostReadings && left.Count > 0; count++)
        {
            Line[] loose = [.. known.Taken.Where(t => known.Check(t) < CheckedRedundancy)];
            if (loose.Length == 0 && !once) break;
            double Gain(Line c) => loose.Sum(t => Math.Min(CheckedRedundancy, known.Check(t) + known.Shared(t, c)) - known.Check(t));
            double[] gains = [.. left.Select(Gain)];
            double most = gains.Max();
            if (most < 0.01 && !once) break;
            // Of those that check as good as most, the one that narrows the sizes most.
            Line best = left.Where((_, k) => gains[k] >= AsGoodAsMost * most).MaxBy(c => Math.Round(known.Narrowing(c), 6))!;
            Line[] helped = [.. loose.Where(t => known.Shared(t, best) > WorthNaming)];
            Take(best);
            yield return (known.Taken[^1], false, helped);
        }
    }

    /// <summary>The same for readings that differ by the numbers of copies and pieces only.</summary>
    private static string Unnumbered(PossibleReading possible) => string.Concat(possible.Text.Split('#').Select((part, k) => k == 0 ? part : part.TrimStart(Digits)));

    private static readonly char[] Digits = [.. "0123456789"];

    private static bool IsDecided(OnPaper known, int n) => Enumerable.Range(0, n).All(k => Math.Sqrt(known.Variance(k)) <= DecidedShare * UnknownBy);

    /// <summary>Whether everything is decided and checked after a change as it was before it.</summary>
    private static bool IsAsGood(OnPaper changed, OnPaper before, int n)
    {
        for (int k = 0; k < n; k++)
            if (Math.Sqrt(changed.Variance(k)) > Math.Max(DecidedShare * UnknownBy, 1.05 * Math.Sqrt(before.Variance(k)))) return false;
        return changed.Taken.All(t => changed.Check(t) is var check && (check >= CheckedRedundancy || (before.Taken.Contains(t) && check >= before.Check(t) - 1e-9)));
    }

    /// <summary>Without those of the plan that the others can do without.</summary>
    private static OnPaper Fewest(OnPaper planned, int n)
    {
        foreach (Line line in planned.Taken.Where(t => t.Possible is not null).Reverse().ToArray())
            if (planned.Without(line) is var rest && IsAsGood(rest, planned, n)) planned = rest;
        return planned;
    }

    /// <summary>As many readings, but better ones.</summary>
    private static OnPaper Exchanged(OnPaper planned, IReadOnlyList<Line> candidates, int n)
    {
        for (int sweep = 0; sweep < MostSweeps; sweep++)
        {
            bool better = false;
            foreach (Line line in planned.Taken.Where(t => t.Possible is not null).ToArray())
            {
                OnPaper rest = planned.Without(line);
                double least = rest.Narrowing(line) + WorthExchanging;
                foreach (var (other, _) in candidates.Select(c => (Line: c, Narrows: Math.Round(rest.Narrowing(c), 6))).Where(c => c.Narrows > least).OrderByDescending(c => c.Narrows).Take(MostTried))
                    if (rest.With(other) is var changed && IsAsGood(changed, planned, n))
                    {
                        (planned, better) = (changed, true);
                        break;
                    }
            }

            if (!better) break;
        }

        return planned;
    }
}
