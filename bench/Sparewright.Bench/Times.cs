using System.Diagnostics;

namespace Sparewright.Bench;

/// <summary>How long the same work took, time after time, in milliseconds: by the clock, and of a processor, which other work on the machine lengthens far less.</summary>
internal sealed class Times
{
    private readonly List<double> _clock = [], _processor = [];

    public double Clock => Median(_clock);

    public double Processor => Median(_processor);

    public int Count => _clock.Count;

    public double Least => _clock.Min();

    public double Most => _clock.Max();

    /// <summary>The time within which a share of them was done.</summary>
    public double Share(double share) => _clock.Order().ElementAt(Math.Max(0, (int)Math.Ceiling(share * _clock.Count) - 1));

    public void Add(double clockMs, double processorMs = double.NaN)
    {
        _clock.Add(clockMs);
        _processor.Add(processorMs);
    }

    /// <summary>Adds what some work takes.</summary>
    /// <param name="processorMs">Reads how long whoever does the work has had a processor so far.</param>
    public async Task<T> OfAsync<T>(Func<double> processorMs, Func<Task<T>> work)
    {
        double before = processorMs();
        var clock = Stopwatch.StartNew();
        T result = await work();
        Add(clock.Elapsed.TotalMilliseconds, processorMs() - before);
        return result;
    }

    private static double Median(List<double> ms)
    {
        double[] sorted = [.. ms.Order()];
        return (sorted[(sorted.Length - 1) / 2] + sorted[sorted.Length / 2]) / 2;
    }
}
