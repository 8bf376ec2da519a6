using CsCheck;
using Sparewright.Fit.Capability;
using Sparewright.Fit.Windows;
using Sparewright.Measure;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Nominals;
using Xunit;

namespace Sparewright.Fit.Tests.Windows;

/// <summary>The clearances that a fit may have.</summary>
public class FitWindowsTests
{
    private static ClearanceWindow Of(string counterpart, double ownMm, ProcessKind process = ProcessKind.Mex) =>
        FitWindows.Of(Jobs.With(counterpart).Counterparts[0], new NormalLength(ownMm, 0.02), process);

    /// <summary>The middles of what neighbouring words aim at, and the aims themselves (process notes 3.1, from memory), lie within the window of a word.</summary>
    [Fact]
    public void Each_word_holds_its_aim_and_shades_into_the_next()
    {
        foreach (var process in DataTable.Rows(typeof(FitWindows), "fit-windows.csv").Select(r => (Process: r[0], Word: r[1], Figures: r[2..].Select(x => double.Parse(x, System.Globalization.CultureInfo.InvariantCulture)).ToArray())).GroupBy(r => r.Process))
        {
            var rows = process.ToArray();
            Assert.Equal(["press", "snug", "slides", "turns", "passes"], rows.Select(r => r.Word));
            Assert.All(rows, r => Assert.True(r.Figures[0] <= r.Figures[2] && r.Figures[2] < r.Figures[3] && r.Figures[3] <= r.Figures[1]));
            foreach (var (tight, loose) in rows.Zip(rows.Skip(1)).Skip(1))
            {
                Assert.Equal((loose.Figures[2] + loose.Figures[3]) / 2, tight.Figures[1], 0.011);
                Assert.Equal((tight.Figures[2] + tight.Figures[3]) / 2, loose.Figures[0], 0.011);
            }
        }
    }

    [Theory]
    [InlineData("{rod: r, reads: 8, goes_into: bore, fit: slides}", 8, 0.15, 0.50)]
    [InlineData("{rod: r, reads: 8, goes_into: bore}", 8, 0.15, 0.50)]
    [InlineData("{bearing: r, designation: 608, goes_into: bore}", 10, 0, 0.30)]
    [InlineData("{rod: r, reads: 8, goes_into: bore, clearance: [-0.2, 0.1]}", 8, -0.2, 0.1)]
    [InlineData("{hose: r, reads: 8, goes_through: bore}", 8, 0.5, 1.2)]
    [InlineData("{hose: r, reads: 10, goes_over: peg}", 10, -1.5, -0.5)]
    [InlineData("{insert: r, thread: M3, goes_into: bore}", 4.4, -0.4, -0.3)]
    [InlineData("{screw: r, thread: M4, through: bore}", 3.908, 0.1, 0.892)]
    [InlineData("{screw: r, thread: M4, goes_into: bore}", 3.908, 3.2 - 3.908, 3.44 - 3.908)]
    public void A_window_is_the_word_s_or_the_kind_s(string counterpart, double ownMm, double low, double high)
    {
        ClearanceWindow window = Of(counterpart, ownMm);
        Assert.Equal(low, window.LowMm, 1e-9);
        Assert.Equal(high, window.HighMm, 1e-9);
        Assert.NotEmpty(window.Why);
    }

    [Fact]
    public void A_word_of_ones_own_is_a_window_as_it_stands_and_is_named()
    {
        Job job = Jobs.Read(Jobs.TextWith("{rod: r, reads: 30, goes_into: bore, fit: just goes}") + "\nfit_words: {just goes: [0.03, 0.11]}\n");
        ClearanceWindow window = FitWindows.Of(job.Counterparts[0], new NormalLength(30, 0.02), ProcessKind.Mex);
        Assert.Equal((0.03, 0.11, "just goes, as the job says"), (window.LowMm, window.HighMm, window.Why));
    }

    [Fact]
    public void Resin_fits_closer() => Assert.Equal((0.08, 0.32), Of("{rod: r, reads: 8, goes_into: bore, fit: slides}", 8, ProcessKind.Vpp) is var w ? (w.LowMm, w.HighMm) : default);

    /// <summary>i = 0.45·∛D + 0.001·D (ISO 286-1, from memory).</summary>
    [Fact]
    public void Windows_grow_with_the_tolerance_unit_and_never_shrink() => Gen.Select(Gen.Double[0.5, 200], Gen.Double[0.5, 200], Gen.Enum<FitWord>()).Sample((a, b, word) =>
    {
        ClearanceWindow small = FitWindows.Of(word, Math.Min(a, b), ProcessKind.Mex), large = FitWindows.Of(word, Math.Max(a, b), ProcessKind.Mex);
        Assert.True(large.HighMm - large.LowMm >= small.HighMm - small.LowMm - 1e-12);
        double growth = FitWindows.Growth(a);
        Assert.Equal(a <= 10 ? 1 : (0.45 * Math.Cbrt(a) + 0.001 * a) / (0.45 * Math.Cbrt(10) + 0.01), growth, 1e-12);
    }, iter: 500);

    /// <summary>A screw's greatest clearance is what ISO 273 gives its coarse hole, whether it is known by its thread or measured, and does not jump between two screws.</summary>
    [Fact]
    public void Screws_that_go_through_follow_ISO_273()
    {
        Assert.All(ClearanceHoles.All, h => Assert.Equal(h.CoarseMm - h.DiameterMm, Of($"{{screw: r, reads: {h.DiameterMm.ToString(System.Globalization.CultureInfo.InvariantCulture)}, through: bore}}", h.DiameterMm).HighMm, 1e-9));
        Counterpart wood = Jobs.With("{wood screw: r, gauge: 8, through: bore}").Counterparts[0];
        double last = 0;
        for (double d = 1; d < 16; d += 0.01)
        {
            double high = d + FitWindows.Of(wood, new(d, 0.1), ProcessKind.Mex).HighMm;
            Assert.InRange(high - last, 0, last == 0 ? 5 : 0.05);
            last = high;
        }
    }

    [Fact]
    public void A_pattern_has_no_window_of_its_own() => Assert.Throws<ArgumentException>(() => Of("{holes: h, pitch: 20, meet: screws}", 4));
}
