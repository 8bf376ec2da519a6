using System.Runtime.InteropServices;
using Sparewright.Handover.Picture;
using Sparewright.Measure.Quantities;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Readings;
using Sparewright.Remake.Live;
using Sparewright.Solid;
using Xunit;

namespace Sparewright.Web.Tests.PartView;

/// <summary>What the picture is made of, held against the exact solid of both examples.</summary>
public class PartInViewTests(OpenDoor door) : IClassFixture<OpenDoor>
{
    public static TheoryData<string> Examples => OpenDoor.Examples;

    [Theory]
    [MemberData(nameof(Examples))]
    public void Points_bear_the_normals_of_their_own_face(string example)
    {
        DisplayMesh mesh = DisplayMesh.Of(door.Part(example));
        for (int t = 0; t < mesh.FaceOfTriangle.Count; t++)
        {
            Point3 a = Triple(mesh.Points, mesh.Triangles[3 * t]), b = Triple(mesh.Points, mesh.Triangles[3 * t + 1]), c = Triple(mesh.Points, mesh.Triangles[3 * t + 2]);
            Point3 flat = Point3.Cross(b - a, c - a);
            SurfaceKind kind = door.Part(example).Solid.Faces[mesh.FaceOfTriangle[t]].Kind;
            // A sliver has hardly a direction of its own.
            if (flat.Length < 1e-4) continue;
            for (int corner = 0; corner < 3; corner++)
            {
                Point3 normal = Triple(mesh.Normals, mesh.Triangles[3 * t + corner]);
                Assert.Equal(1, normal.Length, 1e-5);
                double agreement = Point3.Dot(normal, flat) / flat.Length;
                Assert.True(agreement > (kind == SurfaceKind.Plane ? 0.9999 : 0.8), $"triangle {t} of a {kind}: {agreement}");
            }
        }
    }

    [Theory]
    [MemberData(nameof(Examples))]
    public void Edges_run_where_faces_meet(string example)
    {
        PartInView part = door.Part(example);
        DisplayMesh mesh = DisplayMesh.Of(part);
        // Every edge between two faces of the mesh is a line of the drawing, sharp or smooth, and nothing else is.
        var faces = new Dictionary<(int, int), List<int>>();
        for (int corner = 0; corner < part.Mesh.Triangles.Length; corner++)
        {
            int a = part.Mesh.Triangles[corner], b = part.Mesh.Triangles[corner % 3 == 2 ? corner - 2 : corner + 1];
            (int, int) key = (Math.Min(a, b), Math.Max(a, b));
            if (!faces.TryGetValue(key, out List<int>? beside)) faces[key] = beside = [];
            beside.Add(part.Mesh.FaceOfTriangle[corner / 3]);
        }

        Assert.Equal(faces.Values.Count(f => f.Distinct().Count() == 2), (mesh.SharpEdges.Count + mesh.SmoothEdges.Count) / 2);
        Assert.NotEmpty(mesh.SharpEdges);
        Assert.NotEmpty(mesh.SmoothEdges);
        Assert.NotEmpty(mesh.TurningEdges);
    }

    [Fact]
    public void A_mesh_goes_over_the_wire_in_full()
    {
        DisplayMesh mesh = DisplayMesh.Of(door.Part("vent-knuckle"));
        byte[] bytes = mesh.ToBytes();
        Assert.Equal("SPM1"u8.ToArray(), bytes[..4]);
        ReadOnlySpan<int> counts = MemoryMarshal.Cast<byte, int>(bytes.AsSpan(4, 20));
        Assert.Equal([mesh.Points.Count / 3, mesh.FaceOfTriangle.Count, mesh.SharpEdges.Count / 2, mesh.SmoothEdges.Count / 2, mesh.TurningEdges.Count / 4], counts.ToArray());
        Assert.Equal(mesh.Points, MemoryMarshal.Cast<byte, float>(bytes.AsSpan(24, 4 * mesh.Points.Count)).ToArray());
        Assert.Equal(mesh.TurningEdges, MemoryMarshal.Cast<byte, int>(bytes.AsSpan(bytes.Length - 4 * mesh.TurningEdges.Count)).ToArray());
    }

    [Theory]
    [MemberData(nameof(Examples))]
    public void The_dimension_of_every_reading_is_as_long_as_the_reading_and_ends_on_its_faces(string example)
    {
        PartInView part = door.Part(example);
        foreach (CaliperReading reading in part.Reconciled.Readings.Select(r => r.Reading).OfType<CaliperReading>())
        {
            LinearDimension shown = DimensionsInView.Reading(part, reading)!;
            double value = CaliperGeometry.Of(reading, part.Reconciled.Shape).Mm!.Value.Value;
            Assert.Equal(value, Point3.Dot(shown.To - shown.From, shown.Along), 1e-6);
            foreach (var (name, at) in new[] { (reading.First.Text, shown.From), ((reading.Second ?? reading.First).Text, shown.To) })
            {
                double away = Away(part, name, at);
                // The display mesh lies up to 0.05 mm from the surface.
                Assert.True(away < 0.1, $"{reading.Id}: the jaw on {name} stands {away:0.00} mm beside it");
            }
        }
    }

