using SkiaSharp;

namespace Sparewright.Handover.Picture;

/// <summary>Paints marks on any canvas; one unit is one millimetre.</summary>
internal static class Painter
{
    public static void Paint(SKCanvas canvas, Sheet sheet, Lettering lettering)
    {
        using (var paper = new SKPaint { Color = Palette.Paper })
            canvas.DrawRect(0, 0, (float)sheet.WidthMm, (float)sheet.HeightMm, paper);
        if (sheet.Wash is { } wash)
            Lay(canvas, wash);
        PaintLines(canvas, sheet.Marks, widthFactor: 1);
        foreach (var words in sheet.Marks.OfType<Words>())
            Paint(canvas, words, lettering);
    }

    public static void Lay(SKCanvas canvas, Wash wash)
    {
        using var image = SKImage.FromEncodedData(wash.Png);
        canvas.DrawImage(image, new SKRect((float)wash.Box.MinX, (float)wash.Box.MinY, (float)wash.Box.MaxX, (float)wash.Box.MaxY), new SKSamplingOptions(SKFilterMode.Linear, SKMipmapMode.Linear));
    }

    /// <summary>Narrow lines first, so that a visible edge covers what lies behind it.</summary>
    public static void PaintLines(SKCanvas canvas, IEnumerable<Mark> marks, double widthFactor)
    {
        foreach (var mark in marks.Where(m => m is not Words).OrderBy(m => m is Stroke s ? Rank(s.Style) : 9))
        {
            using var paint = new SKPaint { Color = Palette.Of(mark.Tone), IsAntialias = true };
            if (mark is Stroke stroke)
            {
                paint.Style = SKPaintStyle.Stroke;
                paint.StrokeWidth = (float)(Palette.WidthMm(stroke.Style) * widthFactor);
                paint.StrokeCap = stroke.Style is LineStyle.Hidden or LineStyle.Centre ? SKStrokeCap.Butt : SKStrokeCap.Round;
                paint.StrokeJoin = SKStrokeJoin.Round;
                if (Palette.Dashes(stroke.Style) is { } dashes)
                    paint.PathEffect = SKPathEffect.CreateDash(dashes, 0);
                using var path = PathOf(stroke.Points, close: false);
                canvas.DrawPath(path, paint);
                paint.PathEffect?.Dispose();
            }
            else if (mark is Fill fill)
            {
                using var path = PathOf(fill.Points, close: true);
                canvas.DrawPath(path, paint);
            }
        }
    }

    private static int Rank(LineStyle style) => style switch
    {
        LineStyle.Hidden => 0,
        LineStyle.Smooth => 1,
        LineStyle.Centre => 2,
        LineStyle.Visible => 3,
        _ => 4,
    };

    private static SKPath PathOf(IReadOnlyList<PagePoint> points, bool close)
    {
        using var path = new SKPathBuilder();
        path.MoveTo((float)points[0].X, (float)points[0].Y);
        foreach (var p in points.Skip(1))
            path.LineTo((float)p.X, (float)p.Y);
        if (close || points[0] == points[^1])
            path.Close();
        return path.Detach();
    }

    private static void Paint(SKCanvas canvas, Words words, Lettering lettering)
    {
        using var paint = new SKPaint { Color = Palette.Of(words.Tone), IsAntialias = true };
        using var letters = lettering.Outlines(words.Text, words.HeightMm);
        var place = SKMatrix.CreateTranslation(-(float)words.Before, 0)
            .PostConcat(words.Upright ? SKMatrix.CreateRotationDegrees(-90) : SKMatrix.Identity)
            .PostConcat(SKMatrix.CreateTranslation((float)words.At.X, (float)words.At.Y));
        letters.Transform(place);
        canvas.DrawPath(letters, paint);
    }
}
