using System.Buffers.Binary;
using System.Text;
using SkiaSharp;
using Sparewright.Handover.Files;
using Sparewright.Handover.Photographs;
using Xunit;

namespace Sparewright.Handover.Tests;

public sealed class PhotographTests
{
    private const string Secret = "51 deg north, camera of somebody";

    /// <summary>Which colours stand at the upper left and upper right of the picture as it is to be looked at, for each way of holding the camera (CIPA DC-008, Orientation).</summary>
    public static TheoryData<int, string, string> Orientations => new()
    {
        { 1, "red", "green" }, { 2, "green", "red" }, { 3, "white", "blue" }, { 4, "blue", "white" },
        { 5, "red", "blue" }, { 6, "blue", "red" }, { 7, "white", "green" }, { 8, "green", "white" },
    };

    [Theory]
    [MemberData(nameof(Orientations))]
    public void A_photograph_is_turned_as_it_was_held_and_tells_nothing_else(int orientation, string upperLeft, string upperRight)
    {
        byte[] file = WithExif(Picture(SKEncodedImageFormat.Jpeg), orientation);
        Assert.Contains(Secret, Encoding.Latin1.GetString(file), StringComparison.Ordinal);
        Assert.True(CleanPhotograph.TryRead(file, out CleanPhotograph? clean, out var problem), problem?.What);
        Assert.DoesNotContain(Secret, Encoding.Latin1.GetString(clean.Content), StringComparison.Ordinal);
        Assert.DoesNotContain("Exif", Encoding.Latin1.GetString(clean.Content), StringComparison.Ordinal);
        Assert.Equal(orientation < 5 ? (64, 32) : (32, 64), (clean.WidthPx, clean.HeightPx));
        using SKBitmap picture = SKBitmap.Decode(clean.Content);
        Assert.Equal((clean.WidthPx, clean.HeightPx), (picture.Width, picture.Height));
        Assert.Equal((upperLeft, upperRight), (Colour(picture.GetPixel(2, 2)), Colour(picture.GetPixel(picture.Width - 3, 2))));
    }

    [Theory]
    [InlineData(SKEncodedImageFormat.Png, "image/png", ".png")]
    [InlineData(SKEncodedImageFormat.Jpeg, "image/jpeg", ".jpg")]
    [InlineData(SKEncodedImageFormat.Webp, "image/jpeg", ".jpg")]
    public void The_three_kinds_are_read_and_what_is_written_is_bare(SKEncodedImageFormat format, string mediaType, string ending)
    {
        Assert.True(CleanPhotograph.TryRead(Picture(format), out CleanPhotograph? clean, out _));
        Assert.Equal((mediaType, ending), (clean.MediaType, clean.Ending));
        Assert.True(BarePicture.Is(clean.Content));
        // What we wrote once is left alone ever after.
        Assert.True(CleanPhotograph.TryTake(clean.Content, out CleanPhotograph? again, out _));
        Assert.Equal(clean.Content, again.Content);
        Assert.Equal((64, 32), (again.WidthPx, again.HeightPx));
    }

    [Fact]
    public void A_see_through_picture_stays_so()
    {
        using var bitmap = new SKBitmap(8, 8);
        bitmap.Erase(new SKColor(200, 0, 0, 100));
        using SKData webp = bitmap.Encode(SKEncodedImageFormat.Webp, 100);
        Assert.True(CleanPhotograph.TryRead(webp.ToArray(), out CleanPhotograph? clean, out _));
        Assert.Equal("image/png", clean.MediaType);
        using SKBitmap picture = SKBitmap.Decode(clean.Content);
        Assert.InRange(picture.GetPixel(4, 4).Alpha, 95, 105);
    }

    [Fact]
    public void What_holds_more_than_its_picture_is_not_bare()
    {
        byte[] jpeg = Picture(SKEncodedImageFormat.Jpeg), png = Picture(SKEncodedImageFormat.Png);
        Assert.True(CleanPhotograph.TryRead(png, out CleanPhotograph? cleanPng, out _));
        Assert.True(CleanPhotograph.TryRead(jpeg, out CleanPhotograph? cleanJpeg, out _));
        Assert.False(BarePicture.Is(WithExif(cleanJpeg.Content, 1)));
        Assert.False(BarePicture.Is([.. cleanJpeg.Content, .. "behind the end"u8]));
        Assert.False(BarePicture.Is([.. cleanPng.Content, .. "behind the end"u8]));
        Assert.False(BarePicture.Is(WithChunk(cleanPng.Content, "tEXt", Encoding.ASCII.GetBytes(Secret))));
        Assert.False(BarePicture.Is(WithChunk(cleanPng.Content, "eXIf", Encoding.ASCII.GetBytes(Secret))));
        Assert.True(CleanPhotograph.TryTake(WithChunk(cleanPng.Content, "tEXt", Encoding.ASCII.GetBytes(Secret)), out CleanPhotograph? taken, out _));
        Assert.DoesNotContain(Secret, Encoding.Latin1.GetString(taken.Content), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(30_000, 30_000, "million")]
    [InlineData(6_400, 6_400, "million")]
    public void A_picture_too_large_is_refused_by_its_header(int width, int height, string says)
    {
        byte[] bomb = WithSize(Picture(SKEncodedImageFormat.Png), width, height);
        long before = GC.GetAllocatedBytesForCurrentThread();
        Assert.False(CleanPhotograph.TryRead(bomb, out _, out var problem));
        Assert.Contains(says, problem.What, StringComparison.Ordinal);
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 1 << 20);
    }

