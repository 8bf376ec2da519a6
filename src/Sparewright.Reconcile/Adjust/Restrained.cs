using System.Diagnostics.CodeAnalysis;
using Sparewright.Measure.Numbers;

namespace Sparewright.Reconcile.Adjust;

/// <summary>
/// The exact restraints at one point, used to express some unknowns by the others (elimination by Gauss and Jordan with complete pivoting):
/// what is left is free, and every step of the free unknowns keeps the restraints to first order.
/// </summary>
internal sealed class Restrained
{
    private const double Nothing = 1e-9;

    private readonly SparseRow?[] _byFree;

    private Restrained(int[] free, SparseRow?[] byFree, double[] closing) => (Free, _byFree, Closing) = (free, byFree, closing);

    /// <summary>The unknowns that no restraint settles, ascending.</summary>
    public int[] Free { get; }

    /// <summary>The step that closes the restraints to first order, by the settled unknowns alone.</summary>
    private double[] Closing { get; }

    /// <summary>The settled unknowns.</summary>
    public IEnumerable<int> Settled => Enumerable.Range(0, _byFree.Length).Where(i => _byFree[i] is not null);

    /// <summary>d settled unknown / d free ones, columns counted in <see cref="Free"/>; null for a free one.</summary>
    public SparseRow? ByFree(int unknown) => _byFree[unknown];

    /// <summary>Moves the settled unknowns until every restraint holds; says which one cannot.</summary>
    public static bool TryMeet(AdjustmentProblem problem, double[] x, [NotNullWhen(true)] out Restrained? restrained, [NotNullWhen(false)] out AdjustmentFailure? failure)
    {
        const int attempts = 50;
        for (int attempt = 0; ; attempt++)
        {
            if (!TryEliminate(problem, x, out restrained, out failure)) return false;
            double largest = 0;
            for (int i = 0; i < x.Length; i++)
            {
                if (restrained.Closing[i] == 0) continue;
                largest = Math.Max(largest, Math.Abs(restrained.Closing[i]) / Math.Max(1, Math.Abs(x[i])));
                x[i] += restrained.Closing[i];
            }

            if (largest < 1e-14) return true;
            if (attempt < attempts) continue;
            if (largest < Nothing) return true;
            failure = new(problem.Restraints[0].Name, "the restraints cannot all be met from these starting values", "start nearer to a shape that meets them, or drop one");
            return false;
        }
    }

    /// <summary>Turns derivatives by all unknowns into derivatives by the free ones.</summary>
    public SparseRow Reduce(Gradient gradient, double factor, double[] scratch)
    {
        if (Free.Length == _byFree.Length)
            return new(gradient.Unknowns.ToArray(), Scaled(gradient.Derivatives, factor));

        var touched = new SortedSet<int>();
        for (int k = 0; k < gradient.Unknowns.Length; k++)
        {
            int unknown = gradient.Unknowns[k];
            double derivative = gradient.Derivatives[k] * factor;
            if (_byFree[unknown] is { } row)
                for (int c = 0; c < row.Columns.Length; c++)
                {
                    scratch[row.Columns[c]] += derivative * row.Values[c];
                    touched.Add(row.Columns[c]);
                }
            else
            {
                int column = Array.BinarySearch(Free, unknown);
                scratch[column] += derivative;
                touched.Add(column);
            }
        }

        int[] columns = [.. touched];
        double[] values = [.. columns.Select(c => scratch[c])];
        foreach (int c in columns) scratch[c] = 0;
        return new(columns, values);
    }

    /// <summary>A step of the free unknowns, spread to all.</summary>
    public double[] Spread(ReadOnlySpan<double> freeStep)
    {
        var step = new double[_byFree.Length];
        for (int f = 0; f < Free.Length; f++) step[Free[f]] = freeStep[f];
        for (int i = 0; i < step.Length; i++)
            if (_byFree[i] is { } row) step[i] = row.Times(freeStep);
        return step;
    }

    private static double[] Scaled(ReadOnlySpan<double> values, double factor)
    {
        var scaled = new double[values.Length];
        for (int i = 0; i < scaled.Length; i++) scaled[i] = values[i] * factor;
        return scaled;
    }

    private static bool TryEliminate(AdjustmentProblem problem, double[] x, [NotNullWhen(true)] out Restrained? restrained, [NotNullWhen(false)] out AdjustmentFailure? failure)
    {
        int unknowns = x.Length, count = problem.Restraints.Count;
        restrained = null;
        failure = null;
        var duals = new Dual[unknowns];
        for (int i = 0; i < unknowns; i++) duals[i] = Dual.Unknown(i, x[i]);

        // One row for each restraint: derivatives, and in the last place what is still missing.
        var rows = new double[count][];
        for (int r = 0; r < count; r++)
        {
            Dual condition = problem.Restraints[r].MustBeZero(duals);
            rows[r] = new double[unknowns + 1];
            for (int k = 0; k < condition.Gradient.Unknowns.Length; k++) rows[r][condition.Gradient.Unknowns[k]] = condition.Gradient.Derivatives[k];
            rows[r][unknowns] = -condition.Value;
            if (!Array.TrueForAll(rows[r], double.IsFinite))
            {
                failure = new(problem.Restraints[r].Name, "cannot be computed at these values", "check its expression and the starting values");
                return false;
            }

            double largest = rows[r].AsSpan(0, unknowns).ToArray().Select(Math.Abs).DefaultIfEmpty(0).Max();
            if (largest > 0)
                for (int k = 0; k <= unknowns; k++) rows[r][k] /= largest;
        }

        var pivotOf = new int[count];
        Array.Fill(pivotOf, -1);
        var settledBy = new int[unknowns];
        Array.Fill(settledBy, -1);
        for (int done = 0; done < count; done++)
        {
            var (row, column, largest) = (-1, -1, Nothing);
            for (int r = 0; r < count; r++)
                if (pivotOf[r] < 0)
                    for (int k = 0; k < unknowns; k++)
                        if (Math.Abs(rows[r][k]) > largest) (row, column, largest) = (r, k, Math.Abs(rows[r][k]));
            if (row < 0) break;
            (pivotOf[row], settledBy[column]) = (column, row);
            double pivot = rows[row][column];
            for (int k = 0; k <= unknowns; k++) rows[row][k] /= pivot;
            for (int r = 0; r < count; r++)
                if (r != row && rows[r][column] != 0)
                {
                    Dense.Add(-rows[r][column], rows[row], rows[r]);
                    rows[r][column] = 0;
                }
        }

        for (int r = 0; r < count; r++)
            if (pivotOf[r] < 0 && Math.Abs(rows[r][unknowns]) > Nothing * (1 + x.Select(Math.Abs).DefaultIfEmpty(0).Max()))
            {
                failure = new(problem.Restraints[r].Name, "contradicts the other restraints", "drop one of those that settle the same sizes");
                return false;
            }

        int[] free = [.. Enumerable.Range(0, unknowns).Where(i => settledBy[i] < 0)];
        var byFree = new SparseRow?[unknowns];
        var closing = new double[unknowns];
        for (int i = 0; i < unknowns; i++)
        {
            if (settledBy[i] < 0) continue;
            double[] row = rows[settledBy[i]];
            int[] columns = [.. Enumerable.Range(0, free.Length).Where(f => row[free[f]] != 0)];
            byFree[i] = new(columns, [.. columns.Select(f => -row[free[f]])]);
            closing[i] = row[unknowns];
        }

        restrained = new(free, byFree, closing);
        return true;
    }
}
