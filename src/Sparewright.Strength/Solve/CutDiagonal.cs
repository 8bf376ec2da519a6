namespace Sparewright.Strength.Solve;

/// <summary>The diagonal of a cell over which solid is not spread evenly.</summary>
internal static class CutDiagonal
{
    /// <summary>The entries along x, y and z at a corner, from the cell's moments.</summary>
    public static (float X, float Y, float Z) Of(ReadOnlySpan<float> moments, int corner, in BrickFactors f)
    {
        float sx = (corner & 1) == 0 ? -2 : 2, sy = (corner & 2) == 0 ? -2 : 2, sz = (corner & 4) == 0 ? -2 : 2;
        // The mean of the square of the corner's own slope: (1 ± η)² (1 ± ζ)² along x.
        double xx = Product(moments, 3, sy, 9, sz), yy = Product(moments, 1, sx, 9, sz), zz = Product(moments, 1, sx, 3, sy);
        return ((float)(f.K11 * xx + f.K66 * yy + f.K44 * zz), (float)(f.K66 * xx + f.K11 * yy + f.K44 * zz), (float)(f.K44 * (xx + yy) + f.K33 * zz));
    }

    private static float Product(ReadOnlySpan<float> m, int p, float sp, int q, float sq) =>
        m[0] + sp * m[p] + m[2 * p] + sq * (m[q] + sp * m[p + q] + m[2 * p + q]) + m[2 * q] + sp * m[p + 2 * q] + m[2 * p + 2 * q];
}
