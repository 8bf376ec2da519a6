namespace Sparewright.Fit.Odds;

/// <summary>
/// Several copies printed in one go, all drawn alike, of which the one that fits is kept (selective assembly): against what differs from copy to copy, and against nothing that they share.
/// </summary>
/// <param name="Number">How many are printed.</param>
/// <param name="Odds">That at least one of them fits everything.</param>
public sealed record Copies(int Number, double Odds)
{
    /// <summary>More than this are not proposed.</summary>
    public const int Most = 4;

    /// <summary>What a further copy must bring at least.</summary>
    private const double Worthwhile = 0.02;

    /// <summary>Two copies, three and so on, as long as one more brings something, and no more than reach the wanted odds.</summary>
    /// <param name="once">The odds of a single one.</param>
    public static IReadOnlyList<Copies> Of(FitCase fit, double once, double wantedOdds)
    {
        List<Copies> all = [];
        // That each of k copies fits, by k; that one of n does follows by inclusion and exclusion, since copies are alike.
        List<double> each = [1, once];
        for (int n = 2; n <= Most && (all.Count == 0 ? once : all[^1].Odds) < wantedOdds; n++)
        {
            each.Add(FitOdds.Of(fit with { Conditions = [.. Enumerable.Range(1, n).SelectMany(k => fit.Conditions.Select(c => OfCopy(c, k)))] }).AllTogether.Value);
            double odds = Enumerable.Range(1, n).Sum(k => (k % 2 == 1 ? 1 : -1) * Choose(n, k) * each[k]);
            if (odds < (all.Count == 0 ? once : all[^1].Odds) + Worthwhile) break;
            all.Add(new(n, Math.Min(1, odds)));
        }

        return all;
    }

    /// <summary>The plastic and the time of so many in one go: heating up and handling are there once.</summary>
    /// <param name="partMm3">Of one part.</param>
    public PrintEffort Takes(double partMm3) => PrintEffort.Of(Number * partMm3);

    /// <summary>The same condition on surfaces of their own: a copy scatters by itself, and shares the printer, the day and the counterparts.</summary>
    private static FitCondition OfCopy(FitCondition condition, int copy) =>
        condition.With([.. condition.Lengths.Select(l => l with { Printed = [.. l.Printed.Select(p => p.Surface is { } surface ? p with { Surface = FormattableString.Invariant($"{surface} of copy {copy}") } : p)] })]);

    private static double Choose(int n, int k) => Enumerable.Range(1, k).Aggregate(1.0, (all, i) => all * (n - k + i) / i);
}
