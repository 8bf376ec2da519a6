namespace Sparewright.Strength.Solve;

/// <summary>
/// The 24 × 24 stiffness matrix of one full cell in N/mm, by Gauss integration with 2 × 2 × 2 points, which is exact for a cube. Corner c lies at (c &amp; 1, c &gt;&gt; 1 &amp; 1, c &gt;&gt; 2);
/// rows and columns go corner by corner, x y z. Slow and plain: the fast kernel is tested against it.
/// </summary>
internal static class BrickMatrix
{
    public const int Size = 24;

    public static double[] Of(Elastic c, double cellMm)
    {
        var k = new double[Size * Size];
        double g = 0.5 / Math.Sqrt(3);
        Span<double> strain = stackalloc double[6 * Size];
        for (int point = 0; point < 8; point++)
        {
            double x = 0.5 + ((point & 1) == 0 ? -g : g), y = 0.5 + ((point & 2) == 0 ? -g : g), z = 0.5 + ((point & 4) == 0 ? -g : g);
            StrainsOf(x, y, z, cellMm, strain);
            AddEnergy(c, strain, cellMm * cellMm * cellMm / 8, k);
        }

        return k;
    }

    /// <summary>Adds what strains at one place cost, for a volume about it in mm³, to a cell's matrix.</summary>
    public static void AddEnergy(Elastic c, ReadOnlySpan<double> strain, double volumeMm3, Span<double> matrix)
    {
        Span<double> stress = stackalloc double[6 * Size];
        for (int n = 0; n < Size; n++)
        {
            double xx = strain[n], yy = strain[Size + n], zz = strain[2 * Size + n];
            stress[n] = c.C11 * xx + c.C12 * yy + c.C13 * zz;
            stress[Size + n] = c.C12 * xx + c.C11 * yy + c.C13 * zz;
            stress[2 * Size + n] = c.C13 * (xx + yy) + c.C33 * zz;
            stress[3 * Size + n] = c.C44 * strain[3 * Size + n];
            stress[4 * Size + n] = c.C44 * strain[4 * Size + n];
            stress[5 * Size + n] = c.C66 * strain[5 * Size + n];
        }

        for (int m = 0; m < Size; m++)
            for (int n = 0; n < Size; n++)
            {
                double sum = 0;
                for (int s = 0; s < 6; s++) sum += strain[s * Size + m] * stress[s * Size + n];
                matrix[m * Size + n] += volumeMm3 * sum;
            }
    }

    /// <summary>The six strains (xx, yy, zz, yz, xz, xy; shear as change of angle) at a place of the cell (0 … 1 each way) for each of the 24 displacements.</summary>
    public static void StrainsOf(double x, double y, double z, double cellMm, Span<double> strain)
    {
        strain.Clear();
        for (int corner = 0; corner < 8; corner++)
        {
            double fx = (corner & 1) == 0 ? 1 - x : x, fy = (corner & 2) == 0 ? 1 - y : y, fz = (corner & 4) == 0 ? 1 - z : z;
            double dx = ((corner & 1) == 0 ? -1 : 1) * fy * fz / cellMm, dy = ((corner & 2) == 0 ? -1 : 1) * fx * fz / cellMm, dz = ((corner & 4) == 0 ? -1 : 1) * fx * fy / cellMm;
            int u = 3 * corner, v = u + 1, w = u + 2;
            strain[u] = dx;
            strain[Size + v] = dy;
            strain[2 * Size + w] = dz;
            (strain[3 * Size + v], strain[3 * Size + w]) = (dz, dy);
            (strain[4 * Size + u], strain[4 * Size + w]) = (dz, dx);
            (strain[5 * Size + u], strain[5 * Size + v]) = (dy, dx);
        }
    }

    /// <summary>
    /// The largest eigenvalue of D⁻¹K for one cell, D the diagonal. Whatever the shares of the cells, no grid of them has a larger one:
    /// uᵀKu = Σ share · uᵀK_cell u ≤ λ Σ share · uᵀD_cell u.
    /// </summary>
    public static double LargestScaledEigenvalue(double[] matrix)
    {
        var v = new double[Size];
        var w = new double[Size];
        for (int n = 0; n < Size; n++) v[n] = Math.Sin(1 + n * n);
        double value = 0;
        for (int round = 0; round < 300; round++)
        {
            double norm = 0, product = 0;
            for (int m = 0; m < Size; m++)
            {
                double sum = 0;
                for (int n = 0; n < Size; n++) sum += matrix[m * Size + n] * v[n];
                product += v[m] * sum;
                norm += v[m] * v[m] * matrix[m * Size + m];
                w[m] = sum / matrix[m * Size + m];
            }

            value = product / norm;
            double length = Math.Sqrt(w.Sum(x => x * x));
            for (int n = 0; n < Size; n++) v[n] = w[n] / length;
        }

        return value;
    }
}
