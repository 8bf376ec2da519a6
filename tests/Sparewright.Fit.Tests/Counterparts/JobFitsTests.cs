using Sparewright.Fit.Counterparts;
using Sparewright.Fit.Drawn;
using Sparewright.Fit.Odds;
using Sparewright.Part;
using Sparewright.Part.Record;
using Xunit;

namespace Sparewright.Fit.Tests.Counterparts;

/// <summary>Where counterparts meet the part, and what must hold there.</summary>
public class JobFitsTests
{
    [Theory]
    [InlineData("{rod: r, reads: 12, goes_into: bore}", "bore.wall", SurfaceKind.HoleUpright, 12.3)]
    [InlineData("{rod: r, reads: 12, goes_into: bore.wall}", "bore.wall", SurfaceKind.HoleUpright, 12.3)]
    [InlineData("{pin: r, reads: 5, goes_through: cross}", "cross.wall", SurfaceKind.HoleLying, 5.2)]
    [InlineData("{plate: r, reads: 3, goes_into: gap}", "gap.side#1, gap.side#2", SurfaceKind.Slot, 3.2)]
    [InlineData("{nut: r, reads: 7, goes_into: seat}", "seat.wall#1, seat.wall#4", SurfaceKind.Slot, 7.3)]
    [InlineData("{hole: r, reads: 40.2, goes_over: peg}", "peg.side", SurfaceKind.Outside, 40)]
    [InlineData("{hole: r, reads: 32, goes_over: peg}", "peg.bottom, peg.top", SurfaceKind.Height, 30)]
    [InlineData("{groove: r, reads: 60.2, goes_over: base}", "base.rim#1, base.rim#3", SurfaceKind.Outside, 60)]
    [InlineData("{groove: r, reads: 60.2, goes_over: base.rim#2}", "base.rim#2, base.rim#4", SurfaceKind.Outside, 120)]
    [InlineData("{groove: r, width: 5.2, tolerance: H9, goes_over: base.top}", "base.bottom, base.top", SurfaceKind.Height, 5)]
    [InlineData("{screw: r, reads: 4, through: screw_hole#2}", "screw_hole#2.wall", SurfaceKind.HoleUpright, 4.5)]
    public void A_counterpart_meets_its_surface(string counterpart, string surface, SurfaceKind kind, double sizeMm)
    {
        MetSurface met = Assert.Single(Assert.Single(Jobs.Fits(Jobs.With(counterpart)).Met).Surfaces);
        Assert.Equal((surface, kind), (met.Name, met.Kind));
        Assert.Equal(sizeMm, met.SizeMm.Value, 6e-2);
    }

    /// <summary>A bush of 22 mm that is 22.5 long, in a hole of 22.27: the height is nearer in size and yet not what a hole goes over.</summary>
    [Fact]
    public void What_is_round_meets_what_is_round_where_that_is_about_as_large()
    {
        Job job = Jobs.Read("""
            sparewright: 1
            part: bush
            could_injure: no
            instruments: {caliper: {kind: digital caliper, resolution: 0.01, mpe: 0.03}}
            sizes: {od: {fixed: 22}, len: {fixed: 22.5}}
            shape: [{boss: tube, diameter: od, height: len}]
            counterparts:
              - {hole: seat, reads: 22.27, goes_over: tube, changes: od}
              - {groove: fork, reads: 22.3, goes_over: tube, changes: len}
            """);
        Assert.Equal(["tube.side", "tube.bottom, tube.top"], Jobs.Fits(job).Met.Select(m => m.Surfaces[0].Name));
    }

    [Theory]
    [InlineData("right", SurfaceKind.HoleLying, SurfaceKind.HoleLying, SurfaceKind.Height, SurfaceKind.Slot)]
    [InlineData("back", SurfaceKind.HoleLying, SurfaceKind.HoleUpright, SurfaceKind.Height, SurfaceKind.HoleLying)]
    [InlineData("down", SurfaceKind.HoleUpright, SurfaceKind.HoleLying, SurfaceKind.Outside, SurfaceKind.Slot)]
    public void The_way_up_says_what_the_printer_does(string wayUp, SurfaceKind bore, SurfaceKind cross, SurfaceKind peg, SurfaceKind gap)
    {
        Job job = Jobs.With("{rod: a, reads: 12, goes_into: bore}\n{pin: b, reads: 5, goes_through: cross}\n{hole: c, reads: 40.2, goes_over: peg}\n{plate: d, reads: 3, goes_into: gap}", $"{{way_up: {wayUp}}}");
        Assert.Equal([bore, cross, peg, gap], Jobs.Fits(job).Met.Select(m => m.Surfaces[0].Kind));
    }

