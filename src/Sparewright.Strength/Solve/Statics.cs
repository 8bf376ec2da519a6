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
        BrickRows rows = BrickRows.Of(grid);
        long slots = rows.Slots;
        // Four long vectors in double, six in single on all grids (8/7 of the finest, thin walls more), shares, moments (of all cells on coarser grids), and the written-down matrix of at most 30000 corners with its groups.
        return slots * 3 * (4 * sizeof(double) + 6 * sizeof(float) * 3 / 2) + slots * 8 + sizeof(float) * (rows.Moments.Length + slots * CutCells.PerCell / 2) + Math.Min(slots, 30000) * 27 * 9 * sizeof(double) * 2;
    }

    /// <summary>Solves; the loading must hold the part fully.</summary>
    /// <param name="start">A solution on another grid over the same part with the same axes, to begin from.</param>
    /// <param name="progress">Gets the share done, 0 … 1, judged by the digits won so far.</param>
    /// <exception cref="NotConvergedException">The iterations did not get there: the part is not fully held.</exception>
    public static Solution Solve(LayeredStiffness material, Loading loading, SolveOptions? options = null, Solution? start = null, IProgress<double>? progress = null, CancellationToken cancel = default)
    {
        using var solver = new GridSolver(material, loading.Grid, options?.Threads, cancel);
        return solver.Solve(loading, options, start, progress: progress);
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
