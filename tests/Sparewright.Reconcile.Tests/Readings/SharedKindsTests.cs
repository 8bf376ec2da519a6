using CsCheck;
using Sparewright.Measure;
using Sparewright.Measure.Uncertainty;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Readings;
using Xunit;

namespace Sparewright.Reconcile.Tests.Readings;

/// <summary>Readings over gauge pins, across a break, of several copies, of something soft, with an instrument that stood askew.</summary>
public class SharedKindsTests
{
    private const string Bar = """
          - block: bar
            long: long
            deep: 12 mm
            tall: 8 mm
            middle_at: [0, 0, 4]
          - hole: near_hole
            axis: up
            at: [-pitch/2, 0, 0]
            diameter: near_d
            through: bar
          - hole: far_hole
            axis: up
            at: [pitch/2, 0, 0]
            diameter: far_d
            through: bar
        """;

    private static Job Of(string readings, string madeBy = "") => Jobs.Read($$$"""
        sparewright: 1
        part: bar
        {{{madeBy}}}
        could_injure: no
        instruments:
          caliper: {kind: digital caliper, resolution: 0.01, mpe: 0.03, zero_error: 0.00, inside_jaw_flat: 0}
        sizes: {long: {about: 60}, pitch: {about: 40}, near_d: {about: 5}, far_d: {about: 6}}
        shape:
        {{{Bar}}}
        readings:
        {{{readings}}}
        """);

    // ---- gauge pins

    [Fact]
    public void Pins_are_pressed_to_the_near_walls_from_outside_and_to_the_far_ones_from_inside() =>
        Gen.Select(Gen.Double[30, 50], Gen.Double[4, 7], Gen.Double[4, 7], Gen.Double[0, 0.3], Gen.Double[0, 0.3]).Sample((pitch, near, far, slackNear, slackFar) =>
        {
            Job job = Of("  - {outside: [near_hole.wall, far_hole.wall], reads: 45}\n  - {inside: [near_hole.wall, far_hole.wall], reads: 35}\n  - {outside: [near_hole.wall, bar.right], reads: 55}");
            PlacedShape shape = ShapePlacer.Place(job.Shape, job.Sizes.At([60, pitch, near, far]));
            CaliperReading Over(int k, params double[] pins) => (CaliperReading)job.Readings[k] with { OverPinsMm = pins };
            double a = near - slackNear, b = far - slackFar;
            // Plain geometry: the axes of the pins stand (d − p)/2 from those of the holes.
            Assert.Equal(pitch - slackNear / 2 - slackFar / 2 + a / 2 + b / 2, CaliperGeometry.Of(Over(0, a, b), shape).Mm!.Value.Value, 1e-9);
            Assert.Equal(pitch + slackNear / 2 + slackFar / 2 - a / 2 - b / 2, CaliperGeometry.Of(Over(1, a, b), shape).Mm!.Value.Value, 1e-9);
            Assert.Equal(30 + pitch / 2 - slackNear / 2 + a / 2, CaliperGeometry.Of(Over(2, a), shape).Mm!.Value.Value, 1e-9);
        }, iter: 300, threads: 1);

    [Fact]
    public void Over_and_between_pins_decide_the_pitch_whatever_the_holes()
    {
        Reconciled reconciled = Jobs.Reconcile(Of("""
              - {outside: [bar.left, bar.right], reads: 60}
              - {outside: [near_hole.wall, far_hole.wall], over_pins: [5, 6], reads: 45.52}
              - {inside: [near_hole.wall, far_hole.wall], over_pins: [5, 6], reads: 34.54}
              - {inside: near_hole.wall, reads: 5.03}
              - {inside: far_hole.wall, reads: 6.01}
            """));
        // Over: 40.03 − play/2, between: 40.03 + play/2 with the play of both pins 0.04 mm.
        Assert.Equal(40.03, reconciled.Size("pitch").Estimate, 3e-3);
        Assert.Contains(reconciled.Reading("r2").Measured!.Budget.Lines, l => l.Name == "gauge pins" && Math.Abs(l.StandardUncertaintyMm - 0.03 / Math.Sqrt(3)) < 1e-12);
        Assert.Contains("over gauge pins of 5 and 6 mm", reconciled.Reading("r2").Says, StringComparison.Ordinal);
        Assert.All(reconciled.Readings, r => Assert.Equal(ReadingVerdict.Agrees, r.Verdict));
    }

