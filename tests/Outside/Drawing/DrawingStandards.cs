using Sparewright.Handover.Picture;
using Sparewright.Solid;
using Xunit;

namespace Sparewright.Outside.Drawing;

/// <summary>The part picture against the figures of drawing standards; each figure names where it was read, or says "from memory".</summary>
public sealed class DrawingStandards : IDisposable
{
    private readonly Lettering _lettering;

    public DrawingStandards()
    {
        if (!Lettering.TryLoad(Lettering.UsualFiles, out var lettering, out var problem))
            Assert.Skip($"skipped: {problem.What}");
        _lettering = lettering;
    }

    [Fact]
    public void Wide_lines_are_twice_as_wide_as_narrow_ones_and_of_the_series()
    {
        // ISO 128-2: widths 0.13 0.18 0.25 0.35 0.5 0.7 1.0 1.4 2.0, wide : narrow = 2 : 1 (read in a textbook).
        double[] series = [0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0];
        Assert.All(Enum.GetValues<LineStyle>(), style => Assert.Contains(Palette.WidthMm(style), series));
        foreach (var narrow in new[] { LineStyle.Hidden, LineStyle.Centre, LineStyle.Dimension })
            Assert.Equal(2, Palette.WidthMm(LineStyle.Visible) / Palette.WidthMm(narrow));
    }

    [Fact]
    public void Dashes_are_12_widths_with_gaps_of_3()
    {
        // ISO 128-2: dash 12 d, gap 3 d, long dash 24 d, dot at most 0.5 d (from memory).
        double d = Palette.WidthMm(LineStyle.Hidden);
        Assert.Equal([12 * d, 3 * d], Palette.Dashes(LineStyle.Hidden)!.Select(x => (double)x));
        Assert.Equal([24 * d, 3 * d, 0.5 * d, 3 * d], Palette.Dashes(LineStyle.Centre)!.Select(x => (double)x));
    }

    [Fact]
    public void Lettering_has_heights_of_the_series_and_measures_at_least_2_5_mm_where_it_gives_a_size()
    {
        // ISO 3098 heights 1.8 2.5 3.5 5 7 10 14 20; figures at least 2.5 mm on A4 and A3 (read in a textbook). 2 and 2.2 mm: our own, in flags and long titles only.
        double[] series = [1.8, 2.5, 3.5, 5, 7, 10, 14, 20];
        var words = Sheet().Marks.OfType<Words>().Where(w => w.HeightMm is not Label.FlagTextHeightMm).ToList();
        Assert.All(words, w => Assert.Contains(w.HeightMm, series));
        Assert.All(words.Where(w => w.Text.StartsWith("40", StringComparison.Ordinal) || w.Text.StartsWith('±')), w => Assert.True(w.HeightMm >= 2.5));
    }

    [Fact]
    public void Sheets_are_A4_or_A3_with_a_filing_margin_of_20_and_10_elsewhere()
    {
        // A4 210 × 297, A3 297 × 420 (ISO 216, read); margins of ISO 5457: 20 mm at the left, 10 mm elsewhere (from memory).
        var sheet = Sheet();
        Assert.Equal((297, 210), (sheet.WidthMm, sheet.HeightMm));
        var frame = sheet.Marks.OfType<Stroke>().First(s => s.Style == LineStyle.Frame).Box;
        Assert.Equal(new Box(20, 10, 287, 200), frame);
    }

    [Fact]
    public void The_first_dimension_line_keeps_10_mm_from_the_outline_and_the_next_6_to_8()
    {
        // Textbook rule for ISO 129-1 (read): first line at least 10 mm from the outline, further ones at least 6 to 8 mm on.
        var sheet = Sheet();
        var rows = sheet.Marks.OfType<Stroke>().Where(s => s.Style == LineStyle.Dimension && s.Points.Count == 2 && s.Box.Height == 0).Select(s => s.Points[0].Y).Distinct().Order().ToList();
        var outline = sheet.Marks.OfType<Stroke>().Where(s => s.Style == LineStyle.Visible).Aggregate(Box.Empty, (box, s) => box.With(s.Box));
        double[] above = [.. rows.Where(y => y < outline.MinY).Select(y => outline.MinY - y).Order()], below = [.. rows.Where(y => y > outline.MaxY).Select(y => y - outline.MaxY)];
        Assert.Equal(rows.Count, above.Length + below.Length);
        Assert.True(rows.Count >= 3, "three lengths from one edge cannot all share two rows");
        foreach (var side in new[] { above, below }.Where(side => side.Length > 0))
        {
            Assert.True(side[0] >= 10 - 1e-9);
            Assert.All(side.Zip(side.Skip(1), (near, far) => far - near), step => Assert.InRange(step, 6, 8 + 1e-9));
        }
    }

    [Fact]
    public void An_arrow_is_three_times_as_long_as_wide_and_opens_by_15_degrees_or_more()
    {
        // ISO 129-1 (read): opening at least 15°, length at least three times the width.
        var head = Arrow.At(default, new(1, 0), Tone.Ink).Box;
        Assert.True(head.Width >= 3 * head.Height);
        Assert.True(2 * Math.Atan(head.Height / 2 / head.Width) * 180 / Math.PI >= 15);
    }

    [Fact]
    public void Scales_are_those_of_iso_5455() =>
        // ISO 5455 recommends 50:1 20:1 10:1 5:1 2:1, 1:1, and 1:2 1:5 1:10 … 1:1000 (from memory; the reductions go on to 1:10000).
        Assert.Equal(
            "50:1 20:1 10:1 5:1 2:1 1:1 1:2 1:5 1:10 1:20 1:50 1:100 1:200 1:500 1:1000",
            string.Join(' ', DrawingScale.Recommended));

    public void Dispose() => _lettering.Dispose();

    /// <summary>A plate 120 × 40 seen from the front, with lengths from one edge.</summary>
    private Sheet Sheet()
    {
        DrawnLine[] lines = [new(LineKind.Edge, false, [0, 0, 120, 0, 120, 40, 0, 40, 0, 0])];
        var front = new NamedView(ViewName.Front, new([0, 1, 0], [0, 0, 1], lines));
        Point3 right = new(1, 0, 0);
        Dimension[] dimensions =
        [
            new LinearDimension("40.0", "±0.05", default, new(40, 0, 0), right) { Flag = 1 },
            new LinearDimension("80.0", null, default, new(80, 0, 0), right),
            new LinearDimension("100.0", null, default, new(100, 0, 0), right),
            new LinearDimension("120.0", null, default, new(120, 0, 0), right),
        ];
        var title = new TitleBlock("Plate", "A plate for the standards.", "plate-1", new DateOnly(2026, 3, 9), "as measured", "Sparewright 0.1.0");
        Assert.True(SheetLayout.TryCompose(new(title, [front], dimensions, [], [], [new("Look here.", 1)], null), _lettering, out var sheet, out _));
        return sheet;
    }
}
