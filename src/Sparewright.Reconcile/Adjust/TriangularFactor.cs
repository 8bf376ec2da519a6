namespace Sparewright.Reconcile.Adjust;

/// <summary>A row of a sparse matrix: values beside the columns in which they stand.</summary>
internal readonly record struct SparseRow(int[] Columns, double[] Values)
{
    public double Times(ReadOnlySpan<double> x)
    {
        double sum = 0;
        for (int k = 0; k < Columns.Length; k++) sum += Values[k] * x[Columns[k]];
        return sum;
    }
}

/// <summary>
/// The triangle R of J·P = Q·R and z = Qᵀb: all of the rows J that least squares needs (Å. Björck, Numerical Methods for Least Squares Problems,
/// SIAM 1996, 2.2 and 2.4; from memory). The columns of J are expected to have length one, or to be zero.
/// Two ways lead to R. The normal equations cost linear time in the rows, but square the condition; they are taken while every pivot shows that this
/// does no harm. Otherwise Householder reflections with column pivoting, which also decide the rank.
/// </summary>
internal sealed class TriangularFactor
{
    /// <summary>
    /// Smallest relative pivot at which a column still counts as independent. Below it the covariance would have lost half of a double's digits:
    /// the rule σ_min/σ_max &lt; √10⁻¹⁴ by which general least-squares libraries refuse a covariance.
    /// </summary>
    public const double RankThreshold = 1e-7;

    /// <summary>Smallest pivot at which the normal equations are believed: their relative error is then about 10⁻¹⁶/10⁻⁶.</summary>
    private const double NormalEquationsThreshold = 1e-3;

    private readonly double[] _r;
    private readonly double[] _z;

    private TriangularFactor(int size, int rank, int[] order, double[] r, double[] z) =>
        (Size, Rank, Order, _r, _z) = (size, rank, order, r, z);

    /// <summary>Number of columns.</summary>
    public int Size { get; }

    /// <summary>Number of independent columns; they come first in <see cref="Order"/>.</summary>
    public int Rank { get; }

    /// <summary>Which column of J stands at each place of R.</summary>
    public int[] Order { get; }

    public static TriangularFactor Of(IReadOnlyList<SparseRow> rows, double[] b, int size) =>
        ByNormalEquations(rows, b, size) ?? ByReflections(rows, b, size);

    /// <summary>The step y that makes ‖J·y − b‖ least, and of those the shortest.</summary>
    public double[] Solve()
    {
        var placed = new double[Size];
        BackSubstitute(placed, _z);
        var y = Unplace(placed);
        foreach (double[] direction in OrthonormalNullSpace())
            Dense.Add(-Dense.Dot(direction, y), direction, y);
        return y;
    }

    /// <summary>The step y that makes ‖J·y − b‖² + damping·‖weights·y‖² least (K. Levenberg 1944, D. Marquardt 1963).</summary>
    public double[] SolveDamped(double damping, ReadOnlySpan<double> weights)
    {
        var columns = new double[Size][];
        double root = Math.Sqrt(damping);
        for (int j = 0; j < Size; j++)
        {
            columns[j] = new double[2 * Size];
            for (int i = 0; i <= j && i < Math.Min(Size, _z.Length); i++) columns[j][i] = _r[i * Size + j];
            columns[j][Size + j] = root * weights[Order[j]];
        }

        var right = new double[2 * Size];
        _z.AsSpan().CopyTo(right);
        var order = Enumerable.Range(0, Size).ToArray();
        var triangle = Reflect(columns, right, order, pivot: false);
        var placed = new double[Size];
        for (int i = Size - 1; i >= 0; i--)
        {
            double sum = right[i] - Dense.Dot(triangle.AsSpan(i * Size + i + 1, Size - i - 1), placed.AsSpan(i + 1));
            placed[i] = sum / triangle[i * Size + i];
        }

        return Unplace(placed);
    }

    /// <summary>‖R·P ᵀy‖² = ‖J·y‖²: how much the linearised sum of squares falls.</summary>
    public double LengthSquared(ReadOnlySpan<double> y)
    {
        var placed = new double[Size];
        for (int j = 0; j < Size; j++) placed[j] = y[Order[j]];
        double sum = 0;
        for (int i = 0; i < _z.Length; i++)
        {
            double t = Dense.Dot(_r.AsSpan(i * Size + i, Size - i), placed.AsSpan(i));
            sum += t * t;
        }

        return sum;
    }

    /// <summary>(JᵀJ)⁻¹ in the order of J's columns, as one array row by row; dependent columns have zeros (they are held).</summary>
    public double[] Inverse()
    {
        int n = Rank;
        // Row k of `inverse` is row k of R⁻¹: R⁻¹R = 1 gives it by substitution from below.
        var inverse = new double[n * n];
        for (int i = n - 1; i >= 0; i--)
        {
            var row = inverse.AsSpan(i * n, n);
            row[i] = 1;
            for (int k = i + 1; k < n; k++)
            {
                double r = _r[i * Size + k];
                if (r != 0) Dense.Add(-r, inverse.AsSpan(k * n + k, n - k), row[k..]);
            }

            double pivot = 1 / _r[i * Size + i];
            for (int j = i; j < n; j++) row[j] *= pivot;
        }

        var result = new double[Size * Size];
        for (int i = 0; i < n; i++)
            for (int j = i; j < n; j++)
            {
                double sum = Dense.Dot(inverse.AsSpan(i * n + j, n - j), inverse.AsSpan(j * n + j, n - j));
                result[Order[i] * Size + Order[j]] = sum;
                result[Order[j] * Size + Order[i]] = sum;
            }

        return result;
    }

