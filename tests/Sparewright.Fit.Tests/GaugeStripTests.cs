using System.Runtime.Versioning;
using Sparewright.Fit.Gauges;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using Sparewright.Solid;
using Xunit;

[assembly: SupportedOSPlatform("linux")]

namespace Sparewright.Fit.Tests;

/// <summary>Gauges cut from a real solid, on their strip.</summary>
public sealed class GaugeStripTests
{
    private const string Clamp = """
        sparewright: 1
        part: Pole clamp
        could_injure: no
        sizes:
          body_d: {about: 24}
          tall:   {about: 40}
          bore_d: {about: 12.2}
          pin_d:  {about: 5.1}
        shape:
          - boss: body
            diameter: body_d
            height: tall
          - block: ear
            long: 24
            deep: 8
            tall: 16
            corner_at: [0, -4, 12]
          - hole: bore
            from: body.top
            diameter: bore_d
            depth: 30
          - hole: pin_hole
            axis: back
            at: [19, 0, 20]
            diameter: pin_d
            through: ear
        readings: []
        """;

    private static readonly Job Job = JobFile.Read(Clamp).Job!;

    private static PlacedShape At(double bore, double pin) => ShapePlacer.Place(Job.Shape, Job.Sizes.At([24, 40, bore, pin]));

    /// <summary>A ridge of 50 mm that slides in a straight groove.</summary>
    private static readonly Job Slider = JobFile.Read("""
        sparewright: 1
        part: Slider
        could_injure: no
        sizes:
          ridge_w: {about: 6}
        shape:
          - {block: base, long: 50, deep: 24, tall: 5, corner_at: [0, 0, 0]}
          - {block: ridge, long: 50, deep: ridge_w, tall: 4, corner_at: [0, 9, 5]}
        readings: []
        """).Job!;

    [Fact]
    public async Task Each_gauge_of_a_ridge_is_its_end_and_no_longer_than_it_is_wide()
    {
        double[] widths = [5.7, 5.85, 6];
        GaugeStrip strip = await StripAsync([.. widths.Select(w => ShapePlacer.Place(Slider.Shape, Slider.Sizes.At([w])))], ["ridge.front", "ridge.back"], Direction.Up);
        Assert.Equal(3, strip.Gauges.Count);
        for (int k = 0; k < widths.Length; k++)
        {
            SolidFace front = Assert.Single(strip.Solid.Faces, f => f.Bears($"gauge{k + 1}.ridge.front")), back = Assert.Single(strip.Solid.Faces, f => f.Bears($"gauge{k + 1}.ridge.back"));
            Assert.Equal(widths[k], Point3.Dot(back.Low - front.Low, front.Direction) is var apart ? Math.Abs(apart) : 0, 1e-9);
            double[] box = [front.High.X - front.Low.X, front.High.Y - front.Low.Y, front.High.Z - front.Low.Z];
            Assert.Equal([0, 4, widths[0]], box.Order().Select(b => Math.Round(b, 6)));
            // The groove slides over it from the back, where nothing else lies, however long it is.
            Assert.Equal(strip.Solid.High.Y, front.High.Y, 1e-6);
            Assert.Equal(0, front.High.X - front.Low.X, 1e-9);
        }

        Assert.All(strip.Gauges.Zip(strip.Gauges.Skip(1)), pair => Assert.True(pair.Second.Low.X > pair.First.High.X + 1));
    }

    /// <summary>A plate must find room in all of its slot, also where that is longer than wide.</summary>
    [Fact]
    public async Task A_gauge_of_a_slot_keeps_all_of_it()
    {
        Job job = JobFile.Read("""
            sparewright: 1
            part: Holder
            could_injure: no
            sizes: {gap: {about: 3}}
            shape:
              - {block: base, long: 40, deep: 20, tall: 8, corner_at: [0, 0, 0]}
              - {slot: gap, from: base.top, between: [[10, 10], [30, 10]], width: gap, ends: square, depth: 5}
            readings: []
            """).Job!;
        GaugeStrip strip = await StripAsync([.. ((double[])[3, 3.1]).Select(w => ShapePlacer.Place(job.Shape, job.Sizes.At([w])))], ["gap.side#1", "gap.side#2"], Direction.Up);
        foreach (SolidFace side in strip.Solid.Faces.Where(f => f.Names.Any(n => n.EndsWith("gap.side#1", StringComparison.Ordinal))))
            Assert.Equal([5, 20], ((double[])[side.High.X - side.Low.X, side.High.Y - side.Low.Y, side.High.Z - side.Low.Z]).Order().Skip(1).Select(d => Math.Round(d, 6)));
    }

    private static Task<GaugeStrip> StripAsync(IReadOnlyList<PlacedShape> shapes, string met, Direction wayUp, double bevelMm = 0) => StripAsync(shapes, [met], wayUp, bevelMm);

    private static async Task<GaugeStrip> StripAsync(IReadOnlyList<PlacedShape> shapes, string[] met, Direction wayUp, double bevelMm = 0)
    {
        await using var worker = new KernelWorker(KernelProgram.Find().OrThrow(), new WorkerLimits { PerRequest = TimeSpan.FromMinutes(5), ToStart = TimeSpan.FromMinutes(2) });
        return (await GaugeStrip.BuildAsync(worker, shapes, met, wayUp, bevelMm, cancel: TestContext.Current.CancellationToken)).OrThrow();
    }

