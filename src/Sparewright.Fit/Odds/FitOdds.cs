using Sparewright.Measure.Uncertainty;

namespace Sparewright.Fit.Odds;

/// <summary>What is to be expected of one counterpart.</summary>
/// <param name="Odds">That it fits.</param>
/// <param name="Clearance">The clearance's mean and standard deviation, in mm; of a pattern one hole's room.</param>
/// <param name="Low95Mm">Lower end of the 95 % interval, which is not quite that of a normal distribution.</param>
public sealed record ConditionOdds(FitCondition Condition, Estimate Odds, NormalLength Clearance, double Low95Mm, double High95Mm);

/// <summary>What is to be expected of all.</summary>
/// <param name="AllTogether">That all fit at once, by the doubts that they share.</param>
public sealed record FitOdds(IReadOnlyList<ConditionOdds> Each, Estimate AllTogether)
{
    /// <summary>Half width of the 95 % interval within which odds are computed: a tenth of a point.</summary>
    public const double EnoughError = 0.001;

    private const int Seed = 1;

    /// <summary>The odds of a case: by closed form where a counterpart has one clearance, else by a shifted lattice rule over the separated variables of a normal distribution
    /// (A. Genz, Numerical computation of multivariate normal probabilities, 1992; from memory).</summary>
    /// <param name="known">What to take as known exactly.</param>
    public static FitOdds Of(FitCase fit, double enoughError = EnoughError, Func<Doubt, bool>? known = null)
    {
        ConditionOdds[] each = [.. fit.Conditions.Select(c => One(fit, c, enoughError, known))];
        return new(each, Together(fit, each, enoughError, known));
    }

    /// <summary>Nearly the same with few points, and always the same ones, so that a small change of a size shows truly.</summary>
    internal static double Quick(FitCase fit, int copies) => fit.Conditions is [OneClearance one]
        ? new JointLengths(fit, one.Lengths).Of(0).Sum(c => c.Weight * c.Length.Between(one.Window.LowMm, one.Window.HighMm))
        : Jointly(fit, fit.Conditions, 1, null, copies).Value;

    /// <summary>That all fit at once.</summary>
    internal static Estimate Together(FitCase fit, IReadOnlyList<ConditionOdds> each, double enoughError, Func<Doubt, bool>? known)
    {
        if (each.Count == 0) return new(1, 0);
        if (each.Count == 1) return each[0].Odds;
        // The tightest first: its variable then says most (Genz).
        return Jointly(fit, [.. each.OrderBy(e => e.Odds.Value).Select(e => e.Condition)], enoughError, known);
    }

    private static ConditionOdds One(FitCase fit, FitCondition condition, double enoughError, Func<Doubt, bool>? known)
    {
        var shown = new JointLengths(fit, [condition.Lengths[condition.Shown]], known).Of(0).ToArray();
        double mean = shown.Sum(c => c.Weight * c.Length.MeanMm);
        double variance = shown.Sum(c => c.Weight * (c.Length.VarianceMm2 + (c.Length.MeanMm - mean) * (c.Length.MeanMm - mean)));
        var clearance = new NormalLength(mean, Math.Sqrt(variance));
        Estimate odds = condition is OneClearance one
            ? new(shown.Sum(c => c.Weight * c.Length.Between(one.Window.LowMm, one.Window.HighMm)), 0)
            : Jointly(fit, [condition], enoughError, known);
        return new(condition, odds, clearance, Quantile(0.025), Quantile(0.975));

        double Quantile(double probability)
        {
            double low = mean - 40 * clearance.StandardDeviationMm, high = mean + 40 * clearance.StandardDeviationMm;
            for (int i = 0; i < 60 && high - low > 1e-7; i++)
            {
                double middle = 0.5 * (low + high);
                if (shown.Sum(c => c.Weight * c.Length.Between(double.NegativeInfinity, middle)) < probability) low = middle;
                else high = middle;
            }

            return 0.5 * (low + high);
        }
    }

    private static Estimate Jointly(FitCase fit, IReadOnlyList<FitCondition> conditions, double enoughError, Func<Doubt, bool>? known, int copies = 5)
    {
        var joint = new JointLengths(fit, [.. conditions.SelectMany(c => c.Lengths)], known);
        int n = joint.Count;
        var (means, covariance, root, drawn, values) = (new double[n], new double[n * n], new double[n * n], new double[n], new double[n]);
        // The last variable is not drawn: its probability closes the product.
        return Lattice.Built.Average(joint.Kinds + n - 1, At, enoughError, Seed, copies);

        double At(double[] point)
        {
            joint.At(point.AsSpan(0, joint.Kinds), means, covariance);
            Root(covariance, root, n);
            double probability = 1;
            int at = 0;
            foreach (FitCondition condition in conditions)
            {
                int first = at;
                for (int own = 0; own < condition.Lengths.Count; own++, at++)
                {
                    double mean = means[at], spread = root[at * n + at];
                    for (int j = 0; j < at; j++) mean += root[at * n + j] * drawn[j];
                    var (low, high) = condition.Bounds(own, values.AsSpan(first, own));
                    if (!(low <= high)) return 0;
                    if (spread == 0)
                    {
                        // Nothing of its own: what came before decides it (a micrometre of rounding apart, in mm).
                        if (mean < low - 1e-9 || mean > high + 1e-9) return 0;
                        (drawn[at], values[at]) = (0, mean);
                        continue;
                    }

                    var (below, inside, upper) = Inside((low - mean) / spread, (high - mean) / spread);
                    probability *= inside;
                    if (probability < 1e-12) return 0;
                    if (at == n - 1) break;
                    double part = below + point[joint.Kinds + at] * inside;
                    double z = Math.Clamp(Normal.Quantile(Math.Clamp(part, 1e-300, 1 - 1e-16)), -38, 38);
                    drawn[at] = upper ? -z : z;
                    values[at] = mean + spread * drawn[at];
                }
            }

            return probability;
        }
    }

    /// <summary>The probability below and between two bounds; of the mirrored ones where both lie high, so that nothing cancels.</summary>
    private static (double Below, double Inside, bool Mirrored) Inside(double low, double high)
    {
        if (low > 0) return (UpTo(-high), UpTo(-low) - UpTo(-high), true);
        double below = UpTo(low);
        return (below, UpTo(high) - below, false);

        static double UpTo(double z) => z <= -38 ? 0 : z >= 9 ? 1 : Normal.UpperTail(-z);
    }

    /// <summary>The lower triangular root of a covariance (Cholesky); rows that add nothing of their own get a zero.</summary>
    private static void Root(double[] covariance, double[] root, int n)
    {
        for (int i = 0; i < n; i++)
            for (int j = 0; j <= i; j++)
            {
                double sum = covariance[i * n + j];
                for (int k = 0; k < j; k++) sum -= root[i * n + k] * root[j * n + k];
                if (i == j) root[i * n + i] = sum > 1e-12 * Math.Max(covariance[i * n + i], 1e-18) ? Math.Sqrt(sum) : 0;
                else root[i * n + j] = root[j * n + j] == 0 ? 0 : sum / root[j * n + j];
            }
    }
}
