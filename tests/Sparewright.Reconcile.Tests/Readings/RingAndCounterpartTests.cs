using Sparewright.Measure;
using Sparewright.Measure.Uncertainty;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Xunit;

namespace Sparewright.Reconcile.Tests.Readings;

/// <summary>Inside jaws tried in a ring of known size, and readings of what the part fits.</summary>
public class RingAndCounterpartTests
{
    private static Job Bush(string caliper, string readings) => Jobs.Read($$$"""
        sparewright: 1
        part: bush
        could_injure: no
        instruments:
          caliper: {kind: digital caliper, resolution: 0.01, mpe: 0.03, zero_error: 0.00{{{caliper}}}}
        sizes: {od: {about: 20}, bore: {about: 5}, p: {about: 30}}
        shape:
          - boss: bush
            diameter: od
            height: p
          - hole: hole
            from: bush.top
            diameter: bore
            through: bush
        counterparts:
          - {holes: sash, pitch_reads: 30.1, meet: hole}
        readings:
          - {outside: bush.side, reads: 20.00}
        {{{readings}}}
        """);

    private const string Height = "  - {outside: [bush.top, bush.bottom], reads: 30.00}";

    /// <summary>Flats of 0.8 mm, wider than anybody assumes: a hole of 5 mm reads √(5² − 0.8²) = 4.9356 mm.</summary>
    [Fact]
    public void A_ring_as_wide_as_the_hole_puts_its_reading_right_whatever_the_flats()
    {
        double reads = JawFlat.ReadsMm(5, 0.8);
        string hole = FormattableString.Invariant($"  - {{inside: hole.wall, reads: [{reads:0.0000}, {reads:0.0000}, {reads:0.0000}, {reads:0.0000}]}}\n{Height}");
        Reconciled assumed = Jobs.Reconcile(Bush("", hole));
        Assert.Equal(4.9608, assumed.Size("bore").Estimate, 1e-3);
        string ring = FormattableString.Invariant($", ring: {{size: 5.000, reads: [{reads:0.0000}, {reads:0.0000}, {reads:0.0000}, {reads:0.0000}]}}");
        Reconciled tried = Jobs.Reconcile(Bush(ring, hole));

        // By hand: hole = value − shared, ring = value − 5 = own + shared; so the shared part is believed by s²/(s² + own²).
        UncertaintyBudget budget = tried.Reading("r2").Measured!.Budget;
        double s = budget.SharedMm * budget.SharedMm, ringOwn = budget.OwnMm * budget.OwnMm + RingReading.SizeHalfWidthMm * RingReading.SizeHalfWidthMm / 3, value = tried.Reading("r2").Observed!.Value;
        Assert.Equal(value - s / (s + ringOwn) * (value - 5), tried.Size("bore").Estimate, 1e-9);
        Assert.Equal(Math.Sqrt(budget.OwnMm * budget.OwnMm + s * ringOwn / (s + ringOwn)), tried.Size("bore").StandardUncertainty, 1e-9);
        Assert.InRange(tried.Size("bore").Estimate, 4.985, 5.0);
        Assert.Equal(["r2"], tried.Size("bore").DecidedBy);
    }

    /// <summary>A ring tells of the flats, and a hole of another width profits from that as b²/2D says.</summary>
    [Fact]
    public void A_ring_of_another_size_helps_too()
    {
        double inHole = JawFlat.ReadsMm(5, 0.8), inRing = JawFlat.ReadsMm(3, 0.8);
        string hole = FormattableString.Invariant($"  - {{inside: hole.wall, reads: [{inHole:0.0000}, {inHole:0.0000}, {inHole:0.0000}, {inHole:0.0000}]}}\n{Height}");
        string ring = FormattableString.Invariant($", ring: {{size: 3, reads: [{inRing:0.0000}, {inRing:0.0000}, {inRing:0.0000}, {inRing:0.0000}]}}");
        double without = Math.Abs(Jobs.Reconcile(Bush("", hole)).Size("bore").Estimate - 5), with = Math.Abs(Jobs.Reconcile(Bush(ring, hole)).Size("bore").Estimate - 5);
        Assert.True(with < 0.5 * without, $"{with} of {without}");
    }

    [Fact]
    public void A_ring_of_an_instrument_that_read_nothing_inside_is_left_alone()
    {
        Job job = Bush(", ring: {size: 5, reads: 4.98}", $"  - {{depth: [bush.top, bush.bottom], reads: 30}}\n{Height}");
        job = job with { Readings = [job.Readings[0], job.Readings[2]], Sizes = new([.. job.Sizes.All.Select(s => s.Name == "bore" ? s with { Given = new Part.Sizes.Given.Fixed(5) } : s)]) };
        Assert.DoesNotContain(Jobs.Reconcile(job).Adjustment.Observations, o => o.Name.StartsWith("ring", StringComparison.Ordinal));
    }

    [Fact]
    public void What_a_counterpart_measures_decides_the_size_that_matches_it()
    {
        Reconciled alone = Jobs.Reconcile(Bush("", "  - {inside: hole.wall, reads: 5}\n  - {of_counterpart: sash, matches: p, reads: [30.10, 30.08]}"));
        ReconciledReading sash = alone.Reading("r3");
        Assert.Equal(30.09, alone.Size("p").Estimate, 1e-9);
        Assert.Equal(["r3"], alone.Size("p").DecidedBy);
        Assert.Equal("distance on sash, which p matches", sash.Says);
        Assert.Contains(sash.Measured!.Budget.Lines, l => l.Name == "made to match" && Math.Abs(l.StandardUncertaintyMm - 0.2 / Math.Sqrt(3)) < 1e-12);

        // Beside the old part's own length it says little.
        Reconciled both = Jobs.Reconcile(Bush("", $"  - {{inside: hole.wall, reads: 5}}\n{Height}\n  - {{of_counterpart: sash, matches: p, reads: 30.10}}"));
        Assert.Equal(30.0, both.Size("p").Estimate, 0.01);
        Assert.All(both.Readings, r => Assert.Equal(ReadingVerdict.Agrees, r.Verdict));

        // One that does not match at all is told, with how it came about.
        ReconciledReading wrong = Jobs.Reconcile(Bush("", $"  - {{inside: hole.wall, reads: 5}}\n{Height}\n{Height}\n{Height.Replace("outside", "inside", StringComparison.Ordinal).Replace("inside: [bush.top, bush.bottom]", "outside: [bush.bottom, bush.top]", StringComparison.Ordinal)}\n  - {{of_counterpart: sash, matches: p, reads: 31.00}}")).Reading("r6");
        Assert.Equal(ReadingVerdict.SetAside, wrong.Verdict);
        Assert.Contains(wrong.Explanations, e => e.ShouldHaveReadMm == 30);
    }
}
