using System.Diagnostics.CodeAnalysis;
using Sparewright.Measure.Uncertainty;

namespace Sparewright.Reconcile.Adjust;

/// <summary>An observation of which only bounds are known: low ≤ computed + error ≤ high.</summary>
/// <param name="Low">May be −∞.</param>
/// <param name="High">May be +∞.</param>
/// <param name="StandardUncertainty">Of the error.</param>
public sealed record Bound(string Name, double Low, double High, double StandardUncertainty, Computed Computed);

/// <summary>
/// Adjustment with bounds. The likelihood of a bound, Φ((high − x)/σ) − Φ((low − x)/σ), is no normal density; each is stood in for by that normal one with which the mean and variance of what it bounds come out
/// as with the true one, given everything else (expectation propagation; T. P. Minka, 2001; from memory). So a bound that is far away does nothing, and a size between two
/// gauge leaves that nothing else says anything of is as uncertain as the rectangle between them. A bound that all else contradicts is left out.
/// </summary>
public static class Bounded
{
    private const int MostPasses = 50;

    /// <summary>A bound is contradicted when what all else says lies outside it by so many standard deviations.</summary>
    private const double Contradicted = 2;

    /// <summary>A bound that would tell less than this share of what is known already does nothing.</summary>
    private const double Nothing = 1e-12;

    /// <summary>Solves a problem with bounds; those that say something stand behind its observations, by their names.</summary>
    public static bool TrySolve(AdjustmentProblem problem, IReadOnlyList<Bound> bounds, [NotNullWhen(true)] out AdjustmentResult? result, [NotNullWhen(false)] out AdjustmentFailure? failure)
    {
        if (!Adjustment.TrySolve(problem, out result, out failure)) return false;
        result = With(result, bounds);
        return true;
    }

    /// <summary>The bounds laid on an adjustment that has none of them yet.</summary>
    public static AdjustmentResult With(AdjustmentResult adjusted, IReadOnlyList<Bound> bounds)
    {
        if (bounds.Count == 0) return adjusted;
        AdjustmentProblem bare = adjusted.Problem;
        var standIns = new Normally?[bounds.Count];
        for (int pass = 0; pass < MostPasses; pass++)
        {
            var better = new Normally?[bounds.Count];
            for (int k = 0; k < better.Length; k++) better[k] = StandIn(bounds[k], Others(adjusted.Of(bounds[k].Computed), standIns[k]));
            bool still = standIns.Zip(better).All(pair => Normally.Alike(pair.First, pair.Second));
            standIns = better;
            if (still) break;
            AdjustmentProblem bounded = bare.From(adjusted.Estimates) with
            {
                Observations = [.. bare.Observations, .. bounds.Select((b, k) => (b, Is: standIns[k])).Where(t => t.Is is not null)
                    .Select(t => new Observation(t.b.Name, t.Is!.Value.Mean, Math.Sqrt(t.Is.Value.Variance), t.b.Computed) { MayBeWrong = false })],
            };
            if (!Adjustment.TrySolve(bounded, out AdjustmentResult? next, out _)) break;
            adjusted = next;
        }

        return adjusted;
    }

    /// <summary>A normal distribution; of infinite variance where nothing is known.</summary>
    private readonly record struct Normally(double Mean, double Variance)
    {
        public static bool Alike(Normally? a, Normally? b) =>
            a is null ? b is null : b is { } other && Math.Abs(a.Value.Mean - other.Mean) <= 1e-9 * Math.Sqrt(other.Variance) && Math.Abs(a.Value.Variance - other.Variance) <= 1e-9 * other.Variance;
    }

    /// <summary>What all else says of the bounded value: what is known of it now, without what stood in for the bound.</summary>
    private static Normally Others(DerivedValue now, Normally? standIn)
    {
        if (!now.IsDecided) return new(now.Value, double.PositiveInfinity);
        double variance = now.StandardUncertainty * now.StandardUncertainty;
        if (standIn is not { } own) return new(now.Value, variance);
        double left = 1 / variance - 1 / own.Variance;
        return left < 1e-7 / own.Variance ? new(now.Value, double.PositiveInfinity) : new((now.Value / variance - own.Mean / own.Variance) / left, 1 / left);
    }

    /// <summary>What stands in for a bound, given all else; null where it says nothing or is contradicted.</summary>
    private static Normally? StandIn(Bound bound, Normally others)
    {
        // Nothing can move a fixed value.
        if (!(others.Variance > 0)) return null;
        double error = bound.StandardUncertainty * bound.StandardUncertainty;
        if (double.IsInfinity(others.Variance))
        {
            double width = bound.High - bound.Low;
            return double.IsFinite(width) ? new(0.5 * (bound.Low + bound.High), width * width / 12 + error) : null;
        }

        // Of the value with its error, which lies between the bounds for certain.
        double variance = others.Variance + error, deviation = Math.Sqrt(variance);
        var between = NormalBetween.Of((bound.Low - others.Mean) / deviation, (bound.High - others.Mean) / deviation);
        if (Math.Max(bound.Low - others.Mean, others.Mean - bound.High) > Contradicted * deviation || 1 - between.Variance < Nothing) return null;
        double after = variance * between.Variance, told = 1 / after - 1 / variance;
        double mean = ((others.Mean + deviation * between.Mean) / after - others.Mean / variance) / told;
        return new(mean, 1 / told + error);
    }
}
