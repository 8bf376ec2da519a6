using Sparewright.Solid;
using Sparewright.Strength.Grid;
using Sparewright.Strength.Solve;

namespace Sparewright.Strength.Stresses;

/// <summary>
/// Stress at the part's true surface: a cubic polynomial through the movements of the corners near by, whose slope at the surface is the strain there. Corners that hang on cut cells only
/// are asked if one of those is half solid.
/// </summary>
/// <remarks>
/// Method: polynomial-preserving recovery, Zhang and Naga, SIAM J. Sci. Comput. 26 (2005), from memory. Movements keep their accuracy up to a cut surface (second order); the strains of cut cells do not.
/// Compared on a thick ring, a hollow ball, holes and fillets with fits to the stresses of cells and with quadratic ones: this has the least error from 12 cells across a hole on.
/// </remarks>
public static class SurfaceStress
{
    /// <summary>The products of a cubic: 1, three linear, six quadratic, ten cubic.</summary>
    private const int Terms = 20, Quadratic = 10;

    /// <summary>How far out the patch reaches, in cells.</summary>
    private const int Reach = 3;

    /// <summary>A corner counts as much as the most solid of its cells, and not at all below this.</summary>
    private const double LeastShare = 0.5;

    /// <summary>How far beyond the plane that touches the surface corners are asked, in cells.</summary>
    private const double Beyond = 1;

    /// <summary>A term up to the quadratic ones counts as determined if its part that no earlier term has is not smaller, as a share of the constant's.</summary>
    private const double Determined = 1e-5;

    /// <summary>Cubic terms that the corners of a wall two cells thick cannot tell from lower ones are held small by this share.</summary>
    private const double Held = 1e-7;

    /// <summary>The stress at a point of the surface, or null where the wall is too thin for this grid: less than two cells.</summary>
    /// <param name="at">Point of the surface, grid's axes, mm.</param>
    /// <param name="outward">Unit normal out of the part.</param>
    public static Stress? At(Solution solution, Point3 at, Point3 outward)
    {
        VoxelGrid grid = solution.Grid;
        Point3 place = (at - grid.Origin) * (1 / grid.CellMm);
        Span<double> gram = stackalloc double[Terms * Terms], right = stackalloc double[Terms * 3], terms = stackalloc double[Terms];
        gram.Clear();
        right.Clear();
        for (int k = (int)Math.Ceiling(place.Z - Reach); k <= place.Z + Reach; k++)
            for (int j = (int)Math.Ceiling(place.Y - Reach); j <= place.Y + Reach; j++)
                for (int i = (int)Math.Ceiling(place.X - Reach); i <= place.X + Reach; i++)
                {
                    Point3 away = (new Point3(i, j, k) - place) * (1.0 / Reach);
                    double distance = Point3.Dot(away, away);
                    if (distance >= 1 || Point3.Dot(away, outward) * Reach > Beyond) continue;
                    double share = MostShare(grid, i, j, k);
                    if (share < LeastShare) continue;
                    Fill(terms, away);
                    // Smoothly to nothing at the rim, so that the result does not jump as the point moves along the surface.
                    double weight = (1 - distance) * (1 - distance) * share;
                    Point3 moved = solution.At(i, j, k);
                    for (int m = 0; m < Terms; m++)
                    {
                        double weighted = weight * terms[m];
                        for (int n = m; n < Terms; n++) gram[m * Terms + n] += weighted * terms[n];
                        right[3 * m] += weighted * moved.X;
                        right[3 * m + 1] += weighted * moved.Y;
                        right[3 * m + 2] += weighted * moved.Z;
                    }
                }

        if (!SolveInPlace(gram, right)) return null;
        double slope = 1 / (Reach * grid.CellMm);
        Point3 x = Slope(right, 1), y = Slope(right, 2), z = Slope(right, 3);
        return solution.Material.StressOf(x.X, y.Y, z.Z, y.Z + z.Y, x.Z + z.X, x.Y + y.X);

        Point3 Slope(Span<double> of, int term) => new Point3(of[3 * term], of[3 * term + 1], of[3 * term + 2]) * slope;
    }

    private static double MostShare(VoxelGrid grid, int i, int j, int k)
    {
        double most = 0;
        for (int c = 0; c < 8; c++) most = Math.Max(most, grid.Share(i - (c & 1), j - (c >> 1 & 1), k - (c >> 2)));
        return most;
    }

