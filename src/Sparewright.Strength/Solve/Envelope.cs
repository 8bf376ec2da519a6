using System.Numerics;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Sparewright.Strength.Solve;

/// <summary>
/// Direct solution of a symmetric system whose rows reach only a little way to the left of the diagonal. Directions that nothing resists (their pivot vanishes) stay at 0.
/// </summary>
/// <remarks>Methods, from memory: ordering by Cuthill and McKee, reversed (George 1971); factor within the envelope as in Jennings, "A compact storage scheme", Computer Journal 9 (1966).</remarks>
internal sealed class Envelope
{
    private readonly int[] _unknownAt;
    private readonly int[] _first;
    private readonly double[][] _rows;
    private readonly double[] _work;

    private Envelope(int[] unknownAt, int[] first)
    {
        (_unknownAt, _first) = (unknownAt, first);
        _rows = [.. first.Select((f, row) => new double[row - f + 1])];
        _work = new double[first.Length];
    }

    /// <summary>Bytes held.</summary>
    public long Bytes => _rows.Sum(r => (long)r.Length) * sizeof(double) + 12L * _rows.Length;

    /// <summary>The factor of a matrix, or null if it would take more than so many multiplications.</summary>
    public static Envelope? Of(BlockMatrix matrix, double[] inverse, double mostMultiplications)
    {
        int block = matrix.BlockRows;
        int[] order = Order(matrix);
        var place = new int[order.Length];
        for (int n = 0; n < order.Length; n++) place[order[n]] = n;
        var first = new int[order.Length * block];
        double multiplications = 0;
        for (int n = 0; n < order.Length; n++)
        {
            int row = order[n], least = n;
            for (int at = matrix.Start[row]; at < matrix.Start[row + 1]; at++) least = Math.Min(least, place[matrix.Column[at]]);
            for (int m = 0; m < block; m++)
            {
                first[n * block + m] = least * block;
                double width = n * block + m - least * block;
                multiplications += width * width / 2;
            }
        }

        if (multiplications > mostMultiplications) return null;
        var envelope = new Envelope([.. order.SelectMany(row => Enumerable.Range(row * block, block))], first);
        for (int row = 0; row < matrix.Rows; row++)
            for (int at = matrix.Start[row]; at < matrix.Start[row + 1]; at++)
                for (int m = 0; m < block; m++)
                    for (int n = 0; n < block; n++)
                    {
                        if (inverse[row * block + m] == 0 || inverse[matrix.Column[at] * block + n] == 0) continue;
                        int r = place[row] * block + m, c = place[matrix.Column[at]] * block + n;
                        if (c <= r) envelope._rows[r][c - first[r]] = matrix.Block(at)[m * block + n];
                    }

        envelope.Factor(block);
        return envelope;
    }

    /// <summary>Rows of one block reach equally far to the left; what each column gives to them is read once for all.</summary>
    private void Factor(int block)
    {
        Span<double> sums = stackalloc double[block];
        for (int start = 0; start < _rows.Length; start += block)
        {
            int first = _first[start];
            ReadOnlySpan<double[]> own = _rows.AsSpan(start, block);
            for (int column = first; column < start; column++)
            {
                double[] other = _rows[column];
                double pivot = other[^1];
                int from = Math.Max(first, _first[column]);
                if (pivot != 0) Dots(own, from - first, other.AsSpan(from - _first[column], column - from), sums);
                for (int m = 0; m < block; m++) own[m][column - first] = pivot == 0 ? 0 : (own[m][column - first] - sums[m]) / pivot;
            }

            for (int m = 0; m < block; m++) Finish(own[m], start, m);
        }
    }

    /// <summary>The part of a row within its block, and its pivot.</summary>
    private void Finish(double[] own, int start, int number)
    {
        int first = _first[start], row = start + number;
        double before = own[^1];
        for (int column = start; column < row; column++)
        {
            double[] other = _rows[column];
            own[column - first] = other[^1] == 0 ? 0 : (own[column - first] - Dot(own.AsSpan(0, column - first), other.AsSpan(0, column - first))) / other[^1];
        }

        double rest = before - Dot(own.AsSpan(0, row - first), own.AsSpan(0, row - first));
        own[^1] = rest > 1e-11 * before ? Math.Sqrt(rest) : 0;
    }

