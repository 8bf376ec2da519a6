namespace Sparewright.Strength.Solve;

/// <summary>
/// A little more than the largest eigenvalue of D⁻¹K of a grid without supports; springs add nothing above 1 to it, and what is held takes from it. Smoothing needs a bound that is not far too high:
/// a single cell's own is nearly twice that of the inside of a part.
/// </summary>
/// <remarks>Method: Lanczos, "An iteration method for the solution of the eigenvalue problem", J. Res. NBS 45 (1950), from memory. It finds single stiff places that plain powers of the matrix take long to show.</remarks>
internal static class LargestEigenvalue
{
    private const int Rounds = 9;

    /// <summary>What may be missing after so many rounds.</summary>
    private const double Margin = 1.05;

    /// <param name="x">Room to work in, as are the other two.</param>
    public static double Of(BrickLevel grid, NativeArray<float> x, NativeArray<float> last, NativeArray<float> k, Workers workers)
    {
        NativeArray<float> inverse = grid.InverseDiagonal;
        last.Span.Clear();
        // Rough, and the same always.
        NativeArray<float> start = x;
        workers.Along(x.Length, (from, length) =>
        {
            for (int n = from; n < from + length; n++) start.Span[n] = inverse.Span[n] > 0 ? 2 * unchecked((uint)n * 2654435761u) * (1f / uint.MaxValue) - 1 : 0;
        });
        double square = workers.Sum(x.Length, (from, length) => LongVectors.SquareOver(inverse.Slice(from, length), x.Slice(from, length)));
        double[] along = new double[Rounds], across = new double[Rounds + 1];
        for (int round = 0; round < Rounds; round++)
        {
            if (!(square > 0)) break;
            float scale = (float)(1 / Math.Sqrt(square));
            NativeArray<float> own = x, before = last;
            workers.Along(own.Length, (from, length) => LongVectors.Scale(scale, own.Slice(from, length)));
            grid.Apply(own, k);
            along[round] = workers.Sum(own.Length, (from, length) => LongVectors.Dot(own.Slice(from, length), k.Slice(from, length)));
            float a = (float)along[round], b = (float)across[round];
            // What is new stands square to what was before, by D, so that its product with Kx is its own square.
            square = Math.Max(0, workers.Sum(own.Length, (from, length) => LongVectors.Turn(a, b, inverse.Slice(from, length), k.Slice(from, length), own.Slice(from, length), before.Slice(from, length))));
            across[round + 1] = Math.Sqrt(square);
            (x, last) = (before, own);
        }

        return Margin * LargestOf(along, across);
    }

    /// <summary>The largest eigenvalue of a matrix with these numbers along its diagonal and beside it, by halving: none is above a value where every pivot is below 0.</summary>
    private static double LargestOf(double[] along, double[] across)
    {
        double low = along.Max(), high = Enumerable.Range(0, along.Length).Max(n => along[n] + across[n] + (n + 1 < along.Length ? across[n + 1] : 0));
        while (high - low > 1e-3 * high)
        {
            double middle = (low + high) / 2, pivot = 1;
            bool isAbove = true;
            for (int n = 0; n < along.Length && isAbove; n++)
            {
                pivot = along[n] - middle - (n == 0 ? 0 : across[n] * across[n] / pivot);
                isAbove = pivot < 0;
            }

            (low, high) = isAbove ? (low, middle) : (middle, high);
        }

        return high;
    }
}
