using System.Buffers.Binary;
using System.Globalization;
using System.Security;
using System.Text;
using SkiaSharp;
using Sparewright.Handover.Files;
using Sparewright.Solid;

namespace Sparewright.Handover.Picture;

/// <summary>Turns a sheet into files: one drawing code, whatever the canvas.</summary>
public static class PictureFile
{
    private const double MmPerInch = 25.4;

    /// <summary>A PNG picture that prints at its true size.</summary>
    /// <param name="dotsPerInch">200 makes an A4 sheet 2339 pixels wide.</param>
    public static byte[] Png(Sheet sheet, Lettering lettering, double dotsPerInch = 200)
    {
        double perMm = dotsPerInch / MmPerInch;
        using var surface = SKSurface.Create(new SKImageInfo((int)Math.Round(sheet.WidthMm * perMm), (int)Math.Round(sheet.HeightMm * perMm), SKColorType.Rgba8888, SKAlphaType.Premul));
        surface.Canvas.Scale((float)perMm);
        Painter.Paint(surface.Canvas, sheet, lettering);
        return Encoded(surface, perMm * 1000);
    }

    /// <summary>
    /// An SVG drawing in mm. The letters are outlines, so that it looks the same everywhere; over them lies the same text, unseen, to be searched, copied and read out.
    /// </summary>
    public static string Svg(Sheet sheet, Lettering lettering)
    {
        using var stream = new MemoryStream();
        using (var canvas = SKSvgCanvas.Create(SKRect.Create((float)sheet.WidthMm, (float)sheet.HeightMm), stream))
            Painter.Paint(canvas, sheet, lettering);
        string drawn = Encoding.UTF8.GetString(stream.ToArray());
        int root = drawn.IndexOf("<svg", StringComparison.Ordinal), inside = drawn.IndexOf('>', root) + 1, end = drawn.LastIndexOf("</svg>", StringComparison.Ordinal);
        return string.Create(CultureInfo.InvariantCulture, $"""
            <?xml version="1.0" encoding="utf-8"?>
            <svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="{sheet.WidthMm}mm" height="{sheet.HeightMm}mm" viewBox="0 0 {sheet.WidthMm} {sheet.HeightMm}" role="img">
            <title>{SecurityElement.Escape(sheet.Title)}</title>
            {drawn[inside..end].Trim()}
            {ReadableText(sheet)}</svg>

            """);
    }

    /// <summary>A small square picture of the part alone, for the 3MF package and lists of parts.</summary>
    public static byte[] Thumbnail(Mesh mesh, DrawnView isometric, int pixels = 256)
    {
        var view = new NamedView(ViewName.Isometric, isometric);
        const double Side = 24;
        var lines = Box.Of(isometric.Lines.SelectMany(l => l.Points.Chunk(2).Select(p => new PagePoint(p[0], p[1]))));
        double scale = Side * 0.88 / Math.Max(lines.Width, lines.Height);
        var origin = new PagePoint(Side / 2 - lines.Middle.X * scale, Side / 2 + lines.Middle.Y * scale);
        var marks = ViewBlock.Lines(view, scale).Select(mark => mark.Moved(origin, turnedOver: true));
        var box = new Box(origin.X + lines.MinX * scale, origin.Y - lines.MaxY * scale, origin.X + lines.MaxX * scale, origin.Y - lines.MinY * scale);

        using var surface = SKSurface.Create(new SKImageInfo(pixels, pixels, SKColorType.Rgba8888, SKAlphaType.Premul));
        surface.Canvas.Scale((float)(pixels / Side));
        surface.Canvas.Clear(Palette.Paper);
        Painter.Lay(surface.Canvas, Shading.Of(mesh, isometric, scale, origin, box));
        // Lines as wide as on a sheet would drown a part this small.
        Painter.PaintLines(surface.Canvas, marks, widthFactor: 0.55);
        return Encoded(surface, null);
    }

    private static string ReadableText(Sheet sheet)
    {
        var text = new StringBuilder("<g fill-opacity=\"0\" font-family=\"osifont, sans-serif\">\n");
        foreach (var words in sheet.Marks.OfType<Words>())
        {
            // Capitals are about 0.72 of the font size.
            string turned = words.Upright ? " rotate(-90)" : "";
            string start = string.Create(CultureInfo.InvariantCulture, $"translate({words.At.X:0.###} {words.At.Y:0.###}){turned} translate({-words.Before:0.###} 0)");
            text.Append(CultureInfo.InvariantCulture, $"<text transform=\"{start}\" font-size=\"{words.HeightMm / 0.72:0.###}\" textLength=\"{words.WidthMm:0.###}\" lengthAdjust=\"spacingAndGlyphs\">{SecurityElement.Escape(words.Text)}</text>\n");
        }

        return text.Append("</g>\n").ToString();
    }

    /// <summary>PNG bytes; with the number of dots in a metre, so that printing gives the true size.</summary>
    private static byte[] Encoded(SKSurface surface, double? dotsPerMetre)
    {
        using var image = surface.Snapshot();
        using var data = image.Encode(SKEncodedImageFormat.Png, 100);
        var png = data.ToArray();
        if (dotsPerMetre is not { } dots)
            return png;

        // The chunk pHYs (ISO/IEC 15948, 11.3.5.3) stands right behind the header, whose end is at byte 33.
        const int HeaderEnd = 33;
        var chunk = new byte[21];
        BinaryPrimitives.WriteUInt32BigEndian(chunk, 9);
        "pHYs"u8.CopyTo(chunk.AsSpan(4));
        BinaryPrimitives.WriteUInt32BigEndian(chunk.AsSpan(8), (uint)Math.Round(dots));
        BinaryPrimitives.WriteUInt32BigEndian(chunk.AsSpan(12), (uint)Math.Round(dots));
        chunk[16] = 1;
        var sum = new Crc32();
        sum.Add(chunk.AsSpan(4, 13));
        BinaryPrimitives.WriteUInt32BigEndian(chunk.AsSpan(17), sum.Value);
        return [.. png[..HeaderEnd], .. chunk, .. png[HeaderEnd..]];
    }
}