    [Fact]
    public void A_clearance_is_what_the_printer_makes_less_the_counterpart()
    {
        JobFits fits = Jobs.Fits(Jobs.With("{rod: r, reads: [12, 12.01], goes_into: bore, changes: bore_d, fit: slides}"));
        ConditionOdds odds = FitOdds.Of(fits.Case).Each[0];
        NormalLength printed = Jobs.AssumedMex[SurfaceKind.HoleUpright].Forecast(12.3), own = fits.Met[0].Own!.Length;
        Assert.Equal(printed.MeanMm - own.MeanMm, odds.Clearance.MeanMm, 1e-9);
        Assert.Equal(Math.Sqrt(printed.VarianceMm2 + own.VarianceMm2), odds.Clearance.StandardDeviationMm, 1e-6);
        // A fixed size changes too when the job says so, one for one.
        Assert.Equal([("bore_d", 1.0)], ((OneClearance)fits.Case.Conditions[0]).Clearance.Printed[0].PerSize.Select(p => (p.Key, p.Value)));
        Assert.Equal(12.3, fits.DrawnMm["bore_d"]);
    }

    [Fact]
    public void What_goes_over_the_part_has_its_clearance_the_other_way_round()
    {
        JobFits fits = Jobs.Fits(Jobs.With("{hole: r, reads: 40.5, goes_over: peg, changes: peg_d, fit: turns}"));
        NormalLength printed = Jobs.AssumedMex[SurfaceKind.Outside].Forecast(40);
        Assert.Equal(fits.Met[0].Own!.Length.MeanMm - printed.MeanMm, FitOdds.Of(fits.Case).Each[0].Clearance.MeanMm, 1e-9);
        SizeChange change = Assert.Single(DrawnSizes.Best(fits.Case).Changes);
        Assert.True(change.ByMm < 0, "a peg that sits too tight is drawn thinner");
    }

    [Fact]
    public void A_pattern_is_held_against_the_pitch_of_its_counterpart()
    {
        JobFits fits = Jobs.Fits(Jobs.With("{holes: h, pitch: 20.4, pitch_plus_minus: 0.05, meet: screws, changes: pitch}\n{screw: s, thread: M4, through: screws, changes: screw_d}"));
        var line = Assert.IsType<FastenersInLine>(Assert.Single(fits.Case.Conditions));
        Assert.Equal(2, line.Offsets.Count);
        Assert.Equal(3, line.Rooms.Count);
        DrawnSizes best = DrawnSizes.Best(fits.Case);
        Assert.Equal(20.4, fits.DrawnMm["pitch"] + best.Changes.Single(c => c.Size == "pitch").ByMm, 0.03);
        Assert.True(best.Odds.AllTogether.Value > best.Before.AllTogether.Value);
        Assert.Equal(["h", "s"], fits.Met.Select(m => m.Condition.Name));
    }

    [Fact]
    public void Without_a_pitch_of_its_own_the_old_part_tells_where_the_fasteners_stand()
    {
        JobFits fits = Jobs.Fits(Jobs.With("{screw: s, thread: M4, through: screws, changes: screw_d}"));
        var line = Assert.IsType<FastenersInLine>(Assert.Single(fits.Case.Conditions));
        Assert.All(line.Offsets, o => Assert.Equal("pitch", Assert.Single(o.Read).Name));
        // Drawn where it was read, so nothing is off but what the printer and the readings leave open.
        Assert.Equal(0, line.Offsets[0].FixedMm + line.Offsets[0].Printed[0].DrawnMm + line.Offsets[0].Read[0].Factor * fits.Case.Read.MeansMm[fits.Case.Read.Names.ToList().IndexOf("pitch")], 1e-9);
        Assert.Contains(fits.Met[0].Remarks, r => r.Contains("only by the old part's readings", StringComparison.Ordinal));
    }

