namespace Sparewright.Fit.Capability;

/// <summary>One possible value of a printer's spread, how likely it is, and what follows about the rest if it is true.</summary>
internal sealed record SpreadCase(double Weight, double SpreadMm, Belief Belief)
{
    private const double Coarse = 0.25;

    /// <summary>Values less likely than the likeliest by this much (in ln) are left out.</summary>
    private const double LeftOut = 14;

    private const int MostOnASide = 60;

    /// <summary>
    /// Values of the spread in equal steps of its logarithm, as fine as the evidence needs: the trapezoid rule, which for a bell-shaped integrand is far better than its name.
    /// The prior of the spread is the scaled inverse χ² distribution.
    /// </summary>
    /// <param name="logEvidence">ln of the density of all evidence, but for a term that depends on the prior of the spread alone.</param>
    public static IReadOnlyList<SpreadCase> Weighed(KindPrior prior, Func<double, Belief> given, out double logEvidence)
    {
        double LogWeight(double x, Belief belief) => belief.LogEvidence - prior.SpreadDegrees * (x + 0.5 * Math.Exp(-2 * x));
        (double X, double Log, Belief Belief) At(double x)
        {
            Belief belief = given(prior.SpreadMm * Math.Exp(x));
            return (x, LogWeight(x, belief), belief);
        }

        var coarse = Enumerable.Range(-12, 29).Select(k => At(Coarse * k)).ToArray();
        int best = Math.Clamp(Array.IndexOf(coarse, coarse.MaxBy(c => c.Log)), 1, coarse.Length - 2);
        double bend = -(coarse[best - 1].Log - 2 * coarse[best].Log + coarse[best + 1].Log) / (Coarse * Coarse);
        double step = Math.Min(Coarse, 0.6 / Math.Sqrt(Math.Max(bend, 1)));

        List<(double X, double Log, Belief Belief)> found = [coarse[best]];
        double most = coarse[best].Log;
        foreach (int side in (int[])[1, -1])
            for (int k = 1; k <= MostOnASide; k++)
            {
                var there = At(coarse[best].X + side * k * step);
                if (there.Log < most - LeftOut) break;
                most = Math.Max(most, there.Log);
                found.Add(there);
            }

        double all = found.Sum(f => Math.Exp(f.Log - most));
        logEvidence = most + Math.Log(all * step);
        return [.. found.OrderBy(f => f.X).Select(f => new SpreadCase(Math.Exp(f.Log - most) / all, prior.SpreadMm * Math.Exp(f.X), f.Belief))];
    }
}
