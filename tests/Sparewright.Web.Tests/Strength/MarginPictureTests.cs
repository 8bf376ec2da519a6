using System.Buffers.Binary;
using Sparewright.Remake.Bearing;
using Sparewright.Solid;
using Sparewright.Strength.Cases;
using Sparewright.Web.Tests.PartView;
using Xunit;

namespace Sparewright.Web.Tests.Strength;

/// <summary>What the margin is shown on: the whole surface and nothing else, in pieces small enough, and how much of it lies in each step.</summary>
public sealed class MarginPictureTests(OpenDoor door) : IClassFixture<OpenDoor>
{
    private const double LongestMm = 1.5;

    [Theory]
    [MemberData(nameof(OpenDoor.Examples), MemberType = typeof(OpenDoor))]
    public void The_surface_is_cut_fine_without_gaining_or_losing_any(string example)
    {
        Mesh mesh = door.Part(example).Mesh;
        MarginSurface surface = MarginSurface.Of(mesh, door.Part(example).Solid.Faces, LongestMm);
        Assert.Equal(AreaOf(mesh.Triangles, p => new(mesh.Points[3 * p], mesh.Points[3 * p + 1], mesh.Points[3 * p + 2])), AreaOf(surface.Triangles, p => surface.Points[p].At), 0.01);
        for (int corner = 0; corner < surface.Triangles.Count; corner++)
        {
            SurfacePoint a = surface.Points[surface.Triangles[corner]], b = surface.Points[surface.Triangles[corner % 3 == 2 ? corner - 2 : corner + 1]];
            Assert.True((b.At - a.At).Length <= LongestMm);
            Assert.Equal(a.Face, b.Face);
        }

        Assert.All(surface.Points, p => Assert.Equal(1, p.Outward.Length, 3));
    }

    [Fact]
    public void Each_step_has_its_share_of_the_surface()
    {
        MarginSurface surface = MarginSurface.Of(door.Part("vent-knuckle").Mesh, door.Part("vent-knuckle").Solid.Faces, LongestMm);
        MarginPicture all = MarginPicture.Of(surface, [.. surface.Points.Select(_ => 1.0)]);
        Assert.Equal([0, 0, 0, 1, 0, 0, 0], all.Shares.Select(s => Math.Round(s, 9)));
        Assert.Equal("1 to 2", MarginPicture.Steps[3]);

        // As the margin grows the surface goes from the first step to the last; what is not judged is a step of its own.
        double[] some = [0.1, 0.3, 0.6, 1.5, 3, 9, double.NaN];
        MarginPicture mixed = MarginPicture.Of(surface, [.. surface.Points.Select((_, k) => some[k % some.Length])]);
        Assert.Equal(1, mixed.Shares.Sum(), 9);
        Assert.All(mixed.Shares, s => Assert.InRange(s, 0.02, 0.6));
        Assert.NotEqual(all.Key, mixed.Key);
        Assert.Equal(all.Key, MarginPicture.Of(surface, [.. surface.Points.Select(_ => 1.0)]).Key);
    }

    [Fact]
    public void The_bytes_are_laid_out_as_the_browser_reads_them()
    {
        MarginSurface surface = MarginSurface.Of(door.Part("vent-knuckle").Mesh, door.Part("vent-knuckle").Solid.Faces, LongestMm);
        double[] margins = [.. surface.Points.Select((_, k) => k + 0.5)];
        ReadOnlySpan<byte> bytes = MarginPicture.Of(surface, margins).Bytes.Span;
        int points = surface.Points.Count, last = points - 1;
        Assert.True(bytes[..4].SequenceEqual("SPF1"u8));
        Assert.Equal(points, BinaryPrimitives.ReadInt32LittleEndian(bytes[4..]));
        Assert.Equal(surface.Triangles.Count / 3, BinaryPrimitives.ReadInt32LittleEndian(bytes[8..]));
        Assert.Equal(12 + 32 * points + 4 * surface.Triangles.Count, bytes.Length);
        Assert.Equal((float)surface.Points[last].At.Z, BinaryPrimitives.ReadSingleLittleEndian(bytes[(12 + 12 * last + 8)..]));
        Assert.Equal((float)surface.Points[last].Outward.X, BinaryPrimitives.ReadSingleLittleEndian(bytes[(12 + 12 * points + 12 * last)..]));
        Assert.Equal(surface.Points[last].Face, BinaryPrimitives.ReadInt32LittleEndian(bytes[(12 + 24 * points + 4 * last)..]));
        Assert.Equal((float)margins[last], BinaryPrimitives.ReadSingleLittleEndian(bytes[(12 + 28 * points + 4 * last)..]));
        Assert.Equal(surface.Triangles[^1], BinaryPrimitives.ReadInt32LittleEndian(bytes[^4..]));
    }

    private static double AreaOf(IReadOnlyList<int> triangles, Func<int, Point3> at) =>
        Enumerable.Range(0, triangles.Count / 3).Sum(t => Point3.Cross(at(triangles[3 * t + 1]) - at(triangles[3 * t]), at(triangles[3 * t + 2]) - at(triangles[3 * t])).Length / 2);
}
