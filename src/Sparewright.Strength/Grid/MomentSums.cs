using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using Sparewright.Solid;

namespace Sparewright.Strength.Grid;

/// <summary>
/// What the pieces of a surface give the cells of one row (fixed j) that they lie in: ∫ ξᵃηᵇ (1, Z₀, Z₁, Z₂) dξ dη for a, b = 0 … 2, with Z_c the primitive of ζᶜ from the cell's floor;
/// ξ, η, ζ run from −1 to 1 over the cell. By the divergence theorem the moments of what is solid in a cell are the sum of its own pieces' Z_c and, from each piece above it in the column, of the first with Z_c(1).
/// </summary>
/// <remarks>Rule of twelve points for a triangle, exact to degree 7: Gatermann, Computing 40 (1988), from memory; cells under slanted planes are tested against line integrals.</remarks>
internal sealed class MomentSums(int cells)
{
    /// <summary>Nine products in the plane, four sums each.</summary>
    public const int PerCell = 9 * 4;

    /// <summary>Twelve points in three vectors: of each point two of its three corner weights and its share of the area.</summary>
    private static readonly Vector256<double>[] A = Lanes(o => o.A), B = Lanes(o => o.B), Weight = Lanes(o => o.Weight);

    private readonly int[] _place = new int[cells];
    private readonly List<int> _used = [];
    private double[] _sums = new double[256 * PerCell];

    /// <summary>The sums of a cell, four for each product ξᵃηᵇ (a + 3b); nothing where no piece lies in it.</summary>
    public ReadOnlySpan<double> Of(int cell) => _place[cell] is > 0 and var place ? _sums.AsSpan((place - 1) * PerCell, PerCell) : default;

    /// <summary>Begins the next row.</summary>
    public void Clear()
    {
        _sums.AsSpan(0, _used.Count * PerCell).Clear();
        foreach (int cell in _used) _place[cell] = 0;
        _used.Clear();
    }

    /// <summary>Adds a flat convex piece, its corners in units of cells, that lies in the cell with this lowest corner.</summary>
    /// <remarks>
    /// Lanes are points: the sums of a piece grow lane by lane in 36 vectors, and are added up over their lanes once a piece. Scalar: for each point and product, sum[ab][0] += p, sum[ab][1 + c] += p Z_c(ζ).
    /// </remarks>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    [SkipLocalsInit]
    public void Add(int cell, Point3 lowest, ReadOnlySpan<Point3> piece)
    {
        if (_place[cell] == 0)
        {
            _used.Add(cell);
            _place[cell] = _used.Count;
            if (_used.Count * PerCell > _sums.Length) Array.Resize(ref _sums, 2 * _sums.Length);
        }

        Span<Vector256<double>> sums = stackalloc Vector256<double>[PerCell];
        sums.Clear();
        double x0 = 2 * (piece[0].X - lowest.X) - 1, y0 = 2 * (piece[0].Y - lowest.Y) - 1, z0 = 2 * (piece[0].Z - lowest.Z) - 1;
        for (int n = 2; n < piece.Length; n++)
        {
            double ux = 2 * (piece[n - 1].X - piece[0].X), uy = 2 * (piece[n - 1].Y - piece[0].Y), uz = 2 * (piece[n - 1].Z - piece[0].Z);
            double vx = 2 * (piece[n].X - piece[0].X), vy = 2 * (piece[n].Y - piece[0].Y), vz = 2 * (piece[n].Z - piece[0].Z);
            double area = (ux * vy - uy * vx) / 2;
            for (int g = 0; g < 3; g++)
            {
                Vector256<double> a = A[g], b = B[g];
                Vector256<double> x = Along(x0, ux, vx, a, b), y = Along(y0, uy, vy, a, b), z = Along(z0, uz, vz, a, b), up = z + Vector256<double>.One;
                Vector256<double> first = up * (z - Vector256<double>.One) * 0.5, second = up * (z * z - z + Vector256<double>.One) * (1.0 / 3);
                Vector256<double> product = Weight[g] * area;
                for (int at = 0; at < PerCell; at += 12)
                {
                    Vector256<double> p = product;
                    Grow(sums.Slice(at, 4), p, up, first, second);
                    p *= x;
                    Grow(sums.Slice(at + 4, 4), p, up, first, second);
                    Grow(sums.Slice(at + 8, 4), p * x, up, first, second);
                    product *= y;
                }
            }
        }

        Span<double> to = _sums.AsSpan((_place[cell] - 1) * PerCell, PerCell);
        for (int n = 0; n < PerCell; n++) to[n] += Vector256.Sum(sums[n]);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<double> Along(double from, double u, double v, Vector256<double> a, Vector256<double> b) =>
        Vector256.MultiplyAddEstimate(b, Vector256.Create(v), Vector256.MultiplyAddEstimate(a, Vector256.Create(u), Vector256.Create(from)));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Grow(Span<Vector256<double>> sums, Vector256<double> p, Vector256<double> up, Vector256<double> first, Vector256<double> second)
    {
        sums[0] += p;
        sums[1] = Vector256.MultiplyAddEstimate(p, up, sums[1]);
        sums[2] = Vector256.MultiplyAddEstimate(p, first, sums[2]);
        sums[3] = Vector256.MultiplyAddEstimate(p, second, sums[3]);
    }

    private static Vector256<double>[] Lanes(Func<(double A, double B, double Weight), double> of)
    {
        (double A, double B, double Weight)[] orbits =
        [
            (0.0623822650944015, 0.0675178670739135, 0.0530340563148700), (0.0552254566569320, 0.3215024938519695, 0.0877628174288982),
            (0.0343243029451099, 0.6609491961867269, 0.0575500855699767), (0.5158423343535740, 0.2777161669764010, 0.1349863740195885),
        ];
        double[] values = [.. orbits.SelectMany(o => new[] { o, (o.B, 1 - o.A - o.B, o.Weight), (1 - o.A - o.B, o.A, o.Weight) }).Select(of)];
        return [.. Enumerable.Range(0, 3).Select(g => Vector256.Create(values, 4 * g))];
    }
}
