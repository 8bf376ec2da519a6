using Sparewright.Measure;
using Sparewright.Measure.Quantities;
using Sparewright.Part.Record;
using Sparewright.Part.Sizes;
using Xunit;

namespace Sparewright.Part.Tests;

/// <summary>Every kind of reading as it is written, and what is refused of each in its line.</summary>
public class ReadingKindsTests
{
    private static readonly string Text = File.ReadAllText(Path.Combine(Repository.Root, "tests", "Sparewright.Part.Tests", "corpus", "readings.yaml"));

    private static T Reading<T>(int number) where T : Reading
    {
        JobReading read = JobFile.Read(Text);
        Assert.Empty(read.Problems.Select(p => p.In("job.yaml")));
        return Assert.IsType<T>(read.Job!.Readings[number - 1]);
    }

    [Fact]
    public void What_is_said_of_a_caliper_reading_is_kept()
    {
        Assert.Equal("B", Reading<CaliperReading>(1).Copy);
        var over = Reading<CaliperReading>(2);
        Assert.Equal([5.0, 5.0], over.OverPinsMm);
        Assert.True(over.Soft);
        Assert.Equal(0, over.TiltDegrees);
        Assert.Equal([5.0], Reading<CaliperReading>(3).OverPinsMm);
        Assert.Equal(2, Reading<CaliperReading>(3).TiltDegrees);
        Assert.True(Reading<CaliperReading>(4) is { AcrossBreak: true, Break: null, Soft: false, Copy: null });
        Assert.True(Reading<CaliperReading>(5) is { AcrossBreak: true, Break: "by the hole", Worn: false, OnFragment: "tip" });
    }

    [Fact]
    public void Radius_angle_and_pitch_are_read()
    {
        var arc = Reading<SagittaReading>(6);
        Assert.Equal(("arc", "disc.rim"), (arc.Id, arc.Of.Text));
        Assert.Equal([40.00, 40.01], arc.ChordReadsMm);
        Assert.Equal([8.1], arc.SagittaReadsMm);
        var angle = Reading<AngleReading>(7);
        Assert.Equal(("bar.top", "arm.bottom", "square"), (angle.First.Text, angle.Second!.Text, angle.With));
        Assert.Equal([20.5], angle.ReadsDegrees);
        var pitch = Reading<ThreadPitchReading>(8);
        Assert.Equal((10, new SizeExpression.Name("p")), (pitch.Turns, pitch.Pitch));
        Assert.Equal(InstrumentKind.MeasuringCylinder, JobFile.Read(Text).Job!.Instruments["jug"].Kind);
        Assert.Equal(InstrumentKind.Protractor, JobFile.Read(Text).Job!.Instruments["square"].Kind);
    }

    [Fact]
    public void A_ring_and_a_counterpart_are_read()
    {
        RingReading ring = JobFile.Read(Text).Job!.Instruments["caliper"].Ring!;
        Assert.Equal(10, ring.SizeMm);
        Assert.Equal([9.98, 9.97], ring.ReadsMm);
        var sash = Reading<CounterpartReading>(12);
        Assert.Equal(("sash", 0.3), (sash.Counterpart, sash.WithinMm));
        Assert.Equal([40.1, 40.0], sash.ReadsMm);
        Assert.Equal(0.2, Assert.IsType<CounterpartReading>(JobFile.Read(Text.Replace(", within: 0.3", "", StringComparison.Ordinal)).Job!.Readings[11]).WithinMm);
    }

    [Fact]
    public void Weights_of_fragments_are_read_and_faces_that_lean_are_known_to_every_caliper_reading()
    {
        var weights = Reading<FragmentWeightsReading>(13);
        Assert.Equal(["tip", "stump"], weights.Fragments.Select(f => f.Fragment));
        Assert.Equal([11.5, 11.6], weights.Fragments[1].ReadsGrams);
        Assert.Equal((1.05, 0.02, "kitchen scale"), (weights.Density, weights.DensityPlusMinus, weights.With));
        Draft draft = Assert.Single(Reading<CaliperReading>(1).Drafts);
        Assert.True(draft.IsOf(new("disc.rim#2", Place.None)) && draft.IsOf(new("bar.left", Place.None)) && !draft.IsOf(new("bar.right", Place.None)));
        Assert.Equal(Shape.Direction.Up, draft.Thins);
    }

    [Fact]
    public void Displaced_water_is_read_by_volume_or_by_weight()
    {
        var rise = Reading<DisplacementReading>(10);
        Assert.Equal(Unit.CubicCentimetre, rise.Unit);
        Assert.Equal([14.6, 14.5], rise.Reads);
        var weighed = Reading<DisplacementReading>(11);
        Assert.Equal((Unit.Gram, "tip", "B"), (weighed.Unit, weighed.Of, weighed.Copy));
        Assert.Equal([3.2], weighed.Reads);
    }

