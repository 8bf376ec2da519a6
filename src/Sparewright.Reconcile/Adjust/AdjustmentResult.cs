using Sparewright.Measure.Numbers;

namespace Sparewright.Reconcile.Adjust;

/// <summary>A value that follows from the unknowns.</summary>
/// <param name="StandardUncertainty">Infinite when the observations do not decide it.</param>
public readonly record struct DerivedValue(double Value, double StandardUncertainty)
{
    public bool IsDecided => double.IsFinite(StandardUncertainty);
}

/// <summary>What an adjustment found. Uncertainties follow from the observations' stated ones; they are not multiplied by the error factor.</summary>
public sealed class AdjustmentResult
{
    private readonly Linearized _at;
    private readonly double[] _inverse;
    private readonly double[] _covariance;

    internal AdjustmentResult(AdjustmentProblem problem, Linearized at, int iterations)
    {
        (Problem, _at, Iterations) = (problem, at, iterations);
        var factor = TriangularFactor.Of(at.Rows, at.Misclosure, at.Restrained.Free.Length);
        Rank = factor.Rank;
        _inverse = factor.Inverse();
        _covariance = SpreadCovariance();
        NullSpace = factor.Rank == factor.Size ? new([]) : DirectionsOf(factor);
        Observations = [.. problem.Observations.Select((observation, i) => new AdjustedObservation(
            observation.Name, observation.Observed, observation.StandardUncertainty, at.Computed[i], Math.Clamp(1 - Product(i, i), 0, 1))
        {
            MayBeWrong = observation.MayBeWrong,
            IsEvidence = observation.IsEvidence,
            WholeUncertainty = observation.WholeUncertainty,
        })];
        Global = new GlobalTest(at.SumOfSquares, problem.Observations.Count - Rank);
    }

    public AdjustmentProblem Problem { get; }

    /// <summary>The unknowns, in their order. One that is not decided stays as near its start as the others let it.</summary>
    public IReadOnlyList<double> Estimates => _at.X;

    /// <summary>Each observation with its residual and tests, in their order.</summary>
    public IReadOnlyList<AdjustedObservation> Observations { get; }

    public GlobalTest Global { get; }

    /// <summary>How many independent things the observations decide, restraints apart.</summary>
    public int Rank { get; }

    public NullSpace NullSpace { get; }

    public int Iterations { get; }

    /// <summary>True when observations and restraints decide this unknown.</summary>
    public bool IsDecided(int unknown) => NullSpace.Decides(unknown);

    /// <summary>Of an unknown; infinite when it is not decided, zero when a restraint settles it.</summary>
    public double StandardUncertainty(int unknown) =>
        IsDecided(unknown) ? Math.Sqrt(Math.Max(0, _covariance[unknown * Estimates.Count + unknown])) : double.PositiveInfinity;

    /// <summary>Of two unknowns; NaN unless both are decided.</summary>
    public double Covariance(int a, int b) => IsDecided(a) && IsDecided(b) ? _covariance[a * Estimates.Count + b] : double.NaN;

    /// <summary>Of two decided unknowns; NaN where one is exact or not decided.</summary>
    public double Correlation(int a, int b) => Covariance(a, b) / (StandardUncertainty(a) * StandardUncertainty(b));

    /// <summary>A function of the unknowns at the estimates, with its uncertainty: a sum may be decided though its parts are not.</summary>
    public DerivedValue Of(Computed function)
    {
        var duals = new Dual[Estimates.Count];
        for (int i = 0; i < duals.Length; i++) duals[i] = Dual.Unknown(i, Estimates[i]);
        Dual value = function(duals);
        var gradient = value.Gradient;
        foreach (double[] direction in NullSpace.Directions)
        {
            double change = 0, size = 0;
            for (int k = 0; k < gradient.Unknowns.Length; k++)
            {
                double part = gradient.Derivatives[k] * direction[gradient.Unknowns[k]];
                change += part;
                size += Math.Abs(part);
            }

            if (Math.Abs(change) > 1e-7 * size) return new(value.Value, double.PositiveInfinity);
        }

        double variance = 0;
        for (int a = 0; a < gradient.Unknowns.Length; a++)
            for (int b = 0; b < gradient.Unknowns.Length; b++)
                variance += gradient.Derivatives[a] * gradient.Derivatives[b] * _covariance[gradient.Unknowns[a] * Estimates.Count + gradient.Unknowns[b]];
        return new(value.Value, Math.Sqrt(Math.Max(0, variance)));
    }

