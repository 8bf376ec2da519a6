using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Sparewright.Strength.Solve;

/// <summary>A sparse matrix of small full blocks, row by row; blocks of a row stand in the order of their columns.</summary>
internal sealed class BlockMatrix(int rows, int columns, int blockRows, int blockColumns, int[] start, int[] column, double[] values)
{
    public int Rows { get; } = rows;

    public int Columns { get; } = columns;

    public int BlockRows { get; } = blockRows;

    public int BlockColumns { get; } = blockColumns;

    public int[] Start { get; } = start;

    public int[] Column { get; } = column;

    public double[] Values { get; } = values;

    public int BlockLength => BlockRows * BlockColumns;

    public ReadOnlySpan<double> Block(int at) => Values.AsSpan(at * BlockLength, BlockLength);

    /// <summary>y = A x.</summary>
    public void Multiply(ReadOnlySpan<double> x, Span<double> y)
    {
        y.Clear();
        for (int row = 0; row < Rows; row++)
        {
            Span<double> target = y.Slice(row * BlockRows, BlockRows);
            for (int at = Start[row]; at < Start[row + 1]; at++)
            {
                ReadOnlySpan<double> block = Block(at), source = x.Slice(Column[at] * BlockColumns, BlockColumns);
                for (int m = 0; m < BlockRows; m++)
                    for (int n = 0; n < BlockColumns; n++) target[m] += block[m * BlockColumns + n] * source[n];
            }
        }
    }

    /// <summary>y = Aᵀ x.</summary>
    public void MultiplyTransposed(ReadOnlySpan<double> x, Span<double> y)
    {
        y.Clear();
        for (int row = 0; row < Rows; row++)
        {
            ReadOnlySpan<double> source = x.Slice(row * BlockRows, BlockRows);
            for (int at = Start[row]; at < Start[row + 1]; at++)
            {
                ReadOnlySpan<double> block = Block(at);
                Span<double> target = y.Slice(Column[at] * BlockColumns, BlockColumns);
                for (int m = 0; m < BlockRows; m++)
                    for (int n = 0; n < BlockColumns; n++) target[n] += block[m * BlockColumns + n] * source[m];
            }
        }
    }

    public double[] Diagonal()
    {
        var diagonal = new double[Rows * BlockRows];
        for (int row = 0; row < Rows; row++)
            for (int at = Start[row]; at < Start[row + 1]; at++)
                if (Column[at] == row)
                    for (int m = 0; m < BlockRows; m++) diagonal[row * BlockRows + m] = Values[at * BlockLength + m * BlockColumns + m];
        return diagonal;
    }

    /// <summary>The product A B.</summary>
    public static BlockMatrix Product(BlockMatrix a, BlockMatrix b, Workers workers)
    {
        var rows = new SparseRow[a.Rows];
        // Rows that work side by side: enough that what each piece needs for itself does not count.
        const int rowsOfPiece = 128;
        workers.For((a.Rows + rowsOfPiece - 1) / rowsOfPiece, piece =>
        {
            var sum = new RowSum(b.Columns, a.BlockRows * b.BlockColumns);
            for (int row = piece * rowsOfPiece; row < Math.Min(a.Rows, (piece + 1) * rowsOfPiece); row++)
            {
                for (int p = a.Start[row]; p < a.Start[row + 1]; p++)
                    for (int q = b.Start[a.Column[p]]; q < b.Start[a.Column[p] + 1]; q++)
                        AddProduct(a.Block(p), b.Block(q), sum.At(b.Column[q]), a.BlockRows, a.BlockColumns, b.BlockColumns);
                rows[row] = sum.Take();
            }
        });
        return Of(rows, b.Columns, a.BlockRows, b.BlockColumns);
    }

    /// <summary>The transpose.</summary>
    public BlockMatrix Transposed()
    {
        var start = new int[Columns + 1];
        foreach (int c in Column) start[c + 1]++;
        for (int c = 0; c < Columns; c++) start[c + 1] += start[c];
        int[] next = start[..^1];
        var column = new int[Column.Length];
        var values = new double[Values.Length];
        for (int row = 0; row < Rows; row++)
            for (int at = Start[row]; at < Start[row + 1]; at++)
            {
                int to = next[Column[at]]++;
                column[to] = row;
                for (int m = 0; m < BlockRows; m++)
                    for (int n = 0; n < BlockColumns; n++) values[to * BlockLength + n * BlockRows + m] = Values[at * BlockLength + m * BlockColumns + n];
            }

        return new(Columns, Rows, BlockColumns, BlockRows, start, column, values);
    }

