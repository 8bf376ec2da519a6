using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Solid;
using Xunit;

namespace Sparewright.Outside.Solids;

/// <summary>Exact solids and their meshes against values that this project did not make.</summary>
public sealed class SolidsTests : IAsyncLifetime
{
    private KernelWorker _worker = null!;

    public ValueTask InitializeAsync()
    {
        _worker = new KernelWorker(KernelProgram.Find().OrThrow(), new WorkerLimits { PerRequest = TimeSpan.FromMinutes(5), ToStart = TimeSpan.FromMinutes(2) });
        return ValueTask.CompletedTask;
    }

    public ValueTask DisposeAsync() => _worker.DisposeAsync();

    private async Task<ExactSolid> BuildAsync(string features)
    {
        JobReading reading = JobFile.Read($"sparewright: 1\npart: Test piece\ncould_injure: no\nsizes:\n  unused: {{fixed: 1}}\nshape:\n{features}");
        Job job = reading.Job ?? throw new InvalidOperationException(string.Join('\n', reading.Problems.Select(p => p.In("test"))));
        Recipe recipe = Recipe.Of(ShapePlacer.Place(job.Shape, job.Sizes.At([]))).OrThrow();
        return (await _worker.BuildAsync(recipe, cancel: TestContext.Current.CancellationToken)).OrThrow();
    }

    private static async Task<Mesh> MeshAsync(ExactSolid solid, double chordMm, double angleDegrees) =>
        (await solid.MeshAsync(chordMm, angleDegrees, cancel: TestContext.Current.CancellationToken)).OrThrow();

    /// <summary>
    /// A drilled hole that becomes a polygon of n sides loses width: across its flats it measures d·cos(π/n) (elementary geometry).
    /// Values: collected checks, process.md 1.9, computed there: d = 5, n = 16 measures 4.904; n = 32 measures 4.976.
    /// </summary>
    [Theory]
    [InlineData(16, 4.904)]
    [InlineData(32, 4.976)]
    public async Task A_hole_of_5_mm_measures_less_across_the_flats_of_its_polygon(int sides, double acrossFlats)
    {
        ExactSolid solid = await BuildAsync(HoleOf(5));
        // The surface may turn by so much across a side; the library's mesher takes half of what it is allowed.
        Polygon hole = PolygonOf(solid, await MeshAsync(solid, 1, 720.0 / sides + 1e-6));
        Assert.Equal(sides, hole.Sides);
        Assert.Equal(acrossFlats, hole.AcrossFlatsMm, 3);
    }

    /// <summary>A chord error of 0.01 mm on d = 10 needs n ≥ 50 (process.md 1.9, computed there): r(1 − cos(π/n)) ≤ 0.01.</summary>
    [Fact]
    public async Task A_chord_of_a_hundredth_on_10_mm_takes_at_least_50_sides()
    {
        ExactSolid solid = await BuildAsync(HoleOf(10));
        Polygon hole = PolygonOf(solid, await MeshAsync(solid, 0.01, 90));
        Assert.InRange(hole.Sides, 50, 200);
        Assert.InRange(hole.AcrossFlatsMm, 10 - 2 * 0.01, 10);
    }

    /// <summary>Box 10 × 20 × 30: 6000 mm³, 2200 mm²; the same box is a core sample of the 3MF Consortium (collected checks, process.md 7.7, computed there from the sample).</summary>
    [Fact]
    public async Task The_box_of_the_core_samples()
    {
        ExactSolid solid = await BuildAsync("  - block: box\n    long: 10\n    deep: 20\n    tall: 30\n    corner_at: [0, 0, 0]");
        Assert.Equal(6000, solid.VolumeMm3, 6);
        Assert.Equal(2200, solid.AreaMm2, 6);
        Mesh mesh = await MeshAsync(solid, 0.01, 10);
        Assert.Equal(12, mesh.TriangleCount);
        Assert.Equal(6000, mesh.VolumeMm3(), 6);
    }

    /// <summary>Sphere of radius 10: ideal volume 4188.79 mm³ (process.md 7.7). That sample of 2,880 triangles holds 4172.803; a mesh as fine or finer holds more.</summary>
    [Fact]
    public async Task The_sphere_of_the_core_samples()
    {
        ExactSolid solid = await BuildAsync("  - turned_shape: ball\n    outline: {path: [{start: [0, 0]}, {arc_to: [0, 20], through: [10, 10]}]}");
        Assert.Equal(4188.79, solid.VolumeMm3, 2);
        Mesh mesh = await MeshAsync(solid, 0.01, 10);
        Assert.InRange(mesh.VolumeMm3(), 4172.803, 4188.79);
    }

    /// <summary>Ring of round section: volume 2π²Rr², area 4π²Rr, by the theorems of Pappus (from memory). R = 10, r = 3.</summary>
    [Fact]
    public async Task A_torus_by_Pappus()
    {
        ExactSolid solid = await BuildAsync("  - turned_shape: ring\n    outline: {disc: [10, 3], radius: 3}");
        Assert.Equal(1776.529, solid.VolumeMm3, 3);
        Assert.Equal(1184.353, solid.AreaMm2, 3);
        Mesh mesh = await MeshAsync(solid, 0.01, 10);
        Assert.InRange(mesh.VolumeMm3() / solid.VolumeMm3, 0.995, 1);
    }

    private static string HoleOf(int diameter) => $"""
          - block: slab
            long: 30
            deep: 30
            tall: 4
            middle_at: [0, 0, 2]
          - hole: bore
            from: slab.top
            at: [0, 0]
            diameter: {diameter}
            through: slab
        """;

    private readonly record struct Polygon(int Sides, double AcrossFlatsMm);

    /// <summary>The hole about the z axis as the mesh has it: its corners on the bottom, and twice the distance of its nearest side from the axis.</summary>
    private static Polygon PolygonOf(ExactSolid solid, Mesh mesh)
    {
        int wall = Enumerable.Range(0, solid.Faces.Count).Single(f => solid.Faces[f].Names.Contains("bore.wall"));
        var sides = new HashSet<(int, int)>();
        for (int t = 0; t < mesh.TriangleCount; t++)
        {
            if (mesh.FaceOfTriangle[t] != wall) continue;
            for (int k = 0; k < 3; k++)
            {
                int a = mesh.Triangles[3 * t + k], b = mesh.Triangles[3 * t + (k + 1) % 3];
                if (mesh.Points[3 * a + 2] < 1e-9 && mesh.Points[3 * b + 2] < 1e-9) sides.Add((Math.Min(a, b), Math.Max(a, b)));
            }
        }

        double nearest = sides.Min(s => Math.Sqrt(Square((mesh.Points[3 * s.Item1] + mesh.Points[3 * s.Item2]) / 2) + Square((mesh.Points[3 * s.Item1 + 1] + mesh.Points[3 * s.Item2 + 1]) / 2)));
        return new(sides.Count, 2 * nearest);
    }

    private static double Square(double x) => x * x;
}
