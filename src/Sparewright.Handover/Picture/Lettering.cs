using System.Diagnostics.CodeAnalysis;
using SkiaSharp;
using Sparewright.Part;

namespace Sparewright.Handover.Picture;

/// <summary>
/// The lettering: a font in the manner of ISO 3098, and a second one for signs that it lacks. Fonts are loaded by path,
/// because a font looked up by name may silently be one without any letters.
/// </summary>
public sealed class Lettering : IDisposable
{
    /// <summary>Where Debian's fonts-osifont and fonts-dejavu-core put them.</summary>
    public static IReadOnlyList<string> UsualFiles { get; } = ["/usr/share/fonts/truetype/osifont/osifont.ttf", "/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf"];

    // Measured large and scaled down, so that widths do not depend on any rounding to pixels.
    private const float MeasuredAt = 1000;

    private readonly Face[] _faces;

    private Lettering(Face[] faces) => _faces = faces;

    private sealed record Face(SKTypeface Typeface, SKFont Font, double CapHeight);

    /// <summary>Loads the fonts, or says which one is missing and what brings it.</summary>
    /// <param name="files">The font that is wanted first, then those to fall back on.</param>
    public static bool TryLoad(IReadOnlyList<string> files, [NotNullWhen(true)] out Lettering? lettering, [NotNullWhen(false)] out Problem? problem)
    {
        var faces = new List<Face>();
        problem = null;
        lettering = null;
        foreach (string file in files)
        {
            var typeface = File.Exists(file) ? SKTypeface.FromFile(file) : null;
            if (typeface is null || typeface.GlyphCount == 0)
            {
                typeface?.Dispose();
                problem = new(Place.None, $"the font {file} is missing or holds no letters, and without it the drawing would have no text", "install the Debian packages fonts-osifont and fonts-dejavu-core");
                faces.ForEach(Close);
                return false;
            }

            var font = new SKFont(typeface, MeasuredAt) { Hinting = SKFontHinting.None, LinearMetrics = true, Subpixel = true };
            using var capital = font.GetTextPath("H");
            faces.Add(new(typeface, font, capital.TightBounds.Height));
        }

        lettering = new([.. faces]);
        return true;
    }

    /// <summary>Width in mm of a line of text whose capitals are so high.</summary>
    internal double Width(string text, double heightMm) => Runs(text).Sum(run => run.Face.Font.MeasureText(run.Text) * heightMm / run.Face.CapHeight);

    /// <summary>The outlines of the letters, in mm from the start of the base line, y down.</summary>
    internal SKPath Outlines(string text, double heightMm)
    {
        using var all = new SKPathBuilder();
        double x = 0;
        foreach (var (run, face) in Runs(text))
        {
            float scale = (float)(heightMm / face.CapHeight);
            using var path = face.Font.GetTextPath(run);
            path.Transform(SKMatrix.CreateScaleTranslation(scale, scale, (float)x, 0));
            all.AddPath(path);
            x += face.Font.MeasureText(run) * scale;
        }

        return all.Detach();
    }

    public void Dispose() => Array.ForEach(_faces, Close);

    private static void Close(Face face)
    {
        face.Font.Dispose();
        face.Typeface.Dispose();
    }

    /// <summary>The text cut where the font changes. A sign that no font has shows as the first font's empty frame, never as nothing.</summary>
    private List<(string Text, Face Face)> Runs(string text)
    {
        var runs = new List<(string Text, Face Face)>();
        foreach (var rune in text.EnumerateRunes())
        {
            var face = Array.Find(_faces, f => f.Font.ContainsGlyph(rune.Value)) ?? _faces[0];
            if (runs.Count > 0 && runs[^1].Face == face)
                runs[^1] = (runs[^1].Text + rune, face);
            else
                runs.Add((rune.ToString(), face));
        }

        return runs;
    }
}
