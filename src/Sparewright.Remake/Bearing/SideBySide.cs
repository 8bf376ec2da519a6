using System.Runtime.ExceptionServices;

namespace Sparewright.Remake.Bearing;

/// <summary>Pieces of work that do not need each other, as many at a time as there are processors.</summary>
internal static class SideBySide
{
    /// <param name="work">Gets the number of the piece.</param>
    /// <exception cref="Exception">The first that a piece threw, as it was.</exception>
    public static void Do(int pieces, Action<int> work)
    {
        try
        {
            Parallel.For(0, pieces, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, work);
        }
        catch (AggregateException e)
        {
            ExceptionDispatchInfo.Throw(e.InnerExceptions[0]);
        }
    }
}
