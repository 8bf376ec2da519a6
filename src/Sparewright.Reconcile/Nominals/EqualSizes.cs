using Sparewright.Measure.Uncertainty;
using Sparewright.Part.Sizes;
using Sparewright.Reconcile.Adjust;
using Quantity = Sparewright.Part.Sizes.Quantity;

namespace Sparewright.Reconcile.Nominals;

/// <summary>That a size may be the same as another.</summary>
/// <param name="Size">The other one.</param>
/// <param name="Odds">That both have the same value, whether by intent or because the designer chose the same round number twice.</param>
public sealed record SameSize(string Size, double Odds);

/// <summary>
/// One explanation for two sizes. Bayes' rule for a pair: either one value was chosen for both, or each was chosen by itself from the same grids as <see cref="DesignerMeant"/> knows, which may have come to the same value too.
/// </summary>
internal static class EqualSizes
{
    /// <summary>How often the designer of a part chose one value for two sizes that look alike. Our judgement, no source.</summary>
    private const double Prior = 0.1;

    /// <summary>Sizes known no better than this (mm) are not compared: too many values could be meant.</summary>
    private const double MostU = 0.15;

    private const double FarthestInU = 6, WorthProposing = 0.5, LeastU = 0.001;

    /// <summary>For each free size an earlier one that it may be the same as; null where none is worth proposing.</summary>
    /// <param name="systems">The systems of grids, with their odds for this part.</param>
    /// <param name="kinds">What each size is to the shape: only sizes that have something in common are compared.</param>
    public static SameSize?[] Of(IReadOnlyList<Size> free, ILookup<string, SizeKind> kinds, AdjustmentResult result, IReadOnlyList<(DesignSystem System, double Odds)> systems)
    {
        var same = new SameSize?[free.Count];
        int[] known = [.. Enumerable.Range(0, free.Count).Where(k => free[k].Quantity == Quantity.Length && result.IsDecided(k) && result.StandardUncertainty(k) is > 0 and <= MostU)];
        foreach (int b in known)
            foreach (int a in known.TakeWhile(k => k < b))
            {
                if (free[b].NotMeant.Contains(new Meant.SameAs(free[a].Name)) || !kinds[free[a].Name].Intersect(kinds[free[b].Name]).Any()) continue;
                double odds = Odds(Prior, result.Estimates[a], result.Estimates[b], result.Covariance(a, a), result.Covariance(b, b), result.Covariance(a, b), systems);
                if (odds >= WorthProposing && odds > (same[b]?.Odds ?? 0)) same[b] = new(free[a].Name, odds);
            }

        return same;
    }

    /// <summary>The odds that two lengths are the same.</summary>
    internal static double Odds(double a, double b, double varianceA, double varianceB, double covariance, IReadOnlyList<(DesignSystem System, double Odds)> systems) => Odds(Prior, a, b, varianceA, varianceB, covariance, systems);

    /// <summary>The odds that two lengths are the same.</summary>
    /// <param name="prior">How often one value is chosen for both.</param>
    internal static double Odds(double prior, double a, double b, double varianceA, double varianceB, double covariance, IReadOnlyList<(DesignSystem System, double Odds)> systems)
    {
        (varianceA, varianceB) = (Math.Max(varianceA, LeastU * LeastU), Math.Max(varianceB, LeastU * LeastU));
        double uA = Math.Sqrt(varianceA), uB = Math.Sqrt(varianceB), apart = Math.Sqrt(Math.Max(LeastU * LeastU, varianceA + varianceB - 2 * covariance));
        if (Math.Abs(a - b) > FarthestInU * apart) return 0;
        double one = 0, eachByItself = 0, byChance = 0;
        foreach (var (grids, odds) in systems)
        {
            double none = grids.NoneDensity;
            IReadOnlyList<GridPoint> nearA = grids.Near(a, uA), nearB = grids.Near(b, uB);
            // Two densities in one: that of the difference, and that of the first where the difference is known.
            double Both(double offA, double offB) => Normal.Density(offA - offB, apart) * Given(offA, offA - offB);
            double Given(double offA, double difference)
            {
                double share = (varianceA - covariance) / (apart * apart), left = Math.Sqrt(Math.Max(LeastU * LeastU, varianceA - share * (varianceA - covariance)));
                return Normal.Density(offA - share * difference, left);
            }

            one += odds * none * Normal.Density(a - b, apart);
            eachByItself += odds * none * (none + nearA.Sum(p => p.Weight * Normal.Density(a - p.Mm, uA)) + nearB.Sum(p => p.Weight * Normal.Density(b - p.Mm, uB)));
            foreach (GridPoint p in nearA)
            {
                double both = Both(a - p.Mm, b - p.Mm);
                one += odds * p.Weight * both;
                byChance += odds * p.Weight * p.Weight * both;
                eachByItself += odds * p.Weight * nearB.Sum(q => q.Weight * Both(a - p.Mm, b - q.Mm));
            }
        }

        return (prior * one + (1 - prior) * byChance) / (prior * one + (1 - prior) * eachByItself);
    }
}
