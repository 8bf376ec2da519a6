using System.Numerics;
using System.Runtime.InteropServices;
using Sparewright.Solid;
using Sparewright.Strength.Grid;
using Sparewright.Strength.Solve;

namespace Sparewright.Strength.Loads;

/// <summary>A spring by which a support holds one place of the surface.</summary>
/// <param name="Support">Its number in the load case.</param>
/// <param name="Direction">Unit, in the grid's axes; of what is pushed only, into the material.</param>
/// <param name="RestMm">How far the support moves the place along it.</param>
public readonly record struct SupportSpring(int Support, CellPlace Place, Point3 Direction, double StiffnessNPerMm, double RestMm, bool PushedOnly);

/// <summary>
/// A load case on the corners of a grid. Forces on the surface go to the corners of the cell beneath by its own interpolation, so that force and moment stay exactly what they were;
/// supports are springs so stiff that they give way by next to nothing, at the surface's own places: held at the corners of the cells that it cuts, a face could not tilt.
/// </summary>
public sealed class GridLoads
{
    /// <summary>
    /// How many times stiffer than a layer of cells a support is. Much stiffer, and on round walls the springs would answer to how cells bend a curve, of the order (cell/radius)², instead of to the part.
    /// </summary>
    private const double StifferThanCell = 10;

    /// <summary>A cell with so much solid is held where the surface is.</summary>
    private const float FairShare = 0.4f;

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

