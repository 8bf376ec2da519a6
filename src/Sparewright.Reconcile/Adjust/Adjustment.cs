using System.Diagnostics.CodeAnalysis;

namespace Sparewright.Reconcile.Adjust;

/// <summary>
/// Weighted least squares: finds the unknowns that make the sum of squared residuals, each in its standard uncertainty, least, exact restraints kept.
/// Gauss–Newton; where its plain step does not lower the sum as the straight-line model promises, the step is damped
/// (Levenberg–Marquardt with the damping rule of H. B. Nielsen, Damping Parameter in Marquardt's Method, DTU 1999, and the growing scale of
/// J. J. Moré, 1978; both from memory). It knows nothing of parts.
/// </summary>
public static class Adjustment
{
    private const int MostIterations = 1000;

    /// <summary>Solves the problem. A rank defect is no failure: see <see cref="AdjustmentResult.NullSpace"/>.</summary>
    public static bool TrySolve(AdjustmentProblem problem, [NotNullWhen(true)] out AdjustmentResult? result, [NotNullWhen(false)] out AdjustmentFailure? failure)
    {
        result = null;
        if ((failure = Reject(problem)) is not null) return false;

        double[] x = [.. problem.Unknowns.Select(unknown => unknown.Start)];
        if (!Restrained.TryMeet(problem, x, out var restrained, out failure)) return false;
        var here = Linearized.At(problem, x, restrained, out string? notComputable);
        if (here is null)
        {
            failure = new(notComputable!, "cannot be computed at the starting values", "give starting values at which the shape can exist");
            return false;
        }

        if (!TryDescend(problem, ref here, out int iterations, out failure)) return false;
        result = new AdjustmentResult(problem, here, iterations);
        return true;
    }

    /// <summary>Solves the problem without some observations, from what all of them came to; what is wrong by far may have led that to where the rest cannot follow, then from the start. Null where neither can be adjusted.</summary>
    public static AdjustmentResult? Without(AdjustmentProblem problem, IReadOnlySet<int> left, AdjustmentResult all)
    {
        AdjustmentProblem rest = problem with { Observations = [.. problem.Observations.Where((_, k) => !left.Contains(k))] };
        return TrySolve(rest.From(all.Estimates), out AdjustmentResult? near, out _) ? near
            : TrySolve(rest, out AdjustmentResult? afresh, out _) ? afresh : null;
    }

    private static AdjustmentFailure? Reject(AdjustmentProblem problem)
    {
        foreach (var unknown in problem.Unknowns)
            if (!double.IsFinite(unknown.Start)) return new(unknown.Name, "has no finite starting value", "give it one");
        foreach (var observation in problem.Observations)
        {
            if (!double.IsFinite(observation.Observed)) return new(observation.Name, "is not a finite number", "read it again");
            if (!(observation.StandardUncertainty > 0) || !double.IsFinite(observation.StandardUncertainty))
                return new(observation.Name, "has no uncertainty greater than zero", "say how well it was read; what is exact is a restraint");
        }

        return null;
    }

    private static bool TryDescend(AdjustmentProblem problem, ref Linearized here, out int iterations, [NotNullWhen(false)] out AdjustmentFailure? failure)
    {
        // In standard uncertainties; at least one, so that readings of zero have a scale too.
        double observedLength = Math.Max(1, Math.Sqrt(problem.Observations.Sum(o => o.Observed / o.StandardUncertainty * (o.Observed / o.StandardUncertainty))));
        double damping = 0, resumeDamping = FirstDamping, growth = 2, lastFlatStep = double.PositiveInfinity;
        var longest = new double[problem.Unknowns.Count];
        failure = null;

        for (iterations = 0; iterations < MostIterations; iterations++)
        {
            var factor = TriangularFactor.Of(here.Rows, here.Misclosure, here.Restrained.Free.Length);
            double[] weights = DampingWeights(here, longest);
            double sum = here.SumOfSquares;

            for (bool plainTried = false; ;)
            {
                double[] y = damping == 0 ? factor.Solve() : factor.SolveDamped(damping, weights);
                double[] step = StepOf(here, y);
                double length = factor.LengthSquared(y);
                double promised = length + 2 * damping * WeightedSquares(y, weights);
                if (damping == 0 && IsNothing(here, y, step, length, observedLength)) return true;

                // Where the sum of squares is flat to its last digits it cannot judge a step; the gradient still can, as long as steps grow shorter.
                bool flat = promised <= 1e-12 * sum;
                if (flat && damping > 0)
                {
                    if (plainTried) return true;
                    damping = 0;
                    continue;
                }

                if (flat && length >= lastFlatStep) return true;
                lastFlatStep = flat ? length : double.PositiveInfinity;

                var there = Try(problem, here, step);
                double gain = there is null ? double.NegativeInfinity : (sum - there.SumOfSquares) / promised;
                if (there is not null && (flat || (gain > LeastGain && !LosesSight(here, there))))
                {
                    here = there;
                    if (damping > 0)
                    {
                        damping *= Math.Max(0.1, 1 - Math.Pow(2 * gain - 1, 3));
                        resumeDamping = Math.Max(damping, LeastDamping);
                        if (damping < LeastDamping) damping = 0;
                    }

                    growth = 2;
                    break;
                }

                if (flat) return true;
                plainTried |= damping == 0;
                damping = damping == 0 ? resumeDamping : damping * growth;
                growth = Math.Min(growth * 2, 1e6);
                if (damping > MostDamping)
                {
                    failure = Stuck(problem, here);
                    return false;
                }
            }
        }

        failure = Stuck(problem, here);
        return false;
    }

