using System.Diagnostics;

namespace Sparewright.Bench;

/// <summary>How long the same work took, time after time; milliseconds.</summary>
internal sealed class Times
{
    private readonly List<double> _ms = [];

    public void Add(double ms) => _ms.Add(ms);

    public double Median
    {
        get
        {
            double[] sorted = [.. _ms.Order()];
            return (sorted[(sorted.Length - 1) / 2] + sorted[sorted.Length / 2]) / 2;
        }
    }

    public double Least => _ms.Min();

    public double Most => _ms.Max();

    /// <summary>Adds what some work takes.</summary>
    public async Task<T> OfAsync<T>(Func<Task<T>> work)
    {
        var clock = Stopwatch.StartNew();
        T result = await work();
        Add(clock.Elapsed.TotalMilliseconds);
        return result;
    }
}