    [Theory]
    [MemberData(nameof(Examples))]
    public void The_words_tell_every_name_and_every_reading(string example)
    {
        PartInView part = door.Part(example);
        IReadOnlyList<FaceInWords> words = FaceInWords.AllOf(part);
        Assert.Equal(part.Solid.Faces.Count, words.Count);
        for (int k = 0; k < words.Count; k++)
        {
            Assert.Equal(k, words[k].Number);
            Assert.Equal(part.Solid.Faces[k].Names, words[k].Names);
            Assert.NotEqual("", words[k].Sizes);
        }

        foreach (CaliperReading reading in part.Reconciled.Readings.Select(r => r.Reading).OfType<CaliperReading>())
            foreach (string element in new[] { reading.First.Text, (reading.Second ?? reading.First).Text })
                Assert.Contains(words, w => w.Answers(element) && w.Readings.Any(r => r.Reading.Id == reading.Id));
    }

    [Fact]
    public void A_round_face_is_told_with_its_diameter_and_how_sure_it_is()
    {
        PartInView part = door.Part("vent-knuckle");
        FaceInWords bore = FaceInWords.AllOf(part).Single(f => f.Names.Contains("bore.wall"));
        var size = part.Reconciled.Sizes.Single(s => s.Name == "bore_d");
        Assert.Equal("round, hollow", bore.Kind);
        Assert.Equal($"⌀{size.Estimate:0.00} ±{(size.High95 - size.Low95) / 2:0.00} mm", bore.Sizes);
        Assert.Contains(bore.Readings, r => r.Reading.Id == "r3");
        Assert.Contains("54.0 mm from front to back", PartInWords.Of(part));
        Assert.Contains("2.13 in from front to back", PartInWords.Of(part, LengthUnit.Inch));
        Assert.All(FaceInWords.AllOf(part, LengthUnit.Inch), face => Assert.DoesNotContain("mm", face.Sizes, StringComparison.Ordinal));
        Assert.StartsWith("⌀0.4", FaceInWords.AllOf(part, LengthUnit.Inch).Single(f => f.Names.Contains("bore.wall")).Sizes, StringComparison.Ordinal);
        Assert.All(DimensionsInView.Sizes(part, LengthUnit.Inch), d => Assert.EndsWith(" in", d.Text, StringComparison.Ordinal));
    }

    [Fact]
    public void An_element_is_answered_by_its_faces_alone()
    {
        var face = new FaceInWords(0, ["foot.rim", "foot.rim#3"], "flat", "", []);
        Assert.True(face.Answers("foot.rim"));
        Assert.True(face.Answers("foot.rim#3"));
        Assert.True(face.Answers("foot"));
        Assert.False(face.Answers("foot.rim#2"));
        Assert.False(face.Answers("foot.ri"));
        Assert.False(face.Answers("fo"));
        Assert.Equal("foot.rim#3", face.Title);
    }

    private static double Away(PartInView part, string name, Point3 at)
    {
        HashSet<int> faces = [.. part.Solid.Faces.Index().Where(f => f.Item.Bears(name)).Select(f => f.Index)];
        double least = double.PositiveInfinity;
        for (int t = 0; t < part.Mesh.TriangleCount; t++)
        {
            if (faces.Contains(part.Mesh.FaceOfTriangle[t]))
                least = Math.Min(least, FromTriangle(at, Of(part.Mesh.Triangles[3 * t]), Of(part.Mesh.Triangles[3 * t + 1]), Of(part.Mesh.Triangles[3 * t + 2])));
        }

        return least;

        Point3 Of(int p) => new(part.Mesh.Points[3 * p], part.Mesh.Points[3 * p + 1], part.Mesh.Points[3 * p + 2]);
    }

    private static double FromTriangle(Point3 p, Point3 a, Point3 b, Point3 c)
    {
        Point3 n = Point3.Cross(b - a, c - a);
        if (n.Length > 1e-12)
        {
            n *= 1 / n.Length;
            bool inside = new[] { (a, b), (b, c), (c, a) }.All(e => Point3.Dot(Point3.Cross(e.Item2 - e.Item1, p - e.Item1), n) >= 0);
            if (inside) return Math.Abs(Point3.Dot(p - a, n));
        }

        return new[] { (a, b), (b, c), (c, a) }.Min(e =>
        {
            Point3 along = e.Item2 - e.Item1;
            double length2 = Point3.Dot(along, along), t = length2 < 1e-18 ? 0 : Math.Clamp(Point3.Dot(p - e.Item1, along) / length2, 0, 1);
            return (p - e.Item1 - along * t).Length;
        });
    }

    private static Point3 Triple(IReadOnlyList<float> of, int k) => new(of[3 * k], of[3 * k + 1], of[3 * k + 2]);
}
