using System.Runtime.InteropServices;
using Sparewright.Solid;
using Sparewright.Strength.Grid;
using Sparewright.Strength.Solve;

namespace Sparewright.Strength.Loads;

/// <summary>A spring by which a support holds one corner of the grid.</summary>
/// <param name="Support">Its number in the load case.</param>
/// <param name="Direction">Unit, in the grid's axes; of what is pushed only, into the material.</param>
/// <param name="RestMm">How far the support moves the corner along it.</param>
public readonly record struct SupportSpring(int Support, int Corner, Point3 Direction, double StiffnessNPerMm, double RestMm, bool PushedOnly);

/// <summary>
/// A load case on the corners of a grid. Forces on the surface go to the corners of the cell beneath by its own interpolation, so that force and moment stay exactly what they were;
/// supports are springs so stiff that they give way by next to nothing.
/// </summary>
public sealed class GridLoads
{
    /// <summary>How many times stiffer than a layer of cells a support is.</summary>
    private const double StifferThanCell = 50;

    private readonly VoxelGrid _grid;
    private readonly bool _isWindow;
    private readonly Dictionary<int, Point3> _forces = [];

    /// <param name="isWindow">The grid holds only a window of the part: what lies outside it is left out.</param>
    public GridLoads(SolidLoadCase @case, VoxelGrid grid, LayeredStiffness material, bool isWindow = false)
    {
        (Case, _grid, _isWindow) = (@case, grid, isWindow);
        foreach (SurfaceLoad load in @case.Loads)
            foreach (var (k, sample) in load.Patch.Samples.Index()) Push(sample, grid.Frame.ToGrid(load.ForcesN[k]));
        Weigh(grid.Frame.ToGrid(@case.WeightNPerMm3));
        double perMm2 = StifferThanCell * material.InLayerMPa / grid.CellMm;
        Springs = [.. @case.Supports.Index().SelectMany(s => SpringsOf(s.Index, s.Item, perMm2))];
    }

    public SolidLoadCase Case { get; }

    public VoxelGrid Grid => _grid;

    /// <summary>Every spring of every support.</summary>
    public IReadOnlyList<SupportSpring> Springs { get; }

    /// <summary>Where a corner is, in the grid's axes, mm.</summary>
    internal Point3 PointOf(int corner)
    {
        var (i, j, k) = _grid.CornerAt(corner);
        return _grid.PointOf(i, j, k);
    }

    /// <summary>Where a corner is, in the job's axes, mm.</summary>
    internal Point3 PointInJob(int corner) => _grid.Frame.ToJob(PointOf(corner));

    /// <summary>The loading with those springs that hold at the moment.</summary>
    /// <param name="pushedShare">Which share of their stiffness those have that only push.</param>
    public Loading With(Func<int, bool> holds, double pushedShare = 1)
    {
        var loading = new Loading(_grid);
        AddTo(loading, holds, pushedShare);
        return loading;
    }

    /// <summary>Adds it to what holds or moves the grid already, as a window's cut faces do.</summary>
    public void AddTo(Loading loading, Func<int, bool> holds, double pushedShare = 1)
    {
        foreach (var (corner, force) in _forces) loading.Push(corner, force);
        foreach (var (k, spring) in Springs.Index())
            if (holds(k)) loading.Spring(spring.Corner, spring.Direction, spring.PushedOnly ? spring.StiffnessNPerMm * pushedShare : spring.StiffnessNPerMm, spring.RestMm);
    }

    private void Push(SurfaceSample sample, Point3 force)
    {
        if (CellBeneath(sample) is not var (cell, at)) return;
        for (int c = 0; c < 8; c++) Add(_grid.Corner(cell.I + (c & 1), cell.J + (c >> 1 & 1), cell.K + (c >> 2)), force * Weight(c, at));
    }

    private void Weigh(Point3 perMm3)
    {
        if (perMm3.Length == 0) return;
        double cell = _grid.CellMm * _grid.CellMm * _grid.CellMm / 8;
        for (int k = 0; k < _grid.NZ; k++)
            for (int j = 0; j < _grid.NY; j++)
                for (int i = 0; i < _grid.NX; i++)
                {
                    float share = _grid.Share(i, j, k);
                    if (share == 0) continue;
                    for (int c = 0; c < 8; c++) Add(_grid.Corner(i + (c & 1), j + (c >> 1 & 1), k + (c >> 2)), perMm3 * (share * cell));
                }
    }

    private void Add(int corner, Point3 force)
    {
        ref Point3 sum = ref CollectionsMarshal.GetValueRefOrAddDefault(_forces, corner, out _);
        sum += force;
    }

