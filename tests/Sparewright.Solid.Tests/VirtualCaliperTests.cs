using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using Xunit;

namespace Sparewright.Solid.Tests;

public class VirtualCaliperTests(WarmWorker warm)
{
    private const string Part = """
          - block: slab
            long: 40
            deep: 20
            tall: 8
            corner_at: [-20, -10, 0]
          - boss: post
            stands_on: slab.top
            at: [-10, 0]
            diameter: 8
            top_diameter: 6
            height: 10
          - hole: near_hole
            from: slab.top
            at: [2, 0]
            diameter: 5
            through: slab
          - hole: far_hole
            from: slab.top
            at: [13, 3]
            diameter: 4
            depth: 5
          - hole: cross
            axis: right
            at: [0, -7, 4]
            diameter: 3
            through: slab
        """;

    private async Task<IReadOnlyList<Remeasured>> TakeAsync(string readings)
    {
        Job job = Shapes.Read($"sparewright: 1\npart: Test piece\ncould_injure: no\nsizes:\n  unused: {{fixed: 1}}\nshape:\n{Part}\nreadings:\n{readings}");
        PlacedShape shape = Shapes.Placed(job, []);
        ExactSolid solid = (await warm.Worker.BuildAsync(Recipe.Of(shape).OrThrow())).OrThrow();
        return (await VirtualCaliper.TakeAsync(solid, shape, [.. job.Readings.OfType<CaliperReading>().Select(r => new ObservedReading(r, r.ReadsMm[0]))])).OrThrow();
    }

    [Theory]
    [InlineData("{outside: [slab.left, slab.right], reads: 40.1}", 40)]
    [InlineData("{inside: near_hole.wall, reads: 5}", 5)]
    [InlineData("{depth: [slab.top, far_hole.end], reads: 5}", 5)]
    [InlineData("{step: [post.top, slab.top], reads: 10}", 10)]
    [InlineData("{outside: post.side, at_height: 12, reads: 7}", 8 - 2 * (12 - 8) / 10.0)]
    [InlineData("{outside: [near_hole.wall, slab.right], reads: 15}", 18 - 2.5)]
    [InlineData("{outside: [cross.wall, slab.top], reads: 2.5}", 4 - 1.5)]
    public async Task It_measures_what_arithmetic_says(string reading, double mm)
    {
        Remeasured taken = Assert.Single(await TakeAsync("  - " + reading));
        Assert.Null(taken.WhyNot);
        Assert.Equal(mm, taken.SolidMm!.Value, 9);
        Assert.Equal(mm, taken.DrawnMm!.Value, 9);
        Assert.True(taken.Agrees);
    }

    [Theory]
    [InlineData("inside", 1)]
    [InlineData("outside", -1)]
    public async Task Two_holes_are_measured_over_their_far_or_near_walls(string way, int sign)
    {
        Remeasured taken = Assert.Single(await TakeAsync($"  - {{{way}: [near_hole.wall, far_hole.wall], reads: 10}}"));
        Assert.Equal(Math.Sqrt(11 * 11 + 3 * 3) + sign * (2.5 + 2), taken.SolidMm!.Value, 9);
        Assert.True(taken.Agrees);
    }

    [Fact]
    public async Task Where_no_jaw_gets_in_both_sides_say_so_and_the_others_are_still_taken()
    {
        IReadOnlyList<Remeasured> taken = await TakeAsync("""
              - {outside: [near_hole.wall, cross.wall], reads: 2, id: crossing}
              - {inside: [slab.left, slab.right], reads: 40, id: no_space}
              - {outside: [slab.left, slab.right], reads: 40, id: good}
            """);
        Assert.Equal(["crossing", "no_space", "good"], taken.Select(t => t.Id));
        Assert.All(taken.Take(2), t =>
        {
            Assert.Null(t.DrawnMm);
            Assert.Null(t.SolidMm);
            Assert.NotNull(t.WhyNot);
            Assert.False(t.Agrees);
        });
        Assert.True(taken[2].Agrees);
    }

    [Fact]
    public async Task A_solid_of_other_sizes_does_not_agree()
    {
        Example example = Example.Read("vent-knuckle");
        double[] other = [.. example.About.Select(v => v * 1.001)];
        ExactSolid solid = (await warm.Worker.BuildAsync(Recipe.Of(example.At(other)).OrThrow())).OrThrow();
        IReadOnlyList<Remeasured> taken = (await VirtualCaliper.TakeAsync(solid, example.At(example.About), example.Readings)).OrThrow();
        Assert.All(taken, t => Assert.False(t.Agrees));
    }

    [Fact]
    public async Task A_face_that_is_gone_is_said_by_name()
    {
        PlacedShape shape = Shapes.Placed(Part);
        ExactSolid solid = (await warm.Worker.BuildAsync(Recipe.Of(shape).OrThrow().First(2))).OrThrow();
        var reading = new CaliperReading("r1", Measure.ReadingWay.Inside, new ElementName("near_hole.wall", default), null, null, [5], false, false, null, null, null, default);
        Remeasured taken = Assert.Single((await VirtualCaliper.TakeAsync(solid, shape, [new(reading, 5)])).OrThrow());
        Assert.Null(taken.SolidMm);
        Assert.Contains("near_hole.wall", taken.WhyNot, StringComparison.Ordinal);
        Assert.False(taken.Agrees);
    }

    [Fact]
    public async Task No_readings_need_no_asking() => Assert.Empty((await VirtualCaliper.TakeAsync(await warm.BuildAsync(Part), Shapes.Placed(Part), [])).OrThrow());
}
