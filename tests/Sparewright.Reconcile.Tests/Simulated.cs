using Sparewright.Measure;
using Sparewright.Measure.Uncertainty;
using Sparewright.Part.Record;

namespace Sparewright.Reconcile.Tests;

/// <summary>Readings of known origin: what true sizes give by the formula, and errors that we put there.</summary>
internal static class Simulated
{
    /// <summary>The caliper readings that the true sizes give, without any error; jaw flats and zero errors are taken away from the instruments.</summary>
    public static Job Exactly(Job job, ReadOnlySpan<double> truth) => With(job, truth, (_, _) => 0);

    /// <summary>
    /// The same with random errors as the readings' budgets state them: each reading draws its own, and all of one instrument in one way share the shift that was drawn for them.
    /// </summary>
    /// <param name="budgets">Of each caliper reading, in their order.</param>
    /// <param name="wrongBy">What is wrong besides, in the reading's whole standard uncertainties, by its place among the caliper readings.</param>
    public static Job WithErrors(Job job, ReadOnlySpan<double> truth, IReadOnlyList<UncertaintyBudget> budgets, Random random, Func<int, double>? wrongBy = null)
    {
        var shifts = new Dictionary<(string?, ReadingWay), double>();
        return With(job, truth, (reading, k) =>
        {
            if (!shifts.TryGetValue((reading.With, reading.Way), out double shift)) shifts[(reading.With, reading.Way)] = shift = Normal(random);
            return budgets[k].OwnMm * Normal(random) + budgets[k].SharedMm * shift + (wrongBy?.Invoke(k) ?? 0) * budgets[k].StandardUncertaintyMm;
        });
    }

    /// <summary>Standard normal (Box and Muller).</summary>
    public static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    private static Job With(Job job, ReadOnlySpan<double> truth, Func<CaliperReading, int, double> errorMm)
    {
        double[] values = Jobs.True(job, truth);
        int k = 0;
        return job with
        {
            Instruments = job.Instruments.ToDictionary(i => i.Key, i => i.Value.Kind.IsCaliper() ? i.Value with { ZeroError = 0, InsideJawFlat = 0 } : i.Value),
            Readings = [.. job.Readings.Select(r => r is CaliperReading caliper ? caliper with { ReadsMm = [values[k] + errorMm(caliper, k++)] } : r)],
        };
    }
}
