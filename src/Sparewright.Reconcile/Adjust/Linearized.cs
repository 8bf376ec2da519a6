using Sparewright.Measure.Numbers;

namespace Sparewright.Reconcile.Adjust;

/// <summary>All observations at one point: what they should show, and how that changes with the free unknowns. Everything in standard uncertainties.</summary>
internal sealed class Linearized
{
    private Linearized(double[] x, Restrained restrained, double[] computed, SparseRow[] rows, double[] misclosure, double[] columnLengths) =>
        (X, Restrained, Computed, Rows, Misclosure, ColumnLengths) = (x, restrained, computed, rows, misclosure, columnLengths);

    /// <summary>The point.</summary>
    public double[] X { get; }

    public Restrained Restrained { get; }

    /// <summary>What each observation would show here, in its own unit.</summary>
    public double[] Computed { get; }

    /// <summary>Derivatives by the free unknowns over σ, each column brought to length one.</summary>
    public SparseRow[] Rows { get; }

    /// <summary>(observed − computed)/σ.</summary>
    public double[] Misclosure { get; }

    /// <summary>The lengths that the columns had.</summary>
    public double[] ColumnLengths { get; }

    /// <summary>What a column was divided by: its length, or one for a column of zeros.</summary>
    public double ColumnScale(int column) => ColumnLengths[column] > 0 ? ColumnLengths[column] : 1;

    public double SumOfSquares => Dense.Dot(Misclosure, Misclosure);

    /// <summary>Null with the name of the observation that cannot be computed at this point.</summary>
    public static Linearized? At(AdjustmentProblem problem, double[] x, Restrained restrained, out string? notComputable)
    {
        int n = problem.Observations.Count;
        var duals = new Dual[x.Length];
        for (int i = 0; i < x.Length; i++) duals[i] = Dual.Unknown(i, x[i]);
        var computed = new double[n];
        var rows = new SparseRow[n];
        var misclosure = new double[n];
        var squares = new double[restrained.Free.Length];
        var scratch = new double[restrained.Free.Length];
        for (int i = 0; i < n; i++)
        {
            var observation = problem.Observations[i];
            Dual value = observation.Computed(duals);
            computed[i] = value.Value;
            misclosure[i] = (observation.Observed - value.Value) / observation.StandardUncertainty;
            rows[i] = restrained.Reduce(value.Gradient, 1 / observation.StandardUncertainty, scratch);
            bool finite = double.IsFinite(misclosure[i]);
            for (int k = 0; k < rows[i].Values.Length; k++)
            {
                finite &= double.IsFinite(rows[i].Values[k]);
                squares[rows[i].Columns[k]] += rows[i].Values[k] * rows[i].Values[k];
            }

            if (finite) continue;
            notComputable = observation.Name;
            return null;
        }

        for (int j = 0; j < squares.Length; j++) squares[j] = Math.Sqrt(squares[j]);
        var result = new Linearized(x, restrained, computed, rows, misclosure, squares);
        foreach (var (columns, values) in rows)
            for (int k = 0; k < columns.Length; k++) values[k] /= result.ColumnScale(columns[k]);
        notComputable = null;
        return result;
    }
}
