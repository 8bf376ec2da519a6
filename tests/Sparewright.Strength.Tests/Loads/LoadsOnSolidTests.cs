using Sparewright.Part.Record;
using Sparewright.Solid;
using Sparewright.Strength.Loads;
using Xunit;

namespace Sparewright.Strength.Tests.Loads;

public class LoadsOnSolidTests(Bench bench)
{
    private const string Hook = """
        sparewright: 1
        part: Hook
        could_injure: no
        shape:
          - block: neck
            long: 8
            deep: 12
            tall: 40
            corner_at: [0, 0, 0]
          - hole: eye
            axis: back
            at: [4, 0, 34]
            diameter: 4
            through: neck
          - hole: pilot
            from: neck.right
            at: [6, 10]
            diameter: 3
            through: neck
          - boss: peg
            stands_on: neck.top
            at: [4, 6]
            diameter: 6
            height: 10
        counterparts:
          - {pin: cord, diameter: 4, goes_through: eye}
          - {tube: sleeve, diameter: 6, goes_over: peg}
        loads:

        """;

    private async Task<(BuiltPart Part, SolidLoadCase? Case, IReadOnlyList<string> Problems)> OnHookAsync(string load)
    {
        BuiltPart part = await bench.BuildAsync(Hook + "  - {name: a load, " + load + "}\n");
        var (found, problems) = On(part).Of(part.Job.Loads[0]);
        return (part, found, [.. problems.Select(p => $"{p.What}; {p.Remedy}")]);
    }

    private static LoadsOnSolid On(BuiltPart part) => new(part.Job, part.Sizes, part.Solid.Faces, part.Mesh, 0.5, 1.2);

    private static void Same(Point3 expected, Point3 found, double tolerance = 1e-9) => Assert.True((expected - found).Length <= tolerance, $"{expected} is not {found}");

    [Theory]
    [InlineData("vent-knuckle")]
    [InlineData("line-reel-crank")]
    public async Task Every_load_of_the_examples_is_found_on_the_solid_with_its_total(string name)
    {
        BuiltPart part = await bench.ExampleAsync(name);
        foreach (Load load in part.Job.Loads)
        {
            var (found, problems) = On(part).Of(load);
            Assert.Empty(problems);
            double newtons = load.Actions.OfType<LoadAction.Force>().Sum(f => f.Newtons);
            Assert.Equal(newtons, found!.TotalN.Length, 1e-6);
            Assert.NotEmpty(found.Supports);
        }
    }

    [Fact]
    public async Task The_gust_on_the_vent_knuckle_presses_the_upper_half_of_the_pin_hole_and_two_screws_hold_it()
    {
        BuiltPart part = await bench.ExampleAsync("vent-knuckle");
        SolidLoadCase found = On(part).Of(part.Job.Loads[0]).Case!;
        SurfaceLoad gust = Assert.Single(found.Loads);
        Assert.Equal("as something round presses, by the cosine", gust.How);
        Same(new(0, 0, 120), gust.TotalN, 1e-9);
        Same(Point3.Cross(gust.Patch.Centroid, new(0, 0, 120)), gust.MomentNmm, 0.5);
        Assert.Equal(["screw_hole#1.countersink", "screw_hole#1.wall", "screw_hole#2.countersink", "screw_hole#2.wall", "foot.bottom"], found.Supports.Select(s => s.Patch.Name));
        Assert.Equal([SupportWay.Along, SupportWay.Square, SupportWay.Along, SupportWay.Square, SupportWay.PushedOnly], found.Supports.Select(s => s.Way));
    }

    [Fact]
    public async Task A_counterpart_acts_where_it_meets_the_part()
    {
        var (_, found, _) = await OnHookAsync("pull: {by: cord, newtons: 40, toward: up}, push: {by: sleeve, newtons: 5, toward: right}, held_fast: neck.bottom");
        Assert.Equal(["peg", "eye"], found!.Loads.Select(l => l.Patch.Name));
        Assert.Equal(Math.PI * 4 * 12, found.Loads[1].Patch.AreaMm2, 0.5);
        Same(new(5, 0, 40), found.TotalN, 1e-9);
        SurfaceSupport fast = Assert.Single(found.Supports);
        Assert.Equal((SupportWay.Fast, 96), (fast.Way, Math.Round(fast.Patch.AreaMm2, 6)));
    }

