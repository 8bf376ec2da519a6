using CsCheck;
using Sparewright.Measure;
using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Part.Sizes;
using Sparewright.Reconcile.Adjust;
using Sparewright.Reconcile.Findings;
using Xunit;

namespace Sparewright.Reconcile.Tests;

public class ReconciliationTests
{
    private const string TwoHoles = """
          - {plate: bar, thickness: 4, outline: {rectangle: [90, 30], middle_at: [0, 0]}}
          - {hole: one, from: bar.top, at: [-c/2, 0], diameter: d1, through: bar}
          - {hole: two, from: bar.top, at: [c/2, 0], diameter: d2, through: bar}
        """;

    // ---- repeats ------------------------------------------------------------------------------------------------------

    [Theory]
    [InlineData("[5.02, 5.04, 5.01]", false)]
    [InlineData("[5.02, 5.10]", false)]
    [InlineData("[5.02, 5.52]", true)]
    [InlineData("[5.02, 5.04, 16.98]", true)]
    public void Repeats_too_far_apart_to_be_of_one_length_do_not_pass_for_agreeing(string reads, bool apart)
    {
        Reconciled reconciled = Jobs.Reconcile(Jobs.Of("{d1: {about: 5}, d2: {about: 6}, c: {about: 40}}", TwoHoles, """
              - {inside: one.wall, reads: REPEATS}
              - {inside: two.wall, reads: 6.01}
              - {outside: [one.wall, two.wall], reads: 34.51}
            """.Replace("REPEATS", reads, StringComparison.Ordinal)));
        Assert.Equal(apart, reconciled.Reading("r1").RepeatsApart);
        Assert.Equal(apart, reconciled.ReadingsDisagree);
        Assert.Equal(apart, reconciled.NeedsAttention);
    }

    // ---- bounds --------------------------------------------------------------------------------------------------------

    [Fact]
    public void Gauge_leaves_on_a_size_that_the_job_fixes_are_compared_and_move_nothing()
    {
        Job job = Jobs.Of("{r: {fixed: 0.9}, d1: {about: 5}, d2: {fixed: 6}, c: {fixed: 40}}", TwoHoles + "\n  - {edge_round: soft, edges_of: bar, radius: r}", """
              - {inside: one.wall, reads: 5.02}
              - {radius_gauge: soft, leaf: [0.75, 1.0]}
            """);
        Reconciled reconciled = Jobs.Reconcile(job);
        Assert.Equal(0.9, reconciled.Size("r").Estimate);
        Assert.Equal(SizeStatus.Fixed, reconciled.Size("r").Status);
        Assert.Equal(ReadingVerdict.Compared, reconciled.Reading("r2").Verdict);
    }

    // ---- undecided ---------------------------------------------------------------------------------------------------

    /// <summary>Our notes on metrology, item 6: unknowns (d1, d2, c), readings D1 and I alone have rank 2 and the null vector (0, 2, 1).</summary>
    [Fact]
    public void What_one_diameter_and_the_web_leave_open_is_said_with_the_trade_off()
    {
        Job job = Jobs.Of("{d1: {about: 5}, d2: {about: 6}, c: {about: 40}}", TwoHoles, """
              - {inside: one.wall, reads: 5.02}
              - {outside: [one.wall, two.wall], reads: 34.51}
            """);
        Reconciled reconciled = Jobs.Reconcile(job);

        UndecidedSizes undecided = Assert.Single(reconciled.Undecided);
        Assert.Equal(["d2", "c"], undecided.Sizes);
        Assert.StartsWith("`d2` and `c` appear only together: `d2` could be 2 mm bigger and `c` 1 mm bigger, and every reading would stay the same; drawn near where the job starts it: d2 ", undecided.Why);
        Assert.Contains("inside: two.wall", undecided.Measure);
        Assert.DoesNotContain("inside: one.wall", undecided.Measure);
        Assert.Equal(SizeStatus.Undecided, reconciled.Size("d2").Status);
        Assert.Equal(SizeStatus.Undecided, reconciled.Size("c").Status);
        Assert.True(double.IsPositiveInfinity(reconciled.Size("c").StandardUncertainty));
        Assert.Empty(reconciled.Size("c").DecidedBy);
        Assert.Equal(SizeStatus.Weak, reconciled.Size("d1").Status);
        // The readings themselves are met all the same.
        Assert.Equal(34.51, reconciled.Reading("r2").Adjusted!.Value, 1e-9);
    }

