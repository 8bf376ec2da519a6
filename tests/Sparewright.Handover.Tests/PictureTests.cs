using System.Buffers.Binary;
using System.Xml.Linq;
using CsCheck;
using SkiaSharp;
using Sparewright.Handover.Picture;
using Sparewright.Solid;
using Xunit;

namespace Sparewright.Handover.Tests;

public sealed class PictureTests : IDisposable
{
    private readonly Lettering _lettering = Fonts.Load();

    [Fact]
    public void Views_stand_in_first_angle_inside_the_frame_and_apart()
    {
        var sheet = Composed(HandDrawn.Usual.Picture);
        Assert.Equal((297, 210, new DrawingScale(2, 1)), (sheet.WidthMm, sheet.HeightMm, sheet.Scale));
        var front = BoxOf(sheet, ViewName.Front);
        Assert.True(BoxOf(sheet, ViewName.Left).MinX > front.MaxX, "the view from the left stands right of the front view");
        Assert.True(BoxOf(sheet, ViewName.Top).MinY > front.MaxY, "the view from above stands below the front view");
        for (int a = 0; a < sheet.Views.Count; a++)
        {
            Assert.True(Inside(sheet.Views[a].Box, new(20, 10, 287, 200)), $"{sheet.Views[a].Name} lies within the frame");
            for (int b = 0; b < a; b++)
                Assert.False(sheet.Views[a].Box.Overlaps(sheet.Views[b].Box), $"{sheet.Views[a].Name} and {sheet.Views[b].Name} stand apart");
        }
    }

    [Fact]
    public void No_lettering_is_struck_through_or_written_over()
    {
        var sheet = Composed(HandDrawn.Usual.Picture with { Cautions = Cautions.CouldInjure });
        Assert.Empty(Struck(sheet));
        Assert.Empty(WrittenOver(sheet));
        Assert.All(sheet.Marks, mark => Assert.True(Inside(mark.Box, new(0, 0, sheet.WidthMm, sheet.HeightMm))));
    }

    [Fact]
    public void No_lettering_is_struck_through_whatever_the_sizes() =>
        Gen.Select(Gen.Double[15, 90], Gen.Double[8, 60], Gen.Double[3, 40], Gen.Double[0.1, 0.4]).Sample(
            (long_, deep, tall, share) =>
            {
                var sheet = Composed(new HandDrawn(long_, deep, tall, share * Math.Min(long_, deep)).Picture with { Mesh = null });
                Assert.Empty(Struck(sheet));
                Assert.Empty(WrittenOver(sheet));
            },
            iter: 150);

    [Fact]
    public void The_isometric_view_has_room_and_its_name_stays_within_the_frame_however_wide_the_part_is() =>
        Gen.Select(Gen.Double[40, 250], Gen.Double[8, 60], Gen.Double[3, 40]).Sample(
            (long_, deep, tall) =>
            {
                var picture = new HandDrawn(long_, deep, tall, 0.2 * Math.Min(long_, deep)).Picture;
                var sheet = Composed(picture with { Views = [.. picture.Views.Where(v => v.Name != ViewName.Left)], Mesh = null });
                var frame = new Box(20, 10, sheet.WidthMm - 10, sheet.HeightMm - 10);
                Assert.True(Inside(Assert.Single(sheet.Marks.OfType<Words>(), w => w.Text.StartsWith("Isometric", StringComparison.Ordinal)).Box, frame));
                var pictorial = BoxOf(sheet, ViewName.Isometric);
                Assert.True(pictorial.Width > 25 || pictorial.Height > 25, $"{pictorial.Width:0.0} × {pictorial.Height:0.0} mm");
                Assert.Empty(Struck(sheet));
            },
            iter: 150);

    [Theory]
    [InlineData(1, "50:1", 297)]
    [InlineData(6, "20:1", 297)]
    [InlineData(60, "2:1", 297)]
    [InlineData(120, "1:1", 297)]
    [InlineData(180, "1:1", 420)]
    [InlineData(1000, "1:5", 420)]
    [InlineData(3000, "1:20", 420)]
    public void The_largest_recommended_scale_that_fits_is_taken(double longMm, string scale, double paperMm)
    {
        var sheet = Composed(new HandDrawn(longMm, longMm / 2, longMm / 3, longMm / 10).Picture with { Mesh = null });
        Assert.Equal(scale, sheet.Scale.ToString());
        Assert.Equal(paperMm, sheet.WidthMm);
    }

    [Fact]
    public void Lines_are_drawn_in_scale()
    {
        // The slab is 60 × 30 × 20 mm.
        var sheet = Composed(HandDrawn.Usual.Picture with { Dimensions = [], CentreLines = [] });
        var front = BoxOf(sheet, ViewName.Front);
        Assert.Equal(60 * sheet.Scale.Factor, front.Width, 1e-9);
        Assert.Equal(20 * sheet.Scale.Factor, front.Height, 1e-9);
    }

