using System.Diagnostics;
using Sparewright.Solid;
using Sparewright.Strength.Grid;

namespace Sparewright.Strength.Solve;

/// <summary>One grid made ready for several loadings that differ in what acts and what holds. See <see cref="Statics"/> for the method.</summary>
public sealed class GridSolver : IDisposable
{
    /// <summary>What acts is taken as no less than this share of what was asked for at first, both as squares: where a part gives way freely next to nothing acts.</summary>
    private const double LeastOfFirst = 1e-12;

    private readonly LayeredStiffness _material;
    private readonly VoxelGrid _grid;
    private readonly Workers _workers;
    private readonly BrickRows _rows;
    private readonly BrickLevel _level;
    private readonly Multigrid _multigrid;
    private readonly NativeArray<double> _x, _r, _p, _q;
    private Loading? _held;

    /// <param name="threads">How many threads work; all if none is said.</param>
    public GridSolver(LayeredStiffness material, VoxelGrid grid, int? threads = null, CancellationToken cancel = default)
    {
        using Activity? _ = Stages.Of("set up the grid");
        (_material, _grid) = (material, grid);
        _workers = new Workers(threads ?? Environment.ProcessorCount, cancel);
        _rows = BrickRows.Of(grid);
        _level = new BrickLevel(_rows, BrickFactors.Of(material.Elastic, grid.CellMm), _workers);
        _multigrid = new Multigrid(_level, material.Elastic, _workers);
        (_x, _r, _p, _q) = (new(_level.Length), new(_level.Length), new(_level.Length), new(_level.Length));
    }

    /// <param name="loading">Must not be changed between two solutions.</param>
    /// <param name="start">A solution to begin from: on this grid under much the same loading, or on another grid over the same part with the same axes.</param>
    /// <param name="keepsGroups">See <see cref="Multigrid.Hold"/>.</param>
    internal Solution Solve(Loading loading, SolveOptions? options = null, Solution? start = null, bool keepsGroups = false, IProgress<double>? progress = null)
    {
        if (loading.Grid != _grid) throw new ArgumentException("the loading belongs to another grid", nameof(loading));
        options ??= new();
        int[] fixedAt = [.. loading.Fixed.Keys.Select(f => f.Axis * _rows.Slots + SlotOf(f.Corner)).Order()];
        // The same once more, to more digits, stands on its supports already.
        if (loading != _held) using (Stages.Of("set up the supports"))
        {
            _held = loading;
            _level.Hold(fixedAt, [.. loading.Springs.Select(s => new GroundSpring(CornersOf(s.Place), s.Direction.X, s.Direction.Y, s.Direction.Z, s.StiffnessNPerMm))]);
            _multigrid.Hold(keepsGroups);
        }

        using Activity? iterating = Stages.Of("iterate");
        Span<double> x = _x.Span;
        _p.Span.Clear();
        _r.Span.Clear();
        x.Clear();
        WriteLoads(loading);
        double pushed = _workers.Sum(_level.Length, (from, length) => LongVectors.Dot(_r.Slice(from, length), _r.Slice(from, length)));
        bool isOnThisGrid = start?.Grid == _grid;
        if (isOnThisGrid) start!.Raw.CopyTo(x);
        else if (start is not null) MoveAs(start);
        foreach (var (place, mm) in loading.Fixed) x[place.Axis * _rows.Slots + SlotOf(place.Corner)] = mm;
        _level.Apply(_x, _q);
        foreach (int at in fixedAt) (_q.Span[at], _r.Span[at]) = (0, 0);
        // p is still zero: x stays.
        double rr = Advance(1), first = Math.Max(pushed, rr), loads = isOnThisGrid ? start!.Loads : first;
        int iterations = 0;
        while (true)
        {
            iterations += Iterate(options, fixedAt, loads, ref rr, progress);
            _level.Apply(_x, _q);
            // Stiff springs that move a place, and faces moved as a whole, ask for far more at first than acts in the end.
            double acts = Math.Max(Acting(loading), LeastOfFirst * first);
            if (rr <= options.Tolerance * options.Tolerance * acts || acts >= loads)
            {
                loads = acts;
                break;
            }

            loads = acts;
        }

        iterating?.SetTag("cells", _grid.Cells).SetTag("iterations", iterations);
        // Coarser grids reach beyond the solid: what they tell of corners there moves nothing and means nothing.
        _level.ClearAway(x);
        long bytes = _multigrid.Bytes + 32L * _level.Length;
        return new(loading, _material, _rows, x.ToArray(), _q.Span, iterations, loads > 0 ? Math.Sqrt(rr / loads) : 0, _multigrid.Depth, bytes) { Loads = loads };
    }

