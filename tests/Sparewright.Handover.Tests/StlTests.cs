using System.Buffers.Binary;
using System.Text;
using CsCheck;
using Sparewright.Handover.Files;
using Sparewright.Handover.PrintFiles;
using Sparewright.Solid;
using Xunit;

namespace Sparewright.Handover.Tests;

public sealed class StlTests
{
    [Fact]
    public void A_file_is_84_bytes_and_50_for_each_triangle()
    {
        // Length from the format itself: 80-byte header, uint32 count, 50 bytes a facet.
        byte[] file = Written(Shapes.Ring(9, 5, 12, 48), "ring");
        Assert.Equal(84 + 50 * 8 * 48, file.Length);
        Assert.StartsWith("Sparewright, mm, ring", Encoding.ASCII.GetString(file, 0, 80), StringComparison.Ordinal);
    }

    [Fact]
    public void A_remark_longer_than_the_header_or_outside_ascii_changes_nothing_else()
    {
        byte[] file = Written(Shapes.Box(1, 2, 3), new string('ß', 200));
        Assert.Equal(84 + 50 * 12, file.Length);
        Assert.Equal(12u, BinaryPrimitives.ReadUInt32LittleEndian(file.AsSpan(80)));
    }

    [Fact]
    public void What_is_written_is_read_back() =>
        Gen.Select(Gen.Double[0.5, 200], Gen.Double[0.1, 0.9], Gen.Double[0.1, 300], Gen.Int[3, 60]).Sample((outer, share, tall, sides) =>
        {
            var ring = Shapes.Ring(outer, outer * share, tall, sides);
            Assert.True(Stl.TryRead(Written(ring, "ring"), out var shape, out _));
            var surface = Assert.Single(shape.Surfaces);
            Assert.Null(surface.FirstFault());
            Assert.Equal(ring.PointCount, surface.Points.Length / 3);
            Assert.InRange(shape.VolumeMm3 / ring.VolumeMm3(), 1 - 1e-4, 1 + 1e-4);
        }, iter: 200);

    [Fact]
    public void Normals_point_outward()
    {
        byte[] file = Written(Shapes.Box(1, 2, 3), "box");
        // The first triangle lies in the bottom.
        Assert.Equal(-1f, BinaryPrimitives.ReadSingleLittleEndian(file.AsSpan(84 + 8)));
    }

    [Fact]
    public void A_surface_that_single_precision_flattens_is_refused()
    {
        using var stream = new MemoryStream();
        var problem = Stl.Write(stream, Shapes.Box(1, 1, 1e-5, z: 1000), "thin");
        Assert.Contains("cannot be written as STL", problem!.What, StringComparison.Ordinal);
        Assert.Equal(0, stream.Length);
    }

    [Theory]
    [InlineData("short", "too short")]
    [InlineData("cut", "12 triangles, which takes 684 bytes, but it has 683")]
    [InlineData("text", "in its text form")]
    [InlineData("nothing", "holds no triangles")]
    [InlineData("not a number", "not a finite number")]
    [InlineData("huge count", "4294967295 triangles")]
    public void A_broken_file_is_refused(string fault, string why)
    {
        byte[] file = Written(Shapes.Box(1, 2, 3), "box");
        switch (fault)
        {
            case "short": file = file[..83]; break;
            case "cut": file = file[..^1]; break;
            case "text": file = Encoding.ASCII.GetBytes("solid part\nfacet normal 0 0 1\n" + new string(' ', 100)); break;
            case "nothing": file = new byte[84]; break;
            case "not a number": BinaryPrimitives.WriteSingleLittleEndian(file.AsSpan(84 + 12), float.NaN); break;
            case "huge count": BinaryPrimitives.WriteUInt32LittleEndian(file.AsSpan(80), uint.MaxValue); break;
        }

        Assert.False(Stl.TryRead(file, out _, out var problem));
        Assert.Contains(why, problem.What, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Vent knuckle", "vent-knuckle_as-measured_mm.stl")]
    [InlineData("Bügel  №3 / links", "bugel-3-links_as-measured_mm.stl")]
    [InlineData("../..", "part_as-measured_mm.stl")]
    public void The_file_name_carries_the_unit_and_the_state(string part, string name) =>
        Assert.Equal(name, FileNames.ForStl(part, "as measured"));

    internal static byte[] Written(Mesh mesh, string remark)
    {
        using var stream = new MemoryStream();
        Assert.Null(Stl.Write(stream, mesh, remark));
        return stream.ToArray();
    }
}
