using Sparewright.Solid;
using Sparewright.Strength.Grid;

namespace Sparewright.Strength.Solve;

/// <summary>What acts on the corners of a grid: forces, places that do not move or move by so much, springs against the ground. Everything is told in the grid's axes.</summary>
public sealed class Loading(VoxelGrid grid)
{
    private readonly Dictionary<(int Corner, int Axis), double> _fixed = [];
    private readonly Dictionary<int, Point3> _forces = [];
    private readonly List<CornerSpring> _springs = [];

    public VoxelGrid Grid { get; } = grid;

    /// <summary>Corner and axis (0 x, 1 y, 2 z) of what is held, with its movement in mm.</summary>
    public IReadOnlyDictionary<(int Corner, int Axis), double> Fixed => _fixed;

    /// <summary>Force in N on each loaded corner.</summary>
    public IReadOnlyDictionary<int, Point3> Forces => _forces;

    public IReadOnlyList<CornerSpring> Springs => _springs;

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

    /// <summary>Adds a spring between a corner and the ground along a unit direction; the corner must touch solid.</summary>
    public void Spring(int corner, Point3 direction, double stiffnessNPerMm, double restMm = 0)
    {
        if (!IsUsed(corner)) throw new ArgumentException("a spring on a corner away from all solid holds nothing", nameof(corner));
        _springs.Add(new(corner, direction, stiffnessNPerMm, restMm));
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

/// <summary>A spring between a corner and the ground, along a unit direction; it pulls the corner to a movement of <paramref name="RestMm"/> along it.</summary>
public readonly record struct CornerSpring(int Corner, Point3 Direction, double StiffnessNPerMm, double RestMm);
