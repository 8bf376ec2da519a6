using Xunit;

namespace Sparewright.Solid.Tests;

public sealed class StepTests(WarmWorker warm) : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("sparewright-test-");

    public void Dispose() => _folder.Delete(recursive: true);

    [Theory]
    [InlineData(StepSchema.AP242, "AP242")]
    [InlineData(StepSchema.AP214, "AUTOMOTIVE_DESIGN")]
    public async Task A_hole_comes_back_as_the_exact_cylinder_that_it_was(StepSchema schema, string named)
    {
        ExactSolid solid = await warm.BuildAsync(Shapes.Block + "\n  - hole: bore\n    from: slab.top\n    at: [8, 5]\n    diameter: 4.2\n    through: slab");
        string path = Path.Combine(_folder.FullName, "part.step");
        Assert.Equal(path, (await solid.WriteStepAsync(path, "Test piece", schema)).OrThrow());

        string text = await File.ReadAllTextAsync(path);
        Assert.StartsWith("ISO-10303-21;", text, StringComparison.Ordinal);
        Assert.Contains(named, text, StringComparison.Ordinal);
        Assert.Contains("Test piece", text, StringComparison.Ordinal);

        await using KernelWorker fresh = Workers.Fresh();
        ExactSolid back = (await fresh.ReadStepAsync(path)).OrThrow();
        SolidFace wall = Assert.Single(back.Faces, f => f.Kind == SurfaceKind.Cylinder);
        Assert.Equal(2.1, wall.RadiusMm);
        Assert.False(wall.Bulges);
        Assert.InRange(back.VolumeMm3 / solid.VolumeMm3 - 1, -1e-6, 1e-6);
        Assert.Equal(solid.Faces.Count, back.Faces.Count);
    }

    [Fact]
    public async Task Every_kind_of_surface_survives_the_round_trip()
    {
        ExactSolid solid = await warm.BuildAsync(MeshTests.Mixed);
        string path = Path.Combine(_folder.FullName, "part.step");
        (await solid.WriteStepAsync(path, "Mixed")).OrThrow();
        ExactSolid back = (await warm.Worker.ReadStepAsync(path)).OrThrow();
        Assert.Equal(solid.Faces.Select(f => f.Kind).Order(), back.Faces.Select(f => f.Kind).Order());
        Assert.InRange(back.VolumeMm3 / solid.VolumeMm3 - 1, -1e-6, 1e-6);
        Assert.True((await back.MeshAsync(0.05)).IsGood);
    }

    [Theory]
    [InlineData("this is no STEP file")]
    [InlineData("ISO-10303-21;\nHEADER;\nENDSEC;\nDATA;\nENDSEC;\nEND-ISO-10303-21;\n")]
    public async Task What_is_no_STEP_file_is_an_error_and_the_worker_lives_on(string content)
    {
        string path = Path.Combine(_folder.FullName, "bad.step");
        await File.WriteAllTextAsync(path, content);
        Assert.NotNull((await warm.Worker.ReadStepAsync(path)).Problem);
        Assert.NotNull((await warm.Worker.ReadStepAsync(Path.Combine(_folder.FullName, "gone.step"))).Problem);
        await warm.BuildAsync(Shapes.Block);
    }

    [Fact]
    public async Task A_path_that_cannot_be_written_is_an_error()
    {
        ExactSolid solid = await warm.BuildAsync(Shapes.Block);
        Assert.NotNull((await solid.WriteStepAsync(Path.Combine(_folder.FullName, "no such folder", "part.step"), "Test piece")).Problem);
    }
}