    [Theory]
    [InlineData("[14.6 ml, 14.5]", "[14.6 ml, 14.5 g]", "some of these are volumes and some weights; make two readings of them")]
    [InlineData("[14.6 ml, 14.5]", "14.6 mm", "mm is a unit of a length, and a volume is wanted here; write a volume like 14.6 ml")]
    [InlineData("[14.6 ml, 14.5]", "0 ml", "`0 ml` is out of range; write a volume in ml, or in g where a scale showed it, greater than 0")]
    [InlineData("[14.6 ml, 14.5]", "0.0146 l", "l is not a unit of the job file; write 14.6 cm3")]
    [InlineData("of_counterpart: sash", "of_counterpart: sahs", "there is no counterpart `sahs`; did you mean `sash`?")]
    [InlineData("matches: w - 20", "matches: lean", "this comes out as an angle, and a length is wanted here; write a length; a derived size that is an angle has kind: angle")]
    [InlineData("within: 0.3", "within: 0", "`0` is out of range; write a length greater than 0")]
    [InlineData("ring: {size: 10.000,", "ring: {size: 12.000,", "what it shows in the ring is more than a tenth off; check the ring's size and what was read in it")]
    [InlineData("{kind: protractor,", "{kind: protractor, ring: {size: 10, reads: 10},", "a protractor has no inside jaws; remove `ring`")]
    [InlineData("resolution: 0.5 ml", "resolution: 0.5 g", "a measuring cylinder shows volumes; write it in ml")]
    [InlineData("over_pins: [5.00, 5.00]", "over_pins: [5, 5, 5]", "there are more pins than elements; write one diameter, or one for each hole")]
    [InlineData("over_pins: 5,", "over_pins: 0,", "`0` is out of range; write a diameter greater than 0")]
    [InlineData("{inside: [pin_hole#1.wall, pin_hole#2.wall]", "{inside: pin_hole#1.wall", "over pins one measures from one hole to another, or to a face; name two elements: [a.wall, b.wall]")]
    [InlineData("tilt: 2", "tilt: 45", "`45` is out of range; write an angle in degrees from 0 to 30")]
    [InlineData("across_break: by the hole", "across_break: [yes]", "a list stands here; write `yes`, `no`, or a break's name")]
    [InlineData("sagitta: 8.1", "sagitta: 20", "this rises over half its chord or more, and so much of a circle shows its diameter; measure the diameter outside or inside, or take a shorter chord")]
    [InlineData("sagitta: 8.1", "sagitta: 0", "without a rise there is no arc; choose a longer chord")]
    [InlineData(", sagitta: 8.1", "", "a reading (radius) needs `sagitta`, and it is missing; add sagitta: a length as the display said it, or a list of repeats (how far the arc rises over the chord, as the display said it)")]
    [InlineData("reads: 20.5", "reads: 200", "`200` is out of range; write an angle as the instrument showed it from 0 to 180")]
    [InlineData("reads: 20.5", "reads: 20.5 mm", "mm is a unit of a length, and an angle is wanted here; write an angle like 30 or 30 deg")]
    [InlineData("{tip: 3.2 g, stump: [11.5 g, 11.6 g]}", "{tip: 3.2 g}", "all fragments together are the part, and here is one; write every fragment with its weight, or weight: whole")]
    [InlineData("angle: lean/20", "angle: w", "this comes out as a length, and an angle is wanted here; write an angle, as 30 deg; atan2 makes one of two lengths")]
    [InlineData("turns: 10", "turns: 0", "`0` is out of range; write a number of turns from 1 to 1000")]
    [InlineData("thread_pitch: p", "thread_pitch: lean", "this comes out as an angle, and a length is wanted here; write a length; a derived size that is an angle has kind: angle")]
    [InlineData("resolution: 0.5 deg", "resolution: 0.5 g", "a protractor shows degrees; write it in deg")]
    [InlineData("resolution: 0.1 g", "resolution: 0.1 deg", "a scale shows grams; write it in g")]
    public void What_cannot_be_meant_is_refused_in_its_line(string good, string bad, string expected)
    {
        int at = Text.IndexOf(good, StringComparison.Ordinal);
        Problem problem = Assert.Single(JobFile.Read(Text.Replace(good, bad, StringComparison.Ordinal)).Problems);
        Assert.Equal(expected, $"{problem.What}; {problem.Remedy}");
        Assert.Equal(Text[..at].Count(c => c == '\n') + 1, problem.Place.Line);
        Assert.True(problem.Place.Column > 1);
    }
}
