using Sparewright.Measure.Numbers;

namespace Sparewright.Reconcile.Adjust;

/// <summary>A problem as it looks from one point: each observation is taken to change with the unknowns as it does there, however far one goes.</summary>
internal static class Straightened
{
    public static AdjustmentProblem At(AdjustmentProblem problem, IReadOnlyList<double> point)
    {
        var there = new Dual[point.Count];
        for (int k = 0; k < there.Length; k++) there[k] = Dual.Unknown(k, point[k]);
        return problem.From(point) with { Observations = [.. problem.Observations.Select(o => o with { Computed = Straight(o.Computed(there), point) })] };
    }

    private static Computed Straight(Dual at, IReadOnlyList<double> point) => unknowns =>
    {
        Dual value = at.Value;
        for (int k = 0; k < at.Gradient.Unknowns.Length; k++) value += at.Gradient.Derivatives[k] * (unknowns[at.Gradient.Unknowns[k]] - point[at.Gradient.Unknowns[k]]);
        return value;
    };

    /// <summary>
    /// Where the unknowns would be without the one observation that is most at odds with the rest, of those without which they may be there at all; null where there is none. Sought from the start, with each left out in
    /// turn: what is wrong by far may have led all of them to where nothing can be told from residuals any more.
    /// </summary>
    public static IReadOnlyList<double>? Point(AdjustmentProblem problem, Func<IReadOnlyList<double>, bool> mayBe)
    {
        AdjustmentResult? best = null;
        for (int k = 0; k < problem.Observations.Count; k++)
        {
            if (!problem.Observations[k].MayBeWrong) continue;
            AdjustmentProblem rest = problem with { Observations = [.. problem.Observations.Where((_, i) => i != k)] };
            if (Adjustment.TrySolve(rest, out AdjustmentResult? without, out _) && (best is null || without.Global.ChiSquare < best.Global.ChiSquare) && mayBe(without.Estimates)) best = without;
        }

        return best?.Estimates;
    }
}
