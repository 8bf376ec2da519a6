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
    private static readonly double[] Whole = [.. Enumerable.Range(0, PerCell).Select(m => Line(m % 3) * Line(m / 3 % 3) * Line(m / 9))];

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

    /// <summary>Whether ∫ p² over the solid is above nothing for every sum p of products that strains hold: Cholesky's factors of those moments are real.</summary>
    private static bool ArePossible(ReadOnlySpan<double> m)
    {
        // Rounding to single precision may take this from a square's integral, as a share of the solid.
        const double rounding = 3e-7;
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

    private static double Line(int power) => power switch { 0 => 1, 1 => 0, _ => 1.0 / 3 };
}
