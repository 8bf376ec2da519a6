using Sparewright.Measure.Numbers;

namespace Sparewright.Measure.Uncertainty;

/// <summary>A measurand as a function of its inputs; each input carries its own derivative.</summary>
public delegate Dual Measurand(ReadOnlySpan<Dual> inputs);

/// <summary>The law of propagation of uncertainty (GUM 5.1.2 and 5.2.2), with exact first derivatives.</summary>
public static class LawOfPropagation
{
    /// <summary>Distance of the probes for higher derivatives, in standard uncertainties: near enough to the estimate, far enough above rounding.</summary>
    private const double Probe = 0.1;

    /// <summary>Propagates the inputs' covariance through several measurands at once.</summary>
    /// <param name="estimates">Best estimates of the inputs.</param>
    /// <param name="covariance">Their covariance matrix, symmetric, the squares of the standard uncertainties on its diagonal.</param>
    public static Propagated Propagate(IReadOnlyList<Measurand> measurands, ReadOnlySpan<double> estimates, double[,] covariance)
    {
        int inputs = estimates.Length;
        RequireSize(covariance, inputs);
        var point = Inputs(estimates);
        var values = new double[measurands.Count];
        var sensitivities = new double[measurands.Count, inputs];
        for (int m = 0; m < values.Length; m++)
        {
            Dual y = measurands[m](point);
            values[m] = y.Value;
            for (int i = 0; i < inputs; i++) sensitivities[m, i] = y.Gradient.By(i);
        }

        var result = new double[values.Length, values.Length];
        for (int a = 0; a < values.Length; a++)
            for (int b = 0; b < values.Length; b++)
                for (int i = 0; i < inputs; i++)
                    for (int j = 0; j < inputs; j++)
                        result[a, b] += sensitivities[a, i] * covariance[i, j] * sensitivities[b, j];
        return new(values, result, sensitivities);
    }

    /// <summary>
    /// Whether the measurand is straight enough over the spread of its inputs for <see cref="Propagate"/> to be believed: the next terms of the series
    /// (GUM 5.1.2, note, written for normal inputs; correlated ones are turned into independent ones first).
    /// </summary>
    public static LinearityCheck Check(Measurand measurand, ReadOnlySpan<double> estimates, double[,] covariance)
    {
        int n = estimates.Length;
        RequireSize(covariance, n);
        double[,] root = Root(covariance);
        double[] centre = estimates.ToArray();

        // g(z) = f(x + root·z) has independent inputs z of variance 1; its gradient is exact, the rest comes from differences of gradients.
        double[] GradientAt(int axis, double step)
        {
            var shifted = (double[])centre.Clone();
            if (axis >= 0)
                for (int i = 0; i < n; i++) shifted[i] += step * root[i, axis];
            Dual y = measurand(Inputs(shifted));
            var gradient = new double[n];
            for (int k = 0; k < n; k++)
                for (int i = 0; i < n; i++) gradient[k] += y.Gradient.By(i) * root[i, k];
            return gradient;
        }

        double[] g = GradientAt(-1, 0);
        double first = g.Sum(value => value * value), second = 0, shift = 0;
        for (int j = 0; j < n; j++)
        {
            double[] ahead = GradientAt(j, Probe), behind = GradientAt(j, -Probe);
            for (int i = 0; i < n; i++)
            {
                double curved = (ahead[i] - behind[i]) / (2 * Probe);
                double third = (ahead[i] - 2 * g[i] + behind[i]) / (Probe * Probe);
                second += 0.5 * curved * curved + g[i] * third;
                if (i == j) shift += 0.5 * curved;
            }
        }

        return new(Math.Sqrt(first), Math.Sqrt(Math.Max(0, first + second)), shift);
    }

    private static Dual[] Inputs(ReadOnlySpan<double> estimates)
    {
        var inputs = new Dual[estimates.Length];
        for (int i = 0; i < inputs.Length; i++) inputs[i] = Dual.Unknown(i, estimates[i]);
        return inputs;
    }

    /// <summary>Lower triangular L with LLᵀ = covariance; a zero pivot (an input without uncertainty, or fully correlated) leaves a zero column.</summary>
    private static double[,] Root(double[,] covariance)
    {
        int n = covariance.GetLength(0);
        var root = new double[n, n];
        for (int j = 0; j < n; j++)
        {
            double pivot = covariance[j, j];
            for (int k = 0; k < j; k++) pivot -= root[j, k] * root[j, k];
            if (pivot <= 1e-12 * covariance[j, j])
            {
                if (pivot < -1e-9 * covariance[j, j] || covariance[j, j] < 0)
                    throw new ArgumentException("the covariance matrix is not positive semi-definite", nameof(covariance));
                continue;
            }

            root[j, j] = Math.Sqrt(pivot);
            for (int i = j + 1; i < n; i++)
            {
                double sum = covariance[i, j];
                for (int k = 0; k < j; k++) sum -= root[i, k] * root[j, k];
                root[i, j] = sum / root[j, j];
            }
        }

        return root;
    }

    private static void RequireSize(double[,] covariance, int inputs)
    {
        if (covariance.GetLength(0) != inputs || covariance.GetLength(1) != inputs)
            throw new ArgumentException($"the covariance matrix must be {inputs} × {inputs}", nameof(covariance));
    }
}

/// <summary>Values with their covariance, and how each input moves each of them.</summary>
/// <param name="Sensitivities">∂ measurand / ∂ input, one row for each measurand.</param>
public sealed record Propagated(double[] Values, double[,] Covariance, double[,] Sensitivities)
{
    public double StandardUncertainty(int measurand) => Math.Sqrt(Covariance[measurand, measurand]);

    public double Correlation(int a, int b) => Covariance[a, b] / (StandardUncertainty(a) * StandardUncertainty(b));
}

/// <summary>The first neglected terms of the law of propagation.</summary>
/// <param name="FirstOrder">Standard uncertainty by the law of propagation.</param>
/// <param name="SecondOrder">The same with the next terms.</param>
/// <param name="MeanShift">What curvature adds to the mean.</param>
public sealed record LinearityCheck(double FirstOrder, double SecondOrder, double MeanShift)
{
    /// <summary>Half a unit of the first significant digit of the first-order uncertainty: JCGM 101:2008, 7.9.2, with one digit.</summary>
    public double Tolerance => FirstOrder == 0 ? 0 : 0.5 * Math.Pow(10, Math.Floor(Math.Log10(FirstOrder)));

    /// <summary>When false, the linear result must not be shown as a result: take <see cref="MonteCarlo"/>.</summary>
    public bool IsLinearEnough => Math.Abs(SecondOrder - FirstOrder) <= Tolerance && Math.Abs(MeanShift) <= Tolerance;
}
