using Sparewright.Measure.Numbers;
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

    private const double WorthNaming = 0.05;
    private const int MostNamed = 4;

    /// <summary>Beyond so many no bench is long enough.</summary>
    private const int MostReadings = 200;

    /// <summary>A reading taken or to be taken: how it depends on the sizes, over its own standard uncertainty.</summary>
    private sealed record Line(string Name, PossibleReading? Possible, int[] Sizes, double[] Slopes);

    /// <summary>What is still to be measured beside the readings that the job holds.</summary>
    public static IReadOnlyList<PlannedReading> Of(Job job, Ledger ledger, PlacedShape shape, IReadOnlyList<PossibleReading> reached)
    {
        int n = job.Sizes.Free.Count;
        Line[] candidates = [.. reached.Where(p => p.Gradient.Unknowns.Length > 0)
            .Select(p => AsLine(p.Text, p, p.Gradient, ledger.Measure(p.Reading with { ReadsMm = [p.Mm.Value] }).Budget.StandardUncertaintyMm))
            .OrderBy(l => l.Sizes.Length).ThenBy(l => l.Name.Length).ThenBy(l => l.Name, StringComparer.Ordinal)];

        var covariance = new double[n, n];
        for (int k = 0; k < n; k++) covariance[k, k] = job.Sizes.Free[k].Given is Given.Likely likely ? likely.PlusMinus * likely.PlusMinus / 4 : UnknownBy * UnknownBy;
        var taken = new List<Line>();
        foreach (LedgerEntry entry in ledger.Entries.Where(e => e.Decides))
            if (Ledger.Computed(entry, shape)?.Mm is { } mm) Take(AsLine(entry.Reading.Id, null, mm.Gradient, entry.Measured!.Budget.StandardUncertaintyMm), covariance, taken);

        var plan = new List<PlannedReading>();
        while (plan.Count < MostReadings)
        {
            int[] open = [.. Enumerable.Range(0, n).Where(k => Math.Sqrt(covariance[k, k]) > DecidedShare * UnknownBy)];
            if (open.Length == 0 || candidates.MaxBy(c => Math.Round(Spread(c, covariance), 6)) is not { } best || Spread(best, covariance) < WorthDeciding) break;
            Take(best, covariance, taken);
            plan.Add(AsPlanned(best, $"for {Listed([.. best.Sizes.Select(k => job.Sizes.Free[k].Name)], MostNamed)}"));
        }

        while (plan.Count < MostReadings)
        {
            Line[] loose = [.. taken.Where(t => Redundancy(t, covariance) < CheckedRedundancy)];
            if (loose.Length == 0) break;
            double Gain(Line c) => loose.Sum(t => Math.Min(CheckedRedundancy, Redundancy(t, covariance) + Shared(t, c, covariance)) - Redundancy(t, covariance));
            if (candidates.MaxBy(c => Math.Round(Gain(c), 6)) is not { } best || Gain(best) < 0.01) break;
            string[] helped = [.. loose.Where(t => Shared(t, best, covariance) > WorthNaming).Select(t => t.Possible is null ? t.Name : $"no. {1 + plan.FindIndex(p => p.Text == t.Name)}")];
            Take(best, covariance, taken);
            plan.Add(AsPlanned(best, helped.Length == 0 ? "checks the others" : $"checks {Listed(helped, MostNamed)}"));
        }

        return plan;
    }

    private static Line AsLine(string name, PossibleReading? possible, Gradient gradient, double u)
    {
        // What is left of a size that cancels out is rounding.
        int[] parts = [.. Enumerable.Range(0, gradient.Unknowns.Length)];
        double[] slopes = gradient.Derivatives.ToArray();
        parts = [.. parts.Where(i => Math.Abs(slopes[i]) > 1e-9)];
        int[] sizes = gradient.Unknowns.ToArray();
        return new(name, possible, [.. parts.Select(i => sizes[i])], [.. parts.Select(i => slopes[i] / u)]);
    }

    private static PlannedReading AsPlanned(Line line, string why) => new(line.Name, line.Possible!.Reading, line.Possible.Mm.Value, why);

    private static string Listed(string[] names, int most) =>
        names.Length > most ? $"{string.Join(", ", names.Take(most))} and {names.Length - most} more"
        : names.Length == 1 ? names[0] : $"{string.Join(", ", names[..^1])} and {names[^1]}";

    /// <summary>Variance of what a reading would say, in its own.</summary>
    private static double Spread(Line line, double[,] covariance) => Product(line, line, covariance);

    /// <summary>1 − σ̂²/σ²: what the others say of it already (its own say is in the covariance).</summary>
    private static double Redundancy(Line taken, double[,] covariance) => 1 - Product(taken, taken, covariance);

    /// <summary>By how much a candidate would raise the redundancy of a reading.</summary>
    private static double Shared(Line taken, Line candidate, double[,] covariance)
    {
        double shared = Product(taken, candidate, covariance);
        return shared * shared / (1 + Spread(candidate, covariance));
    }

    private static double Product(Line a, Line b, double[,] covariance)
    {
        double sum = 0;
        for (int i = 0; i < a.Sizes.Length; i++)
            for (int j = 0; j < b.Sizes.Length; j++) sum += a.Slopes[i] * b.Slopes[j] * covariance[a.Sizes[i], b.Sizes[j]];
        return sum;
    }

    private static void Take(Line line, double[,] covariance, List<Line> taken)
    {
        int n = covariance.GetLength(0);
        var moves = new double[n];
        for (int k = 0; k < n; k++)
            for (int i = 0; i < line.Sizes.Length; i++) moves[k] += covariance[k, line.Sizes[i]] * line.Slopes[i];
        double variance = 1 + Spread(line, covariance);
        for (int a = 0; a < n; a++)
            for (int b = 0; b < n; b++) covariance[a, b] -= moves[a] * moves[b] / variance;
        taken.Add(line);
    }
}
