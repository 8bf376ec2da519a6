using Sparewright.Measure.Numbers;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Sizes;
using Sparewright.Solid;
using Sparewright.Strength.Cases;
using Sparewright.Strength.Loads;
using Xunit;

[assembly: AssemblyFixture(typeof(Sparewright.Strength.Tests.Bench))]

namespace Sparewright.Strength.Tests;

/// <summary>A job's part as it comes from the kernel worker, at the values that its sizes are about.</summary>
internal sealed record BuiltPart(Job Job, IReadOnlyDictionary<string, Dual> Sizes, ExactSolid Solid, Mesh Mesh)
{
    /// <summary>The part cut into so many cells, and its first load on it.</summary>
    public (PartUnderLoad Under, SolidLoadCase Case) InCells(int cells)
    {
        var under = new PartUnderLoad(Mesh, Solid.Faces, Solid.VolumeMm3, cells);
        var (@case, problems) = new LoadsOnSolid(Job, Sizes, Solid.Faces, Mesh, under.CellMm / 2, 1.2).Of(Job.Loads[0]);
        Assert.Empty(problems);
        return (under, @case!);
    }
}

/// <summary>One warm kernel worker for all tests that need a real part.</summary>
public sealed class Bench : IAsyncLifetime
{
    private KernelWorker _worker = null!;

    public ValueTask InitializeAsync()
    {
        _worker = new KernelWorker(KernelProgram.Find().OrThrow(), new WorkerLimits { PerRequest = TimeSpan.FromMinutes(5), ToStart = TimeSpan.FromMinutes(2) });
        return ValueTask.CompletedTask;
    }

    public ValueTask DisposeAsync() => _worker.DisposeAsync();

    internal async Task<BuiltPart> BuildAsync(string text)
    {
        JobReading reading = JobFile.Read(text);
        Job job = reading.Job ?? throw new InvalidOperationException(string.Join('\n', reading.Problems.Select(p => p.In("test"))));
        var sizes = job.Sizes.At([.. job.Sizes.Free.Select(s => s.Given switch
        {
            Given.About about => about.Value,
            Given.Likely likely => likely.Value,
            _ => throw new InvalidOperationException($"{s.Name} is about nothing"),
        })]);
        PlacedShape shape = ShapePlacer.Place(job.Shape, sizes);
        Assert.Empty(shape.Problems);
        CancellationToken cancel = TestContext.Current.CancellationToken;
        ExactSolid solid = (await _worker.BuildAsync(Recipe.Of(shape).OrThrow(), cancel: cancel)).OrThrow();
        return new(job, sizes, solid, (await solid.MeshAsync(cancel: cancel)).OrThrow());
    }

    internal async Task<BuiltPart> ExampleAsync(string name) => await BuildAsync(await File.ReadAllTextAsync(Path.Combine(Root, "examples", name, "job.yaml"), TestContext.Current.CancellationToken));

    internal static string Root
    {
        get
        {
            for (DirectoryInfo? here = new(AppContext.BaseDirectory); here is not null; here = here.Parent)
                if (File.Exists(Path.Combine(here.FullName, "Sparewright.slnx"))) return here.FullName;
            throw new InvalidOperationException("the tests do not lie in the repository");
        }
    }
}
