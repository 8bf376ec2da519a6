namespace Sparewright.Strength.Grid;

/// <summary>
/// The cells that a surface cuts, each with the moments of what is solid in it, by which the cell's stiffness is integrated truly:
/// m[a + 3b + 9c] = 1/8 ∫ ξᵃ ηᵇ ζᶜ dξ dη dζ over the solid in the cell, a, b, c = 0 … 2, with ξ, η, ζ from −1 to 1 over the cell along x, y, z. m[0] is the share.
/// </summary>
/// <remarks>
/// The strains of a trilinear brick are sums of 1, ξ, η, ζ, ξη, ξζ, ηζ, so the products of two hold no power above 2: these moments are all that a stiffness matrix needs. Cells in the order of their index, x fastest.
/// </remarks>
internal sealed class CutCells(int nx, int ny, int[] cells, float[] moments)
{
    public const int PerCell = 27;

    /// <summary>The moments of a whole cell.</summary>
    public static float[] Whole { get; } = [.. Enumerable.Range(0, PerCell).Select(m => Line(m % 3) * Line(m / 3 % 3) * Line(m / 9))];

    /// <summary>What each of eight whole cells adds to the moments of the cell twice as long about them.</summary>
    private static readonly float[][] WholeInCoarser = [.. Enumerable.Range(0, 8).Select(which =>
    {
        var coarser = new float[PerCell];
        AddToCoarser(Whole, which, coarser);
        return coarser;
    })];

    public static CutCells None { get; } = new(1, 1, [], []);

    public int Count => cells.Length;

    /// <summary>The cells' indices as <see cref="VoxelGrid.Cell"/> tells them, ascending.</summary>
    public ReadOnlySpan<int> Cells => cells;

    public (int I, int J, int K) At(int n) => (cells[n] % nx, cells[n] / nx % ny, cells[n] / nx / ny);

    public ReadOnlySpan<float> Moments(int n) => moments.AsSpan(n * PerCell, PerCell);

    /// <summary>The number of a cell in this list by its index; below 0 if the surface does not cut it.</summary>
    public int Find(int cell) => Array.BinarySearch(cells, cell);

    /// <summary>The moments of a cell by its index; none if the surface does not cut it.</summary>
    public ReadOnlySpan<float> Of(int cell) => Find(cell) is >= 0 and var n ? Moments(n) : default;

    /// <summary>The number of the first in this list whose index is no less.</summary>
    public int First(int cell) => Find(cell) is var n && n >= 0 ? n : ~n;

    /// <summary>Whether solid is spread evenly over a cell with these moments, so that its share says it all.</summary>
    public static bool AreEven(ReadOnlySpan<float> moments)
    {
        const float rounding = 1e-6f;
        for (int m = 1; m < PerCell; m++)
            if (Math.Abs(moments[m] - moments[0] * Whole[m]) > rounding * moments[0]) return false;
        return true;
    }

    /// <summary>Adds the moments of one of the eight cells within a cell twice as long to that cell's. <paramref name="which"/>: x 1, y 2, z 4 for the far side.</summary>
    public static void AddToCoarser(ReadOnlySpan<float> moments, int which, Span<float> coarser)
    {
        Span<float> along = stackalloc float[PerCell];
        moments.CopyTo(along);
        for (int axis = 0, stride = 1; axis < 3; axis++, stride *= 3)
        {
            // ξ of the coarser cell is (ξ ± 1) / 2.
            float side = (which >> axis & 1) == 0 ? -1 : 1;
            for (int outer = 0; outer < PerCell; outer += 3 * stride)
                for (int at = outer; at < outer + stride; at++)
                {
                    float m0 = along[at], m1 = along[at + stride], m2 = along[at + 2 * stride];
                    along[at + stride] = (m1 + side * m0) / 2;
                    along[at + 2 * stride] = (m2 + 2 * side * m1 + m0) / 4;
                }
        }

        for (int at = 0; at < PerCell; at++) coarser[at] += along[at] / 8;
    }

    /// <summary>The same for a cell over which so great a share of solid is spread evenly.</summary>
    public static void AddEvenToCoarser(float share, int which, Span<float> coarser)
    {
        ReadOnlySpan<float> whole = WholeInCoarser[which];
        for (int at = 0; at < PerCell; at++) coarser[at] += share * whole[at];
    }

    /// <summary>Those that are wanted, by their index.</summary>
    public CutCells Where(Func<int, bool> wanted)
    {
        int[] kept = [.. Enumerable.Range(0, Count).Where(n => wanted(cells[n]))];
        var of = new float[kept.Length * PerCell];
        foreach (var (to, from) in kept.Index()) Moments(from).CopyTo(of.AsSpan(to * PerCell));
        return new(nx, ny, [.. kept.Select(n => cells[n])], of);
    }

    /// <summary>
    /// Takes moments as they are if some body has them, to single precision; else, as a damaged surface or a film far thinner than the cell may give them, those of a cell filled thinly everywhere.
    /// </summary>
    internal static void MakePossible(Span<double> m)
    {
        if (!ArePossible(m))
            for (int n = PerCell - 1; n >= 0; n--) m[n] = m[0] * Whole[n];
    }

    /// <summary>The same of moments in single precision, such as sums of finer cells' moments: coarser cells may hold but a film of them.</summary>
    public static void MakePossible(Span<float> moments)
    {
        Span<double> m = stackalloc double[PerCell];
        for (int n = 0; n < PerCell; n++) m[n] = moments[n];
        MakePossible(m);
        for (int n = 0; n < PerCell; n++) moments[n] = (float)m[n];
    }

    /// <summary>Whether ∫ p² over the solid is above nothing for every sum p of products that strains hold: Cholesky's factors of those moments are real.</summary>
    private static bool ArePossible(ReadOnlySpan<double> m)
    {
        // Rounding to single precision may take this from a square's integral, as a share of the solid.
        const double rounding = 1e-6;
        ReadOnlySpan<int> products = [0, 1, 3, 9, 4, 10, 12];
        Span<double> factor = stackalloc double[7 * 7];
        for (int row = 0; row < 7; row++)
            for (int column = 0; column <= row; column++)
            {
                double rest = m[products[row] + products[column]];
                for (int n = 0; n < column; n++) rest -= factor[7 * row + n] * factor[7 * column + n];
                if (row != column)
                {
                    factor[7 * row + column] = rest / factor[8 * column];
                    continue;
                }

                if (!(rest > rounding * m[0])) return false;
                factor[8 * row] = Math.Sqrt(rest);
            }

        return true;
    }

    private static float Line(int power) => power switch { 0 => 1, 1 => 0, _ => 1f / 3 };
}
