using Sparewright.Measure;
using Sparewright.Part.Record;

namespace Sparewright.Reconcile.Tests;

/// <summary>Readings of known origin: what true sizes give by the formula, and errors that we put there.</summary>
internal static class Simulated
{
    /// <summary>The caliper readings that the true sizes give, without any error; jaw flats and zero errors are taken away from the instruments.</summary>
    public static Job Exactly(Job job, ReadOnlySpan<double> truth) => With(job, truth, (_, _) => 0);

    /// <summary>The same with an error of so many standard uncertainties on each, by reading and its place among the caliper readings.</summary>
    /// <param name="standardUncertaintyMm">Of each reading, as the reconciliation takes it.</param>
    public static Job WithErrors(Job job, ReadOnlySpan<double> truth, IReadOnlyList<double> standardUncertaintyMm, Func<int, double> errorInSigmas) =>
        With(job, truth, (_, k) => errorInSigmas(k) * standardUncertaintyMm[k]);

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