    [Fact]
    public async Task Each_gauge_of_an_upright_bore_has_its_own_bore_and_the_open_end_of_it()
    {
        double[] bores = [12.1, 12.25, 12.4];
        GaugeStrip strip = await StripAsync([.. bores.Select(b => At(b, 5.1))], "bore.wall", Direction.Up);
        Assert.Equal(3, strip.Gauges.Count);
        for (int k = 0; k < bores.Length; k++)
        {
            SolidFace wall = Assert.Single(strip.Solid.Faces, f => f.Bears($"gauge{k + 1}.bore.wall"));
            Assert.Equal(bores[k] / 2, wall.RadiusMm, 1e-9);
            Assert.Equal(1, Math.Abs(wall.Direction.Z), 1e-9);
            // As long as it is wide, from the open end on.
            Assert.Equal(bores[0], wall.High.Z - wall.Low.Z, 0.01);
            SolidFace top = Assert.Single(strip.Solid.Faces, f => f.Bears($"gauge{k + 1}.body.top"));
            Assert.Equal(strip.Gauges[k].High.Z, top.Low.Z, 1e-9);
        }

        Assert.Equal(0, strip.Solid.Low.Z, 1e-9);
        Assert.DoesNotContain(strip.Solid.Faces, f => f.Names.Any(n => n.EndsWith("bore.end", StringComparison.Ordinal)));
        Assert.All(strip.Gauges.Zip(strip.Gauges.Skip(1)), pair => Assert.True(pair.Second.Low.X > pair.First.High.X + 1));
    }

    [Theory]
    [InlineData(Direction.Up, "y")]
    [InlineData(Direction.Back, "z")]
    [InlineData(Direction.Front, "z")]
    [InlineData(Direction.Right, "y")]
    public async Task A_gauge_lies_as_the_part_will_lie(Direction wayUp, string axis)
    {
        GaugeStrip strip = await StripAsync([At(12.2, 5.0), At(12.2, 5.2)], "pin_hole.wall", wayUp);
        for (int k = 0; k < 2; k++)
        {
            SolidFace wall = Assert.Single(strip.Solid.Faces, f => f.Bears($"gauge{k + 1}.pin_hole.wall"));
            Assert.Equal(k == 0 ? 2.5 : 2.6, wall.RadiusMm, 1e-9);
            // The hole runs from front to back; turned about the upright to have a stout side at the front, it may run from left to right.
            bool standsUp = Math.Abs(wall.Direction.Z) > 0.5;
            Assert.Equal(axis == "z", standsUp);
            // The bar does not reach into it.
            Assert.True(wall.Low.Y > 0.5 || standsUp);
        }
    }

    /// <summary>On the bed lies a cut there, which the part has not; the counterpart that comes from below must meet no flare.</summary>
    [Theory]
    [InlineData("bore.wall", Direction.Up)]
    [InlineData("bore.wall", Direction.Down)]
    [InlineData("pin_hole.wall", Direction.Back)]
    public async Task A_wall_that_begins_on_the_bed_is_bevelled_there(string met, Direction wayUp)
    {
        GaugeStrip strip = await StripAsync([At(12.2, 5.0), At(12.4, 5.2)], met, wayUp, bevelMm: 0.4);
        for (int k = 0; k < 2; k++)
        {
            SolidFace wall = Assert.Single(strip.Solid.Faces, f => f.Bears($"gauge{k + 1}.{met}"));
            SolidFace bevel = Assert.Single(strip.Solid.Faces, f => f.Kind == Solid.SurfaceKind.Cone && f.Low.Z < 1e-6 && f.Low.X > strip.Gauges[k].Low.X && f.High.X < strip.Gauges[k].High.X);
            Assert.Equal(0.4, wall.Low.Z, 1e-6);
            Assert.Equal(2 * wall.RadiusMm + 0.8, bevel.High.X - bevel.Low.X, 1e-6);
        }
    }

    [Fact]
    public async Task A_wall_that_does_not_reach_the_bed_is_left_as_it_is()
    {
        GaugeStrip strip = await StripAsync([At(12.2, 5.0)], "pin_hole.wall", Direction.Up, bevelMm: 0.4);
        Assert.DoesNotContain(strip.Solid.Faces, f => f.Kind == Solid.SurfaceKind.Cone);
    }

    [Fact]
    public async Task Every_gauge_has_as_many_dots_as_its_number_says()
    {
        GaugeStrip strip = await StripAsync([.. Enumerable.Range(0, 5).Select(k => At(12.1 + 0.1 * k, 5.1))], "bore.wall", Direction.Up);
        // A dot's top is a disc of radius 0.9; nothing else of the strip is.
        SolidFace[] dots = [.. strip.Solid.Faces.Where(f => f.Kind == Solid.SurfaceKind.Plane && f.Direction.Z > 0.5 && Math.Abs(f.AreaMm2 - Math.PI * 0.81) < 1e-6)];
        Assert.All(strip.Gauges, g => Assert.Equal(g.Number, dots.Count(d => d.At.X > g.Low.X - 1 && d.At.X < g.High.X + 1)));
        Assert.Equal(15, dots.Length);
    }

    [Fact]
    public async Task What_no_face_bears_is_said()
    {
        await using var worker = new KernelWorker(KernelProgram.Find().OrThrow());
        Outcome<GaugeStrip> built = await GaugeStrip.BuildAsync(worker, [At(12, 5)], ["socket.wall"], Direction.Up, cancel: TestContext.Current.CancellationToken);
        Assert.Equal(SolidProblemKind.Missing, built.Problem!.Kind);
        Assert.Contains("socket.wall", built.Problem.Why);
    }
}
