using Sparewright.Part.Sizes;
using Sparewright.Reconcile.Adjust;

namespace Sparewright.Reconcile.Findings;

/// <summary>Two sizes whose errors hang together so much that whoever adds or subtracts them should know.</summary>
/// <param name="Correlation">Between −1 and 1: positive where both are too big together.</param>
public sealed record CorrelatedSizes(string First, string Second, double Correlation)
{
    /// <summary>What follows from it.</summary>
    public string Words => Correlation > 0
        ? $"if {First} is really bigger, so is {Second}: their difference is surer than their ± say, their sum less sure"
        : $"if {First} is really bigger, {Second} is smaller: their sum is surer than their ± say, their difference less sure";
}

/// <summary>The correlations that matter.</summary>
internal static class CorrelationFindings
{
    /// <summary>From here on u of a sum or difference is off by a fifth or more where the correlation is left out: √(1 + 0.5) = 1.22.</summary>
    private const double WorthTelling = 0.5;

    /// <summary>Beyond so many nobody reads on.</summary>
    private const int MostTold = 6;

    /// <summary>Of the sizes that the readings decide, the strongest first.</summary>
    public static IReadOnlyList<CorrelatedSizes> From(IReadOnlyList<Size> free, AdjustmentResult result)
    {
        int[] decided = [.. Enumerable.Range(0, free.Count).Where(k => result.IsDecided(k) && result.StandardUncertainty(k) > 0)];
        return
        [
            .. decided.SelectMany((a, at) => decided.Skip(at + 1), (a, b) => new CorrelatedSizes(free[a].Name, free[b].Name, result.Correlation(a, b)))
                .Where(c => Math.Abs(c.Correlation) >= WorthTelling).OrderByDescending(c => Math.Round(Math.Abs(c.Correlation), 9)).Take(MostTold),
        ];
    }
}
