namespace Sparewright.Strength.Solve;

/// <summary>The diagonal of a cell over which solid is not spread evenly.</summary>
internal static class CutDiagonal
{
    /// <summary>The entries along x, y and z at a corner, from the cell's moments.</summary>
    public static (double X, double Y, double Z) Of(ReadOnlySpan<float> moments, int corner, in BrickFactors f)
    {
        double xx = SlopeSquared(moments, corner, 0), yy = SlopeSquared(moments, corner, 1), zz = SlopeSquared(moments, corner, 2);
        return (f.K11 * xx + f.K66 * yy + f.K44 * zz, f.K66 * xx + f.K11 * yy + f.K44 * zz, f.K44 * (xx + yy) + f.K33 * zz);
    }

    /// <summary>The mean of the square of the corner's own slope along an axis: (1 ± η)² (1 ± ζ)² for ξ.</summary>
    private static double SlopeSquared(ReadOnlySpan<float> moments, int corner, int axis)
    {
        int p = (axis + 1) % 3, q = (axis + 2) % 3, strideP = p switch { 0 => 1, 1 => 3, _ => 9 }, strideQ = q switch { 0 => 1, 1 => 3, _ => 9 };
        ReadOnlySpan<double> alongP = [1, (corner >> p & 1) == 0 ? -2 : 2, 1], alongQ = [1, (corner >> q & 1) == 0 ? -2 : 2, 1];
        double sum = 0;
        for (int a = 0; a < 3; a++)
            for (int b = 0; b < 3; b++) sum += alongP[a] * alongQ[b] * moments[a * strideP + b * strideQ];
        return sum;
    }
}
