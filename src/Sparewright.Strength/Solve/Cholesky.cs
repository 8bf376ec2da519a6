using System.Numerics;
using System.Runtime.InteropServices;

namespace Sparewright.Strength.Solve;

/// <summary>Direct solution of a small full symmetric system. Directions that nothing resists (their pivot vanishes) stay at 0.</summary>
internal sealed class Cholesky
{
    private readonly int _size;
    private readonly double[][] _rows;

    /// <param name="matrix">Row by row, only the lower half is read; it is overwritten.</param>
    public Cholesky(double[][] matrix)
    {
        _size = matrix.Length;
        _rows = matrix;
        var before = new double[_size];
        for (int row = 0; row < _size; row++) before[row] = matrix[row][row];
        for (int row = 0; row < _size; row++)
        {
            double[] own = matrix[row];
            for (int column = 0; column < row; column++)
            {
                double pivot = matrix[column][column];
                own[column] = pivot == 0 ? 0 : (own[column] - Dot(own.AsSpan(0, column), matrix[column].AsSpan(0, column))) / pivot;
            }

            double rest = own[row] - Dot(own.AsSpan(0, row), own.AsSpan(0, row));
            own[row] = rest > 1e-12 * before[row] ? Math.Sqrt(rest) : 0;
        }
    }

    public void Solve(Span<double> b)
    {
        for (int row = 0; row < _size; row++)
        {
            double pivot = _rows[row][row];
            b[row] = pivot == 0 ? 0 : (b[row] - Dot(_rows[row].AsSpan(0, row), b[..row])) / pivot;
        }

        for (int row = _size - 1; row >= 0; row--)
        {
            double pivot = _rows[row][row];
            b[row] = pivot == 0 ? 0 : b[row] / pivot;
            double value = b[row];
            for (int column = 0; column < row; column++) b[column] -= _rows[row][column] * value;
        }
    }

    private static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        ReadOnlySpan<Vector<double>> va = MemoryMarshal.Cast<double, Vector<double>>(a), vb = MemoryMarshal.Cast<double, Vector<double>>(b);
        Vector<double> sum = default;
        for (int n = 0; n < va.Length; n++) sum += va[n] * vb[n];
        double rest = Vector.Sum(sum);
        for (int n = va.Length * Vector<double>.Count; n < a.Length; n++) rest += a[n] * b[n];
        return rest;
    }
}
