using Sparewright.Solid;

namespace Sparewright.Strength.Grid;

/// <summary>
/// Cubes stacked along the print's layers, each with the share of it that is solid. Cell (i, j, k) reaches from <see cref="Origin"/> + h(i, j, k) to h further on each axis;
/// corners are counted the same way from 0 to NX, NY, NZ.
/// </summary>
/// <remarks>
/// The stiffness of a cell that the surface cuts is integrated over what is solid in it, by <see cref="Cut"/>. Cells below <see cref="LeastShare"/> are left out. In a plain reference with diagonally scaled conjugate gradients smaller ones did no harm
/// (a ring and a hollow ball took as many iterations with all of them); with 0.0015 one strip with a film on its top was not solved by the cycles over coarser grids, with 0.003 it was.
/// </remarks>
public sealed class VoxelGrid
{
    /// <summary>A cell with a smaller share of solid is left out.</summary>
    public const double LeastShare = 5e-3;

    private readonly float[] _shares;
    private Pieces? _pieces;

    private VoxelGrid(GridFrame frame, Point3 origin, double cellMm, int nx, int ny, int nz, float[] shares, CutCells cut, double volumeMm3)
    {
        (Frame, Origin, CellMm, NX, NY, NZ, _shares, Cut, VolumeMm3) = (frame, origin, cellMm, nx, ny, nz, shares, cut, volumeMm3);
        foreach (float s in shares)
            if (s > 0) Cells++;
    }

    public GridFrame Frame { get; }

    /// <summary>The lowest corner in the grid's axes, mm.</summary>
    public Point3 Origin { get; }

    /// <summary>What hangs together.</summary>
    public Pieces Pieces => _pieces ??= Pieces.Of(this);

    /// <summary>Edge of a cell in mm.</summary>
    public double CellMm { get; }

    public int NX { get; }

    public int NY { get; }

    public int NZ { get; }

    /// <summary>Volume in mm³ before small cells were left out: that of the mesh to rounding.</summary>
    public double VolumeMm3 { get; }

    /// <summary>Number of cells that hold solid.</summary>
    public int Cells { get; }

    /// <summary>The solid share of a cell, 0 … 1; 0 outside the grid.</summary>
    public float Share(int i, int j, int k) =>
        (uint)i < (uint)NX && (uint)j < (uint)NY && (uint)k < (uint)NZ ? _shares[(k * NY + j) * NX + i] : 0;

    /// <summary>The cells that the surface cuts, with their moments. A cell that is not among them is filled evenly by its share.</summary>
    internal CutCells Cut { get; }

    internal ReadOnlySpan<float> Row(int j, int k) => _shares.AsSpan((k * NY + j) * NX, NX);

    /// <summary>The index of a cell within the grid: x fastest, then y.</summary>
    internal int Cell(int i, int j, int k) => (k * NY + j) * NX + i;

    /// <summary>The number by which loads and supports name a corner.</summary>
    public int Corner(int i, int j, int k) => (k * (NY + 1) + j) * (NX + 1) + i;

    public (int I, int J, int K) CornerAt(int corner) => (corner % (NX + 1), corner / (NX + 1) % (NY + 1), corner / (NX + 1) / (NY + 1));

    public Point3 PointOf(double i, double j, double k) => Origin + new Point3(i, j, k) * CellMm;

    /// <summary>Whether a corner touches a cell that holds solid.</summary>
    public bool IsUsed(int i, int j, int k)
    {
        for (int c = 0; c < 8; c++)
            if (Share(i - (c & 1), j - (c >> 1 & 1), k - (c >> 2)) > 0) return true;
        return false;
    }

    /// <summary>A grid of given shares, one for each cell, x fastest; cells that are not whole are filled evenly.</summary>
    public static VoxelGrid OfShares(int nx, int ny, int nz, double cellMm, Func<int, int, int, double> share, GridFrame? frame = null, Point3 origin = default)
    {
        var shares = new float[nx * ny * nz];
        double sum = 0;
        for (int k = 0; k < nz; k++)
            for (int j = 0; j < ny; j++)
                for (int i = 0; i < nx; i++)
                {
                    double s = share(i, j, k);
                    sum += s;
                    shares[(k * ny + j) * nx + i] = (float)(s < LeastShare ? 0 : s);
                }

        return new(frame ?? GridFrame.Job, origin, cellMm, nx, ny, nz, shares, CutCells.None, sum * cellMm * cellMm * cellMm);
    }

