namespace Sparewright.Strength.Solve;

/// <summary>
/// The coarser levels where a grid of cells no longer tells thin walls and slits apart: corners that hold on to each other strongly are taken together, and each such group
/// moves as a rigid body, smoothed. Groups follow the material, not the grid: the two sides of a slit stay two.
/// </summary>
/// <remarks>Method: Vaněk, Mandel and Brezina, "Algebraic multigrid by smoothed aggregation for second and fourth order elliptic problems", Computing 56 (1996), from memory.</remarks>
internal static class Aggregation
{
    /// <summary>Movements of a rigid body: three along the axes, three turns.</summary>
    public const int Modes = 6;

    /// <summary>Corners as groups: the number of the group of each; −1 for those that do not move. A link counts if its block is large beside the two diagonal blocks.</summary>
    public static (int[] Group, int Groups) GroupsOf(BlockMatrix matrix, bool[] moves, double least)
    {
        int n = matrix.Rows;
        var size = new double[n];
        for (int row = 0; row < n; row++)
            for (int at = matrix.Start[row]; at < matrix.Start[row + 1]; at++)
                if (matrix.Column[at] == row) size[row] = Norm(matrix.Block(at));
        var group = new int[n];
        for (int row = 0; row < n; row++) group[row] = moves[row] ? -2 : -1;

        bool IsStrong(int row, int at) => matrix.Column[at] != row && Norm(matrix.Block(at)) > least * Math.Sqrt(size[row] * size[matrix.Column[at]]);

        // First whole neighbourhoods, then what is left joins a neighbour's group, then what is still left makes its own.
        int groups = 0;
        for (int row = 0; row < n; row++)
        {
            if (group[row] != -2) continue;
            bool free = true, linked = false;
            for (int at = matrix.Start[row]; at < matrix.Start[row + 1] && free; at++)
                if (IsStrong(row, at) && group[matrix.Column[at]] != -1)
                {
                    linked = true;
                    free = group[matrix.Column[at]] == -2;
                }

            if (!free || !linked) continue;
            group[row] = groups;
            for (int at = matrix.Start[row]; at < matrix.Start[row + 1]; at++)
                if (IsStrong(row, at) && group[matrix.Column[at]] == -2) group[matrix.Column[at]] = groups;
            groups++;
        }

        int[] firstPass = [.. group];
        for (int row = 0; row < n; row++)
        {
            if (group[row] != -2) continue;
            double best = 0;
            for (int at = matrix.Start[row]; at < matrix.Start[row + 1]; at++)
                if (IsStrong(row, at) && firstPass[matrix.Column[at]] >= 0 && Norm(matrix.Block(at)) is var norm && norm > best)
                    (best, group[row]) = (norm, firstPass[matrix.Column[at]]);
        }

        for (int row = 0; row < n; row++)
        {
            if (group[row] != -2) continue;
            group[row] = groups;
            for (int at = matrix.Start[row]; at < matrix.Start[row + 1]; at++)
                if (IsStrong(row, at) && group[matrix.Column[at]] == -2) group[matrix.Column[at]] = groups;
            groups++;
        }

        return (group, groups);
    }

    /// <summary>
    /// Each group's rigid movements made orthonormal over its corners (P), and the movements in terms of those (the near null space one level up).
    /// </summary>
    /// <param name="modes">Row by row the rigid movements of each unknown, <see cref="Modes"/> numbers each; zero where nothing moves.</param>
    public static (BlockMatrix Tentative, double[] CoarseModes) Tentative(int[] group, int groups, double[] modes, int block)
    {
        var rows = new SparseRow[group.Length];
        var coarse = new double[groups * Modes * Modes];
        int[][] corners = [.. group.Index().Where(g => g.Item >= 0).GroupBy(g => g.Item).OrderBy(g => g.Key).Select(g => g.Select(x => x.Index).ToArray())];
        for (int row = 0; row < group.Length; row++) rows[row] = group[row] < 0 ? new([], []) : new([group[row]], new double[block * Modes]);
        for (int g = 0; g < groups; g++)
        {
            int length = corners[g].Length * block;
            var q = new double[Modes][];
            for (int m = 0; m < Modes; m++)
            {
                q[m] = new double[length];
                for (int c = 0; c < corners[g].Length; c++)
                    for (int a = 0; a < block; a++) q[m][c * block + a] = modes[(corners[g][c] * block + a) * Modes + m];
                double before = Math.Sqrt(Dot(q[m], q[m]));
                // Twice: once is not enough where a group is small and its turns are nearly its shifts.
                for (int pass = 0; pass < 2; pass++)
                    for (int other = 0; other < m; other++)
                    {
                        double along = Dot(q[other], q[m]);
                        coarse[(g * Modes + other) * Modes + m] += along;
                        for (int e = 0; e < length; e++) q[m][e] -= along * q[other][e];
                    }

                double norm = Math.Sqrt(Dot(q[m], q[m]));
                // A group of a corner or two cannot turn in every way.
                if (norm <= 1e-7 * before || norm == 0)
                {
                    Array.Clear(q[m]);
                    continue;
                }

                coarse[(g * Modes + m) * Modes + m] = norm;
                for (int e = 0; e < length; e++) q[m][e] /= norm;
            }

            for (int c = 0; c < corners[g].Length; c++)
                for (int a = 0; a < block; a++)
                    for (int m = 0; m < Modes; m++) rows[corners[g][c]].Values[a * Modes + m] = q[m][c * block + a];
        }

        return (BlockMatrix.Of(rows, groups, block, Modes), coarse);
    }

    /// <summary>P − factor · D⁻¹ A P: each group's movement fades out over its neighbours instead of tearing.</summary>
    public static BlockMatrix Smoothed(BlockMatrix matrix, BlockMatrix tentative, double[] inverseDiagonal, double factor, Workers workers)
    {
        BlockMatrix product = BlockMatrix.Product(matrix, tentative, workers);
        for (int row = 0; row < product.Rows; row++)
            for (int at = product.Start[row]; at < product.Start[row + 1]; at++)
                for (int m = 0; m < product.BlockRows; m++)
                    for (int n = 0; n < Modes; n++)
                    {
                        int entry = at * product.BlockLength + m * Modes + n;
                        product.Values[entry] *= -factor * inverseDiagonal[row * product.BlockRows + m];
                        if (tentative.Start[row] < tentative.Start[row + 1] && tentative.Column[tentative.Start[row]] == product.Column[at])
                            product.Values[entry] += tentative.Block(tentative.Start[row])[m * Modes + n];
                    }

        return product;
    }

    private static double Norm(ReadOnlySpan<double> block)
    {
        double sum = 0;
        foreach (double x in block) sum += x * x;
        return Math.Sqrt(sum);
    }

    private static double Dot(double[] a, double[] b)
    {
        double sum = 0;
        for (int n = 0; n < a.Length; n++) sum += a[n] * b[n];
        return sum;
    }
}