    [Fact]
    public void Sizes_that_appear_only_as_a_sum_are_said_to()
    {
        Job job = Jobs.Of("{foot_t: {about: 5}, seat: {about: 36}}", """
              - {plate: foot, thickness: foot_t, outline: {disc: [0, 0], radius: 12}}
              - {boss: socket, stands_on: foot.top, diameter: 17, height: seat}
            """, "  - {outside: [foot.bottom, socket.top], reads: 41.3}");
        UndecidedSizes undecided = Assert.Single(Jobs.Reconcile(job).Undecided);
        Assert.Equal(["foot_t", "seat"], undecided.Sizes);
        Assert.StartsWith("`foot_t` and `seat` appear only as a sum: `foot_t` could be 1 mm bigger and `seat` 1 mm smaller, and every reading would stay the same", undecided.Why);
        Assert.Contains("outside: [foot.bottom, foot.top]", undecided.Measure);
    }

    [Fact]
    public void A_size_that_no_reading_touches_is_drawn_where_it_starts_and_said_to_be_undecided()
    {
        Job job = Jobs.Of("{d1: {about: 5}, d2: {about: 6.25}, c: {fixed: 40}}", TwoHoles, "  - {inside: one.wall, reads: 5.02}");
        Reconciled reconciled = Jobs.Reconcile(job);
        UndecidedSizes undecided = Assert.Single(reconciled.Undecided);
        Assert.StartsWith("no reading depends on `d2`", undecided.Why);
        Assert.Equal(6.25, reconciled.Size("d2").Estimate);
        Assert.Equal("inside: two.wall", undecided.Measure[0]);
        Assert.Equal(SizeStatus.Fixed, reconciled.Size("c").Status);
    }

    /// <summary>The corners of a rectangle cancel out of the distance of its sides, but for rounding: that is no evidence.</summary>
    [Fact]
    public void A_size_that_cancels_out_of_every_reading_is_undecided()
    {
        Job job = Jobs.Of("{a: {about: 70}, b: {about: 45}, wall: {about: 2}, r: {about: 4.1}}", """
              - {plate: cover, thickness: 12, outline: {rectangle: [a, b], middle_at: [0, 0], corner_radius: r}}
              - {pocket: hollow, from: cover.bottom, outline: {rectangle: [a - 2*wall, b - 2*wall], middle_at: [0, 0]}, depth: 9}
            """, """
              - {outside: cover.rim, across: right, reads: 70}
              - {outside: cover.rim, across: back, reads: 45}
              - {outside: [cover.rim#1, hollow.wall#1], reads: 2}
              - {inside: [hollow.wall#1, hollow.wall#3], reads: 41}
            """);
        Reconciled reconciled = Jobs.Reconcile(job);
        Assert.Equal(["r"], Assert.Single(reconciled.Undecided).Sizes);
        Assert.Equal(1, reconciled.Global.DegreesOfFreedom);
    }

    // ---- where sizes begin ----------------------------------------------------------------------------------------------

    [Fact]
    public void Sizes_without_a_start_begin_where_readings_put_them()
    {
        // c alone follows from the web once both diameters have begun; whatever the order of the ledger.
        Job job = Jobs.Of("{d1: {}, d2: {}, c: {}}", TwoHoles, """
              - {outside: [one.wall, two.wall], reads: 34.51}
              - {inside: two.wall, reads: 6.01}
              - {inside: one.wall, reads: 5.01}
            """);
        Reconciled reconciled = Jobs.Reconcile(job);
        Assert.Equal(5.01, reconciled.Size("d1").Estimate, 1e-9);
        Assert.Equal(40.02, reconciled.Size("c").Estimate, 1e-9);
    }

