using Sparewright.Measure.Uncertainty;

namespace Sparewright.Reconcile.Adjust;

/// <summary>What robust re-weighting found.</summary>
/// <param name="Scale">Spread of the residuals over their stated uncertainties, from the median.</param>
/// <param name="Weights">1: taken as it stands; less: a candidate for a gross error.</param>
public sealed record HuberResult(AdjustmentResult Adjusted, double Scale, IReadOnlyList<double> Weights);

/// <summary>
/// Huber's M-estimate by iterated re-weighting (P. J. Huber, Robust Statistics, Wiley 1981: k = 1.345, scale = median |v/σ| / 0.6745; from memory).
/// Only to find candidates: it does not protect against readings of high leverage, and its weights never enter a result.
/// </summary>
public static class HuberReweighting
{
    private const double K = 1.345;

    /// <summary>The median of |Z| of a standard normal Z, 0.6745.</summary>
    private static readonly double MedianOfNormal = Normal.Quantile(0.75);

    /// <summary>Null when the adjustment itself cannot be made.</summary>
    public static HuberResult? Find(AdjustmentProblem problem)
    {
        var weights = Enumerable.Repeat(1.0, problem.Observations.Count).ToArray();
        if (!Adjustment.TrySolve(problem, out var adjusted, out _)) return null;
        double scale = Scale(adjusted, problem);
        for (int pass = 0; pass < 200; pass++)
        {
            double change = 0;
            for (int i = 0; i < weights.Length; i++)
            {
                double size = Math.Abs(Standardized(adjusted, problem, i)) / scale;
                double weight = size <= K ? 1 : K / size;
                change = Math.Max(change, Math.Abs(weight - weights[i]));
                weights[i] = weight;
            }

            if (change < 1e-10) break;
            var weighted = problem.From(adjusted.Estimates) with
            {
                Observations = [.. problem.Observations.Select((o, i) => o with { StandardUncertainty = o.StandardUncertainty / Math.Sqrt(weights[i]) })],
            };
            if (!Adjustment.TrySolve(weighted, out adjusted, out _)) return null;
            scale = Scale(adjusted, problem);
        }

        return new(adjusted, scale, weights);
    }

    private static double Standardized(AdjustmentResult adjusted, AdjustmentProblem problem, int i) =>
        adjusted.Observations[i].Residual / problem.Observations[i].StandardUncertainty;

    /// <summary>Where more than half of the readings fit exactly the median says nothing, and the stated uncertainties are taken.</summary>
    private static double Scale(AdjustmentResult adjusted, AdjustmentProblem problem)
    {
        double[] sizes = [.. Enumerable.Range(0, problem.Observations.Count).Select(i => Math.Abs(Standardized(adjusted, problem, i))).Order()];
        if (sizes.Length == 0) return 1;
        double median = sizes.Length % 2 == 1 ? sizes[sizes.Length / 2] : 0.5 * (sizes[sizes.Length / 2 - 1] + sizes[sizes.Length / 2]);
        return median > 1e-9 ? median / MedianOfNormal : 1;
    }
}