    [Fact]
    public void A_size_that_no_view_shows_truly_is_named_in_the_notes()
    {
        var slanted = new LinearDimension("77.7", "±0.1", default, new(1, 2, 3), new Point3(1, 2, 3) * 0.2672612419);
        var sheet = Composed(HandDrawn.Usual.Picture with { Dimensions = [slanted] });
        Assert.Contains(sheet.Marks.OfType<Words>(), w => w.Text.Contains("77.7", StringComparison.Ordinal) && w.Text.StartsWith("Not seen truly", StringComparison.Ordinal));
    }

    [Fact]
    public void A_distance_that_runs_aslant_is_drawn_where_it_is()
    {
        // From corner to corner of the slab's top.
        var diagonal = new LinearDimension("67.08", "±0.06", new(0, 0, 20), new(60, 30, 20), new(60, 30, 0));
        var sheet = Composed(HandDrawn.Usual.Picture with { Dimensions = [diagonal] });
        double length = 67.08203932 * sheet.Scale.Factor;
        Assert.Contains(sheet.Marks.OfType<Stroke>(), s => s.Style == LineStyle.Dimension && s.Points.Count == 2 && Math.Abs((s.Points[1] - s.Points[0]).Length - length) < 1e-6);
        Assert.Equal(2, sheet.Marks.OfType<Fill>().Count());
        Assert.Empty(Struck(sheet));
    }

    [Fact]
    public void An_extension_line_begins_where_the_edge_in_line_with_it_ends()
    {
        // Given in the middle of the slab, where no edge ends; the edge itself runs on to x = 0 and x = 60.
        var tall = new LinearDimension("20.00", null, new(30, 0, 0), new(30, 0, 20), new(0, 0, 1)) { View = ViewName.Front };
        var sheet = Composed(HandDrawn.Usual.Picture with { Dimensions = [tall], CentreLines = [] });
        var outline = sheet.Marks.OfType<Stroke>().Where(s => s.Style == LineStyle.Visible && BoxOf(sheet, ViewName.Front).Holds(s.Points[0])).Aggregate(Box.Empty, (box, s) => box.With(s.Box));
        var extensions = sheet.Marks.OfType<Stroke>().Where(s => s.Style == LineStyle.Dimension && s.Box.Height == 0).ToList();
        Assert.Equal(2, extensions.Count);
        Assert.All(extensions, s => Assert.True(s.Box.MaxX <= outline.MinX || s.Box.MinX >= outline.MaxX));
    }

    [Fact]
    public void Every_size_appears_exactly_once()
    {
        var sheet = Composed(HandDrawn.Usual.Picture);
        foreach (var group in HandDrawn.Usual.Dimensions.GroupBy(d => d.Text))
            Assert.Equal(group.Count(), sheet.Marks.OfType<Words>().Count(w => w.Text == group.Key));
    }

    [Fact]
    public void A_contradiction_is_flagged_in_the_one_accent_and_by_its_number()
    {
        var words = Composed(HandDrawn.Usual.Picture).Marks.OfType<Words>().ToList();
        Assert.Equal(Tone.LookHere, words.Single(w => w.Text == "⌀12.20").Tone);
        Assert.Equal(2, words.Count(w => w.Text == "1" && w.Tone == Tone.LookHere));
        Assert.Equal(Tone.Ink, words.First(w => w.Text == "60.0").Tone);
    }

    [Fact]
    public void A_hinted_view_is_obeyed()
    {
        var hinted = HandDrawn.Usual.Dimensions[2] with { View = ViewName.Left };
        var sheet = Composed(HandDrawn.Usual.Picture with { Dimensions = [hinted] });
        var at = sheet.Marks.OfType<Words>().Single(w => w.Text == "20.00").At;
        Assert.True(BoxOf(sheet, ViewName.Left).Holds(at));
    }

    [Fact]
    public void The_same_picture_gives_the_same_bytes()
    {
        var (a, b) = (Composed(HandDrawn.Usual.Picture), Composed(HandDrawn.Usual.Picture));
        Assert.Equal(PictureFile.Svg(a, _lettering), PictureFile.Svg(b, _lettering));
        Assert.Equal(PictureFile.Png(a, _lettering), PictureFile.Png(b, _lettering));
    }

    [Fact]
    public void The_svg_has_its_true_size_and_text_that_can_be_found()
    {
        var svg = XDocument.Parse(PictureFile.Svg(Composed(HandDrawn.Usual.Picture), _lettering));
        Assert.Equal("297mm", svg.Root!.Attribute("width")!.Value);
        Assert.Equal("0 0 297 210", svg.Root.Attribute("viewBox")!.Value);
        XNamespace ns = "http://www.w3.org/2000/svg";
        var texts = svg.Descendants(ns + "text").ToList();
        Assert.Contains(texts, t => t.Value == "⌀12.20");
        // What is seen are outlines; the text lies over them unseen, since not every machine has the font.
        Assert.All(texts, t => Assert.Equal("0", t.Parent!.Attribute("fill-opacity")!.Value));
        Assert.True(svg.Descendants(ns + "path").Count() > texts.Count);
    }

