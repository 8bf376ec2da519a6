namespace Sparewright.Measure.Uncertainty;

/// <summary>So many values of which only bounds are known, as gauges and go/no-go trials tell them.</summary>
/// <param name="Low">May be −∞.</param>
/// <param name="High">May be +∞.</param>
public readonly record struct BetweenBounds(double Low, double High, int Count = 1);

/// <summary>
/// Mean and standard deviation of a normal distribution from values of which only bounds are known, by maximum likelihood: −ln L = −Σ n ln(Φ(b·high − a) − Φ(b·low − a)), with a = μ/σ and b = 1/σ,
/// in which it is convex (J. W. Pratt, Concavity of the Log Likelihood, JASA 76, 1981; from memory). For a trial that goes at x and only from some threshold on this is the probit model.
/// </summary>
/// <param name="StandardDeviation">Null where the bounds have a stretch in common: then any small one fits as well, and only the stretch is known.</param>
/// <param name="Mean">Where there is no standard deviation: the middle of the stretch, with its half width over √3 as uncertainty.</param>
/// <param name="Low">Of the stretch that all bounds have in common; NaN when they have none.</param>
/// <param name="Intercept">−a, with its standard error; NaN without a standard deviation.</param>
/// <param name="Slope">b, with its standard error.</param>
public sealed record CensoredNormal(
    double Mean, double MeanUncertainty, double? StandardDeviation, double NegativeLogLikelihood, double Low, double High, (double Value, double Error) Intercept, (double Value, double Error) Slope)
{
    private const int MostSteps = 200;

    /// <summary>Null where one bound of all values is open on one side: then there is nothing to be estimated.</summary>
    public static CensoredNormal? Fit(IReadOnlyList<BetweenBounds> values)
    {
        BetweenBounds[] counted = [.. values.Where(v => v.Count > 0)];
        if (counted.Length == 0) return null;
        double low = counted.Max(v => v.Low), high = counted.Min(v => v.High);
        if (low < high)
            return double.IsFinite(low) && double.IsFinite(high) ? new(0.5 * (low + high), (high - low) / Math.Sqrt(12), null, 0, low, high, (double.NaN, double.NaN), (double.NaN, double.NaN)) : null;

        // Around the middle of the finite bounds, in units of their spread.
        double[] bounds = [.. counted.SelectMany(v => new[] { v.Low, v.High }).Where(double.IsFinite)];
        double middle = bounds.Average(), unit = Math.Max(bounds.Max() - bounds.Min(), 1e-300);
        double a = 0, b = 2;
        var here = At(a, b);
        for (int step = 0; step < MostSteps; step++)
        {
            double det = here.Haa * here.Hbb - here.Hab * here.Hab;
            double da = (here.Hbb * here.Ga - here.Hab * here.Gb) / det, db = (here.Haa * here.Gb - here.Hab * here.Ga) / det, length = 1;
            // −ln L is convex: a step that overshoots is halved.
            var there = At(a - da, b - db);
            while (!(b - length * db > 0 && there.Value <= here.Value) && length > 1e-12) there = At(a - (length /= 2) * da, b - length * db);
            (a, b) = (a - length * da, b - length * db);
            bool still = Math.Abs(length * da) + Math.Abs(length * db) < 1e-12 * (Math.Abs(a) + Math.Abs(b));
            here = there;
            if (still) break;
        }

        double determinant = here.Haa * here.Hbb - here.Hab * here.Hab;
        double vaa = here.Hbb / determinant, vbb = here.Haa / determinant, vab = -here.Hab / determinant;
        double slope = b / unit, intercept = -a - slope * middle, shift = middle / unit;
        double mean = middle + unit * a / b, meanVariance = unit * unit / (b * b) * (vaa - 2 * a / b * vab + a * a / (b * b) * vbb);
        return new(mean, Math.Sqrt(meanVariance), unit / b, here.Value, double.NaN, double.NaN,
            (intercept, Math.Sqrt(vaa + 2 * shift * vab + shift * shift * vbb)), (slope, Math.Sqrt(vbb) / unit));

        (double Value, double Ga, double Gb, double Haa, double Hab, double Hbb) At(double atA, double atB)
        {
            double value = 0, ga = 0, gb = 0, haa = 0, hab = 0, hbb = 0;
            foreach (var (from, to, count) in counted)
            {
                double x = (from - middle) / unit, y = (to - middle) / unit, zLow = atB * x - atA, zHigh = atB * y - atA;
                double p = NormalBetween.ProbabilityOf(zLow, zHigh);
                value -= count * Math.Log(p);
                double l = double.IsFinite(zLow) ? Normal.Density(zLow, 1) / p : 0, h = double.IsFinite(zHigh) ? Normal.Density(zHigh, 1) / p : 0;
                double ll = l == 0 ? 0 : zLow * l - l * l, hh = h == 0 ? 0 : -zHigh * h - h * h, lh = l * h;
                if (l == 0) x = 0;
                if (h == 0) y = 0;
                ga += count * (h - l);
                gb -= count * (h * y - l * x);
                haa -= count * (hh + ll + 2 * lh);
                hab += count * (hh * y + ll * x + lh * (x + y));
                hbb -= count * (hh * y * y + ll * x * x + 2 * lh * x * y);
            }

            return (value, ga, gb, haa, hab, hbb);
        }
    }
}
