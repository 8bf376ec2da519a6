namespace Sparewright.Strength.Grid;

/// <summary>The pieces that a grid's cells fall into: cells that share a face belong together. Cells that touch only in an edge or a corner could turn there.</summary>
public sealed class Pieces
{
    private readonly VoxelGrid _grid;
    private readonly int[] _piece;

    private Pieces(VoxelGrid grid, int[] piece, List<double> volumes) => (_grid, _piece, VolumesMm3) = (grid, piece, volumes);

    public int Count => VolumesMm3.Count;

    /// <summary>Solid volume of each piece in mm³.</summary>
    public IReadOnlyList<double> VolumesMm3 { get; }

    /// <summary>The number of the piece that a cell belongs to; −1 where no solid is.</summary>
    public int Of(int i, int j, int k) => _piece[(k * _grid.NY + j) * _grid.NX + i];

    public static Pieces Of(VoxelGrid grid)
    {
        int nx = grid.NX, ny = grid.NY, nz = grid.NZ;
        var piece = new int[nx * ny * nz];
        Array.Fill(piece, -1);
        var volumes = new List<double>();
        double cell = grid.CellMm * grid.CellMm * grid.CellMm;
        var open = new Stack<(int I, int J, int K)>();
        for (int k = 0; k < nz; k++)
            for (int j = 0; j < ny; j++)
                for (int i = 0; i < nx; i++)
                {
                    if (grid.Share(i, j, k) == 0 || piece[(k * ny + j) * nx + i] >= 0) continue;
                    double volume = 0;
                    Enter(i, j, k);
                    while (open.TryPop(out var at))
                    {
                        volume += grid.Share(at.I, at.J, at.K) * cell;
                        Enter(at.I - 1, at.J, at.K);
                        Enter(at.I + 1, at.J, at.K);
                        Enter(at.I, at.J - 1, at.K);
                        Enter(at.I, at.J + 1, at.K);
                        Enter(at.I, at.J, at.K - 1);
                        Enter(at.I, at.J, at.K + 1);
                    }

                    volumes.Add(volume);
                }

        return new(grid, piece, volumes);

        void Enter(int i, int j, int k)
        {
            if (grid.Share(i, j, k) == 0 || piece[(k * ny + j) * nx + i] >= 0) return;
            piece[(k * ny + j) * nx + i] = volumes.Count;
            open.Push((i, j, k));
        }
    }
}
