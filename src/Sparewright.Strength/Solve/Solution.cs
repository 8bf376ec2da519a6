using Sparewright.Solid;
using Sparewright.Strength.Grid;

namespace Sparewright.Strength.Solve;

/// <summary>Displacements of the corners of a grid under one loading, in the grid's axes.</summary>
public sealed class Solution
{
    private readonly BrickRows _rows;
    private readonly double[] _u;

    internal Solution(Loading loading, LayeredStiffness material, BrickRows rows, double[] u, ReadOnlySpan<double> forces, int iterations, double residual, (int, int) depth, long bytes)
    {
        (Loading, Material, _rows, _u, Iterations, Residual, Depth, Bytes) = (loading, material, rows, u, iterations, residual, depth, bytes);
        var reactions = new Dictionary<int, Point3>();
        // Springs that want to move pull on held corners too.
        var rests = new Dictionary<int, Point3>();
        foreach (PlaceSpring s in loading.Springs)
            for (int c = 0; s.RestMm != 0 && c < 8; c++)
            {
                var (i, j, k) = s.Place.Corner(c);
                int corner = Grid.Corner(i, j, k);
                rests[corner] = rests.GetValueOrDefault(corner) + s.Direction * (s.StiffnessNPerMm * s.RestMm * s.Place.Weight(c));
            }

        foreach (var (place, mm) in loading.Fixed)
        {
            int slot = SlotOf(place.Corner);
            loading.Forces.TryGetValue(place.Corner, out Point3 push);
            double force = forces[place.Axis * rows.Slots + slot] - Component(push, place.Axis);
            rests.TryGetValue(place.Corner, out Point3 rest);
            force -= Component(rest, place.Axis);
            reactions.TryGetValue(place.Corner, out Point3 before);
            reactions[place.Corner] = before + Unit(place.Axis) * force;
            HeldWorkNmm += force * mm;
        }

        Reactions = reactions;
        double twice = 0;
        for (int n = 0; n < u.Length; n++) twice += u[n] * forces[n];
        EnergyNmm = twice / 2;
    }

    public Loading Loading { get; }

    public LayeredStiffness Material { get; }

    public VoxelGrid Grid => Loading.Grid;

    public int Iterations { get; }

    /// <summary>Unbalanced share of the loads.</summary>
    public double Residual { get; }

    /// <summary>The square of the loads, by which what is unbalanced is measured.</summary>
    internal double Loads { get; init; }

    /// <summary>Grids of cells, then levels of groups.</summary>
    public (int Grids, int Groups) Depth { get; }

    /// <summary>Bytes that the solver held.</summary>
    public long Bytes { get; }

    /// <summary>Unknowns: three for each corner in use, less what is held.</summary>
    public int Unknowns => 3 * _rows.SharesAbout().Count(s => s > 0) - Loading.Fixed.Count;

    /// <summary>Strain energy in N·mm, that of springs included.</summary>
    public double EnergyNmm { get; }

    /// <summary>Half the work of what moves held places, N·mm (twice).</summary>
    private double HeldWorkNmm { get; }

    /// <summary>What the loads, the springs' rests and the moved places do: force times movement in N·mm. Twice the strain energy.</summary>
    public double WorkNmm
    {
        get
        {
            double work = HeldWorkNmm;
            foreach (var (corner, force) in Loading.Forces) work += Point3.Dot(force, At(corner));
            foreach (PlaceSpring s in Loading.Springs) work += s.StiffnessNPerMm * s.RestMm * Point3.Dot(s.Direction, At(s.Place));
            return work;
        }
    }

    /// <summary>Force in N with which each held corner is held.</summary>
    public IReadOnlyDictionary<int, Point3> Reactions { get; }

    /// <summary>Force in N of each spring on its place, in the order of <see cref="Loading.Springs"/>.</summary>
    public IEnumerable<Point3> SpringForces => Loading.Springs.Select(s => s.Direction * (s.StiffnessNPerMm * (s.RestMm - Point3.Dot(s.Direction, At(s.Place)))));