    /// <summary>Begins from a solution on another grid.</summary>
    private void MoveAs(Solution start) => _workers.For(_grid.NZ + 1, k =>
    {
        Span<double> x = _x.Span;
        for (int slot = _rows.PlaneStart[k]; slot < _rows.PlaneStart[k + 1]; slot++)
        {
            var (i, j, _) = _rows.CornerOf(slot);
            if (!_grid.IsUsed(i, j, k) || start.MovementAt(_grid.PointOf(i, j, k)) is not { } moved) continue;
            x[slot] = moved.X;
            x[_rows.Slots + slot] = moved.Y;
            x[2 * _rows.Slots + slot] = moved.Z;
        }
    });

    /// <summary>The square of all forces that act, at the movements of this moment: loads, what moves held places, and the springs that want to move one.</summary>
    private double Acting(Loading loading)
    {
        double sum = 0;
        foreach (Point3 force in loading.Forces.Values) sum += Point3.Dot(force, force);
        foreach (var (place, mm) in loading.Fixed)
            if (mm != 0 && _q.Span[place.Axis * _rows.Slots + SlotOf(place.Corner)] is var force) sum += force * force;
        foreach (PlaceSpring s in loading.Springs)
        {
            if (s.RestMm == 0) continue;
            double moved = 0, weights = 0;
            foreach (var (slot, weight) in CornersOf(s.Place))
            {
                moved += weight * (s.Direction.X * _x.Span[slot] + s.Direction.Y * _x.Span[_rows.Slots + slot] + s.Direction.Z * _x.Span[2 * _rows.Slots + slot]);
                weights += weight * weight;
            }

            double pull = s.StiffnessNPerMm * (s.RestMm - moved);
            sum += pull * pull * weights;
        }

        return sum;
    }

    private int Iterate(SolveOptions options, int[] fixedAt, double loads, ref double rr, IProgress<double>? progress)
    {
        int iterations = 0;
        double rz = 0;
        var parts = new double[_rows.Chunks.Length];
        while (rr > options.Tolerance * options.Tolerance * loads)
        {
            _workers.Cancel.ThrowIfCancellationRequested();
            if (iterations == options.MostIterations) throw new NotConvergedException(iterations, Math.Sqrt(rr / loads));
            _multigrid.Cycle();
            double rzNew = _workers.Sum(_level.Length, (from, length) => LongVectors.Dot(_r.Slice(from, length), _multigrid.X.Slice(from, length)));
            double keep = iterations == 0 ? 0 : rzNew / rz;
            rz = rzNew;
            _workers.Along(_level.Length, (from, length) => LongVectors.Turn(keep, _multigrid.X.Slice(from, length), _p.Slice(from, length)));
            // Where nothing moves p is 0, so what holds there does not count.
            Array.Clear(parts);
            _level.Apply(_p, _q, (piece, from, length) => parts[piece] += LongVectors.Dot(_p.Slice(from, length), _q.Slice(from, length)));
            foreach (int at in fixedAt) _q.Span[at] = 0;
            double pq = 0;
            foreach (double part in parts) pq += part;
            if (!(pq > 0)) throw new NotConvergedException(iterations, Math.Sqrt(rr / loads));
            rr = Advance(rz / pq);
            iterations++;
            progress?.Report(Math.Clamp(Math.Log(loads / rr) / -Math.Log(options.Tolerance * options.Tolerance), 0, 1));
        }

        return iterations;
    }

    private double Advance(double step) => _workers.Sum(_level.Length, (from, length) =>
        LongVectors.Advance(step, _p.Slice(from, length), _q.Slice(from, length), _x.Slice(from, length), _r.Slice(from, length), _multigrid.B.Slice(from, length)));

    private void WriteLoads(Loading loading)
    {
        Span<double> f = _r.Span;
        foreach (var (corner, force) in loading.Forces) Add(f, corner, force);
        foreach (PlaceSpring s in loading.Springs)
            if (s.RestMm != 0)
                foreach (var (slot, weight) in CornersOf(s.Place)) AddAt(f, slot, s.Direction * (s.StiffnessNPerMm * s.RestMm * weight));

        void Add(Span<double> to, int corner, Point3 force) => AddAt(to, SlotOf(corner), force);

        void AddAt(Span<double> to, int at, Point3 force)
        {
            to[at] += force.X;
            to[_rows.Slots + at] += force.Y;
            to[2 * _rows.Slots + at] += force.Z;
        }
    }

    /// <summary>The corners that move a place, with their weights.</summary>
    private (int Slot, double Weight)[] CornersOf(CellPlace place)
    {
        var corners = new List<(int, double)>(8);
        for (int c = 0; c < 8; c++)
        {
            var (i, j, k) = place.Corner(c);
            if (place.Weight(c) is not 0 and var weight) corners.Add((_rows.SlotOf(i, j, k), weight));
        }

        return [.. corners];
    }

    private int SlotOf(int corner)
    {
        var (i, j, k) = _grid.CornerAt(corner);
        return _rows.SlotOf(i, j, k);
    }

    public void Dispose()
    {
        _multigrid.Dispose();
        _level.Dispose();
        foreach (NativeArray<double> array in (NativeArray<double>[])[_x, _r, _p, _q]) array.Dispose();
    }
}