    /// <summary>The springs of a patch, gathered at each corner: one square to the surface or along a direction, or three where all ways are held.</summary>
    private IEnumerable<SupportSpring> SpringsOf(int number, SurfaceSupport support, double perMm2)
    {
        var at = new Dictionary<int, (double Stiffness, Point3 Inward)>();
        foreach (SurfaceSample sample in support.Patch.Samples)
        {
            if (CellBeneath(sample) is not var (cell, place)) continue;
            // A spring may not push where it should pull, so its place is taken within the cell.
            Point3 within = new(Math.Clamp(place.X, 0, 1), Math.Clamp(place.Y, 0, 1), Math.Clamp(place.Z, 0, 1));
            Point3 inward = _grid.Frame.ToGrid(sample.Inward);
            for (int c = 0; c < 8; c++)
            {
                double stiffness = perMm2 * sample.AreaMm2 * Weight(c, within);
                if (stiffness <= 0) continue;
                int corner = _grid.Corner(cell.I + (c & 1), cell.J + (c >> 1 & 1), cell.K + (c >> 2));
                ref var sum = ref CollectionsMarshal.GetValueRefOrAddDefault(at, corner, out _);
                sum = (sum.Stiffness + stiffness, sum.Inward + inward * stiffness);
            }
        }

        Point3 along = _grid.Frame.ToGrid(support.Direction);
        foreach (var (corner, (stiffness, inward)) in at.OrderBy(s => s.Key))
        {
            switch (support.Way)
            {
                case SupportWay.Fast:
                    yield return new(number, corner, new(1, 0, 0), stiffness, 0, false);
                    yield return new(number, corner, new(0, 1, 0), stiffness, 0, false);
                    yield return new(number, corner, new(0, 0, 1), stiffness, 0, false);
                    break;
                case SupportWay.Along:
                    yield return new(number, corner, along, stiffness, support.MovedMm, false);
                    break;
                default:
                    // Where a surface turns right round within a cell it holds that corner no way in particular.
                    if (inward.Length <= 1e-6 * stiffness) break;
                    Point3 square = support.Round is { } axis ? Across(axis, corner, inward) : inward;
                    if (square.Length > 0) yield return new(number, corner, square * (1 / square.Length), inward.Length, support.MovedMm, support.Way == SupportWay.PushedOnly);
                    break;
            }
        }
    }

    /// <summary>From a round patch's axis through a corner of the grid, or the other way, as the surface looks.</summary>
    private Point3 Across(Axis axis, int corner, Point3 inward)
    {
        Point3 direction = _grid.Frame.ToGrid(axis.Direction), r = PointOf(corner) - _grid.Frame.ToGrid(axis.Point);
        r -= direction * Point3.Dot(r, direction);
        return Point3.Dot(r, inward) >= 0 ? r : r * -1;
    }

    private static double Weight(int corner, Point3 at) =>
        ((corner & 1) == 0 ? 1 - at.X : at.X) * ((corner & 2) == 0 ? 1 - at.Y : at.Y) * ((corner & 4) == 0 ? 1 - at.Z : at.Z);

    /// <summary>The cell with solid in it that lies at a piece of surface, or right beneath it where the surface's own cell holds too little; and the piece's place in it, 0 … 1 where it is inside. Null outside a window.</summary>
    private ((int I, int J, int K) Cell, Point3 At)? CellBeneath(SurfaceSample sample)
    {
        Point3 place = (_grid.Frame.ToGrid(sample.At) - _grid.Origin) * (1 / _grid.CellMm), inward = _grid.Frame.ToGrid(sample.Inward);
        if (_isWindow && (place.X < 0 || place.Y < 0 || place.Z < 0 || place.X > _grid.NX || place.Y > _grid.NY || place.Z > _grid.NZ)) return null;
        for (double step = 1e-3; step < 3; step += 0.25)
        {
            Point3 beneath = place + inward * step;
            var cell = ((int)Math.Floor(beneath.X), (int)Math.Floor(beneath.Y), (int)Math.Floor(beneath.Z));
            if (_grid.Share(cell.Item1, cell.Item2, cell.Item3) > 0) return (cell, place - new Point3(cell.Item1, cell.Item2, cell.Item3));
        }

        // A sliver thinner than the cells can hold: the nearest cell that holds solid.
        var (ci, cj, ck) = ((int)Math.Floor(place.X), (int)Math.Floor(place.Y), (int)Math.Floor(place.Z));
        var nearest = (from k in Around(ck)
                       from j in Around(cj)
                       from i in Around(ci)
                       where _grid.Share(i, j, k) > 0
                       orderby (new Point3(i + 0.5, j + 0.5, k + 0.5) - place).Length
                       select ((int I, int J, int K)?)(i, j, k)).FirstOrDefault();
        return nearest is var (x, y, z) ? ((x, y, z), place - new Point3(x, y, z)) : _isWindow ? null : throw new InvalidOperationException("a surface lies away from all cells of its own grid");

        static IEnumerable<int> Around(int at) => Enumerable.Range(at - 3, 7);
    }
}
