using System.IO.Compression;
using Sparewright.Handover.PrintFiles.ThreeMf;
using Sparewright.Solid;
using Xunit;

namespace Sparewright.Handover.Tests;

public sealed class ThreeMfWriterTests
{
    private static readonly PartLabel Label = new("Test ring", "A ring for the tests.", "ring-1", new DateOnly(2026, 3, 9), "Sparewright 0.1.0", "as measured")
    {
        Designer = "A. Repairer",
        Cautions = ["Keep away from <fire> & water."],
    };

    [Fact]
    public void What_is_written_is_read_back()
    {
        var ring = Shapes.Ring(9, 5, 12.5, 48);
        Assert.True(ThreeMfReader.TryRead(Written(ring), out var shape, out var problem), problem?.What);
        var surface = Assert.Single(shape.Surfaces);
        Assert.Equal(ring.Triangles, surface.Triangles);
        Assert.Null(surface.FirstFault());
        Assert.Equal(ring.VolumeMm3(), shape.VolumeMm3, 1e-4);
        Assert.Equal("Test ring", shape.Metadata["Title"]);
        Assert.Equal("A. Repairer", shape.Metadata["Designer"]);
        Assert.Equal("2026-03-09", shape.Metadata["CreationDate"]);
        Assert.Equal("as measured", shape.Metadata["sw:State"]);
        Assert.Equal("Keep away from <fire> & water.", shape.Metadata["sw:Caution"]);
    }

    [Fact]
    public void The_build_lies_in_the_positive_octant_and_says_how_far_it_was_moved()
    {
        Assert.True(ThreeMfReader.TryRead(Written(Shapes.Box(4, 5, 6, -2.5, 1, -30)), out var shape, out _));
        var points = shape.Surfaces[0].Points;
        Assert.Equal(0.5, points[0], 1e-9);
        Assert.Equal(1, points[1], 1e-9);
        Assert.Equal(0, points[2], 1e-9);
        Assert.Contains("3, 0, 30 mm", shape.Metadata["sw:Moved"], StringComparison.Ordinal);
        Assert.Contains("x=\"-2.5\"", Model(Written(Shapes.Box(4, 5, 6, -2.5, 1, -30))), StringComparison.Ordinal);
    }

    [Fact]
    public void The_same_part_gives_the_same_bytes() =>
        Assert.Equal(Written(Shapes.Ring(9, 5, 12.5, 48)), Written(Shapes.Ring(9, 5, 12.5, 48)));

    [Fact]
    public void Points_closer_than_a_nanometre_stay_apart()
    {
        var box = Shapes.Box(1, 1, 2e-8);
        Assert.True(ThreeMfReader.TryRead(Written(box), out var shape, out var problem), problem?.What);
        Assert.Null(shape.Surfaces[0].FirstFault());
        Assert.Equal(2e-8, shape.VolumeMm3, 1e-12);
    }

    [Theory]
    [InlineData("open", "has a triangle on one side only")]
    [InlineData("inward", "face inward")]
    [InlineData("flat", "has no area")]
    [InlineData("doubled", "two corners in one point")]
    [InlineData("one turned round", "used twice in the same direction")]
    [InlineData("not a number", "not a finite number")]
    public void An_unsound_surface_is_refused(string fault, string why)
    {
        var box = Shapes.Box(1, 2, 3);
        var (points, triangles) = ((double[])box.Points.Clone(), (int[])box.Triangles.Clone());
        switch (fault)
        {
            case "open": triangles = triangles[3..]; break;
            case "inward": Array.Reverse(triangles); break;
            case "flat": points[3 * triangles[0]] = points[3 * triangles[1]]; points[3 * triangles[0] + 1] = points[3 * triangles[1] + 1]; break;
            case "doubled": triangles[1] = triangles[0]; break;
            case "one turned round": (triangles[0], triangles[1]) = (triangles[1], triangles[0]); break;
            case "not a number": points[4] = double.NaN; break;
        }

        using var stream = new MemoryStream();
        var problem = ThreeMfWriter.Write(stream, new Mesh(points, triangles, new int[triangles.Length / 3], 0), Label, []);
        Assert.NotNull(problem);
        Assert.Contains(why, problem.What, StringComparison.Ordinal);
        Assert.Equal(0, stream.Length);
    }

    [Fact]
    public void Letters_that_xml_cannot_hold_do_not_break_the_file()
    {
        using var stream = new MemoryStream();
        Assert.Null(ThreeMfWriter.Write(stream, Shapes.Box(1, 2, 3), Label with { Title = "a\u0001b 🔧" }, []));
        Assert.True(ThreeMfReader.TryRead(stream.ToArray(), out var shape, out _));
        Assert.Equal("a?b 🔧", shape.Metadata["Title"]);
    }

    internal static byte[] Written(Mesh mesh, byte[]? picture = null)
    {
        using var stream = new MemoryStream();
        Assert.Null(ThreeMfWriter.Write(stream, mesh, Label, picture));
        return stream.ToArray();
    }

    private static string Model(byte[] file)
    {
        using var zip = new ZipArchive(new MemoryStream(file));
        using var reader = new StreamReader(zip.GetEntry("3D/3dmodel.model")!.Open());
        return reader.ReadToEnd();
    }
}