    private static void Fill(Span<double> terms, Point3 p)
    {
        (double x, double y, double z) = (p.X, p.Y, p.Z);
        (terms[0], terms[1], terms[2], terms[3]) = (1, x, y, z);
        (terms[4], terms[5], terms[6], terms[7], terms[8], terms[9]) = (x * x, x * y, x * z, y * y, y * z, z * z);
        for (int n = 0; n < 6; n++) terms[Quadratic + n] = terms[4 + n] * x;
        for (int n = 0; n < 3; n++) terms[Quadratic + 6 + n] = terms[7 + n] * y;
        terms[Quadratic + 9] = z * z * z;
    }

    /// <summary>
    /// The stress with the strains along the surface as they are and those across it such that the traction is the one that acts there: movements along a surface are known well, how they change into the depth less so.
    /// </summary>
    /// <param name="outward">Unit normal out of the part, grid's axes.</param>
    /// <param name="tractionMPa">What acts on the surface, grid's axes: nothing where it is free, −p times the normal under a pressure.</param>
    public static Stress WithTraction(Stress stress, Point3 outward, Point3 tractionMPa, LayeredStiffness material)
    {
        // A slope a into the depth adds the strain of n ⊗ a, whose traction is linear in a.
        Point3 x = Traction(Of(new(1, 0, 0)), outward), y = Traction(Of(new(0, 1, 0)), outward), z = Traction(Of(new(0, 0, 1)), outward), missing = tractionMPa - Traction(stress, outward);
        double determinant = Point3.Dot(x, Point3.Cross(y, z));
        return stress + Of(new Point3(Point3.Dot(missing, Point3.Cross(y, z)), Point3.Dot(missing, Point3.Cross(z, x)), Point3.Dot(missing, Point3.Cross(x, y))) * (1 / determinant));

        Stress Of(Point3 a) => material.StressOf(
            outward.X * a.X, outward.Y * a.Y, outward.Z * a.Z, outward.Y * a.Z + outward.Z * a.Y, outward.X * a.Z + outward.Z * a.X, outward.X * a.Y + outward.Y * a.X);
    }

    private static Point3 Traction(Stress s, Point3 n) => new(
        s.XX * n.X + s.XY * n.Y + s.XZ * n.Z,
        s.XY * n.X + s.YY * n.Y + s.YZ * n.Z,
        s.XZ * n.X + s.YZ * n.Y + s.ZZ * n.Z);

    /// <summary>What a surface without load on it allows: the given stress without its traction there, σ − (what acts across the surface).</summary>
    public static Stress WithoutTraction(Stress stress, Point3 outward)
    {
        Point3 n = outward;
        Point3 traction = Traction(stress, n);
        double across = Point3.Dot(traction, n);
        // σ' = P σ P with P = 1 − n nᵀ.
        double Entry(double value, double na, double nb, double ta, double tb) => value - na * tb - ta * nb + across * na * nb;
        return new(
            Entry(stress.XX, n.X, n.X, traction.X, traction.X), Entry(stress.YY, n.Y, n.Y, traction.Y, traction.Y), Entry(stress.ZZ, n.Z, n.Z, traction.Z, traction.Z),
            Entry(stress.YZ, n.Y, n.Z, traction.Y, traction.Z), Entry(stress.XZ, n.X, n.Z, traction.X, traction.Z), Entry(stress.XY, n.X, n.Y, traction.X, traction.Y));
    }

    /// <summary>Elimination of a symmetric matrix of which the upper half is given; false if a term up to the quadratic ones is not determined.</summary>
    private static bool SolveInPlace(Span<double> a, Span<double> b)
    {
        double scale = a[0];
        for (int p = 0; p < Terms; p++)
        {
            if (p >= Quadratic) a[p * Terms + p] += Held * scale;
            else if (!(a[p * Terms + p] > Determined * scale)) return false;
            for (int row = p + 1; row < Terms; row++)
            {
                double factor = a[p * Terms + row] / a[p * Terms + p];
                if (factor == 0) continue;
                for (int n = row; n < Terms; n++) a[row * Terms + n] -= factor * a[p * Terms + n];
                for (int n = 0; n < 3; n++) b[3 * row + n] -= factor * b[3 * p + n];
            }
        }

        for (int p = Terms - 1; p >= 0; p--)
            for (int n = 0; n < 3; n++)
            {
                double sum = b[3 * p + n];
                for (int q = p + 1; q < Terms; q++) sum -= a[p * Terms + q] * b[3 * q + n];
                b[3 * p + n] = sum / a[p * Terms + p];
            }

        return true;
    }
}