    [Fact]
    public void A_ring_is_held_against_the_circle_of_its_counterpart()
    {
        JobFits fits = Jobs.Fits(Jobs.With("{holes: h, pitch: 26.5, pitch_plus_minus: 0.05, meet: bolts, changes: circle}"));
        var plane = Assert.IsType<FastenersInPlane>(Assert.Single(fits.Case.Conditions));
        Assert.Equal((4, 8, 4), (plane.PlacesMm.Count, plane.Offsets.Count, plane.Rooms.Count));
        Assert.All(plane.PlacesMm, p => Assert.Equal(13, Math.Sqrt(p.RightMm * p.RightMm + p.UpMm * p.UpMm), 1e-9));
        Assert.Contains(fits.Met[0].Remarks, r => r.Contains("M4 screws are taken", StringComparison.Ordinal));
        Assert.Equal(26.5, 26 + DrawnSizes.Best(fits.Case).Changes.Single(c => c.Size == "circle").ByMm, 0.05);
    }

    [Fact]
    public void The_part_is_placed_anew_at_changed_sizes()
    {
        Job job = Jobs.With("{rod: r, reads: 12, goes_into: bore, changes: bore_d}");
        var shape = JobFits.ShapeChanged(job, Jobs.Reconciled(job), new Dictionary<string, double> { ["bore_d"] = 0.25 });
        Assert.Equal(12.55, shape.Sizes["bore_d"].Value, 1e-12);
    }

    [Theory]
    [InlineData("{rod: r, reads: 12, goes_into: peg}", "`peg` has no hollow surface that something could go into")]
    [InlineData("{hole: r, reads: 12, goes_over: bore}", "`bore` has no outside that something could go over")]
    [InlineData("{rod: r, diameter: 12, tolerance: H7, goes_into: bore}", "H7 is a class of holes, and this is what goes into the part")]
    [InlineData("{rod: r, diameter: 12, tolerance: x7, goes_into: bore}", "there is no table for the ISO 286 class x7")]
    [InlineData("{screw: r, thread: M17, goes_into: bore}", "there is no table for screw M17")]
    [InlineData("{bearing: r, designation: 9999, goes_into: bore}", "there is no table for the bearing 9999")]
    [InlineData("{holes: r, pitch: 3, meet: bore}", "`bore` is one hole, and a pitch takes two")]
    public void What_cannot_be_is_said_with_its_place(string counterpart, string what)
    {
        Job job = Jobs.With(counterpart);
        Assert.False(JobFits.TryFind(job, Jobs.Reconciled(job), Jobs.AssumedMex, out _, out IReadOnlyList<Problem> problems));
        Problem problem = Assert.Single(problems);
        Assert.Contains(what, problem.What, StringComparison.Ordinal);
        Assert.Equal(job.Counterparts[0].Place.Line, problem.Place.Line);
        Assert.NotEmpty(problem.Remedy);
    }

    [Theory]
    [InlineData("vent-knuckle", 4)]
    [InlineData("line-reel-crank", 3)]
    public void The_examples_find_all_their_counterparts(string name, int counterparts)
    {
        JobFits fits = Jobs.Fits(Jobs.Example(name));
        Assert.Equal(counterparts, fits.Met.Count);
        DrawnSizes best = DrawnSizes.Best(fits.Case);
        Assert.True(best.Odds.AllTogether.Value > best.Before.AllTogether.Value);
        foreach (MetCounterpart m in fits.Met) TestContext.Current.TestOutputHelper?.WriteLine($"{m.Counterpart.Name} {m.Own?.Words} {m.Pitch?.Words} {m.Window?.Why} {string.Join("; ", m.Remarks)}");
        foreach (ConditionOdds o in best.Odds.Each) TestContext.Current.TestOutputHelper?.WriteLine($"{o.Condition.Name} {o.Odds.Value:0.000} {o.Clearance.MeanMm:0.000} {o.Clearance.StandardDeviationMm:0.000}");
        TestContext.Current.TestOutputHelper?.WriteLine($"{best.Before.AllTogether.Value:0.000} {best.Odds.AllTogether.Value:0.000} {string.Join(" ", best.Changes)}");
    }
}