    /// <summary>How much each unknown moves when this observation is one unit larger.</summary>
    public double[] Influence(int observation)
    {
        int size = _at.Restrained.Free.Length;
        var (columns, values) = _at.Rows[observation];
        var step = new double[size];
        for (int f = 0; f < size; f++)
        {
            for (int k = 0; k < columns.Length; k++) step[f] += _inverse[f * size + columns[k]] * values[k];
            step[f] /= _at.ColumnScale(f) * Problem.Observations[observation].StandardUncertainty;
        }

        return _at.Restrained.Spread(step);
    }

    /// <summary>
    /// Correlation of the w-tests of two observations: at ±1 no adjustment can tell an error in the one from an error in the other. NaN when one is not checked.
    /// </summary>
    public double TestCorrelation(int a, int b)
    {
        if (a == b) return Observations[a].IsChecked ? 1 : double.NaN;
        if (!Observations[a].IsChecked || !Observations[b].IsChecked) return double.NaN;
        return -Product(a, b) / Math.Sqrt(Observations[a].Redundancy * Observations[b].Redundancy);
    }

    /// <summary>row(a)·(JᵀJ)⁻¹·row(b): covariance of two adjusted observations, each in its standard uncertainty.</summary>
    private double Product(int a, int b)
    {
        int size = _at.Restrained.Free.Length;
        var (left, leftValues) = _at.Rows[a];
        var (right, rightValues) = _at.Rows[b];
        double sum = 0;
        for (int i = 0; i < left.Length; i++)
            for (int j = 0; j < right.Length; j++) sum += leftValues[i] * rightValues[j] * _inverse[left[i] * size + right[j]];
        return sum;
    }

    /// <summary>From the free unknowns in their scaled units to all unknowns in their own.</summary>
    private double[] SpreadCovariance()
    {
        int[] free = _at.Restrained.Free;
        int size = free.Length, all = Estimates.Count;
        var covariance = new double[all * all];
        for (int a = 0; a < size; a++)
            for (int b = 0; b < size; b++) covariance[free[a] * all + free[b]] = _inverse[a * size + b] / (_at.ColumnScale(a) * _at.ColumnScale(b));
        foreach (int settled in _at.Restrained.Settled)
        {
            var (columns, values) = _at.Restrained.ByFree(settled)!.Value;
            for (int other = 0; other < all; other++)
            {
                double sum = 0;
                for (int k = 0; k < columns.Length; k++) sum += values[k] * covariance[free[columns[k]] * all + other];
                covariance[settled * all + other] = sum;
            }
        }

        // The rows of the settled unknowns stand; their columns with the free ones are the mirror image, among each other they need both sides.
        foreach (int settled in _at.Restrained.Settled)
            for (int f = 0; f < size; f++) covariance[free[f] * all + settled] = covariance[settled * all + free[f]];
        foreach (int settled in _at.Restrained.Settled)
        {
            var (columns, values) = _at.Restrained.ByFree(settled)!.Value;
            foreach (int other in _at.Restrained.Settled)
            {
                double sum = 0;
                for (int k = 0; k < columns.Length; k++) sum += values[k] * covariance[free[columns[k]] * all + other];
                covariance[settled * all + other] = sum;
            }
        }

        return covariance;
    }

    private NullSpace DirectionsOf(TriangularFactor factor)
    {
        var basis = new List<double[]>();
        foreach (double[] y in factor.NullSpace())
        {
            var step = new double[y.Length];
            for (int f = 0; f < y.Length; f++) step[f] = y[f] / _at.ColumnScale(f);
            basis.Add(_at.Restrained.Spread(step));
        }

        var sizes = new double[Estimates.Count];
        Array.Fill(sizes, 1);
        for (int f = 0; f < _at.Restrained.Free.Length; f++) sizes[_at.Restrained.Free[f]] = 1 / _at.ColumnScale(f);
        return NullSpace.Reduced(basis, sizes);
    }
}