    /// <summary>Where a place is, in the job's axes, mm.</summary>
    internal Point3 PointInJob(CellPlace place) => _grid.Frame.ToJob(place.In(_grid));

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
            if (holds(k)) loading.Spring(new(spring.Place, spring.Direction, spring.PushedOnly ? spring.StiffnessNPerMm * pushedShare : spring.StiffnessNPerMm, spring.RestMm));
    }

    private void Push(SurfaceSample sample, Point3 force)
    {
        if (CellBeneath(sample) is not { } place) return;
        for (int c = 0; c < 8; c++)
        {
            var (i, j, k) = place.Corner(c);
            Add(_grid.Corner(i, j, k), force * place.Weight(c));
        }
    }

    /// <summary>Own weight: of each cell ∫ N dV over what is solid in it, by its moments.</summary>
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
                    ReadOnlySpan<float> m = _grid.Cut.Of(_grid.Cell(i, j, k));
                    for (int c = 0; c < 8; c++)
                    {
                        // ∫ (1 ± ξ)(1 ± η)(1 ± ζ)
                        double volume = 0;
                        for (int n = 0; n < 8; n++)
                            volume += (BitOperations.PopCount((uint)(n & ~c)) % 2 == 0 ? 1 : -1) * (n == 0 ? share : m.IsEmpty ? 0 : m[(n & 1) + 3 * (n >> 1 & 1) + 9 * (n >> 2)]);
                        Add(_grid.Corner(i + (c & 1), j + (c >> 1 & 1), k + (c >> 2)), perMm3 * (volume * cell));
                    }
                }
    }

    private void Add(int corner, Point3 force)
    {
        ref Point3 sum = ref CollectionsMarshal.GetValueRefOrAddDefault(_forces, corner, out _);
        sum += force;
    }

    /// <summary>
    /// The springs of a patch: its pieces in each eighth of a cell gathered in their common middle (one place in a cell would be a hinge where a wall is one cell thick);
    /// one spring square to the surface or along a direction, or three where all ways are held.
    /// </summary>
    private IEnumerable<SupportSpring> SpringsOf(int number, SurfaceSupport support, double perMm2)
    {
        var eighths = new Dictionary<(int, int), (CellPlace First, double AreaMm2, Point3 At, Point3 Inward)>();
        foreach (SurfaceSample sample in support.Patch.Samples)
        {
            if (CellBeneath(sample) is not { } place) continue;
            var (i, j, k) = place.Cell;
            int eighth = (place.At.X < 0.5 ? 0 : 1) + (place.At.Y < 0.5 ? 0 : 2) + (place.At.Z < 0.5 ? 0 : 4);
            ref var sum = ref CollectionsMarshal.GetValueRefOrAddDefault(eighths, (_grid.Corner(i, j, k), eighth), out _);
            sum = (place, sum.AreaMm2 + sample.AreaMm2, sum.At + place.At * sample.AreaMm2, sum.Inward + _grid.Frame.ToGrid(sample.Inward) * sample.AreaMm2);
        }

        Point3 along = _grid.Frame.ToGrid(support.Direction);
        foreach (var (_, (first, area, at, inward)) in eighths.OrderBy(e => e.Key))
        {
            CellPlace place = HeldBy(first with { At = at * (1 / area) });
            double stiffness = perMm2 * area;
            switch (support.Way)
            {
                case SupportWay.Fast:
                    yield return new(number, place, new(1, 0, 0), stiffness, 0, false);
                    yield return new(number, place, new(0, 1, 0), stiffness, 0, false);
                    yield return new(number, place, new(0, 0, 1), stiffness, 0, false);
                    break;
                case SupportWay.Along:
                    yield return new(number, place, along, stiffness, support.MovedMm, false);
                    break;
                default:
                    // Where a surface turns right round it holds its place no way in particular.
                    if (inward.Length <= 1e-6 * area) break;
                    Point3 square = support.Round is { } axis ? Across(axis, place.In(_grid), inward) : inward;
                    if (square.Length > 0) yield return new(number, place, square * (1 / square.Length), perMm2 * inward.Length, support.MovedMm, support.Way == SupportWay.PushedOnly);
                    break;
            }
        }
    }

    /// <summary>
    /// The same place by the fullest cell beside its own where that holds little: the corners of a cell of which most is cut off hang on too little to follow a stiff spring without many iterations.
    /// </summary>
    private CellPlace HeldBy(CellPlace place)
    {
        var (i, j, k) = place.Cell;
        if (_grid.Share(i, j, k) >= FairShare) return place;
        ReadOnlySpan<(int I, int J, int K)> beside = [(i, j, k), (i - 1, j, k), (i + 1, j, k), (i, j - 1, k), (i, j + 1, k), (i, j, k - 1), (i, j, k + 1)];
        (int I, int J, int K) fullest = beside[0];
        foreach (var cell in beside)
            if (_grid.Share(cell.I, cell.J, cell.K) > _grid.Share(fullest.I, fullest.J, fullest.K)) fullest = cell;
        return new(fullest, place.At + new Point3(i - fullest.I, j - fullest.J, k - fullest.K));
    }

    /// <summary>From a round patch's axis through a point, or the other way, as the surface looks.</summary>
    private Point3 Across(Axis axis, Point3 at, Point3 inward)
    {
        Point3 direction = _grid.Frame.ToGrid(axis.Direction), r = at - _grid.Frame.ToGrid(axis.Point);
        r -= direction * Point3.Dot(r, direction);
        return Point3.Dot(r, inward) >= 0 ? r : r * -1;
    }

    /// <summary>The cell with solid in it that lies at a piece of surface, or right beneath it where the surface's own cell holds too little; and the piece's place by it. Null outside a window.</summary>
    private CellPlace? CellBeneath(SurfaceSample sample)
    {
        Point3 place = (_grid.Frame.ToGrid(sample.At) - _grid.Origin) * (1 / _grid.CellMm), inward = _grid.Frame.ToGrid(sample.Inward);
        if (_isWindow && (place.X < 0 || place.Y < 0 || place.Z < 0 || place.X > _grid.NX || place.Y > _grid.NY || place.Z > _grid.NZ)) return null;
        for (double step = 1e-3; step < 3; step += 0.25)
        {
            Point3 beneath = place + inward * step;
            var cell = ((int)Math.Floor(beneath.X), (int)Math.Floor(beneath.Y), (int)Math.Floor(beneath.Z));
            if (_grid.Share(cell.Item1, cell.Item2, cell.Item3) > 0) return new(cell, place - new Point3(cell.Item1, cell.Item2, cell.Item3));
        }

        // A sliver thinner than the cells can hold: the nearest cell that holds solid.
        var (ci, cj, ck) = ((int)Math.Floor(place.X), (int)Math.Floor(place.Y), (int)Math.Floor(place.Z));
        var nearest = (from k in Around(ck)
                       from j in Around(cj)
                       from i in Around(ci)
                       where _grid.Share(i, j, k) > 0
                       orderby (new Point3(i + 0.5, j + 0.5, k + 0.5) - place).Length
                       select ((int I, int J, int K)?)(i, j, k)).FirstOrDefault();
        return nearest is var (x, y, z) ? new CellPlace((x, y, z), place - new Point3(x, y, z)) : _isWindow ? null : throw new InvalidOperationException("a surface lies away from all cells of its own grid");

        static IEnumerable<int> Around(int at) => Enumerable.Range(at - 3, 7);
    }
}