    /// <summary>The products of several rows, each from a place on, with one other.</summary>
    private static void Dots(ReadOnlySpan<double[]> own, int from, ReadOnlySpan<double> other, Span<double> sums)
    {
        int m = 0;
        for (; m + 2 < own.Length; m += 3)
        {
            ref double a = ref own[m][from], b = ref own[m + 1][from], c = ref own[m + 2][from], o = ref MemoryMarshal.GetReference(other);
            Vector256<double> sa = default, sb = default, sc = default;
            int n = 0;
            for (; n + Vector256<double>.Count <= other.Length; n += Vector256<double>.Count)
            {
                Vector256<double> with = Vector256.LoadUnsafe(ref o, (nuint)n);
                sa += Vector256.LoadUnsafe(ref a, (nuint)n) * with;
                sb += Vector256.LoadUnsafe(ref b, (nuint)n) * with;
                sc += Vector256.LoadUnsafe(ref c, (nuint)n) * with;
            }

            (sums[m], sums[m + 1], sums[m + 2]) = (Vector256.Sum(sa), Vector256.Sum(sb), Vector256.Sum(sc));
            for (; n < other.Length; n++)
            {
                sums[m] += own[m][from + n] * other[n];
                sums[m + 1] += own[m + 1][from + n] * other[n];
                sums[m + 2] += own[m + 2][from + n] * other[n];
            }
        }

        for (; m < own.Length; m++) sums[m] = Dot(own[m].AsSpan(from, other.Length), other);
    }

    /// <summary>Overwrites the right side by the solution.</summary>
    public void Solve(Span<double> b)
    {
        for (int row = 0; row < _work.Length; row++)
        {
            double[] own = _rows[row];
            double pivot = own[^1];
            _work[row] = pivot == 0 ? 0 : (b[_unknownAt[row]] - Dot(own.AsSpan(0, own.Length - 1), _work.AsSpan(_first[row], own.Length - 1))) / pivot;
        }

        for (int row = _work.Length - 1; row >= 0; row--)
        {
            double[] own = _rows[row];
            double value = own[^1] == 0 ? 0 : _work[row] / own[^1];
            _work[row] = value;
            Subtract(own.AsSpan(0, own.Length - 1), value, _work.AsSpan(_first[row], own.Length - 1));
            b[_unknownAt[row]] = value;
        }
    }

    /// <summary>Corners in the order of their distance from one that lies far out, reversed.</summary>
    private static int[] Order(BlockMatrix matrix)
    {
        var order = new List<int>(matrix.Rows);
        var seen = new bool[matrix.Rows];
        for (int start = 0; start < matrix.Rows; start++)
        {
            if (seen[start]) continue;
            int end = start;
            for (int round = 0; round < 2; round++) end = Walk(matrix, end, new bool[matrix.Rows], [])[^1];
            Walk(matrix, end, seen, order);
        }

        order.Reverse();
        return [.. order];
    }

    private static List<int> Walk(BlockMatrix matrix, int start, bool[] seen, List<int> order)
    {
        int next = order.Count;
        order.Add(start);
        seen[start] = true;
        var fresh = new List<int>();
        while (next < order.Count)
        {
            int row = order[next++];
            fresh.Clear();
            for (int at = matrix.Start[row]; at < matrix.Start[row + 1]; at++)
                if (!seen[matrix.Column[at]])
                {
                    seen[matrix.Column[at]] = true;
                    fresh.Add(matrix.Column[at]);
                }

            order.AddRange(fresh.OrderBy(c => matrix.Start[c + 1] - matrix.Start[c]).ThenBy(c => c));
        }

        return order;
    }

    private static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        ReadOnlySpan<Vector<double>> va = MemoryMarshal.Cast<double, Vector<double>>(a), vb = MemoryMarshal.Cast<double, Vector<double>>(b);
        Vector<double> even = default, odd = default;
        int v = 0;
        for (; v + 1 < va.Length; v += 2)
        {
            even += va[v] * vb[v];
            odd += va[v + 1] * vb[v + 1];
        }

        if (v < va.Length) even += va[v] * vb[v];
        double sum = Vector.Sum(even + odd);
        for (int n = va.Length * Vector<double>.Count; n < a.Length; n++) sum += a[n] * b[n];
        return sum;
    }

    private static void Subtract(ReadOnlySpan<double> a, double factor, Span<double> b)
    {
        ReadOnlySpan<Vector<double>> va = MemoryMarshal.Cast<double, Vector<double>>(a);
        Span<Vector<double>> vb = MemoryMarshal.Cast<double, Vector<double>>(b);
        for (int v = 0; v < va.Length; v++) vb[v] -= va[v] * factor;
        for (int n = va.Length * Vector<double>.Count; n < a.Length; n++) b[n] -= a[n] * factor;
    }
}
