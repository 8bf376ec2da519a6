using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using Sparewright.Solid;

namespace Sparewright.Strength.Grid;

/// <summary>
/// What the pieces of a surface give the cells of one row (fixed j) that they lie in: ∫ ξᵃηᵇ (1, Z₀, Z₁, Z₂) dξ dη for a, b = 0 … 2, with Z_c the primitive of ζᶜ from the cell's floor;
/// ξ, η, ζ run from −1 to 1 over the cell. By the divergence theorem the moments of what is solid in a cell are the sum of its own pieces' Z_c and, from each piece above it in the column, of the first with Z_c(1).
/// </summary>
/// <remarks>Rule of twelve points for a triangle, exact to degree 7: Gatermann, Computing 40 (1988), from memory; a test integrates every monomial of that degree.</remarks>
internal sealed class MomentSums(int cells)
{
    /// <summary>Nine products in the plane, four sums each.</summary>
    public const int PerCell = 9 * Lanes;

    private const int Lanes = 4;

    /// <summary>Two of the three corner weights of each point and its share of the area.</summary>
    private static readonly (double A, double B, double Weight)[] Rule = [.. new (double A, double B, double Weight)[]
    {
        (0.0623822650944015, 0.0675178670739135, 0.0530340563148700), (0.0552254566569320, 0.3215024938519695, 0.0877628174288982),
        (0.0343243029451099, 0.6609491961867269, 0.0575500855699767), (0.5158423343535740, 0.2777161669764010, 0.1349863740195885),
    }.SelectMany(o => new[] { (o.A, o.B, o.Weight), (o.B, 1 - o.A - o.B, o.Weight), (1 - o.A - o.B, o.A, o.Weight) })];

    private readonly int[] _place = new int[cells];
    private double[] _sums = new double[128 * PerCell];
    private int _used;

    /// <summary>The sums of a cell, four for each product ξᵃηᵇ (a + 3b); nothing where no piece lies in it.</summary>
    public ReadOnlySpan<double> Of(int cell) => _place[cell] is > 0 and var place ? _sums.AsSpan((place - 1) * PerCell, PerCell) : default;

    /// <summary>Adds a flat convex piece, its corners in units of cells, that lies in the cell with this lowest corner.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Add(int cell, Point3 lowest, ReadOnlySpan<Point3> piece)
    {
        if (_place[cell] == 0)
        {
            _place[cell] = ++_used;
            if (_used * PerCell > _sums.Length) Array.Resize(ref _sums, 2 * _sums.Length);
        }

        Span<Vector256<double>> to = MemoryMarshal.Cast<double, Vector256<double>>(_sums.AsSpan((_place[cell] - 1) * PerCell, PerCell));
        Vector256<double> s00 = to[0], s10 = to[1], s20 = to[2], s01 = to[3], s11 = to[4], s21 = to[5], s02 = to[6], s12 = to[7], s22 = to[8];
        Point3 p0 = Within(piece[0], lowest), p1 = Within(piece[1], lowest);
        for (int n = 2; n < piece.Length; n++)
        {
            Point3 p2 = Within(piece[n], lowest), u = p1 - p0, v = p2 - p0;
            double area = (u.X * v.Y - u.Y * v.X) / 2;
            foreach (var (a, b, weight) in Rule)
            {
                double x = p0.X + a * u.X + b * v.X, y = p0.Y + a * u.Y + b * v.Y, z = p0.Z + a * u.Z + b * v.Z;
                double up = z + 1, f = area * weight, fx = f * x, fxx = fx * x, fy = f * y, fxy = fx * y, fxxy = fxx * y;
                Vector256<double> primitives = Vector256.Create(1, up, up * (z - 1) / 2, up * (z * z - z + 1) / 3);
                s00 += f * primitives;
                s10 += fx * primitives;
                s20 += fxx * primitives;
                s01 += fy * primitives;
                s11 += fxy * primitives;
                s21 += fxxy * primitives;
                s02 += fy * y * primitives;
                s12 += fxy * y * primitives;
                s22 += fxxy * y * primitives;
            }

            p1 = p2;
        }

        (to[0], to[1], to[2], to[3], to[4], to[5], to[6], to[7], to[8]) = (s00, s10, s20, s01, s11, s21, s02, s12, s22);
    }

    private static Point3 Within(Point3 p, Point3 lowest) => (p - lowest) * 2 - new Point3(1, 1, 1);
}
