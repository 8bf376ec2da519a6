using Sparewright.Strength.Grid;

namespace Sparewright.Strength.Solve;

/// <summary>A grid's operator as a matrix of 3 × 3 blocks over the corners in use, with their rigid movements.</summary>
/// <param name="At">Where each unknown stands in the grid's arrays.</param>
/// <param name="Inverse">1 / diagonal; 0 where nothing moves.</param>
internal sealed record WrittenDown(BlockMatrix Matrix, double[] Modes, double[] Inverse, int[] At)
{
    /// <summary>So many rows are put together by one piece of work.</summary>
    private const int RowsOfPiece = 256;

    public static WrittenDown Of(BrickLevel level, Elastic elastic, double cellMm, Workers workers)
    {
        BrickRows rows = level.Rows;
        double[] full = BrickMatrix.Of(elastic, cellMm);
        var cut = new CutMatrix(elastic, cellMm);
        float[] about = rows.SharesAbout();
        var number = new int[rows.Slots];
        Array.Fill(number, -1);
        var slots = new List<int>();
        for (int slot = 0; slot < rows.Slots; slot++)
            if (about[slot] > 0)
                slots.Add(slot);
        // Corners of twin cells among those about them, so that the matrix stays narrow.
        slots.Sort((a, b) => (PlaceOf(a), a).CompareTo((PlaceOf(b), b)));
        foreach (var (row, slot) in slots.Index()) number[slot] = row;
        int n = slots.Count;
        // Links of corners that are not in the rows.
        var more = new SortedDictionary<(int Row, int Column), double[]>();
        // Each corner and its 26 neighbours; what no cell links is left out at the end.
        var blocks = new double[n * 27 * 9];
        // Layers of one kind touch no corner of each other.
        for (int odd = 0; odd < 2; odd++)
        {
            int first = odd;
            workers.For((rows.NZ + 1 - first) / 2, half => AddLayer(2 * half + first));
        }

        var twin = new double[BrickMatrix.Size * BrickMatrix.Size];
        for (int cell = 0; cell < rows.Twins.Count; cell++)
        {
            cut.Of(rows.Twins[cell].Moments, twin);
            ReadOnlySpan<int> corners = rows.Twins.SlotsOf(cell);
            for (int a = 0; a < 8; a++)
                for (int b = 0; b < 8; b++)
                {
                    Span<double> block = BlockOf(corners[a], corners[b]);
                    for (int m = 0; m < 3; m++)
                        for (int p = 0; p < 3; p++) block[m * 3 + p] += twin[(3 * a + m) * BrickMatrix.Size + 3 * b + p];
                }
        }

        foreach (GroundSpring s in level.Springs)
            foreach (var (from, weight) in s.Corners)
                foreach (var (to, other) in s.Corners)
                {
                    Span<double> block = BlockOf(from, to);
                    ReadOnlySpan<double> d = [s.X, s.Y, s.Z];
                    for (int m = 0; m < 3; m++)
                        for (int p = 0; p < 3; p++) block[m * 3 + p] += s.Stiffness * weight * other * d[m] * d[p];
                }

        var start = new int[n + 1];
        var links = new int[n];
        ILookup<int, (int Column, double[] Values)> moreOf = more.ToLookup(m => m.Key.Row, m => (m.Key.Column, m.Value));
        Along(row =>
        {
            for (int step = 0; step < 27; step++)
                if (IsLinked(row, step)) links[row]++;
            links[row] += moreOf[row].Count();
        });
        for (int row = 0; row < n; row++) start[row + 1] = start[row] + links[row];
        var column = new int[start[^1]];
        var values = new double[9 * start[^1]];
        var modes = new double[n * 3 * Aggregation.Modes];
        var inverse = new double[3 * n];
        var at = new int[3 * n];
        Along(row =>
        {
            var (i, j, k) = rows.CornerOf(slots[row]);
            // Neighbours in this order have rising slots, and so rising numbers.
            for (int step = 0, to = start[row]; step < 27; step++)
            {
                if (!IsLinked(row, step)) continue;
                column[to] = number[rows.SlotOf(i + step % 3 - 1, j + step / 3 % 3 - 1, k + step / 9 - 1)];
                blocks.AsSpan((row * 27 + step) * 9, 9).CopyTo(values.AsSpan(9 * to++));
            }

            if (moreOf.Contains(row)) AddMore(row);
            for (int axis = 0; axis < 3; axis++)
            {
                at[3 * row + axis] = axis * rows.Slots + slots[row];
                if (level.InverseDiagonal.Span[at[3 * row + axis]] == 0) continue;
                inverse[3 * row + axis] = level.InverseDiagonal.Span[at[3 * row + axis]];
                double x = i - rows.NX / 2.0, y = j - rows.NY / 2.0, z = k - rows.NZ / 2.0;
                ReadOnlySpan<double> movement = axis switch
                {
                    0 => [1, 0, 0, 0, z, -y],
                    1 => [0, 1, 0, -z, 0, x],
                    _ => [0, 0, 1, y, -x, 0],
                };
                movement.CopyTo(modes.AsSpan((3 * row + axis) * Aggregation.Modes));
            }
        });

        return new(new BlockMatrix(n, n, 3, 3, start, column, values), modes, inverse, at);

        (int, int, int) PlaceOf(int slot)
        {
            var (i, j, k) = rows.CornerOf(slot);
            return (k, j, i);
        }

        Span<double> BlockOf(int from, int to)
        {
            if (from >= rows.Twins.FirstSlot || to >= rows.Twins.FirstSlot)
            {
                if (!more.TryGetValue((number[from], number[to]), out double[]? block)) more[(number[from], number[to])] = block = new double[9];
                return block;
            }

            var (fi, fj, fk) = rows.CornerOf(from);
            var (ti, tj, tk) = rows.CornerOf(to);
            return blocks.AsSpan((number[from] * 27 + 1 + ti - fi + 3 * (1 + tj - fj) + 9 * (1 + tk - fk)) * 9, 9);
        }

        // The columns of a row in rising order, with those of twin cells.
        void AddMore(int row)
        {
            int own = start[row + 1] - moreOf[row].Count();
            foreach (var (next, block) in moreOf[row].Select((m, place) => (own + place, m)))
            {
                column[next] = block.Column;
                block.Values.CopyTo(values, 9 * next);
            }

            int[] order = [.. Enumerable.Range(start[row], start[row + 1] - start[row]).OrderBy(place => column[place])];
            int[] columns = [.. order.Select(place => column[place])];
            double[] sorted = [.. order.SelectMany(place => values[(9 * place)..(9 * place + 9)])];
            columns.CopyTo(column, start[row]);
            sorted.CopyTo(values, 9 * start[row]);
        }

        bool IsLinked(int row, int step) => blocks.AsSpan((row * 27 + step) * 9, 9).ContainsAnyExcept(0.0);

        void Along(Action<int> work) => workers.For((n + RowsOfPiece - 1) / RowsOfPiece, piece =>
        {
            for (int row = piece * RowsOfPiece; row < Math.Min(n, (piece + 1) * RowsOfPiece); row++) work(row);
        });

        void AddLayer(int layer)
        {
            Span<float> moments = stackalloc float[CutCells.PerCell];
            Span<double> own = stackalloc double[BrickMatrix.Size * BrickMatrix.Size];
            for (int r = rows.LayerStart[layer]; r < rows.LayerStart[layer + 1]; r++)
            {
                ref readonly BrickRows.Run run = ref rows.Runs[r];
                for (int c = 0; c < run.Blocks * BrickRows.Block; c++)
                {
                    float share = rows.Shares[run.Shares + c];
                    if (share == 0) continue;
                    if (run.Cut < 0)
                    {
                        AddCell(run, c, share, full);
                        continue;
                    }

                    rows.MomentsOf(run, c, moments);
                    cut.Of(moments, own);
                    AddCell(run, c, 1, own);
                }
            }
        }

        void AddCell(in BrickRows.Run run, int cell, double share, ReadOnlySpan<double> matrix)
        {
            for (int a = 0; a < 8; a++)
            {
                int corner = number[run.Corner(a) + cell];
                for (int b = 0; b < 8; b++)
                {
                    int step = 1 + (b & 1) - (a & 1) + 3 * (1 + (b >> 1 & 1) - (a >> 1 & 1)) + 9 * (1 + (b >> 2) - (a >> 2));
                    Span<double> block = blocks.AsSpan((corner * 27 + step) * 9, 9);
                    for (int m = 0; m < 3; m++)
                        for (int p = 0; p < 3; p++) block[m * 3 + p] += share * matrix[(3 * a + m) * BrickMatrix.Size + 3 * b + p];
                }
            }
        }
    }
}