    [Fact]
    public async Task Moments_pressure_and_own_weight_have_their_totals()
    {
        var (part, found, _) = await OnHookAsync("twist: {at: peg.top, newton_metres: 0.4, about: up}, pressure: {at: neck.left, bar: 2}, own_weight: left, rests_on: neck.bottom");
        SurfaceLoad twist = found!.Loads[0], pressure = found.Loads[1];
        Same(default, twist.TotalN);
        Same(new(0, 0, 400), twist.MomentNmm - Point3.Cross(twist.Patch.Centroid, twist.TotalN), 1e-6);
        Same(new(0.2 * (12 * 40 - Math.PI * 1.5 * 1.5), 0, 0), pressure.TotalN, 0.02);
        // By hand: 1.2 g/cm³ times 9.80665 m/s².
        Same(new(-1.2e-6 * 9.80665, 0, 0), found.WeightNPerMm3, 1e-15);
        Assert.InRange(part.Solid.VolumeMm3 * found.WeightNPerMm3.Length, 0.04, 0.05);
    }

    [Fact]
    public async Task What_moves_or_squeezes_is_a_support_that_moves()
    {
        var (_, found, _) = await OnHookAsync("snap: {at: peg.top, how_far: 1.5, toward: right}, press: {by: cord, interference: 0.1}, held_fast: neck.bottom");
        Assert.Empty(found!.Loads);
        Assert.Equal([(SupportWay.PushedOnly, 0.05), (SupportWay.Along, 1.5), (SupportWay.Fast, 0)], found.Supports.Select(s => (s.Way, s.MovedMm)));
        Same(new(1, 0, 0), found.Supports[1].Direction);
        Assert.Equal(["what is pressed against `eye` is taken as stiff, as steel would be"], found.Remarks);
    }

    /// <summary>By hand: the ring between a hole of 3 and a washer of 6 (twice the hole) or 5.</summary>
    [Theory]
    [InlineData("", 6)]
    [InlineData(", washer: 5", 5)]
    public async Task A_screw_sits_on_a_ring_of_the_face_that_its_hole_goes_in_from(string washer, double across)
    {
        var (_, found, _) = await OnHookAsync("push: {at: peg.top, newtons: 1, toward: down}, screwed: pilot" + washer);
        Patch seat = found!.Supports[0].Patch;
        Assert.Equal(Math.PI / 4 * (across * across - 9), seat.AreaMm2, 0.05 * across * across);
        Assert.All(seat.Samples, s => Assert.Equal(8, s.At.X, 1e-9));
        Assert.Equal((SupportWay.Along, SupportWay.Square), (found.Supports[0].Way, found.Supports[1].Way));
        Assert.Equal(1, Math.Abs(found.Supports[0].Direction.X), 1e-12);
    }

    [Theory]
    [InlineData("push: {at: neck.nose, newtons: 1, toward: down}, held_fast: neck.bottom", "`neck.nose` has no face on the finished solid; there are neck.back, neck.bottom, neck.front, neck.left, neck.right, neck.top")]
    [InlineData("push: {at: peg.top, newtons: 1, toward: down}, screwed: peg", "`peg` is no round hole of the finished solid that a screw could go through; name a hole, or one copy of a row, as screw_hole#1")]
    [InlineData("press: {at: neck.top, interference: 0.1}, held_fast: neck.bottom", "`neck.top` is not round, so nothing is pressed on it by a difference in diameter; name a hole's wall or a boss's side, or press with `newtons`")]
    [InlineData("press: {at: peg.side, interference: 0.1 - 0.2}, held_fast: neck.bottom", "an interference of -0.1 mm presses nothing; check the sizes that it comes from")]
    public async Task What_is_not_there_is_said(string load, string problem)
    {
        var (_, found, problems) = await OnHookAsync(load);
        Assert.Null(found);
        Assert.Equal([problem], problems);
    }

    /// <summary>The shaft of the reel turns its bore: it presses on half of the flat, leans on the wall, and pulls nowhere. The moment about the bore's axis is what was said.</summary>
    [Fact]
    public async Task A_shaft_with_a_flat_presses_and_does_not_pull()
    {
        BuiltPart part = await bench.ExampleAsync("line-reel-crank");
        SurfaceLoad twist = Assert.Single(On(part).Of(part.Job.Loads[0]).Case!.Loads);
        Assert.Equal("as a shaft with a flat turns, leaning on the round wall", twist.How);
        Same(default, twist.TotalN, 1e-6);
        Assert.Equal(4000, twist.MomentNmm.Z, 0.5);
        double pulls = twist.Patch.Samples.Index().Sum(s => Math.Max(0, -Point3.Dot(twist.ForcesN[s.Index], s.Item.Inward)));
        Assert.True(pulls < 1e-3 * twist.ForcesN.Sum(f => f.Length), $"{pulls}");
    }
}
