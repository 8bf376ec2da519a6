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
/// (greedy D-optimality from a wide prior; V. V. Fedorov, Theory of Optimal Experiments, 1972; from memory), then whatever makes most of the unchecked readings checked.
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

    private const double WorthNaming = 0.05;
    private const int MostNamed = 4;

    /// <summary>Beyond so many no bench is long enough.</summary>
    private const int MostReadings = 200;

    /// <summary>A reading taken or to be taken: how it depends on the sizes and the shared errors behind them, over its own standard uncertainty.</summary>
    /// <param name="Whole">Its whole variance over its own.</param>
    private sealed record Line(string Name, PossibleReading? Possible, int[] Unknowns, double[] Slopes, double Whole);

    /// <summary>What is still to be measured beside the readings that the job holds.</summary>
    public static IReadOnlyList<PlannedReading> Of(Job job, Ledger ledger, PlacedShape shape, IReadOnlyList<PossibleReading> reached)
    {
        int n = job.Sizes.Free.Count;
        var measurable = reached.Where(p => p.Gradient.Unknowns.Length > 0).Select(p => (Possible: p, Measured: ledger.Measure(p.Reading with { ReadsMm = [p.Mm.Value] }))).ToList();
        var read = ledger.Entries.Where(e => e.Decides).Select(e => (Evidence: e.Evidence!, Shows: Ledger.Computed(e, shape)?.Mm)).ToList();
        var errors = new SharedErrors(n, measurable.Select(m => ledger.PartsOf(m.Possible.Reading, m.Measured)).Concat(read.Select(r => r.Evidence.Parts)));
        double[] unshifted = new double[n + errors.All.Count];
        Line AsLine(string name, PossibleReading? possible, Dual shows, IReadOnlyList<ErrorPart> parts, UncertaintyBudget budget)
        {
            ReadingError error = errors.Of(parts);
            Gradient gradient = errors.Shown(shows, error, unshifted).Gradient;
            double[] slopes = gradient.Derivatives.ToArray();
            double whole = budget.StandardUncertaintyMm / error.OwnMm;
            return new(name, possible, gradient.Unknowns.ToArray(), [.. slopes.Select(s => s / error.OwnMm)], whole * whole);
        }

        Line[] candidates = [.. measurable.Select(m => AsLine(m.Possible.Text, m.Possible, m.Possible.Mm, ledger.PartsOf(m.Possible.Reading, m.Measured), m.Measured.Budget))
            .OrderBy(l => l.Unknowns.Length).ThenBy(l => l.Name.Length).ThenBy(l => l.Name, StringComparer.Ordinal)];

        var covariance = new double[unshifted.Length, unshifted.Length];
        for (int k = n; k < unshifted.Length; k++) covariance[k, k] = errors.All[k - n].StandardUncertaintyMm * errors.All[k - n].StandardUncertaintyMm;
        for (int k = 0; k < n; k++) covariance[k, k] = job.Sizes.Free[k].Given is Given.Likely likely ? likely.PlusMinus * likely.PlusMinus / 4 : UnknownBy * UnknownBy;
        var taken = new List<Line>();
        foreach (var (evidence, shows) in read)
            if (shows is { } value) Take(AsLine(evidence.Reading.Id, null, value, evidence.Parts, evidence.Budget), covariance, taken);

        var plan = new List<PlannedReading>();
        while (plan.Count < MostReadings)
        {
            int[] open = [.. Enumerable.Range(0, n).Where(k => Math.Sqrt(covariance[k, k]) > DecidedShare * UnknownBy)];
            if (open.Length == 0 || candidates.MaxBy(c => Math.Round(Spread(c, covariance, n) / c.Whole, 6)) is not { } best || Spread(best, covariance, n) < WorthDeciding * best.Whole) break;
            Take(best, covariance, taken);
            plan.Add(AsPlanned(best, $"for {Listed.Of([.. best.Unknowns.Where(k => k < n).Select(k => job.Sizes.Free[k].Name)], MostNamed)}"));
        }

        while (plan.Count < MostReadings)
        {
            Line[] loose = [.. taken.Where(t => Check(t, covariance) < CheckedRedundancy)];
            if (loose.Length == 0) break;
            double Gain(Line c) => loose.Sum(t => Math.Min(CheckedRedundancy, Check(t, covariance) + Shared(t, c, covariance)) - Check(t, covariance));
            double[] gains = [.. candidates.Select(Gain)];
            double most = gains.DefaultIfEmpty(0).Max();
            if (most < 0.01) break;
            // Of those that check as good as most, the one that narrows the sizes most.
            Line best = candidates.Where((_, k) => gains[k] >= AsGoodAsMost * most).MaxBy(c => Math.Round(Narrowing(c, covariance, n), 6))!;
            string[] helped = [.. loose.Where(t => Shared(t, best, covariance) > WorthNaming).Select(t => t.Possible is null ? t.Name : $"no. {1 + plan.FindIndex(p => p.Text == t.Name)}")];
            Take(best, covariance, taken);
            plan.Add(AsPlanned(best, helped.Length == 0 ? "checks the others" : $"checks {Listed.Of(helped, MostNamed)}"));
        }

        return plan;
    }

    private static PlannedReading AsPlanned(Line line, string why) => new(line.Name, line.Possible!.Reading, line.Possible.Mm.Value, why);

    /// <summary>Variance of what a reading would show by the first unknowns alone, in its own.</summary>
    private static double Spread(Line line, double[,] covariance, int unknowns) => Product(line, line, covariance, unknowns);

    /// <summary>What the others say of it already, as <see cref="Adjust.AdjustedObservation.Check"/> (its own say is in the covariance).</summary>
    private static double Check(Line taken, double[,] covariance) => (1 - Product(taken, taken, covariance)) * taken.Whole;

    /// <summary>By how much a candidate would raise that.</summary>
    private static double Shared(Line taken, Line candidate, double[,] covariance)
    {
        double shared = Product(taken, candidate, covariance);
        return shared * shared / (1 + Product(candidate, candidate, covariance)) * taken.Whole;
    }

    /// <summary>By how much a candidate would narrow the first unknowns: the sum of the logarithms of the ratios of their standard uncertainties.</summary>
    private static double Narrowing(Line candidate, double[,] covariance, int unknowns)
    {
        double variance = 1 + Product(candidate, candidate, covariance), sum = 0;
        for (int k = 0; k < unknowns; k++)
        {
            double move = 0;
            for (int i = 0; i < candidate.Unknowns.Length; i++) move += covariance[k, candidate.Unknowns[i]] * candidate.Slopes[i];
            if (covariance[k, k] > 0) sum -= 0.5 * Math.Log(Math.Max(1e-12, 1 - move * move / (variance * covariance[k, k])));
        }

        return sum;
    }

    private static double Product(Line a, Line b, double[,] covariance, int unknowns = int.MaxValue)
    {
        double sum = 0;
        for (int i = 0; i < a.Unknowns.Length; i++)
            for (int j = 0; j < b.Unknowns.Length; j++)
                if (a.Unknowns[i] < unknowns && b.Unknowns[j] < unknowns) sum += a.Slopes[i] * b.Slopes[j] * covariance[a.Unknowns[i], b.Unknowns[j]];
        return sum;
    }

    private static void Take(Line line, double[,] covariance, List<Line> taken)
    {
        int n = covariance.GetLength(0);
        var moves = new double[n];
        for (int k = 0; k < n; k++)
            for (int i = 0; i < line.Unknowns.Length; i++) moves[k] += covariance[k, line.Unknowns[i]] * line.Slopes[i];
        double variance = 1 + Product(line, line, covariance);
        for (int a = 0; a < n; a++)
            for (int b = 0; b < n; b++) covariance[a, b] -= moves[a] * moves[b] / variance;
        taken.Add(line);
    }
}
