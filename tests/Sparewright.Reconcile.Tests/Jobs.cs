using Sparewright.Measure.Numbers;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Readings;
using Xunit;

namespace Sparewright.Reconcile.Tests;

/// <summary>Jobs for the tests: written as text where that reads best, or the committed examples with readings of known origin.</summary>
internal static class Jobs
{
    public static string Root { get; } = FindRoot(AppContext.BaseDirectory);

    public static IReadOnlyList<string> ExampleNames { get; } = [.. Directory.GetDirectories(Path.Combine(Root, "examples")).Select(d => Path.GetFileName(d)).Order(StringComparer.Ordinal)];

    public static Job Example(string name) => Read(File.ReadAllText(Path.Combine(Root, "examples", name, "job.yaml")));

    /// <summary>A job of the given sizes, shape and readings; its caliper has no error of its own and ± 0.03 mm.</summary>
    public static Job Of(string sizes, string shape, string readings) => Read($"""
        sparewright: 1
        part: test
        could_injure: no
        instruments:
          caliper: {"{kind: digital caliper, resolution: 0.01, mpe: 0.03, zero_error: 0.00, inside_jaw_flat: 0}"}
        sizes: {sizes}
        shape:
        {shape}
        readings:
        {readings}
        """);

    public static Job Read(string text)
    {
        JobReading reading = JobFile.Read(text);
        Assert.Empty(reading.Problems.Select(p => p.In("job.yaml")));
        return reading.Job!;
    }

    public static Reconciled Reconcile(Job job)
    {
        bool done = Reconciliation.TryReconcile(job, out Reconciled? reconciled, out IReadOnlyList<Problem> problems);
        Assert.Empty(problems.Select(p => p.In("job.yaml")));
        Assert.True(done);
        return reconciled!;
    }

    public static IReadOnlyList<Problem> Problems(Job job)
    {
        Assert.False(Reconciliation.TryReconcile(job, out _, out IReadOnlyList<Problem> problems));
        return problems;
    }

    /// <summary>What each caliper reading of the job would read on the shape at these free sizes, in their order.</summary>
    public static double[] True(Job job, ReadOnlySpan<double> free)
    {
        PlacedShape shape = ShapePlacer.Place(job.Shape, job.Sizes.At(free));
        return [.. job.Readings.OfType<CaliperReading>().Select(r => CaliperGeometry.Of(r, shape).Mm!.Value.Value)];
    }

    public static ReconciledSize Size(this Reconciled reconciled, string name) => reconciled.Sizes.Single(s => s.Name == name);

    public static ReconciledReading Reading(this Reconciled reconciled, string id) => reconciled.Readings.Single(r => r.Reading.Id == id);

    public static Dual[] Unknowns(ReadOnlySpan<double> values)
    {
        var duals = new Dual[values.Length];
        for (int k = 0; k < duals.Length; k++) duals[k] = Dual.Unknown(k, values[k]);
        return duals;
    }

    private static string FindRoot(string from)
    {
        for (DirectoryInfo? here = new(from); here is not null; here = here.Parent)
            if (File.Exists(Path.Combine(here.FullName, "Sparewright.slnx"))) return here.FullName;
        throw new InvalidOperationException("the tests do not lie in the repository");
    }
}
