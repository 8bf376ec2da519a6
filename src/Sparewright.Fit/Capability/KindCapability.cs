namespace Sparewright.Fit.Capability;

/// <summary>
/// What a printer does to sizes of one kind of surface, by what it has shown so far: a Bayesian regression of printed on drawn sizes with an unknown spread
/// (A. Gelman et al., Bayesian Data Analysis, 3rd edition, 14; from memory). For each of a few values of the spread the rest is normal and exact; the values are weighed by the evidence,
/// so that a forecast has the wide tails of Student's t, and is Student's t where nothing but the spread is in doubt.
/// </summary>
public sealed class KindCapability
{
    private KindCapability(KindPrior prior, IReadOnlyList<TrialEvidence> evidence, IReadOnlyList<string> counterparts, IReadOnlyList<SpreadCase> cases, double logEvidence) =>
        (Prior, Evidence, Counterparts, Cases, LogEvidence) = (prior, evidence, counterparts, cases, logEvidence);

    public KindPrior Prior { get; }

    public IReadOnlyList<TrialEvidence> Evidence { get; }

    public CapabilityStatus Status => Evidence.Count > 0 ? CapabilityStatus.Measured : CapabilityStatus.Assumed;

    /// <summary>Counterparts that were tried: about their lengths the trials say something too.</summary>
    public IReadOnlyList<string> Counterparts { get; }

    /// <summary>The spread's possible values, and what follows from each.</summary>
    internal IReadOnlyList<SpreadCase> Cases { get; }

    /// <summary>ln of how likely this evidence was; only differences between kinds of one prior mean anything.</summary>
    internal double LogEvidence { get; }

    /// <summary>Learns from all evidence of this kind at once; evidence of other kinds is passed over.</summary>
    public static KindCapability Learn(KindPrior prior, IEnumerable<TrialEvidence> evidence)
    {
        TrialEvidence[] own = [.. evidence.Where(e => e.Kind == prior.Kind)];
        var regression = new KindRegression(prior, own);
        IReadOnlyList<SpreadCase> cases = SpreadCase.Weighed(prior, regression.At, out double logEvidence);
        return new(prior, own, regression.Counterparts, cases, logEvidence);
    }

    /// <summary>The same after more evidence.</summary>
    public KindCapability With(params IEnumerable<TrialEvidence> more) => Learn(Prior, [.. Evidence, .. more]);

    /// <summary>What a size of this kind will come out as when drawn so, in mm: its mean, and a standard deviation that holds all that is in doubt.</summary>
    public NormalLength Forecast(double drawnMm)
    {
        double mean = 0, squares = 0;
        double[] sum = Sum(drawnMm);
        Span<double> with = stackalloc double[sum.Length];
        foreach (SpreadCase c in Cases) mean += c.Weight * c.Belief.MeanOf(sum);
        foreach (SpreadCase c in Cases)
        {
            double off = c.Belief.MeanOf(sum) - mean;
            squares += c.Weight * (off * off + c.Belief.VarianceOf(sum, with) + c.SpreadMm * c.SpreadMm);
        }

        return new(drawnMm + mean, Math.Sqrt(squares + Prior.SlicedVarianceMm2(drawnMm)));
    }

    /// <summary>P(low ≤ printed ≤ high) of a size drawn so.</summary>
    public double Between(double drawnMm, double lowMm, double highMm)
    {
        double[] sum = Sum(drawnMm);
        double all = 0, sliced = Prior.SlicedVarianceMm2(drawnMm);
        Span<double> with = stackalloc double[sum.Length];
        foreach (SpreadCase c in Cases)
            all += c.Weight * new NormalLength(drawnMm + c.Belief.MeanOf(sum), Math.Sqrt(c.Belief.VarianceOf(sum, with) + c.SpreadMm * c.SpreadMm + sliced)).Between(lowMm, highMm);
        return all;
    }

    /// <summary>By how much larger than drawn a size comes out, in mm, without the scatter of the single print.</summary>
    public NormalLength Bias(double drawnMm)
    {
        NormalLength all = Forecast(drawnMm);
        return new(all.MeanMm - drawnMm, Math.Sqrt(Math.Max(0, all.VarianceMm2 - MeanSpreadVariance - Prior.SlicedVarianceMm2(drawnMm))));
    }

    /// <summary>By how much the error grows with the size: mm for each mm.</summary>
    public NormalLength Proportional
    {
        get
        {
            double mean = Cases.Sum(c => c.Weight * c.Belief.Mean[1]);
            return new(mean, Math.Sqrt(Cases.Sum(c => c.Weight * (c.Belief.Covariance(1, 1) + (c.Belief.Mean[1] - mean) * (c.Belief.Mean[1] - mean)))));
        }
    }

    /// <summary>Standard deviation from print to print, in mm: the root of its mean square.</summary>
    public double SpreadMm => Math.Sqrt(MeanSpreadVariance);

    /// <summary>Of its square what is each surface's own in one print, mm²; the rest is the day's.</summary>
    public double OwnScatterMm2 => (1 - Prior.DayShare) * MeanSpreadVariance;

    private double MeanSpreadVariance => Cases.Sum(c => c.Weight * c.SpreadMm * c.SpreadMm);

    /// <summary>What this evidence alone says of the width of lines, beside what was believed of it before: a normal distribution's precision, and that times its mean; 0 where it says nothing.</summary>
    internal (double Precision, double Moment) OfWalls
    {
        get
        {
            if (Evidence.Count == 0 || Prior.WallShare == 0) return (0, 0);
            double mean = Cases.Sum(c => c.Weight * c.Belief.Mean[KindRegression.Walls]);
            double variance = Cases.Sum(c => c.Weight * (c.Belief.Covariance(KindRegression.Walls, KindRegression.Walls) + (c.Belief.Mean[KindRegression.Walls] - mean) * (c.Belief.Mean[KindRegression.Walls] - mean)));
            NormalLength before = Prior.Walls;
            double more = 1 / variance - 1 / before.VarianceMm2;
            return more > 0 ? (more, mean / variance - before.MeanMm / before.VarianceMm2) : (0, 0);
        }
    }

    /// <summary>The factors with which the regression's unknowns enter the error of a size drawn so.</summary>
    internal double[] Sum(double drawnMm)
    {
        var sum = new double[Cases[0].Belief.Mean.Count];
        KindRegression.Factors(drawnMm, sum);
        return sum;
    }

    /// <summary>Where a counterpart's length stands among the unknowns; −1 when it was never tried on this kind.</summary>
    internal int IndexOf(string counterpart)
    {
        for (int i = 0; i < Counterparts.Count; i++)
            if (Counterparts[i] == counterpart) return KindRegression.Terms + i;
        return -1;
    }
}