    /// <summary>A basis of all y with J·y = 0.</summary>
    public IReadOnlyList<double[]> NullSpace()
    {
        var basis = new List<double[]>();
        for (int free = Rank; free < Size; free++)
        {
            var right = new double[Rank];
            for (int i = 0; i < Rank; i++) right[i] = -_r[i * Size + free];
            var placed = new double[Size];
            BackSubstitute(placed, right);
            placed[free] = 1;
            basis.Add(Unplace(placed));
        }

        return basis;
    }

    private List<double[]> OrthonormalNullSpace()
    {
        var basis = new List<double[]>();
        foreach (double[] direction in NullSpace())
        {
            // Twice is enough (Gram–Schmidt with one repetition).
            for (int pass = 0; pass < 2; pass++)
                foreach (double[] earlier in basis) Dense.Add(-Dense.Dot(earlier, direction), earlier, direction);
            double length = Math.Sqrt(Dense.Dot(direction, direction));
            for (int i = 0; i < direction.Length; i++) direction[i] /= length;
            basis.Add(direction);
        }

        return basis;
    }

    private void BackSubstitute(double[] placed, double[] right)
    {
        for (int i = Rank - 1; i >= 0; i--)
        {
            double sum = right[i] - Dense.Dot(_r.AsSpan(i * Size + i + 1, Rank - i - 1), placed.AsSpan(i + 1, Rank - i - 1));
            placed[i] = sum / _r[i * Size + i];
        }
    }

    private double[] Unplace(double[] placed)
    {
        var y = new double[Size];
        for (int j = 0; j < Size; j++) y[Order[j]] = placed[j];
        return y;
    }

    /// <summary>RᵀR = JᵀJ by Cholesky; null when a pivot says that squaring the condition would cost digits.</summary>
    private static TriangularFactor? ByNormalEquations(IReadOnlyList<SparseRow> rows, double[] b, int size)
    {
        if (rows.Count < size) return null;
        var r = new double[size * size];
        var z = new double[size];
        for (int i = 0; i < rows.Count; i++)
        {
            var (columns, values) = rows[i];
            for (int p = 0; p < columns.Length; p++)
            {
                z[columns[p]] += values[p] * b[i];
                var row = r.AsSpan(columns[p] * size, size);
                for (int q = p; q < columns.Length; q++) row[columns[q]] += values[p] * values[q];
            }
        }

        for (int k = 0; k < size; k++)
        {
            var pivotRow = r.AsSpan(k * size, size);
            if (!(pivotRow[k] > NormalEquationsThreshold * NormalEquationsThreshold)) return null;
            double pivot = Math.Sqrt(pivotRow[k]);
            for (int j = k; j < size; j++) pivotRow[j] /= pivot;
            z[k] /= pivot;
            for (int i = k + 1; i < size; i++)
            {
                double factor = pivotRow[i];
                if (factor == 0) continue;
                Dense.Add(-factor, pivotRow[i..], r.AsSpan(i * size + i, size - i));
                z[i] -= factor * z[k];
            }
        }

        return new(size, size, [.. Enumerable.Range(0, size)], r, z);
    }

    private static TriangularFactor ByReflections(IReadOnlyList<SparseRow> rows, double[] b, int size)
    {
        int height = Math.Max(rows.Count, 1);
        var columns = new double[size][];
        for (int j = 0; j < size; j++) columns[j] = new double[height];
        for (int i = 0; i < rows.Count; i++)
            for (int k = 0; k < rows[i].Columns.Length; k++) columns[rows[i].Columns[k]][i] = rows[i].Values[k];
        var right = new double[height];
        b.AsSpan().CopyTo(right);
        var order = Enumerable.Range(0, size).ToArray();
        double[] r = Reflect(columns, right, order, pivot: true);

        int steps = Math.Min(size, height), rank = 0;
        while (rank < steps && Math.Abs(r[rank * size + rank]) > RankThreshold * Math.Abs(r[0])) rank++;
        return new(size, rank, order, r, right[..steps]);
    }

    /// <summary>Householder's reflections; returns R row by row, leaves Qᵀb in <paramref name="b"/>. With pivoting, <paramref name="order"/> says where columns went.</summary>
    private static double[] Reflect(double[][] columns, double[] b, int[] order, bool pivot)
    {
        int size = columns.Length, height = b.Length, steps = Math.Min(size, height);
        for (int k = 0; k < steps; k++)
        {
            if (pivot)
            {
                // Lengths are computed anew rather than updated: the rank decision hangs on them.
                int longest = k;
                double most = -1;
                for (int j = k; j < size; j++)
                {
                    double length = Dense.Dot(columns[j].AsSpan(k), columns[j].AsSpan(k));
                    if (length > most * (1 + 1e-12)) (longest, most) = (j, length);
                }

                (columns[k], columns[longest]) = (columns[longest], columns[k]);
                (order[k], order[longest]) = (order[longest], order[k]);
            }

            var axis = columns[k].AsSpan(k);
            double norm = Math.Sqrt(Dense.Dot(axis, axis));
            if (norm == 0) continue;
            double alpha = axis[0] > 0 ? -norm : norm;
            axis[0] -= alpha;
            double half = -alpha * axis[0];
            for (int j = k + 1; j < size; j++)
            {
                var column = columns[j].AsSpan(k);
                Dense.Add(-Dense.Dot(axis, column) / half, axis, column);
            }

            var right = b.AsSpan(k);
            Dense.Add(-Dense.Dot(axis, right) / half, axis, right);
            axis.Clear();
            axis[0] = alpha;
        }

        var r = new double[size * size];
        for (int j = 0; j < size; j++)
            for (int i = 0; i <= j && i < steps; i++) r[i * size + j] = columns[j][i];
        return r;
    }
}