    [Theory]
    [InlineData("[bar.left, bar.right], over_pins: 5", "none of these elements is the wall of one")]
    [InlineData("[near_hole.wall, bar.right], over_pins: [5, 6]", "there are 2 pins for 1 hole")]
    [InlineData("[near_hole.wall, bar.right], over_pins: 8", "a pin of 8 mm does not go into `near_hole.wall`")]
    public void Pins_that_cannot_stand_there_are_refused(string reading, string reason) =>
        Assert.Contains(Jobs.Problems(Of($"  - {{outside: {reading}, reads: 55.5}}\n  - {{inside: near_hole.wall, reads: 5}}\n  - {{inside: far_hole.wall, reads: 6}}\n  - {{outside: [bar.left, bar.right], reads: 60}}\n  - {{outside: [near_hole.wall, far_hole.wall], reads: 34.5}}")),
            p => p.What.Contains(reason, StringComparison.Ordinal));

    // ---- across a break

    private const string AcrossBreak = """
          - {outside: [bar.left, bar.right], reads: 60.20, across_break: yes}
          - {outside: [bar.left, near_hole.wall], reads: 7.50}
          - {outside: [far_hole.wall, bar.right], reads: 7.00}
          - {inside: near_hole.wall, reads: 5}
          - {inside: far_hole.wall, reads: 6}
          - {outside: [near_hole.wall, far_hole.wall], reads: 34.70, across_break: yes}
        """;

    [Fact]
    public void A_gap_makes_all_readings_along_one_line_longer_alike()
    {
        // The bar is broken between the holes: its length and the web are read over the break, and nothing else says how far it gapes.
        Reconciled reconciled = Jobs.Reconcile(Of(AcrossBreak));
        UncertaintyBudget whole = reconciled.Reading("r1").Measured!.Budget, web = reconciled.Reading("r6").Measured!.Budget;
        Assert.Equal(0.1, whole.ReachingMm(ErrorReach.SameBreak), 1e-12);
        // The length is a sum of the web and what lies beside it, so the gap is common to both and not seen: it stays wholly in the size.
        Assert.True(reconciled.Size("pitch").StandardUncertainty > 0.1);
        Assert.Empty(reconciled.SharedErrors);
        Assert.True(web.OwnMm < 0.05);
    }

    [Fact]
    public void What_checks_one_reading_across_the_break_puts_the_others_right()
    {
        // The counter-evidence: the length is known from before the break.
        Job job = Of(AcrossBreak);
        job = job with { Sizes = new([.. job.Sizes.All.Select(s => s.Name == "long" ? s with { Given = new Part.Sizes.Given.Fixed(60) } : s)]) };
        Reconciled reconciled = Jobs.Reconcile(job);
        SharedErrorFound gap = Assert.Single(reconciled.SharedErrors);
        Assert.Equal("gap of the break, left to right", gap.Name);

        // By hand: r1 says 60 + g + shift, g ~ N(0, 0.1²); the others say c = 40 + (what is left of g). Weighted mean of what two conditions say.
        Assert.InRange(gap.Value, 0.15, 0.2);
        Assert.Equal(0.1, gap.AssumedStandardUncertainty, 1e-12);
        Assert.True(gap.StandardUncertainty < 0.04);
        Assert.Equal(40, reconciled.Size("pitch").Estimate, 0.05);
        Reconciled apart = Jobs.Reconcile(job with { Readings = [.. job.Readings.Select(r => r.Id == "r6" ? (CaliperReading)r with { Break = "the other" } : r)] });
        // Two breaks gape each by itself.
        Assert.True(apart.Size("pitch").StandardUncertainty > reconciled.Size("pitch").StandardUncertainty * 1.5);
    }

    [Fact]
    public void A_break_gapes_in_each_direction_by_itself()
    {
        Job job = Of("""
              - {outside: [bar.left, bar.right], reads: 60.20, across_break: yes}
              - {outside: [bar.front, bar.back], reads: 12.10, across_break: lower}
              - {outside: [near_hole.wall, far_hole.wall], reads: 34.5}
              - {inside: near_hole.wall, reads: 5}
              - {inside: far_hole.wall, reads: 6}
            """);
        Assert.True(Ledger.TryOpen(job, InstrumentDefaults.Published, out Ledger? ledger, out _));
        Assert.Equal(["gap of the break lower, front to back", "gap of the break, left to right"],
            ledger.Shared.All.Where(e => e.Key.Reach == ErrorReach.SameBreak).Select(e => e.Name).Order(StringComparer.Ordinal));
        Assert.Equal(" across the break lower".Trim(), ReadingWords.Of(job.Readings[1]).Split(", ")[^1]);
    }

    // ---- copies