    /// <summary>The grid over a part.</summary>
    /// <param name="mesh">Closed surface in the job's axes.</param>
    /// <param name="frame">The grid's axes: z is the way up.</param>
    /// <param name="cellMm">Edge of a cell.</param>
    public static VoxelGrid Over(Mesh mesh, GridFrame frame, double cellMm, CancellationToken cancel = default)
    {
        Point3[] points = PointsIn(mesh, frame);
        var (low, high) = Box(points);
        return Over(mesh, points, frame, low, cellMm, Count(high.X - low.X), Count(high.Y - low.Y), Count(high.Z - low.Z), cancel);

        // A part that ends in a cell plane up to rounding gets no further layer of cells.
        int Count(double lengthMm) => Math.Max(1, (int)Math.Ceiling(lengthMm / cellMm - 1e-6));
    }

    /// <summary>The grid over what lies of a part in a window of cells whose lowest corner is given.</summary>
    public static VoxelGrid Over(Mesh mesh, GridFrame frame, Point3 origin, double cellMm, int nx, int ny, int nz, CancellationToken cancel = default) =>
        Over(mesh, PointsIn(mesh, frame), frame, origin, cellMm, nx, ny, nz, cancel);

    /// <summary>
    /// The grid without specks: pieces of at most <paramref name="mostShare"/> of the whole that hang on nothing, such as the cut-off tip of a sharp edge.
    /// </summary>
    public VoxelGrid WithoutSpecks(double mostShare = 1e-3)
    {
        Pieces pieces = Pieces;
        double least = mostShare * pieces.VolumesMm3.Sum();
        if (pieces.VolumesMm3.All(v => v > least)) return this;
        var shares = (float[])_shares.Clone();
        for (int k = 0; k < NZ; k++)
            for (int j = 0; j < NY; j++)
                for (int i = 0; i < NX; i++)
                    if (pieces.Of(i, j, k) is >= 0 and var piece && pieces.VolumesMm3[piece] <= least) shares[(k * NY + j) * NX + i] = 0;
        return new(Frame, Origin, CellMm, NX, NY, NZ, shares, Cut.Where(cell => shares[cell] > 0), VolumeMm3);
    }

    private static VoxelGrid Over(Mesh mesh, Point3[] points, GridFrame frame, Point3 origin, double cellMm, int nx, int ny, int nz, CancellationToken cancel)
    {
        for (int p = 0; p < points.Length; p++) points[p] = Snapped((points[p] - origin) * (1 / cellMm));
        var (shares, cut, cells) = SolidShares.Of(mesh, points, nx, ny, nz, cancel);
        return new(frame, origin, cellMm, nx, ny, nz, shares, cut, cells * cellMm * cellMm * cellMm);
    }

    /// <summary>Faces that lie in a cell plane up to rounding are put there, so that no sliver of a cell is left on their other side.</summary>
    private static Point3 Snapped(Point3 p) => new(Snapped(p.X), Snapped(p.Y), Snapped(p.Z));

    private static double Snapped(double x) => Math.Abs(x - Math.Round(x)) < 1e-9 ? Math.Round(x) : x;

    private static Point3[] PointsIn(Mesh mesh, GridFrame frame)
    {
        var points = new Point3[mesh.PointCount];
        for (int p = 0; p < points.Length; p++) points[p] = frame.ToGrid(new(mesh.Points[3 * p], mesh.Points[3 * p + 1], mesh.Points[3 * p + 2]));
        return points;
    }

    /// <summary>Volume of the box about a part along the job's axes.</summary>
    internal static double BoxMm3(Mesh mesh)
    {
        var (low, high) = Box(PointsIn(mesh, GridFrame.Job));
        Point3 box = high - low;
        return box.X * box.Y * box.Z;
    }

    private static (Point3 Low, Point3 High) Box(Point3[] points) =>
        (new(points.Min(p => p.X), points.Min(p => p.Y), points.Min(p => p.Z)), new(points.Max(p => p.X), points.Max(p => p.Y), points.Max(p => p.Z)));
}