    [Fact]
    public void The_png_prints_at_its_true_size()
    {
        byte[] png = PictureFile.Png(Composed(HandDrawn.Usual.Picture), _lettering, dotsPerInch: 200);
        var info = SKBitmap.DecodeBounds(png);
        // 297 mm × 200 / 25.4; the chunk pHYs counts dots in a metre: 200 / 0.0254.
        Assert.Equal((2339, 1654), (info.Width, info.Height));
        int at = png.AsSpan().IndexOf("pHYs"u8);
        Assert.Equal(7874u, BinaryPrimitives.ReadUInt32BigEndian(png.AsSpan(at + 4)));
        Assert.Equal(1, png[at + 12]);
    }

    [Fact]
    public void Lettering_leaves_ink_on_the_page()
    {
        var sheet = Composed(HandDrawn.Usual.Picture);
        using var bitmap = SKBitmap.Decode(PictureFile.Png(sheet, _lettering, dotsPerInch: 100));
        const double PerMm = 100 / 25.4;
        foreach (var words in sheet.Marks.OfType<Words>())
        {
            int ink = 0;
            for (int y = (int)(words.Box.MinY * PerMm); y < words.Box.MaxY * PerMm; y++)
            {
                for (int x = (int)(words.Box.MinX * PerMm); x < words.Box.MaxX * PerMm; x++)
                    ink += bitmap.GetPixel(x, y).Blue is < 0xd0 or > 0xee || bitmap.GetPixel(x, y).Green < 0xd0 ? 1 : 0;
            }

            Assert.True(ink > 0, $"\"{words.Text}\" is to be seen");
        }
    }

    [Fact]
    public void The_thumbnail_is_square_and_shows_the_part()
    {
        byte[] png = PictureFile.Thumbnail(Shapes.Box(60, 30, 20), HandDrawn.Usual.Views[3].Drawn, pixels: 128);
        using var bitmap = SKBitmap.Decode(png);
        Assert.Equal((128, 128), (bitmap.Width, bitmap.Height));
        Assert.Equal(Palette.Paper, bitmap.GetPixel(2, 2));
        Assert.NotEqual(Palette.Paper, bitmap.GetPixel(64, 72));
    }

    [Fact]
    public void Without_a_front_view_there_is_no_picture()
    {
        var picture = HandDrawn.Usual.Picture;
        Assert.False(SheetLayout.TryCompose(picture with { Views = [.. picture.Views.Skip(1)] }, _lettering, out _, out var problem));
        Assert.Contains("one front view", problem.What, StringComparison.Ordinal);
    }

    [Fact]
    public void A_view_without_lines_is_refused()
    {
        var picture = HandDrawn.Usual.Picture;
        var empty = picture.Views[1] with { Drawn = picture.Views[1].Drawn with { Lines = [] } };
        Assert.False(SheetLayout.TryCompose(picture with { Views = [picture.Views[0], empty] }, _lettering, out _, out var problem));
        Assert.Contains("the top view has no lines", problem.What, StringComparison.Ordinal);
    }

    [Fact]
    public void A_front_view_alone_is_a_picture() =>
        Assert.Single(Composed(HandDrawn.Usual.Picture with { Views = [HandDrawn.Usual.Views[0]], Mesh = null }).Views);

    [Fact]
    public void Cautions_stand_above_everything()
    {
        var sheet = Composed(HandDrawn.Usual.Picture with { Cautions = Cautions.CouldInjure });
        var caution = sheet.Marks.OfType<Words>().First(w => w.Text.StartsWith("If this part fails", StringComparison.Ordinal));
        Assert.Equal(Tone.LookHere, caution.Tone);
        Assert.All(sheet.Views, view => Assert.True(view.Box.MinY > caution.Box.MaxY));
    }

    public void Dispose() => _lettering.Dispose();

    private static bool Inside(Box inner, Box outer) => inner.MinX >= outer.MinX - 1e-6 && inner.MinY >= outer.MinY - 1e-6 && inner.MaxX <= outer.MaxX + 1e-6 && inner.MaxY <= outer.MaxY + 1e-6;

    private static Box BoxOf(Sheet sheet, ViewName name) => sheet.Views.Single(v => v.Name == name).Box;

    private static IEnumerable<string> Struck(Sheet sheet)
    {
        // Flags are drawn round their numbers.
        var pieces = sheet.Marks.OfType<Stroke>().Where(s => s.Style != LineStyle.Flag && !IsCautionSign(s)).SelectMany(s => s.Pieces).ToList();
        return sheet.Marks.OfType<Words>().Where(w => pieces.Exists(w.Box.Grown(-0.05).Meets)).Select(w => w.Text);
    }

    private static bool IsCautionSign(Stroke stroke) => stroke is { Style: LineStyle.Frame, Tone: Tone.LookHere, Points.Count: 4 };

    private static IEnumerable<string> WrittenOver(Sheet sheet)
    {
        var words = sheet.Marks.OfType<Words>().ToList();
        return words.Where((w, k) => words.Take(k).Any(other => other.Box.Grown(-0.3).Overlaps(w.Box.Grown(-0.3)))).Select(w => w.Text);
    }

    private Sheet Composed(PartPicture picture)
    {
        Assert.True(SheetLayout.TryCompose(picture, _lettering, out var sheet, out var problem), problem?.What);
        return sheet;
    }
}
