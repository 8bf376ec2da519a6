namespace Sparewright.Remake.Bearing;

/// <summary>Pieces of work that do not need each other, as many at a time as there are processors.</summary>
internal static class SideBySide
{
    /// <param name="work">Gets the number of the piece.</param>
    /// <exception cref="Exception">The first that a piece threw, as it was.</exception>
    public static Task DoAsync(int pieces, Func<int, ValueTask> work, CancellationToken cancel) =>
        Parallel.ForAsync(0, pieces, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount, CancellationToken = cancel }, (n, _) => work(n));
}