    /// <summary>Displacement of a corner in mm; zero away from all solid.</summary>
    public Point3 At(int corner)
    {
        var (i, j, k) = Grid.CornerAt(corner);
        return At(i, j, k);
    }

    /// <summary>Displacement of a place in mm.</summary>
    public Point3 At(CellPlace place) => Within(place.Cell.I, place.Cell.J, place.Cell.K, place.At.X, place.At.Y, place.At.Z);

    public Point3 At(int i, int j, int k)
    {
        int slot = _rows.SlotOf(i, j, k);
        return slot < 0 ? default : new(_u[slot], _u[_rows.Slots + slot], _u[2 * _rows.Slots + slot]);
    }

    /// <summary>The farthest that any corner moves, mm.</summary>
    public double FarthestMm
    {
        get
        {
            double most = 0;
            for (int slot = 0; slot < _rows.Slots; slot++)
            {
                double x = _u[slot], y = _u[_rows.Slots + slot], z = _u[2 * _rows.Slots + slot];
                most = Math.Max(most, x * x + y * y + z * z);
            }

            return Math.Sqrt(most);
        }
    }

    /// <summary>Displacement in mm within a cell that holds solid, by its own trilinear interpolation; place in the cell 0 … 1 each way.</summary>
    public Point3 Within(int i, int j, int k, double x, double y, double z)
    {
        Point3 sum = default;
        for (int c = 0; c < 8; c++)
            sum += At(i + (c & 1), j + (c >> 1 & 1), k + (c >> 2)) * (((c & 1) == 0 ? 1 - x : x) * ((c & 2) == 0 ? 1 - y : y) * ((c & 4) == 0 ? 1 - z : z));
        return sum;
    }

    /// <summary>Movement in mm at any point in or close to the solid, in the grid's axes; null away from it. Just outside, the nearest cell's own interpolation is continued.</summary>
    public Point3? MovementAt(Point3 at)
    {
        VoxelGrid grid = Grid;
        Point3 p = (at - grid.Origin) * (1 / grid.CellMm);
        int i = (int)Math.Floor(p.X), j = (int)Math.Floor(p.Y), k = (int)Math.Floor(p.Z);
        if (grid.Share(i, j, k) == 0)
        {
            double best = double.MaxValue;
            var (ci, cj, ck) = (i, j, k);
            for (int dk = -1; dk <= 1; dk++)
                for (int dj = -1; dj <= 1; dj++)
                    for (int di = -1; di <= 1; di++)
                    {
                        if (grid.Share(ci + di, cj + dj, ck + dk) == 0) continue;
                        double away = (new Point3(ci + di + 0.5, cj + dj + 0.5, ck + dk + 0.5) - p).Length;
                        if (away < best) (best, i, j, k) = (away, ci + di, cj + dj, ck + dk);
                    }

            if (best == double.MaxValue) return null;
        }

        return Within(i, j, k, p.X - i, p.Y - j, p.Z - k);
    }

    /// <summary>The 24 displacements of a cell, corner by corner.</summary>
    internal void OfCell(int i, int j, int k, Span<double> u)
    {
        for (int c = 0; c < 8; c++)
        {
            Point3 p = At(i + (c & 1), j + (c >> 1 & 1), k + (c >> 2));
            (u[3 * c], u[3 * c + 1], u[3 * c + 2]) = (p.X, p.Y, p.Z);
        }
    }

    internal ReadOnlySpan<double> Raw => _u;

    private int SlotOf(int corner)
    {
        var (i, j, k) = Grid.CornerAt(corner);
        return _rows.SlotOf(i, j, k);
    }

    private static double Component(Point3 p, int axis) => axis switch { 0 => p.X, 1 => p.Y, _ => p.Z };

    private static Point3 Unit(int axis) => axis switch { 0 => new(1, 0, 0), 1 => new(0, 1, 0), _ => new(0, 0, 1) };
}
