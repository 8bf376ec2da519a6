using System.Diagnostics;
using Xunit;

namespace Sparewright.Solid.Tests;

public class KeptSolidTests(WarmWorker warm)
{
    private const string Three = Shapes.Block + "\n" + """
          - boss: stud
            stands_on: slab.top
            at: [5, 5]
            diameter: 6
            height: 4
          - hole: bore
            from: slab.top
            at: [15, 5]
            diameter: d
            through: slab
        """;

    [Fact]
    public async Task Only_the_features_from_the_first_change_on_are_built_again()
    {
        await using KernelWorker worker = Workers.Fresh();
        ExactSolid first = (await worker.BuildAsync(Shapes.RecipeOf(Three, ("d", 3)))).OrThrow();
        Assert.Equal([false, false, false], first.Features.Select(f => f.FromCache));
        ExactSolid second = (await worker.BuildAsync(Shapes.RecipeOf(Three, ("d", 3.1)))).OrThrow();
        Assert.Equal([true, true, false], second.Features.Select(f => f.FromCache));
        Assert.Equal(["slab", "stud", "bore"], second.Features.Select(f => f.Name));
        ExactSolid again = (await worker.BuildAsync(Shapes.RecipeOf(Three, ("d", 3)))).OrThrow();
        Assert.All(again.Features, f => Assert.True(f.FromCache));
        Assert.Equal(first.Key, again.Key);
        Assert.Equal(first.VolumeMm3, again.VolumeMm3);
    }

    [Fact]
    public async Task A_solid_outlives_its_worker()
    {
        await using KernelWorker worker = Workers.Fresh();
        ExactSolid solid = (await worker.BuildAsync(Shapes.RecipeOf(Three, ("d", 3)))).OrThrow();
        Mesh before = (await solid.MeshAsync(0.05)).OrThrow();
        Process.GetProcessById(worker.ProcessId!.Value).Kill();
        Mesh after = (await solid.MeshAsync(0.05)).OrThrow();
        Assert.Equal(before.Points, after.Points);
        Assert.Equal(before.Triangles, after.Triangles);
    }

    [Fact]
    public async Task Progress_names_every_feature_in_order()
    {
        await using KernelWorker worker = Workers.Fresh();
        var heard = new Heard();
        (await worker.BuildAsync(Shapes.RecipeOf(Three, ("d", 3)), progress: heard)).OrThrow();
        Assert.Equal(["slab", "stud", "bore"], heard.Said.Select(p => p.Feature).Where(f => f is not null).Distinct());
        Assert.All(heard.Said, p => Assert.InRange(p.Fraction, 0, 1));
        Assert.Equal(heard.Said.Select(p => p.Fraction).Order(), heard.Said.Select(p => p.Fraction));
    }

    [Fact]
    public async Task The_face_table_is_the_same_each_time()
    {
        await using KernelWorker worker = Workers.Fresh();
        string[] here = [.. (await worker.BuildAsync(Shapes.RecipeOf(Three, ("d", 3)))).OrThrow().Faces.Select(f => string.Join(' ', f.Names))];
        string[] there = [.. (await warm.BuildAsync(Three, ("d", 3))).Faces.Select(f => string.Join(' ', f.Names))];
        Assert.Equal(here, there);
    }

    private sealed class Heard : IProgress<SolidProgress>
    {
        public List<SolidProgress> Said { get; } = [];

        public void Report(SolidProgress value) => Said.Add(value);
    }
}