    [Theory]
    [InlineData("made_by: moulding", 0.001, 0.02)]
    [InlineData("", 0.002, 0.05)]
    public void Several_copies_say_how_big_their_mean_is(string madeBy, double relative, double place)
    {
        string rest = "  - {outside: [near_hole.wall, far_hole.wall], reads: 34.5}\n  - {inside: near_hole.wall, reads: 5}\n  - {inside: far_hole.wall, reads: 6}";
        Reconciled one = Jobs.Reconcile(Of($"  - {{outside: [bar.left, bar.right], reads: 60.10, copy: B}}\n{rest.Replace("}", ", copy: B}", StringComparison.Ordinal)}", madeBy));
        Assert.DoesNotContain(one.Reading("r1").Measured!.Budget.Lines, l => l.Name.StartsWith("copies", StringComparison.Ordinal));

        Reconciled three = Jobs.Reconcile(Of($"""
              - {"{outside: [bar.left, bar.right], reads: 60.10, copy: B}"}
              - {"{outside: [bar.left, bar.right], reads: 60.00}"}
              - {"{outside: [bar.left, bar.right], reads: 60.05, copy: C}"}
            {rest}
            """, madeBy));
        UncertaintyBudget budget = three.Reading("r2").Measured!.Budget;
        double copy = budget.ReachingMm(ErrorReach.SameCopy), shift = budget.ReachingMm(ErrorReach.SameInstrumentAndWay);
        Assert.Equal(60 * relative, copy, 1e-12);
        Assert.Contains(budget.Lines, l => l.Name == "copies differ, from place to place" && l.StandardUncertaintyMm == place);
        Assert.Equal(60.05, three.Size("long").Estimate, 2e-3);
        // The mean of three copies, all read with one caliper.
        Assert.Equal(Math.Sqrt((budget.OwnMm * budget.OwnMm + copy * copy) / 3 + shift * shift), three.Size("long").StandardUncertainty, 1e-3);
        Assert.Contains("on the copy B", three.Reading("r1").Says, StringComparison.Ordinal);
    }

    [Fact]
    public void A_copy_that_is_bigger_all_over_is_told()
    {
        Reconciled reconciled = Jobs.Reconcile(Of("""
              - {outside: [bar.left, bar.right], reads: [60.00, 60.00, 60.00]}
              - {outside: [bar.left, bar.right], reads: [60.60, 60.60, 60.60], copy: B}
              - {outside: [bar.left, far_hole.wall], reads: [47.00, 47.00, 47.00]}
              - {outside: [bar.left, far_hole.wall], reads: [47.47, 47.47, 47.47], copy: B}
              - {outside: [near_hole.wall, far_hole.wall], reads: 34.5}
              - {inside: near_hole.wall, reads: 5}
              - {inside: far_hole.wall, reads: 6}
            """, "made_by: casting"));
        SharedErrorFound[] found = [.. reconciled.SharedErrors.OrderBy(e => e.Name, StringComparer.Ordinal)];
        Assert.Equal(["size of the copy B beside the mean", "size of the old part beside the mean"], found.Select(f => f.Name));
        Assert.Equal("%", found[0].Unit.Symbol);
        Assert.Equal(0.5, found[0].Value, 0.08);
        Assert.Equal(-found[0].Value, found[1].Value, 0.05);
        Assert.Equal(0.3, found[0].AssumedStandardUncertainty, 1e-9);
    }

    // ---- soft, askew

    [Fact]
    public void Jaws_press_something_soft_in_and_all_such_readings_share_how_far()
    {
        Job job = Of("""
              - {outside: [bar.left, bar.right], reads: 59.95, soft: yes}
              - {outside: [near_hole.wall, far_hole.wall], reads: 34.5}
              - {inside: near_hole.wall, reads: 5.05, soft: yes}
              - {inside: far_hole.wall, reads: 6}
            """);
        Reconciled reconciled = Jobs.Reconcile(job);
        double half = Math.Sqrt(3) * InstrumentDefaults.Published.SurfaceExtraMm(SurfaceState.Soft);
        Assert.Equal(59.95 + half, reconciled.Size("long").Estimate, 1e-9);
        Assert.Equal(5.05 - half, reconciled.Size("near_d").Estimate, 1e-9);
        // Pressed in farther than supposed, the bar is longer and the hole narrower: the two are tied.
        int of(string name) => job.Sizes.Free.Index().First(s => s.Item.Name == name).Index;
        double u = InstrumentDefaults.Published.SurfaceExtraMm(SurfaceState.Soft);
        Assert.Equal(-u * u, reconciled.Adjustment.Covariance(of("long"), of("near_d")), 1e-9);
    }

    [Fact]
    public void An_instrument_askew_reads_long()
    {
        Reconciled reconciled = Jobs.Reconcile(Of("""
              - {outside: [bar.left, bar.right], reads: 60.00, tilt: 3}
              - {outside: [near_hole.wall, far_hole.wall], reads: 34.5}
              - {inside: near_hole.wall, reads: 5}
              - {inside: far_hole.wall, reads: 6}
            """));
        (double longer, double spread) = Tilt.Of(3);
        Assert.Equal(60 / longer, reconciled.Size("long").Estimate, 1e-9);
        Assert.Contains(reconciled.Reading("r1").Measured!.Budget.Lines, l => l.Name == "tilt" && Math.Abs(l.StandardUncertaintyMm - 60 / longer * spread) < 1e-12);
    }
}
