using Sparewright.Solid;
using Sparewright.Strength.Grid;

namespace Sparewright.Strength.Solve;

/// <summary>What acts on the corners of a grid: forces, places that do not move or move by so much, springs against the ground. Everything is told in the grid's axes.</summary>
public sealed class Loading(VoxelGrid grid)
{
    private readonly Dictionary<(int Corner, int Axis), double> _fixed = [];
    private readonly Dictionary<int, Point3> _forces = [];
    private readonly List<PlaceSpring> _springs = [];

    public VoxelGrid Grid { get; } = grid;

    /// <summary>Corner and axis (0 x, 1 y, 2 z) of what is held, with its movement in mm.</summary>
    public IReadOnlyDictionary<(int Corner, int Axis), double> Fixed => _fixed;

    /// <summary>Force in N on each loaded corner.</summary>
    public IReadOnlyDictionary<int, Point3> Forces => _forces;

    public IReadOnlyList<PlaceSpring> Springs => _springs;

    /// <summary>Holds a corner along one axis, or moves it there by so many mm. A corner away from all solid is left alone.</summary>
    public void Fix(int corner, int axis, double mm = 0)
    {
        if (IsUsed(corner)) _fixed[(corner, axis)] = mm;
    }

    /// <summary>Holds a corner along all axes.</summary>
    public void Fix(int corner)
    {
        for (int axis = 0; axis < 3; axis++) Fix(corner, axis);
    }

    /// <summary>Adds a force in N; the corner must touch solid.</summary>
    public void Push(int corner, Point3 forceN)
    {
        if (!IsUsed(corner)) throw new ArgumentException("a force on a corner away from all solid goes nowhere", nameof(corner));
        _forces.TryGetValue(corner, out Point3 before);
        _forces[corner] = before + forceN;
    }

    /// <summary>Adds a spring; its cell must hold solid.</summary>
    public void Spring(PlaceSpring spring)
    {
        var (i, j, k) = spring.Place.Cell;
        if (Grid.Share(i, j, k) == 0) throw new ArgumentException("a spring on a cell without solid holds nothing", nameof(spring));
        _springs.Add(spring);
    }

    /// <summary>Adds a spring between a corner and the ground along a unit direction; the corner must touch solid.</summary>
    public void Spring(int corner, Point3 direction, double stiffnessNPerMm, double restMm = 0)
    {
        var (i, j, k) = Grid.CornerAt(corner);
        for (int c = 0; c < 8; c++)
        {
            var cell = (I: i - (c & 1), J: j - (c >> 1 & 1), K: k - (c >> 2));
            if (Grid.Share(cell.I, cell.J, cell.K) == 0) continue;
            _springs.Add(new(new(cell, new(c & 1, c >> 1 & 1, c >> 2)), direction, stiffnessNPerMm, restMm));
            return;
        }

        throw new ArgumentException("a spring on a corner away from all solid holds nothing", nameof(corner));
    }

    /// <summary>Sum of all forces in N, and of their moments about the origin of the grid's axes in N·mm.</summary>
    public (Point3 Force, Point3 Moment) Resultant
    {
        get
        {
            Point3 force = default, moment = default;
            foreach (var (corner, f) in _forces)
            {
                var (i, j, k) = Grid.CornerAt(corner);
                force += f;
                moment += Point3.Cross(Grid.PointOf(i, j, k), f);
            }

            return (force, moment);
        }
    }

    private bool IsUsed(int corner)
    {
        var (i, j, k) = Grid.CornerAt(corner);
        return Grid.IsUsed(i, j, k);
    }
}

/// <summary>
/// A place that moves as the eight corners of a cell move it, by the cell's own interpolation; right outside the cell that is continued. So a rigid movement of the cell is one of the place.
/// </summary>
/// <param name="At">In the cell, 0 … 1 each way where it is inside.</param>
public readonly record struct CellPlace((int I, int J, int K) Cell, Point3 At)
{
    /// <summary>The corner of the cell with this number, 0 … 7, x first.</summary>
    public (int I, int J, int K) Corner(int number) => (Cell.I + (number & 1), Cell.J + (number >> 1 & 1), Cell.K + (number >> 2));

    /// <summary>How much of that corner's movement the place makes. All add up to 1.</summary>
    public double Weight(int number) =>
        ((number & 1) == 0 ? 1 - At.X : At.X) * ((number & 2) == 0 ? 1 - At.Y : At.Y) * ((number & 4) == 0 ? 1 - At.Z : At.Z);

    /// <summary>Where it is, in the grid's axes, mm.</summary>
    public Point3 In(VoxelGrid grid) => grid.PointOf(Cell.I + At.X, Cell.J + At.Y, Cell.K + At.Z);
}

/// <summary>A spring between a place and the ground, along a unit direction; it pulls the place to a movement of <paramref name="RestMm"/> along it.</summary>
public readonly record struct PlaceSpring(CellPlace Place, Point3 Direction, double StiffnessNPerMm, double RestMm = 0);
