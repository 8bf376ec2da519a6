using Sparewright.Measure.Uncertainty;

namespace Sparewright.Fit.Capability;

/// <summary>
/// A few unknowns believed to be jointly normal, and what evidence makes of them: a sum of them measured with an error (exactly), or known only within bounds.
/// Bounds enter by expectation propagation (T. P. Minka, A family of algorithms for approximate Bayesian inference, 2001; C. E. Rasmussen and C. K. I. Williams,
/// Gaussian Processes for Machine Learning, 2006, 3.6; both from memory): its fixed point does not depend on the order of the evidence.
/// </summary>
internal sealed class Belief
{
    private const int MostSweeps = 200;

    private readonly double[] _mean;
    private readonly double[,] _covariance;

    public Belief(double[] mean, double[,] covariance) => (_mean, _covariance) = (mean, covariance);

    public IReadOnlyList<double> Mean => _mean;

    /// <summary>ln of the density, or probability, of all evidence taken in so far.</summary>
    public double LogEvidence { get; private set; }

    public Belief Copy() => new([.. _mean], (double[,])_covariance.Clone()) { LogEvidence = LogEvidence };

    public double Covariance(int i, int j) => _covariance[i, j];

    /// <summary>Mean of a sum of the unknowns.</summary>
    public double MeanOf(ReadOnlySpan<double> sum)
    {
        double mean = 0;
        for (int i = 0; i < _mean.Length; i++) mean += sum[i] * _mean[i];
        return mean;
    }

    /// <summary>Variance of a sum of the unknowns, and how it varies with each of them.</summary>
    public double VarianceOf(ReadOnlySpan<double> sum, Span<double> withEach)
    {
        double variance = 0;
        for (int i = 0; i < _mean.Length; i++)
        {
            double with = 0;
            for (int j = 0; j < _mean.Length; j++) with += _covariance[i, j] * sum[j];
            withEach[i] = with;
            variance += with * sum[i];
        }

        return variance;
    }

    /// <summary>Takes in a sum that was measured.</summary>
    public void Measured(double[] sum, double value, double errorVariance)
    {
        Span<double> with = stackalloc double[_mean.Length];
        double all = VarianceOf(sum, with) + errorVariance, off = value - MeanOf(sum);
        LogEvidence += -0.5 * (off * off / all + Math.Log(2 * Math.PI * all));
        Move(with, off / all, 1 / all);
    }

    /// <summary>Takes in sums of which only bounds are known, each blurred by an error of its own.</summary>
    public Belief Within(IReadOnlyList<(double[] Sum, double Low, double High, double ErrorVariance)> sums)
    {
        if (sums.Count == 0) return this;
        // Each bound stands for exp(ν s − τ s²/2) of its sum s, adjusted until all agree with one another.
        var (tau, nu, logScale) = (new double[sums.Count], new double[sums.Count], new double[sums.Count]);
        Belief all = this;
        Span<double> with = stackalloc double[_mean.Length];
        for (int sweep = 0; sweep < MostSweeps; sweep++)
        {
            double change = 0;
            all = WithSites(sums, tau, nu, logScale);
            for (int i = 0; i < sums.Count; i++)
            {
                double variance = all.VarianceOf(sums[i].Sum, with), mean = all.MeanOf(sums[i].Sum);
                if (variance <= 0)
                {
                    logScale[i] = LogProbability(sums[i].Low - mean, sums[i].High - mean, Math.Sqrt(sums[i].ErrorVariance), out _);
                    continue;
                }

                double outside = 1 / (1 / variance - tau[i]), outsideMean = outside * (mean / variance - nu[i]);
                double spread = Math.Sqrt(outside + sums[i].ErrorVariance);
                double log = LogProbability(sums[i].Low - outsideMean, sums[i].High - outsideMean, spread, out NormalBetween between);
                double inside = outside - outside * outside / (spread * spread) * (1 - between.Variance), insideMean = outsideMean + outside / spread * between.Mean;
                double newTau = Math.Max(0, 1 / inside - 1 / outside), newNu = insideMean / inside - outsideMean / outside;
                change = Math.Max(change, Math.Max(Math.Abs(newTau - tau[i]) * variance, Math.Abs(newNu - nu[i]) * Math.Sqrt(variance)));
                all.Move(with, (newNu - nu[i] - (newTau - tau[i]) * mean) / (1 + (newTau - tau[i]) * variance), (newTau - tau[i]) / (1 + (newTau - tau[i]) * variance));
                (tau[i], nu[i]) = (newTau, newNu);
                logScale[i] = log - LogMass(outsideMean, outside, newTau, newNu);
            }

            if (change < 1e-11) break;
        }

        return WithSites(sums, tau, nu, logScale);
    }

    private Belief WithSites(IReadOnlyList<(double[] Sum, double Low, double High, double ErrorVariance)> sums, double[] tau, double[] nu, double[] logScale)
    {
        Belief all = Copy();
        Span<double> with = stackalloc double[_mean.Length];
        for (int i = 0; i < sums.Count; i++)
        {
            double variance = all.VarianceOf(sums[i].Sum, with), mean = all.MeanOf(sums[i].Sum);
            all.LogEvidence += logScale[i] + (variance > 0 ? LogMass(mean, variance, tau[i], nu[i]) : 0);
            all.Move(with, (nu[i] - tau[i] * mean) / (1 + tau[i] * variance), tau[i] / (1 + tau[i] * variance));
        }

        return all;
    }

    /// <summary>ln ∫ exp(ν s − τ s²/2) N(s; mean, variance) ds.</summary>
    private static double LogMass(double mean, double variance, double tau, double nu)
    {
        double precision = 1 / variance + tau, moment = mean / variance + nu;
        return 0.5 * (moment * moment / precision - mean * mean / variance - Math.Log(1 + tau * variance));
    }

    private static double LogProbability(double low, double high, double spread, out NormalBetween between)
    {
        between = NormalBetween.Of(low / spread, high / spread);
        if (between.Probability > 0) return Math.Log(between.Probability);
        // So far out that the tail underflows: its asymptote.
        double z = Math.Min(Math.Abs(low), Math.Abs(high)) / spread;
        return -0.5 * z * z - Math.Log(z * Math.Sqrt(2 * Math.PI));
    }

    /// <summary>Moves the mean along the covariances with a sum, and takes their outer product off the covariance.</summary>
    private void Move(ReadOnlySpan<double> with, double shift, double shrink)
    {
        for (int i = 0; i < _mean.Length; i++)
        {
            _mean[i] += with[i] * shift;
            for (int j = 0; j < _mean.Length; j++) _covariance[i, j] -= with[i] * with[j] * shrink;
        }
    }
}
