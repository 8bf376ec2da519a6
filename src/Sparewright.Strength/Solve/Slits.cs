namespace Sparewright.Strength.Solve;

/// <summary>Slits that a grid of cells twice as long would close: neighbouring coarser cells would hang together although the solid in them is connected nowhere near.</summary>
internal sealed class Slits
{
    /// <summary>Cells with less solid hold no sides together: they are soft.</summary>
    private const float Soft = 0.3f;

    private readonly BrickRows _fine;
    private readonly bool[] _solid;

    private Slits(BrickRows fine)
    {
        _fine = fine;
        _solid = new bool[fine.NX * fine.NY * fine.NZ];
        fine.ForEachCell((i, j, k, share) => _solid[(k * fine.NY + j) * fine.NX + i] = share > Soft);
    }

    /// <summary>How many pairs of neighbouring coarser cells are on two sides of a slit.</summary>
    public static int ClosedByCoarser(BrickRows fine)
    {
        var slits = new Slits(fine);
        int closed = 0;
        for (int k = 0; k < fine.NZ; k += 2)
            for (int j = 0; j < fine.NY; j += 2)
                for (int i = 0; i < fine.NX; i += 2)
                {
                    if (slits.Solid(i, j, k, 2, 2, 2) is not { } own) continue;
                    // Of four cells on each side of a common face any two touch in its middle; so one side must be empty.
                    if (slits.Solid(i + 2, j, k, 2, 2, 2) is { } x && (slits.Solid(i + 1, j, k, 1, 2, 2) is null || slits.Solid(i + 2, j, k, 1, 2, 2) is null) && !slits.HangTogether(own, x)) closed++;
                    if (slits.Solid(i, j + 2, k, 2, 2, 2) is { } y && (slits.Solid(i, j + 1, k, 2, 1, 2) is null || slits.Solid(i, j + 2, k, 2, 1, 2) is null) && !slits.HangTogether(own, y)) closed++;
                    if (slits.Solid(i, j, k + 2, 2, 2, 2) is { } z && (slits.Solid(i, j, k + 1, 2, 2, 1) is null || slits.Solid(i, j, k + 2, 2, 2, 1) is null) && !slits.HangTogether(own, z)) closed++;
                }

        return closed;
    }

    /// <summary>Some solid cell of a block; null if there is none.</summary>
    private (int I, int J, int K)? Solid(int i, int j, int k, int alongX, int alongY, int alongZ)
    {
        for (int c = k; c < k + alongZ; c++)
            for (int b = j; b < j + alongY; b++)
                for (int a = i; a < i + alongX; a++)
                    if (IsSolid(a, b, c)) return (a, b, c);
        return null;
    }

    private bool IsSolid(int i, int j, int k) => i >= 0 && j >= 0 && k >= 0 && i < _fine.NX && j < _fine.NY && k < _fine.NZ && _solid[(k * _fine.NY + j) * _fine.NX + i];

    /// <summary>Whether one walks from cell to cell, never more than four cells away from the first, to the second.</summary>
    private bool HangTogether((int I, int J, int K) from, (int I, int J, int K) to)
    {
        const int near = 4, side = 2 * near + 1;
        Span<bool> seen = stackalloc bool[side * side * side];
        var open = new Stack<(int I, int J, int K)>();
        open.Push(from);
        while (open.TryPop(out var at))
        {
            if (at == to) return true;
            for (int step = 0; step < 27; step++)
            {
                var (i, j, k) = (at.I + step % 3 - 1, at.J + step / 3 % 3 - 1, at.K + step / 9 - 1);
                int a = i - from.I + near, b = j - from.J + near, c = k - from.K + near;
                if (a < 0 || b < 0 || c < 0 || a >= side || b >= side || c >= side || !IsSolid(i, j, k) || seen[(c * side + b) * side + a]) continue;
                seen[(c * side + b) * side + a] = true;
                open.Push((i, j, k));
            }
        }

        return false;
    }
}