    public static BlockMatrix Of(SparseRow[] rows, int columns, int blockRows, int blockColumns)
    {
        var start = new int[rows.Length + 1];
        for (int row = 0; row < rows.Length; row++) start[row + 1] = start[row] + rows[row].Columns.Length;
        var column = new int[start[^1]];
        var values = new double[start[^1] * blockRows * blockColumns];
        for (int row = 0; row < rows.Length; row++)
        {
            rows[row].Columns.CopyTo(column, start[row]);
            rows[row].Values.CopyTo(values, start[row] * blockRows * blockColumns);
        }

        return new(rows.Length, columns, blockRows, blockColumns, start, column, values);
    }

    private static void AddProduct(ReadOnlySpan<double> a, ReadOnlySpan<double> b, Span<double> c, int rows, int inner, int columns)
    {
        if (columns == Aggregation.Modes)
        {
            AddProductOfSix(a, b, c, rows, inner);
            return;
        }

        for (int m = 0; m < rows; m++)
        {
            Span<double> target = c.Slice(m * columns, columns);
            for (int s = 0; s < inner; s++)
            {
                double factor = a[m * inner + s];
                ReadOnlySpan<double> source = b.Slice(s * columns, columns);
                for (int n = 0; n < target.Length; n++) target[n] += factor * source[n];
            }
        }
    }

    /// <summary>The same for six columns, four and two at a time.</summary>
    private static void AddProductOfSix(ReadOnlySpan<double> a, ReadOnlySpan<double> b, Span<double> c, int rows, int inner)
    {
        const int columns = 6;
        ref double from = ref MemoryMarshal.GetReference(b), to = ref MemoryMarshal.GetReference(c[..(rows * columns)]);
        for (int m = 0; m < rows; m++)
        {
            nuint at = (nuint)(m * columns);
            Vector256<double> four = Vector256.LoadUnsafe(ref to, at);
            Vector128<double> two = Vector128.LoadUnsafe(ref to, at + 4);
            for (int s = 0; s < inner; s++)
            {
                double factor = a[m * inner + s];
                four += Vector256.Create(factor) * Vector256.LoadUnsafe(ref from, (nuint)(s * columns));
                two += Vector128.Create(factor) * Vector128.LoadUnsafe(ref from, (nuint)(s * columns + 4));
            }

            four.StoreUnsafe(ref to, at);
            two.StoreUnsafe(ref to, at + 4);
        }
    }
}

internal readonly record struct SparseRow(int[] Columns, double[] Values);

/// <summary>One row of a product under way: blocks by column.</summary>
internal sealed class RowSum
{
    private readonly int[] _at;
    private readonly List<int> _columns = [];
    private readonly int _blockLength;
    private double[] _values;

    public RowSum(int columns, int blockLength)
    {
        _at = new int[columns];
        Array.Fill(_at, -1);
        _blockLength = blockLength;
        _values = new double[16 * blockLength];
    }

    /// <summary>The block of a column, zero when new; valid until the next call.</summary>
    public Span<double> At(int column)
    {
        if (_at[column] < 0)
        {
            _at[column] = _columns.Count;
            _columns.Add(column);
            if (_columns.Count * _blockLength > _values.Length) Array.Resize(ref _values, 2 * _values.Length);
            _values.AsSpan(_at[column] * _blockLength, _blockLength).Clear();
        }

        return _values.AsSpan(_at[column] * _blockLength, _blockLength);
    }

    /// <summary>What has been added up, in the order of columns; begins anew.</summary>
    public SparseRow Take()
    {
        _columns.Sort();
        int[] columns = [.. _columns];
        var values = new double[columns.Length * _blockLength];
        for (int n = 0; n < columns.Length; n++) _values.AsSpan(_at[columns[n]] * _blockLength, _blockLength).CopyTo(values.AsSpan(n * _blockLength));
        foreach (int column in columns) _at[column] = -1;
        _columns.Clear();
        return new(columns, values);
    }
}
