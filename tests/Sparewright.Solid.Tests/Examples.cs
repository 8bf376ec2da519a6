using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Sizes;
using Xunit;

namespace Sparewright.Solid.Tests;

/// <summary>The jobs of the repository's examples, every size set free: also those that the job binds.</summary>
internal sealed class Example
{
    private Example(Job job)
    {
        Job = job;
        About = [.. job.Sizes.Free.Select(s => s.Given switch
        {
            Given.About about => about.Value,
            Given.Likely likely => likely.Value,
            _ => throw new InvalidOperationException($"the example says nothing about {s.Name}"),
        })];
        Readings = [.. job.Readings.OfType<CaliperReading>().Select(r => new ObservedReading(r, r.ReadsMm.Average()))];
    }

    public Job Job { get; }

    /// <summary>What the job says about each free size.</summary>
    public double[] About { get; }

    public IReadOnlyList<ObservedReading> Readings { get; }

    public static TheoryData<string> Names => [.. Directory.GetDirectories(Path.Combine(RepositoryRoot(), "examples")).Select(d => Path.GetFileName(d)).Order(StringComparer.Ordinal)];

    public static Example Read(string name)
    {
        JobReading reading = JobFile.ReadFile(Path.Combine(RepositoryRoot(), "examples", name, "job.yaml"));
        Job job = reading.Job ?? throw new InvalidOperationException(string.Join('\n', reading.Problems.Select(p => p.In(name))));
        return new(job with { Sizes = new SizeTable([.. job.Sizes.All.Select(s => s.Given is Given.Fixed bound ? s with { Given = new Given.About(bound.Value) } : s)]) });
    }

    public PlacedShape At(double[] free) => Shapes.Placed(Job, free);

    public static string RepositoryRoot()
    {
        for (DirectoryInfo? here = new(AppContext.BaseDirectory); here is not null; here = here.Parent)
            if (File.Exists(Path.Combine(here.FullName, "Sparewright.slnx"))) return here.FullName;
        throw new InvalidOperationException("the tests do not lie in the repository");
    }
}

/// <summary>Many draws over two workers.</summary>
internal static class TwoWorkers
{
    /// <summary>Does the draws 0 … count − 1, each on whichever worker is free; the results in the order of the draws.</summary>
    public static async Task<T[]> DrawAsync<T>(int count, Func<KernelWorker, int, Task<T>> draw)
    {
        var results = new T[count];
        int next = -1;
        await Task.WhenAll(Enumerable.Range(0, 2).Select(_ => Task.Run(async () =>
        {
            await using KernelWorker worker = Workers.Fresh();
            for (int k = Interlocked.Increment(ref next); k < count; k = Interlocked.Increment(ref next)) results[k] = await draw(worker, k);
        })));
        return results;
    }
}