    private const double FirstDamping = 1e-3, LeastDamping = 1e-14, MostDamping = 1e30, LeastGain = 1e-4, LeastSight = 0.01;

    /// <summary>
    /// A step may lower the sum and still land where the observations have lost sight of an unknown (an exponential that has died away, a touch that has
    /// slipped off): it is too long.
    /// </summary>
    private static bool LosesSight(Linearized here, Linearized there)
    {
        if (!here.Restrained.Free.AsSpan().SequenceEqual(there.Restrained.Free)) return false;
        for (int f = 0; f < here.ColumnLengths.Length; f++)
            if (there.ColumnLengths[f] < LeastSight * here.ColumnLengths[f]) return true;
        return false;
    }

    /// <summary>Every unknown stands still to its last digits, or the change is below what the observations' own rounding shows.</summary>
    private static bool IsNothing(Linearized here, double[] y, double[] step, double lengthSquared, double observedLength)
    {
        if (Math.Sqrt(lengthSquared) <= 1e-15 * observedLength) return true;
        for (int i = 0; i < step.Length; i++)
            if (Math.Abs(step[i]) > 1e-13 * Math.Abs(here.X[i])) return Math.Sqrt(Dense.Dot(y, y)) <= 1e-15 * observedLength;
        return true;
    }

    private static double[] StepOf(Linearized here, double[] y)
    {
        var freeStep = new double[y.Length];
        for (int f = 0; f < y.Length; f++) freeStep[f] = y[f] / here.ColumnScale(f);
        return here.Restrained.Spread(freeStep);
    }

    private static Linearized? Try(AdjustmentProblem problem, Linearized here, double[] step)
    {
        var x = new double[step.Length];
        for (int i = 0; i < x.Length; i++) x[i] = here.X[i] + step[i];
        if (!Array.TrueForAll(x, double.IsFinite)) return null;
        return Restrained.TryMeet(problem, x, out var restrained, out _) ? Linearized.At(problem, x, restrained, out _) : null;
    }

    /// <summary>The greatest length each column ever had over its length here: a column that fades does not set its unknown free to run away.</summary>
    private static double[] DampingWeights(Linearized here, double[] longest)
    {
        int[] free = here.Restrained.Free;
        var weights = new double[free.Length];
        for (int f = 0; f < free.Length; f++)
        {
            longest[free[f]] = Math.Max(longest[free[f]], here.ColumnLengths[f]);
            weights[f] = longest[free[f]] > 0 ? longest[free[f]] / here.ColumnScale(f) : 1;
        }

        return weights;
    }

    private static double WeightedSquares(double[] y, double[] weights)
    {
        double sum = 0;
        for (int i = 0; i < y.Length; i++) sum += y[i] * weights[i] * (y[i] * weights[i]);
        return sum;
    }

    private static AdjustmentFailure Stuck(AdjustmentProblem problem, Linearized here)
    {
        int worst = 0;
        for (int i = 1; i < here.Misclosure.Length; i++)
            if (Math.Abs(here.Misclosure[i]) > Math.Abs(here.Misclosure[worst])) worst = i;
        return new(problem.Observations[worst].Name, "no agreement could be found; this one fits worst", "check it, and give starting values nearer to the part");
    }
}