    [Fact]
    public void Other_files_and_broken_ones_are_refused()
    {
        foreach (byte[] file in (byte[][])[[], [0x89], "GIF89a"u8.ToArray(), "<svg xmlns='http://www.w3.org/2000/svg'/>"u8.ToArray(), "RIFF____WAVE"u8.ToArray()])
        {
            Assert.False(CleanPhotograph.TryRead(file, out _, out var problem));
            Assert.Contains("no PNG, JPEG or WebP", problem.What, StringComparison.Ordinal);
        }

        foreach (SKEncodedImageFormat format in (SKEncodedImageFormat[])[SKEncodedImageFormat.Png, SKEncodedImageFormat.Jpeg, SKEncodedImageFormat.Webp])
        {
            byte[] whole = Picture(format);
            // Behind the last pixel there are only check sums.
            for (int length = 12; length < whole.Length * 3 / 4; length += Math.Max(1, whole.Length / 40))
            {
                Assert.False(CleanPhotograph.TryTake(whole.AsSpan(0, length), out _, out var problem), $"{format}, {length} of {whole.Length} bytes");
                Assert.NotEmpty(problem.What);
            }
        }

        Assert.False(CleanPhotograph.TryRead(new byte[CleanPhotograph.MostBytes + 1], out _, out var large));
        Assert.Contains("larger than 25 MB", large.What, StringComparison.Ordinal);
    }

    /// <summary>Red upper left, green upper right, blue lower left, white lower right.</summary>
    internal static byte[] Picture(SKEncodedImageFormat format)
    {
        using var bitmap = new SKBitmap(new SKImageInfo(64, 32, SKColorType.Rgba8888, SKAlphaType.Opaque));
        using (var canvas = new SKCanvas(bitmap))
        {
            SKColor[] colours = [SKColors.Red, SKColors.Lime, SKColors.Blue, SKColors.White];
            for (int k = 0; k < 4; k++)
            {
                using var paint = new SKPaint { Color = colours[k] };
                canvas.DrawRect(k % 2 * 32, k / 2 * 16, 32, 16, paint);
            }
        }

        using SKData data = bitmap.Encode(format, 95);
        return data.ToArray();
    }

    /// <summary>The JPEG with a segment of camera data: the orientation, and a description that is a secret.</summary>
    internal static byte[] WithExif(byte[] jpeg, int orientation)
    {
        byte[] secret = Encoding.ASCII.GetBytes(Secret + "\0");
        byte[] tiff =
        [
            .. "MM\0*"u8, 0, 0, 0, 8, 0, 2,
            0x01, 0x0E, 0, 2, 0, 0, 0, (byte)secret.Length, 0, 0, 0, 38,
            0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, (byte)orientation, 0, 0,
            0, 0, 0, 0, .. secret,
        ];
        byte[] content = [.. "Exif\0\0"u8, .. tiff];
        return [0xFF, 0xD8, 0xFF, 0xE1, (byte)((content.Length + 2) >> 8), (byte)(content.Length + 2), .. content, .. jpeg.AsSpan(2)];
    }

    private static byte[] WithChunk(byte[] png, string kind, byte[] content)
    {
        byte[] chunk = [0, 0, (byte)(content.Length >> 8), (byte)content.Length, .. Encoding.ASCII.GetBytes(kind), .. content, 0, 0, 0, 0];
        BinaryPrimitives.WriteUInt32BigEndian(chunk.AsSpan(chunk.Length - 4), Sum(chunk.AsSpan(4, 4 + content.Length)));
        return [.. png.AsSpan(0, 33), .. chunk, .. png.AsSpan(33)];
    }

    /// <summary>The header says another size, and its check sum is right.</summary>
    internal static byte[] WithSize(byte[] png, int width, int height)
    {
        byte[] other = [.. png];
        BinaryPrimitives.WriteInt32BigEndian(other.AsSpan(16), width);
        BinaryPrimitives.WriteInt32BigEndian(other.AsSpan(20), height);
        BinaryPrimitives.WriteUInt32BigEndian(other.AsSpan(29), Sum(other.AsSpan(12, 17)));
        return other;
    }

    private static uint Sum(ReadOnlySpan<byte> bytes)
    {
        var sum = new Crc32();
        sum.Add(bytes);
        return sum.Value;
    }

    private static string Colour(SKColor c) => (c.Red > 128, c.Green > 128, c.Blue > 128) switch
    {
        (true, false, false) => "red",
        (false, true, false) => "green",
        (false, false, true) => "blue",
        (true, true, true) => "white",
        _ => $"{c}",
    };
}
