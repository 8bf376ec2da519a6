using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using SkiaSharp;
using Sparewright.Part;

namespace Sparewright.Handover.Photographs;

/// <summary>A photograph that holds the picture and nothing else: no place, no time, no camera, no thumbnail of what was cut off.</summary>
/// <param name="MediaType">image/png or image/jpeg.</param>
public sealed record CleanPhotograph(byte[] Content, string MediaType, int WidthPx, int HeightPx)
{
    public const int MostBytes = 25_000_000;
    public const int MostPixels = 40_000_000;

    private const int JpegQuality = 92;

    private static readonly Problem Broken = new(Place.None, "the picture is damaged or not complete", "take it from the camera again");

    /// <summary>How the file's name ends.</summary>
    public string Ending => MediaType == "image/png" ? ".png" : ".jpg";

    /// <summary>
    /// Reads a PNG, JPEG or WebP file that anybody may have made: kind and size are looked at before anything is decoded; then it is decoded, turned the way it was held, and written anew.
    /// </summary>
    public static bool TryRead(ReadOnlySpan<byte> file, [NotNullWhen(true)] out CleanPhotograph? photograph, [NotNullWhen(false)] out Problem? problem)
    {
        photograph = null;
        using SKCodec? codec = Open(file, out SKData? data, out problem);
        using (data)
        {
            if (codec is not null && (photograph = Anew(codec)) is null) problem = Broken;
            return problem is null && photograph is not null;
        }
    }

    /// <summary>The same, but a file that holds nothing besides its picture is left byte for byte as it is.</summary>
    public static bool TryTake(ReadOnlySpan<byte> file, [NotNullWhen(true)] out CleanPhotograph? photograph, [NotNullWhen(false)] out Problem? problem)
    {
        if (!BarePicture.Is(file)) return TryRead(file, out photograph, out problem);
        photograph = null;
        using SKCodec? codec = Open(file, out SKData? data, out problem);
        using (data)
        {
            if (codec is not null) photograph = new CleanPhotograph(file.ToArray(), MediaTypeOf(codec.EncodedFormat), codec.Info.Width, codec.Info.Height);
            return problem is null && photograph is not null;
        }
    }

    private static string MediaTypeOf(SKEncodedImageFormat format) => format is SKEncodedImageFormat.Png ? "image/png" : "image/jpeg";

    /// <summary>The decoder, after the header has been looked at, or the problem; the data must outlive it.</summary>
    private static SKCodec? Open(ReadOnlySpan<byte> file, out SKData? data, out Problem? problem)
    {
        data = null;
        problem = null;
        if (file.Length > MostBytes) problem = new(Place.None, $"the photograph is larger than {MostBytes / 1_000_000} MB", "have the camera or an image program make it smaller");
        SKEncodedImageFormat? kind = KindByItsFirstBytes(file);
        if (kind is null) problem ??= new(Place.None, "this is no PNG, JPEG or WebP picture", "save the photograph as one of these");
        if (problem is not null) return null;

        data = SKData.CreateCopy(file);
        SKCodec? codec = SKCodec.Create(data);
        if (codec is null || codec.EncodedFormat != kind || codec.Info.Width < 1 || codec.Info.Height < 1)
            problem = Broken;
        else if ((long)codec.Info.Width * codec.Info.Height > MostPixels)
            problem = new(Place.None, string.Create(CultureInfo.InvariantCulture, $"the photograph has {codec.Info.Width} × {codec.Info.Height} pixels, more than {MostPixels / 1_000_000} million"), "have the camera or an image program make it smaller");
        if (problem is null) return codec;
        codec?.Dispose();
        return null;
    }

    private static SKEncodedImageFormat? KindByItsFirstBytes(ReadOnlySpan<byte> file) =>
        file.StartsWith((ReadOnlySpan<byte>)[0x89, (byte)'P', (byte)'N', (byte)'G', 0x0D, 0x0A, 0x1A, 0x0A]) ? SKEncodedImageFormat.Png
        : file.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xD8, 0xFF]) ? SKEncodedImageFormat.Jpeg
        : file.Length >= 12 && file.StartsWith("RIFF"u8) && file[8..].StartsWith("WEBP"u8) ? SKEncodedImageFormat.Webp
        : null;

    private static CleanPhotograph? Anew(SKCodec codec)
    {
        bool isOpaque = codec.Info.AlphaType == SKAlphaType.Opaque;
        using SKColorSpace sRgb = SKColorSpace.CreateSrgb();
        var info = new SKImageInfo(codec.Info.Width, codec.Info.Height, SKColorType.Rgba8888, isOpaque ? SKAlphaType.Opaque : SKAlphaType.Premul, sRgb);
        using var held = new SKBitmap();
        if (!held.TryAllocPixels(info) || codec.GetPixels(info, held.GetPixels()) != SKCodecResult.Success) return null;
        using SKBitmap? turned = Turned(held, codec.EncodedOrigin);
        using SKPixmap pixels = (turned ?? held).PeekPixels();
        // Everybody takes a picture without a colour space for sRGB, which it is now; with one the file would hold a profile.
        using SKPixmap bare = pixels.WithColorSpace(null!);
        SKEncodedImageFormat format = codec.EncodedFormat is SKEncodedImageFormat.Png || !isOpaque ? SKEncodedImageFormat.Png : SKEncodedImageFormat.Jpeg;
        using SKData? written = bare.Encode(format, JpegQuality);
        return written is null ? null : new CleanPhotograph(written.ToArray(), MediaTypeOf(format), bare.Width, bare.Height);
    }

    /// <summary>The picture as it is to be looked at, null when it is so already; the eight ways to hold a camera are those of EXIF (CIPA DC-008, tag 0x0112).</summary>
    private static SKBitmap? Turned(SKBitmap held, SKEncodedOrigin origin)
    {
        float w = held.Width, h = held.Height;
        SKMatrix? turn = origin switch
        {
            SKEncodedOrigin.TopRight => new SKMatrix(-1, 0, w, 0, 1, 0, 0, 0, 1),
            SKEncodedOrigin.BottomRight => new SKMatrix(-1, 0, w, 0, -1, h, 0, 0, 1),
            SKEncodedOrigin.BottomLeft => new SKMatrix(1, 0, 0, 0, -1, h, 0, 0, 1),
            SKEncodedOrigin.LeftTop => new SKMatrix(0, 1, 0, 1, 0, 0, 0, 0, 1),
            SKEncodedOrigin.RightTop => new SKMatrix(0, -1, h, 1, 0, 0, 0, 0, 1),
            SKEncodedOrigin.RightBottom => new SKMatrix(0, -1, h, -1, 0, w, 0, 0, 1),
            SKEncodedOrigin.LeftBottom => new SKMatrix(0, 1, 0, -1, 0, w, 0, 0, 1),
            _ => null,
        };
        if (turn is null) return null;
        bool lies = turn.Value.ScaleX == 0;
        var turned = new SKBitmap(held.Info.WithSize(lies ? held.Height : held.Width, lies ? held.Width : held.Height));
        using var canvas = new SKCanvas(turned);
        canvas.Clear(SKColors.Transparent);
        canvas.SetMatrix(turn.Value);
        canvas.DrawBitmap(held, 0, 0, SKSamplingOptions.Default);
        return turned;
    }
}
