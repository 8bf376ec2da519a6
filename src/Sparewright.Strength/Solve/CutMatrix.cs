using Sparewright.Strength.Grid;

namespace Sparewright.Strength.Solve;

/// <summary>
/// The 24 × 24 stiffness matrix of cells over which solid is not spread evenly. Means over the solid of anything that goes no higher than squares in ξ, η and ζ are sums over
/// 3 × 3 × 3 places, each weighted by what the moments say of the polynomial that is 1 there and 0 at all others. Slow and plain: the fast kernel is tested against it.
/// </summary>
internal sealed class CutMatrix
{
    private readonly double[][] _ofPlace = new double[CutCells.PerCell][];

    /// <summary>For a material given as its stiffness times h/16.</summary>
    public CutMatrix(in BrickFactors f)
        : this(new Elastic(f.K11, f.K12, f.K13, f.K33, f.K44, f.K66), 16)
    {
    }

    public CutMatrix(Elastic c, double cellMm)
    {
        Span<double> strain = stackalloc double[6 * BrickMatrix.Size];
        for (int place = 0; place < CutCells.PerCell; place++)
        {
            BrickMatrix.StrainsOf(place % 3 / 2.0, place / 3 % 3 / 2.0, place / 9 / 2.0, cellMm, strain);
            _ofPlace[place] = new double[BrickMatrix.Size * BrickMatrix.Size];
            BrickMatrix.AddEnergy(c, strain, cellMm * cellMm * cellMm, _ofPlace[place]);
        }
    }

    /// <summary>The matrix of the cell with these moments.</summary>
    public void Of(ReadOnlySpan<float> moments, Span<double> matrix)
    {
        matrix.Clear();
        Span<double> weights = stackalloc double[CutCells.PerCell];
        for (int m = 0; m < CutCells.PerCell; m++) weights[m] = moments[m];
        for (int stride = 1; stride < CutCells.PerCell; stride *= 3)
            for (int at = 0; at < CutCells.PerCell; at++)
            {
                if (at / stride % 3 != 0) continue;
                // ξ(ξ − 1)/2, 1 − ξ² and ξ(ξ + 1)/2 are 1 at −1, 0 and 1.
                double m0 = weights[at], m1 = weights[at + stride], m2 = weights[at + 2 * stride];
                (weights[at], weights[at + stride], weights[at + 2 * stride]) = ((m2 - m1) / 2, m0 - m2, (m2 + m1) / 2);
            }

        for (int place = 0; place < CutCells.PerCell; place++)
        {
            double[] own = _ofPlace[place];
            for (int n = 0; n < own.Length; n++) matrix[n] += weights[place] * own[n];
        }
    }
}