    [Fact]
    public void A_size_that_begins_nowhere_is_refused_at_its_place()
    {
        Job job = Jobs.Of("{d1: {about: 5}, d2: {}, c: {}}", TwoHoles, "  - {outside: [one.wall, two.wall], reads: 34.51}");
        IReadOnlyList<Problem> problems = Jobs.Problems(job);
        Assert.Equal(["nothing says roughly how big `d2` is, and no reading depends on it alone", "nothing says roughly how big `c` is, and no reading depends on it alone"], problems.Select(p => p.What));
        Assert.Equal(job.Sizes.All.Single(s => s.Name == "d2").Place, problems[0].Place);
        Assert.Equal("give it a start, however rough: d2: {about: …}", problems[0].Remedy);
    }

    [Fact]
    public void Far_starts_do_not_matter()
    {
        const string readings = """
              - {outside: [one.wall, two.wall], reads: 34.51}
              - {inside: two.wall, reads: 6.01}
              - {inside: one.wall, reads: 5.01}
            """;
        Reconciled near = Jobs.Reconcile(Jobs.Of("{d1: {about: 5}, d2: {about: 6}, c: {about: 40}}", TwoHoles, readings));
        // Here the holes overlap at first, and the web is none.
        Reconciled far = Jobs.Reconcile(Jobs.Of("{d1: {about: 25}, d2: {about: 25}, c: {about: 12}}", TwoHoles, readings));
        foreach (ReconciledSize size in near.Sizes) Assert.Equal(size.Estimate, far.Size(size.Name).Estimate, 1e-9);
    }

    // ---- refusals --------------------------------------------------------------------------------------------------------

    [Fact]
    public void Every_reading_that_no_caliper_can_take_is_refused_at_its_place()
    {
        Job job = Jobs.Of("{d1: {about: 5}, d2: {about: 6}, c: {about: 40}}", TwoHoles, """
              - {outside: one.wall, reads: 5.02}
              - {inside: two.wall, reads: 6.01}
              - {outside: [one.wall, bar.top], reads: 3}
            """);
        IReadOnlyList<Problem> problems = Jobs.Problems(job);
        Assert.Equal(2, problems.Count);
        Assert.StartsWith("r1: `one.wall` is hollow", problems[0].What);
        Assert.Equal(job.Readings[0].Place, problems[0].Place);
        Assert.StartsWith("r3: the axis of `one.wall` is not parallel to `bar.top`", problems[1].What);
        Assert.Equal(job.Readings[2].Place, problems[1].Place);
    }

    [Fact]
    public void A_reading_taken_the_wrong_way_is_refused_at_the_sizes_that_the_others_find()
    {
        Job job = Jobs.Of("{t: {about: 5}}", "  - {plate: bar, thickness: t, outline: {rectangle: [90, 30], middle_at: [0, 0]}}", """
              - {inside: [bar.bottom, bar.top], reads: 5.02}
              - {outside: [bar.bottom, bar.top], reads: 5.01}
            """);
        Problem problem = Assert.Single(Jobs.Problems(job));
        Assert.StartsWith("r1: `bar.bottom` and `bar.top` face away from each other", problem.What);
    }

    [Fact]
    public void Sizes_at_which_the_shape_cannot_exist_are_refused()
    {
        Job job = Jobs.Of("{d: {about: 5}}", """
              - {plate: bar, thickness: 4, outline: {rectangle: [90, 30], middle_at: [0, 0]}}
              - {boss: knob, stands_on: bar.top, diameter: d, height: 8 - d}
            """, "  - {outside: knob.side, reads: 9.00}");
        Assert.Contains(Jobs.Problems(job), p => p.What.StartsWith("knob: ", StringComparison.Ordinal));
    }

    [Fact]
    public void A_reading_must_say_which_of_two_calipers_it_was_taken_with()
    {
        const string text = """
            sparewright: 1
            part: test
            could_injure: no
            instruments:
              long: {kind: digital caliper}
              short: {kind: vernier caliper}
              scale: {kind: scale}
            sizes: {t: {about: 5}}
            shape:
              - {plate: bar, thickness: t, outline: {rectangle: [90, 30], middle_at: [0, 0]}}
            readings:
              - {outside: [bar.bottom, bar.top], reads: 5.01}
            """;
        Problem problem = Assert.Single(Jobs.Problems(Jobs.Read(text)));
        Assert.Equal("r1: it does not say which of `long`, `short` it was taken with", problem.What);
        Assert.Equal("add with: and the instrument's name", problem.Remedy);
        Assert.Contains("`scale` is a scale", Assert.Single(Jobs.Problems(Jobs.Read(text.Replace("reads: 5.01", "reads: 5.01, with: scale", StringComparison.Ordinal)))).What);

        // The vernier's wider limits make its reading less sure.
        double u(string with) => Jobs.Reconcile(Jobs.Read(text.Replace("reads: 5.01", $"reads: 5.01, with: {with}", StringComparison.Ordinal))).Size("t").StandardUncertainty;
        Assert.True(u("short") > 1.5 * u("long"));
    }

