using Sparewright.Strength.Grid;

namespace Sparewright.Strength.Solve;

/// <summary>How a part is solved.</summary>
/// <param name="Tolerance">The unbalanced forces may be this share of the loads (in the sense of root mean square).</param>
/// <param name="Threads">How many threads work; the result is the same for any number, bit for bit.</param>
/// <param name="MostIterations">More than this is a sign that something is not held: held parts take 10 to 25.</param>
public sealed record SolveOptions(double Tolerance = 1e-8, int? Threads = null, int MostIterations = 300);

/// <summary>
/// Displacements of a linear elastic part under loads: conjugate gradients in double precision, each step improved by one multigrid cycle in single precision.
/// </summary>
/// <remarks>
/// Method: matrix-free trilinear bricks with geometric multigrid as a preconditioner, as in Arbenz et al., "A scalable multi-level preconditioner for matrix-free µ-finite element
/// analysis of human bone structures", IJNME 73 (2008), from memory; Chebyshev smoothing and groups as told beside them.
/// </remarks>
public static class Statics
{
    /// <summary>The most memory in bytes that solving on a grid takes, to be asked for before starting; levels of groups take a share that depends on the shape and is bounded from above here.</summary>
    public static long MostBytes(VoxelGrid grid)
    {
        long slots = BrickRows.Of(grid).Slots;
        // Four long vectors in double, five in single on all grids (8/7 of the finest, thin walls more), shares, and the written-down matrix of at most 30000 corners with its groups.
        return slots * 3 * (4 * sizeof(double) + 5 * sizeof(float) * 3 / 2) + slots * 8 + Math.Min(slots, 30000) * 27 * 9 * sizeof(double) * 2;
    }

    /// <summary>Solves; the loading must hold the part fully.</summary>
    /// <param name="progress">Gets the share done, 0 … 1, judged by the digits won so far.</param>
    /// <exception cref="NotConvergedException">The iterations did not get there: the part is not fully held.</exception>
    public static Solution Solve(LayeredStiffness material, Loading loading, SolveOptions? options = null, IProgress<double>? progress = null, CancellationToken cancel = default)
    {
        options ??= new();
        VoxelGrid grid = loading.Grid;
        var workers = new Workers(options.Threads ?? Environment.ProcessorCount, cancel);
        BrickRows rows = BrickRows.Of(grid);
        int Slot(int corner)
        {
            var (i, j, k) = grid.CornerAt(corner);
            return rows.SlotOf(i, j, k);
        }

        int[] fixedAt = [.. loading.Fixed.Keys.Select(f => f.Axis * rows.Slots + Slot(f.Corner)).Order()];
        GroundSpring[] springs = [.. loading.Springs.Select(s => new GroundSpring([.. s.Corners.Select(c => (rows.SlotOf(c.I, c.J, c.K), c.Weight))], s.Direction.X, s.Direction.Y, s.Direction.Z, s.StiffnessNPerMm))];
        using var level = new BrickLevel(rows, BrickFactors.Of(material.Elastic, grid.CellMm), fixedAt, springs, workers);
        using var multigrid = new Multigrid(level, material.Elastic, grid.CellMm, workers);
        using NativeArray<double> x = new(level.Length), r = new(level.Length), p = new(level.Length), q = new(level.Length);

        WriteLoads(loading, rows, r.Span);
        foreach (var (place, mm) in loading.Fixed) x.Span[place.Axis * rows.Slots + Slot(place.Corner)] = mm;
        double loads = workers.Sum(level.Length, (start, length) => LongVectors.Dot(r.Slice(start, length), r.Slice(start, length)));
        level.Apply(x, q);
        foreach (int at in fixedAt) (q.Span[at], r.Span[at]) = (0, 0);
        // p is still zero: x stays.
        double before = Advance(1);
        loads = Math.Max(loads, before);

        int iterations = 0;
        double rz = 0, rr = before;
        while (rr > options.Tolerance * options.Tolerance * loads)
        {
            cancel.ThrowIfCancellationRequested();
            if (iterations == options.MostIterations) throw new NotConvergedException(iterations, Math.Sqrt(rr / loads));
            multigrid.Cycle();
            double rzNew = workers.Sum(level.Length, (start, length) => LongVectors.Dot(r.Slice(start, length), multigrid.X.Slice(start, length)));
            double keep = iterations == 0 ? 0 : rzNew / rz;
            rz = rzNew;
            workers.Along(level.Length, (start, length) => LongVectors.Turn(keep, multigrid.X.Slice(start, length), p.Slice(start, length)));
            level.Apply(p, q);
            foreach (int at in fixedAt) q.Span[at] = 0;
            double pq = workers.Sum(level.Length, (start, length) => LongVectors.Dot(p.Slice(start, length), q.Slice(start, length)));
            if (!(pq > 0)) throw new NotConvergedException(iterations, Math.Sqrt(rr / loads));
            rr = Advance(rz / pq);
            iterations++;
            progress?.Report(Math.Clamp(Math.Log(loads / rr) / -Math.Log(options.Tolerance * options.Tolerance), 0, 1));
        }

        level.Apply(x, q);
        long bytes = multigrid.Bytes + 32L * level.Length;
        return new(loading, material, rows, x.Span.ToArray(), q.Span, iterations, loads > 0 ? Math.Sqrt(rr / loads) : 0, multigrid.Depth, bytes);

        double Advance(double step) => workers.Sum(level.Length, (start, length) =>
            LongVectors.Advance(step, p.Slice(start, length), q.Slice(start, length), x.Slice(start, length), r.Slice(start, length), multigrid.B.Slice(start, length)));
    }

    private static void WriteLoads(Loading loading, BrickRows rows, Span<double> f)
    {
        foreach (var (corner, force) in loading.Forces)
        {
            var (i, j, k) = loading.Grid.CornerAt(corner);
            Add(f, i, j, k, force.X, force.Y, force.Z);
        }

        foreach (PlaceSpring s in loading.Springs)
            foreach (var (i, j, k, weight) in s.Corners)
            {
                double pull = s.StiffnessNPerMm * s.RestMm * weight;
                Add(f, i, j, k, pull * s.Direction.X, pull * s.Direction.Y, pull * s.Direction.Z);
            }

        void Add(Span<double> to, int i, int j, int k, double x, double y, double z)
        {
            int at = rows.SlotOf(i, j, k);
            to[at] += x;
            to[rows.Slots + at] += y;
            to[2 * rows.Slots + at] += z;
        }
    }
}

/// <summary>The iterations did not reach the tolerance.</summary>
public sealed class NotConvergedException(int iterations, double residual)
    : Exception($"after {iterations} iterations {residual:0.0e0} of the loads are still unbalanced; is the part fully held?")
{
    public int Iterations { get; } = iterations;

    /// <summary>Unbalanced share of the loads.</summary>
    public double Residual { get; } = residual;
}
