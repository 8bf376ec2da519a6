namespace Sparewright.Reconcile.Adjust;

/// <summary>
/// The changes of the unknowns that no observation would notice. Each direction is written as simply as it goes: (0, 2, 1) says that the third may
/// grow by one while the second grows by two.
/// </summary>
/// <param name="Directions">A basis; in each, entries beside the unknowns.</param>
public sealed record NullSpace(IReadOnlyList<double[]> Directions)
{
    private const double Nothing = 1e-7;

    /// <summary>True when the observations decide every unknown.</summary>
    public bool IsEmpty => Directions.Count == 0;

    /// <summary>True when no direction moves this unknown.</summary>
    public bool Decides(int unknown) => Directions.All(direction => direction[unknown] == 0);

    /// <summary>The unknowns that a direction moves.</summary>
    public static IReadOnlyList<int> Moves(double[] direction) => [.. Enumerable.Range(0, direction.Length).Where(i => direction[i] != 0)];

    /// <summary>Reduces a basis; sizes tell what counts as nothing in each unknown's own unit.</summary>
    internal static NullSpace Reduced(IEnumerable<double[]> basis, double[] sizes)
    {
        List<double[]> rows = [.. basis.Select(direction => direction.Select((value, i) => value / sizes[i]).ToArray())];
        foreach (double[] row in rows) Normalize(row);

        // Gauss–Jordan with complete pivoting: each direction has an unknown to itself.
        var done = new bool[rows.Count];
        for (int step = 0; step < rows.Count; step++)
        {
            var (pivotRow, pivot, largest) = (-1, -1, 0.0);
            for (int r = 0; r < rows.Count; r++)
                if (!done[r])
                    for (int i = 0; i < rows[r].Length; i++)
                        if (Math.Abs(rows[r][i]) > largest * (1 + 1e-9)) (pivotRow, pivot, largest) = (r, i, Math.Abs(rows[r][i]));
            if (pivotRow < 0) break;
            done[pivotRow] = true;
            for (int r = 0; r < rows.Count; r++)
            {
                if (r == pivotRow) continue;
                Dense.Add(-rows[r][pivot] / rows[pivotRow][pivot], rows[pivotRow], rows[r]);
                rows[r][pivot] = 0;
            }
        }

        foreach (double[] row in rows)
        {
            Normalize(row);
            for (int i = 0; i < row.Length; i++) row[i] = Math.Abs(row[i]) < Nothing ? 0 : row[i] * sizes[i];
            Simplify(row);
        }

        return new NullSpace([.. rows.OrderBy(row => Array.FindIndex(row, value => value != 0))]);
    }

    private static void Normalize(double[] row)
    {
        double largest = row.Max(Math.Abs);
        for (int i = 0; i < row.Length; i++) row[i] /= largest;
    }

    /// <summary>The smallest entry becomes one (the largest, when they lie far apart), the first is positive, and what is all but whole is whole.</summary>
    private static void Simplify(double[] row)
    {
        double[] entries = [.. row.Where(value => value != 0).Select(Math.Abs)];
        double unit = entries.Max() / entries.Min() <= 1000 ? entries.Min() : entries.Max();
        if (row.First(value => value != 0) < 0) unit = -unit;
        for (int i = 0; i < row.Length; i++)
        {
            row[i] /= unit;
            if (Math.Abs(row[i] - Math.Round(row[i])) < Nothing * Math.Max(1, Math.Abs(row[i])) && Math.Round(row[i]) != 0) row[i] = Math.Round(row[i]);
        }
    }
}
