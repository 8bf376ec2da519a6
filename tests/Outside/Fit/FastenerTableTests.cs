using System.Globalization;
using Sparewright.Fit.Tables;
using Sparewright.Reconcile.Nominals;
using Xunit;

namespace Sparewright.Outside.Fit;

/// <summary>Screws, nuts, inserts and bearings against the tables beside the repository and what they follow from.</summary>
public class FastenerTableTests
{
    /// <summary>ISO 273, read at engineeringhardware.com and agreeing with memory (tables/iso273_clearance_holes.csv).</summary>
    [Fact]
    public void Clearance_holes_are_those_of_ISO_273()
    {
        var published = Rows("tables/iso273_clearance_holes.csv").ToDictionary(r => r[0], r => r[1..].Select(Number).ToArray());
        Assert.Equal(11, ClearanceHoles.All.Count);
        Assert.All(ClearanceHoles.All, h => Assert.Equal<IEnumerable<double>>(published[h.Thread], [h.FineMm, h.MediumMm, h.CoarseMm]));
    }

    /// <summary>ISO 273 clearance holes once more, from memory: process notes 3.11.</summary>
    [Theory]
    [InlineData("M2.5", 2.7, 2.9, 3.1)]
    [InlineData("M3", 3.2, 3.4, 3.6)]
    [InlineData("M4", 4.3, 4.5, 4.8)]
    [InlineData("M5", 5.3, 5.5, 5.8)]
    [InlineData("M6", 6.4, 6.6, 7)]
    [InlineData("M8", 8.4, 9, 10)]
    public void Clearance_holes(string thread, double fine, double medium, double coarse)
    {
        ClearanceHole hole = ClearanceHoles.All.Single(h => h.Thread == thread);
        Assert.Equal((fine, medium, coarse), (hole.FineMm, hole.MediumMm, hole.CoarseMm));
    }

    /// <summary>Widths across flats of DIN 934 nuts, read at creativefasteners.co.in and in the Mechanical Engineers Data Handbook (tables/pan_cap_hex_heads.csv).</summary>
    [Fact]
    public void Nuts_have_the_published_width()
    {
        var published = Rows("tables/pan_cap_hex_heads.csv").ToDictionary(r => r[0], r => Number(r[6]));
        Assert.All(Threads.Metric, t => Assert.Equal(published[t.Name], t.NutWidthMm));
        Assert.All(Threads.Metric, t => Assert.Equal(t.NutWidthMm, Threads.Nut(t.Name)!.Value.HighMm));
    }

    /// <summary>Least widths across flats of ISO 4032 nuts of grade A, from memory.</summary>
    [Theory]
    [InlineData("M3", 5.32)]
    [InlineData("M4", 6.78)]
    [InlineData("M5", 7.78)]
    [InlineData("M8", 12.73)]
    public void Nuts_are_at_least_this_wide(string thread, double least) => Assert.Equal(least, Threads.Nut(thread)!.Value.LowMm, 0.001);

    /// <summary>ISO 965-1: es = −(15 + 11·P) µm for position g, T_d = 180·P^(2/3) − 3.15/√P µm for grade 6; from memory. Table values are rounded to preferred numbers.</summary>
    [Fact]
    public void Screw_threads_follow_their_formulas()
    {
        Assert.All(Threads.Metric, t =>
        {
            double es = 1000 * (t.DiameterMm - t.Screw.HighMm), td = 1000 * (t.Screw.HighMm - t.Screw.LowMm);
            Assert.Equal(15 + 11 * t.PitchMm, es, 2.0);
            Assert.InRange(td / (180 * Math.Pow(t.PitchMm, 2.0 / 3) - 3.15 / Math.Sqrt(t.PitchMm)), 0.94, 1.06);
        });
    }

    /// <summary>Shank diameters, read at finescrews.com and princefastener.com (tables/wood_screw_gauge.csv), and their formula 0.060 + 0.013 n in.</summary>
    [Fact]
    public void Wood_screws_have_the_published_diameter()
    {
        var published = Rows("tables/wood_screw_gauge.csv").ToDictionary(r => int.Parse(r[0], CultureInfo.InvariantCulture), r => Number(r[1]));
        Assert.Equal(published.Count, Threads.WoodScrews.Count);
        Assert.All(Threads.WoodScrews, s =>
        {
            double inches = s.Screw.HighMm / 25.4 - 0.004;
            Assert.Equal(published[s.Gauge], inches, 1e-9);
            Assert.Equal(0.060 + 0.013 * s.Gauge, inches, 1e-9);
            Assert.Equal(0.011 * 25.4, s.Screw.HighMm - s.Screw.LowMm, 1e-9);
        });
    }

    /// <summary>A fastener seller's chart, read: process notes 3.10.</summary>
    [Theory]
    [InlineData("M3", 4.0, 4.4)]
    [InlineData("M3.5", 4.8, 5.2)]
    [InlineData("M4", 5.6, 6.1)]
    [InlineData("M5", 6.4, 7.1)]
    [InlineData("M6", 8.0, 8.5)]
    public void Heat_set_inserts(string thread, double hole, double outer)
    {
        HeatSetInsert insert = Threads.Inserts.Single(i => i.Thread == thread);
        Assert.Equal(hole, insert.Hole.LowMm, 1e-9);
        Assert.Equal(0.1, insert.Hole.HighMm - insert.Hole.LowMm, 1e-9);
        Assert.Equal(outer, (insert.Outer.LowMm + insert.Outer.HighMm) / 2, 1e-9);
    }

    /// <summary>Self-tapping threads are called after their outer diameter to about 0.1 mm (ISO 1478, from memory).</summary>
    [Fact]
    public void Self_tapping_threads_are_as_wide_as_they_are_called() =>
        Assert.All(Threads.SelfTapping, t => Assert.InRange(t.Screw.HighMm, Number(t.Name[2..]) - 0.06, Number(t.Name[2..]) + 0.06));

    /// <summary>From memory of ISO 15: from bore number 04 on, and for the series 60, 62, 68 and 69 whose last two figures are 00 to 03 (10, 12, 15, 17 mm), the number says the bore.</summary>
    [Fact]
    public void Bearing_numbers_say_the_bore()
    {
        double[] small = [10, 12, 15, 17];
        Assert.All(Bearings.All, b =>
        {
            int code = int.Parse(b.Designation[^2..], CultureInfo.InvariantCulture);
            Assert.Equal(b.Designation.Length == 3 ? b.Designation[^1] - '0' : code < 4 ? small[code] : 5 * code, b.BoreMm);
            Assert.True(b.OuterMm > 1.4 * b.BoreMm);
        });
        Assert.Equal((8.0, 22.0), Bearings.Of("608ZZ") is var (bore, outer) ? (bore.HighMm, outer.HighMm) : default);
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static IEnumerable<string[]> Rows(string name) => File.ReadLines(Checks.Path(name)).Where(l => !l.StartsWith('#')).Skip(1).Select(l => l.Split(','));
}
