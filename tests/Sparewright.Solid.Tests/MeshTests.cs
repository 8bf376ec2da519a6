using Xunit;

namespace Sparewright.Solid.Tests;

public class MeshTests(WarmWorker warm)
{
    /// <summary>Planes, cylinders, cones, a ball's surface and rings of rounds in one part.</summary>
    internal const string Mixed = """
          - plate: foot
            thickness: 5
            outline: {belt: [{disc: [0, -15], radius: 14}, {disc: [0, 15], radius: 16}]}
          - boss: socket
            stands_on: foot.top
            diameter: 17
            top_diameter: 15
            height: 30
          - hole: bore
            from: socket.top
            diameter: 10
            depth: 20
            ends: cone
          - hole: cross
            axis: right
            at: [0, 0, 25]
            diameter: 4
            through: whole part
          - edge_round: rim
            meeting: [foot.top, foot.rim]
            radius: 1.5
          - fillet: root
            meeting: [socket.side, foot.top]
            radius: 2
        """;

    [Theory]
    [InlineData(0.1)]
    [InlineData(0.01)]
    public async Task It_is_closed_outward_and_holds_the_exact_volume(double chordMm)
    {
        ExactSolid solid = await warm.BuildAsync(Mixed);
        Mesh mesh = (await solid.MeshAsync(chordMm)).OrThrow();

        Dictionary<(int, int), int> edges = [];
        for (int t = 0; t < mesh.Triangles.Length; t += 3)
            for (int k = 0; k < 3; k++)
            {
                var edge = (mesh.Triangles[t + k], mesh.Triangles[t + (k + 1) % 3]);
                Assert.NotEqual(edge.Item1, edge.Item2);
                edges[edge] = edges.GetValueOrDefault(edge) + 1;
            }

        // Each edge once in each direction: closed, and all triangles turned the same way.
        Assert.All(edges, e => Assert.Equal((1, 1), (e.Value, edges.GetValueOrDefault((e.Key.Item2, e.Key.Item1)))));
        // Positive: outward. At the chord that files are made with, 0.1 %; at any chord, what fits between chords and round faces.
        double most = chordMm <= 0.01 ? 1e-3 * solid.VolumeMm3 : mesh.WorstChordMm * solid.Faces.Where(f => f.Kind != SurfaceKind.Plane).Sum(f => f.AreaMm2);
        Assert.InRange(mesh.VolumeMm3() - solid.VolumeMm3, -most, most);
        // No point is left over, and none stands twice.
        Assert.Equal(Enumerable.Range(0, mesh.PointCount), mesh.Triangles.Distinct().Order());
        Assert.Equal(mesh.PointCount, mesh.Points.Chunk(3).Select(p => (p[0], p[1], p[2])).Distinct().Count());
        Assert.Equal(mesh.TriangleCount, mesh.FaceOfTriangle.Length);
        Assert.Equal(Enumerable.Range(0, solid.Faces.Count), mesh.FaceOfTriangle.Distinct().Order());
    }

    [Fact]
    public async Task Points_lie_on_their_faces_and_triangles_within_the_stated_chord()
    {
        ExactSolid solid = await warm.BuildAsync(Mixed);
        foreach (double chordMm in (double[])[0.2, 0.05, 0.01])
        {
            Mesh mesh = (await solid.MeshAsync(chordMm, 90)).OrThrow();
            double atPoints = 0, between = 0;
            for (int t = 0; t < mesh.TriangleCount; t++)
            {
                SolidFace face = solid.Faces[mesh.FaceOfTriangle[t]];
                Point3[] p = [.. Enumerable.Range(0, 3).Select(k => At(mesh, mesh.Triangles[3 * t + k]))];
                atPoints = Math.Max(atPoints, p.Max(q => Distance(face, q)));
                Point3[] within = [(p[0] + p[1]) * 0.5, (p[1] + p[2]) * 0.5, (p[2] + p[0]) * 0.5, (p[0] + p[1] + p[2]) * (1.0 / 3)];
                between = Math.Max(between, within.Max(q => Distance(face, q)));
            }

            Assert.InRange(atPoints, 0, 1e-5);
            Assert.InRange(mesh.WorstChordMm, 0, chordMm);
            // What the worker says is what is found here, on other points of the triangles.
            Assert.InRange(between, 0, mesh.WorstChordMm * 1.05 + 1e-9);
        }
    }

    [Fact]
    public async Task Half_the_chord_halves_what_is_missing()
    {
        ExactSolid solid = await warm.BuildAsync(Mixed);
        Mesh coarse = (await solid.MeshAsync(0.02, 90)).OrThrow(), fine = (await solid.MeshAsync(0.01, 90)).OrThrow();
        Assert.True(fine.TriangleCount > coarse.TriangleCount);
        Assert.InRange(fine.WorstChordMm / coarse.WorstChordMm, 0.35, 0.65);
        Assert.InRange((solid.VolumeMm3 - fine.VolumeMm3()) / (solid.VolumeMm3 - coarse.VolumeMm3()), 0.35, 0.65);
    }

    [Fact]
    public async Task The_same_part_gives_the_same_mesh()
    {
        ExactSolid solid = await warm.BuildAsync(Mixed);
        await using KernelWorker other = Workers.Fresh();
        Mesh one = (await solid.MeshAsync(0.05)).OrThrow(), two = (await (await other.BuildAsync(Shapes.RecipeOf(Mixed))).OrThrow().MeshAsync(0.05)).OrThrow();
        Assert.Equal(one.Points, two.Points);
        Assert.Equal(one.Triangles, two.Triangles);
        Assert.Equal(one.FaceOfTriangle, two.FaceOfTriangle);
    }

    private static Point3 At(Mesh mesh, int point) => new(mesh.Points[3 * point], mesh.Points[3 * point + 1], mesh.Points[3 * point + 2]);

    /// <summary>From the exact surface, by the face table.</summary>
    private static double Distance(SolidFace face, Point3 p)
    {
        Point3 from = p - face.Origin;
        double along = Point3.Dot(from, face.Direction), across = (from - face.Direction * along).Length;
        double half = face.HalfAngleDegrees * Math.PI / 180;
        return Math.Abs(face.Kind switch
        {
            SurfaceKind.Plane => along,
            SurfaceKind.Cylinder => across - face.RadiusMm,
            SurfaceKind.Sphere => from.Length - face.RadiusMm,
            SurfaceKind.Cone => (across - Math.Abs(face.RadiusMm + along * Math.Tan(half))) * Math.Cos(half),
            SurfaceKind.Torus => Math.Sqrt((across - face.RadiusMm) * (across - face.RadiusMm) + along * along) - face.MinorRadiusMm,
            _ => throw new InvalidOperationException($"no formula for {face.Kind}"),
        });
    }

    /// <summary>Asked for with other figures the mesh would be laid a second time, for nothing.</summary>
    [Fact]
    public void The_guards_mesh_has_the_same_figures_on_both_sides()
    {
        string guards = File.ReadAllText(Path.Combine(Example.RepositoryRoot(), "kernel", "src", "guards.hpp"));
        Assert.Contains(FormattableString.Invariant($"guardChordMm = {ExactSolid.GuardChordMm}, guardAngleDeg = {ExactSolid.GuardTurnDegrees};"), guards, StringComparison.Ordinal);
    }
}