    // ---- evidence ----------------------------------------------------------------------------------------------------------

    [Fact]
    public void What_is_likely_counts_as_one_more_observation()
    {
        const string shape = "  - {plate: bar, thickness: t, outline: {rectangle: [90, 30], middle_at: [0, 0]}}", readings = "  - {outside: [bar.bottom, bar.top], reads: 5.05}";
        Reconciled alone = Jobs.Reconcile(Jobs.Of("{t: {about: 5}}", shape, readings));
        double u = alone.Size("t").StandardUncertainty;
        Reconciled both = Jobs.Reconcile(Jobs.Of(string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{{t: {{likely: {{value: 5, plus_minus: {2 * u:R}}}}}}}"), shape, readings));
        // Two observations of equal weight: the mean, and u/√2.
        Assert.Equal(5.025, both.Size("t").Estimate, 1e-9);
        Assert.Equal(u / Math.Sqrt(2), both.Size("t").StandardUncertainty, 1e-12);
        Assert.True(both.Size("t").AlsoLikely);
        Assert.Equal(["r1"], both.Size("t").DecidedBy);
        Assert.Equal(0.5, both.Reading("r1").Redundancy!.Value, 1e-12);
        Assert.Equal(1, both.Global.DegreesOfFreedom);
        // v = −0.025 on u, redundancy ½: w = −0.025/(u√½).
        Assert.Equal(-0.025 / (u * Math.Sqrt(0.5)), both.Reading("r1").W!.Value, 1e-9);
    }

    [Fact]
    public void A_worn_reading_bounds_the_size_on_one_side()
    {
        Reconciled Worn(double reads) => Jobs.Reconcile(Jobs.Of("{t: {about: 5}}", "  - {plate: bar, thickness: t, outline: {rectangle: [90, 30], middle_at: [0, 0]}}",
            string.Create(System.Globalization.CultureInfo.InvariantCulture, $"  - {{outside: [bar.bottom, bar.top], reads: 5.00}}\n  - {{outside: [bar.bottom, bar.top], reads: {reads}, worn: yes}}")));
        Reconciled thinner = Worn(4.2), thicker = Worn(5.3);
        Assert.Equal(5.0, thinner.Size("t").Estimate, 1e-12);
        Assert.Equal(5.0, thicker.Size("t").Estimate, 1e-12);
        Assert.Equal(0, thinner.Global.DegreesOfFreedom);
        Assert.Equal(ReadingVerdict.Compared, thinner.Reading("r2").Verdict);
        Assert.Equal(ReadingVerdict.ComparedAndDiffers, thicker.Reading("r2").Verdict);
        Assert.True(thicker.NeedsAttention);
        Assert.Null(thinner.Reading("r2").Redundancy);
        // A worn surface that still measures a little more than another place says that there was a little more.
        Reconciled more = Worn(5.04);
        Assert.Equal(ReadingVerdict.Compared, more.Reading("r2").Verdict);
        Assert.InRange(more.Size("t").Estimate, 5.001, 5.04);
        Assert.True(more.Size("t").StandardUncertainty < thinner.Size("t").StandardUncertainty);
    }

    [Fact]
    public void Far_walls_of_holes_are_corrected_for_the_jaw_flats_too()
    {
        string text = $$$"""
            sparewright: 1
            part: test
            could_injure: no
            instruments:
              caliper: {kind: digital caliper, resolution: 0.01, mpe: 0.03, zero_error: 0.00, inside_jaw_flat: 0.5}
            sizes: {c: {about: 40}}
            shape:
            {{{TwoHoles.Replace("d1", "5", StringComparison.Ordinal).Replace("d2", "3", StringComparison.Ordinal)}}}
            readings:
              - {inside: [one.wall, two.wall], reads: 44.00}
            """;
        // Each jaw stops short by half of what a diameter loses: (5 − √(25 − 0.25))/2 + (3 − √(9 − 0.25))/2.
        double shortfall = (5 - Math.Sqrt(24.75)) / 2 + (3 - Math.Sqrt(8.75)) / 2;
        Reconciled reconciled = Jobs.Reconcile(Jobs.Read(text));
        Assert.Equal(44 + shortfall, reconciled.Reading("r1").Observed!.Value, 1e-12);
        Assert.Equal(40 + shortfall, reconciled.Size("c").Estimate, 1e-9);
        MeasuredLength measured = reconciled.Reading("r1").Measured!;
        Assert.Equal("jaw flats on round far walls", Assert.Single(measured.Corrections).Name);
        Assert.Contains(measured.Budget.Lines, l => l.Name == "jaw flats" && l.StandardUncertaintyMm > 0);
    }

    // ---- identities ----------------------------------------------------------------------------------------------------------

    [Theory]
    [InlineData("vent-knuckle")]
    [InlineData("line-reel-crank")]
    public void Redundancies_add_up_to_the_degrees_of_freedom(string example)
    {
        Reconciled reconciled = Jobs.Reconcile(Jobs.Example(example));
        Assert.Equal(reconciled.Global.DegreesOfFreedom, reconciled.Adjustment.Observations.Sum(o => o.Redundancy), 1e-9);
        // What is told of a reading is how surely the others foretell it, by its whole uncertainty.
        AdjustmentResult all = reconciled.Adjustment;
        int compared = 0;
        foreach (ReconciledReading reading in reconciled.Readings.Where(r => r.Verdict == ReadingVerdict.Agrees))
        {
            if (reading.IsUnchecked) continue;
            var (k, observation) = all.Problem.Observations.Index().Single(o => o.Item.Name == reading.Reading.Id);
            DerivedValue foretold = Adjustment.Without(all.Problem, new HashSet<int> { k }, all)!.Of(observation.Computed);
            double whole = reading.Measured!.Budget.StandardUncertaintyMm;
            double variance = observation.StandardUncertainty * observation.StandardUncertainty + foretold.StandardUncertainty * foretold.StandardUncertainty;
            Assert.Equal(Math.Min(1, whole * whole / variance), reading.Redundancy!.Value, 1e-6);
            compared++;
        }

        Assert.True(compared > 10);
    }

    [Fact]
    public void The_answer_is_the_same_to_the_last_bit_in_any_order_of_the_readings()
    {
        Job job = Jobs.Example("vent-knuckle");
        Reconciled straight = Jobs.Reconcile(job);
        Gen.Shuffle(job.Readings.ToArray()).Sample(shuffled =>
        {
            Reconciled other = Jobs.Reconcile(job with { Readings = shuffled });
            foreach (ReconciledSize size in straight.Sizes)
            {
                Assert.Equal(size.Estimate, other.Size(size.Name).Estimate);
                Assert.Equal(size.StandardUncertainty, other.Size(size.Name).StandardUncertainty);
                Assert.Equal(size.DecidedBy, other.Size(size.Name).DecidedBy);
            }

            Assert.Equal(straight.Contradictions.Select(c => c.Words), other.Contradictions.Select(c => c.Words));
            Assert.Equal(straight.Global, other.Global);
        }, iter: 20, threads: 1);
    }

    [Fact]
    public void Readings_of_the_true_sizes_give_the_true_sizes_back()
    {
        Job job = Jobs.Example("line-reel-crank");
        double[] about = [.. Jobs.Reconcile(job).Free.Zip(job.Sizes.Free, (found, size) => size.Given is Given.Likely likely ? likely.Value : found)];
        Gen.Double[0.97, 1.03].Array[about.Length].Sample(factors =>
        {
            double[] truth = [.. about.Select((size, k) => job.Sizes.Free[k].Given is Given.Likely ? size : size * factors[k])];
            Reconciled reconciled = Jobs.Reconcile(Simulated.Exactly(job, truth));
            for (int k = 0; k < truth.Length; k++) Assert.Equal(truth[k], reconciled.Free[k], 1e-6);
        }, iter: 20, threads: 1);
    }
}
