using System.Globalization;
using Sparewright.Measure.Numbers;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Xunit;

namespace Sparewright.Solid.Tests;

/// <summary>The elements from which readings are computed lie where the faces of the solid lie.</summary>
public class ElementTwinTests(WarmWorker warm)
{
    private const int DrawsPerShape = 100;

    /// <summary>A shape, its sizes with the range in which each is drawn, and elements that must be found on the solid.</summary>
    private sealed record Family(string Features, (string Name, double Low, double High)[] Sizes, string[] Found);

    private static readonly Dictionary<string, Family> Families = new()
    {
        ["belt"] = new("""
              - plate: foot
                thickness: t
                outline: {belt: [{disc: [0, 0], radius: a}, {disc: [x, y], radius: b}, {disc: [-u, v], radius: c}]}
              - pocket: well
                from: foot.top
                outline: {belt: [{disc: [0, 2], radius: a/4}, {disc: [x/3, 2 + y/3], radius: b/3}]}
                depth: t/2
            """,
            [("t", 3, 8), ("a", 5, 12), ("b", 4, 11), ("c", 4, 9), ("x", 30, 45), ("y", 0, 8), ("u", 0, 10), ("v", 26, 40)],
            ["foot.rim", "foot.rim#1", "foot.rim#2", "foot.rim#3", "foot.rim#4", "foot.rim#5", "foot.rim#6", "foot.top", "well.wall", "well.wall#1", "well.wall#2", "well.floor"]),
        ["path"] = new("""
              - plate: arm
                thickness: t
                outline:
                  path:
                    - {start: [0, 0], corner_radius: r}
                    - {line_to: [x, s], corner_radius: r}
                    - {line_to: [x + s, y]}
                    - {arc_to: [s, y + s], through: [x/2, y + w]}
                    - {line_to: [0, 0]}
              - pocket: window
                from: arm.top
                outline: {rectangle: [x/4, y/4], middle_at: [x/2, y/2], corner_radius: q}
                through: arm
            """,
            [("t", 2, 6), ("x", 30, 50), ("y", 20, 30), ("s", 1, 6), ("w", 8, 14), ("r", 1, 4), ("q", 0.5, 2)],
            ["arm.rim", "arm.rim#1", "arm.rim#2", "arm.rim#3", "arm.rim#4", "arm.rim#5", "arm.rim#6", "window.wall", "window.wall#1", "window.wall#8"]),
        ["rounded end"] = new("""
              - block: lug
                long: l
                deep: t
                tall: h
                corner_at: [x, -t/2, 3]
              - rounded_end: round_right
                of: lug.right
                axis: back
              - rounded_end: round_left
                of: lug.left
                axis: up
              - hole: pin
                axis: back
                at: [x + l, 0, 3 + h/2]
                diameter: d
                through: lug
              - edge_round: soft
                meeting: [lug.top, lug.front]
                radius: r
            """,
            [("l", 20, 40), ("t", 5, 9), ("h", 12, 20), ("x", -5, 5), ("d", 3, 8), ("r", 0.5, 2)],
            ["lug.right", "lug.left", "lug.front", "lug.back", "lug.top", "lug.bottom", "pin.wall", "soft.face"]),
        ["mirror"] = new("""
              - block: base
                long: 2*l
                deep: d
                tall: t
                corner_at: [-l, 0, 0]
              - boss: stud
                stands_on: base.top
                at: [x, d/2]
                diameter: a
                top_diameter: b
                height: h
                turned: {about: up, by: (turn/1 mm)*1 deg}
              - block: ear
                long: w
                deep: d/3
                tall: h
                corner_at: [l - w, d/3, t]
                turned: {about: up, by: (turn/1 mm)*1 deg}
              - hole: eye
                from: base.top
                at: [x/3, d/4]
                diameter: 2.5
                through: base
                countersink: {diameter: 4, angle: 90}
              - datum: middle
                plane: base.right
                offset: -l
              - mirror: other
                of: [stud, ear, eye]
                across: middle
              - row: pegs
                count: 3
                pitch: p
                along: back
                middle_at: [0, d/2]
                of: {hole: peg, from: base.top, diameter: 1.5, depth: t/2}
              - ring: dots
                count: 5
                pitch_circle: 3*p
                middle_at: [-x, d/2]
                first_angle: (turn/1 mm)*1 deg
                of: {hole: dot, from: base.bottom, diameter: 1, depth: t/4}
            """,
            [("l", 30, 40), ("d", 24, 34), ("t", 4, 8), ("x", 15, 17), ("a", 8, 10), ("b", 4, 7), ("h", 6, 12), ("w", 4, 6), ("turn", -4, 4), ("p", 3, 5)],
            ["stud.side", "other.stud.side", "other.stud.top", "ear.left", "other.ear.left", "other.ear.front", "other.eye.wall", "other.eye.countersink", "peg#2.wall", "dot#4.wall"]),
    };

    public static TheoryData<string> FamilyNames => [.. Families.Keys];

    [Theory]
    [MemberData(nameof(FamilyNames))]
    public async Task Elements_and_faces_are_the_same_to_the_micrometre(string family)
    {
        var (features, sizes, found) = Families[family];
        Job job = Shapes.JobOf(features, [.. sizes.Select(s => s.Name)]);
        string[] faults = [.. (await TwoWorkers.DrawAsync(DrawsPerShape, async (worker, draw) =>
        {
            var random = new Random(draw);
            PlacedShape shape = Shapes.Placed(job, [.. sizes.Select(s => s.Low + (s.High - s.Low) * random.NextDouble())]);
            string Fault(string what) => string.Create(CultureInfo.InvariantCulture, $"draw {draw}: {what}");
            if (shape.Problems.Count > 0) return Fault(shape.Problems[0].What);
            Outcome<ExactSolid> solid = await worker.BuildAsync(Recipe.Of(shape).OrThrow(), fullGuards: false);
            if (!solid.IsGood) return Fault(solid.Problem.ToString());
            IReadOnlyList<TwinDeviation> twins = ElementTwin.Compare(shape, solid.Value.Faces);
            string[] missing = [.. found.Except(twins.Select(t => t.Element))];
            TwinDeviation worst = twins.MaxBy(t => t.DeviationMm)!;
            return missing.Length > 0 ? Fault($"{string.Join(", ", missing)} not found on the solid") : worst.DeviationMm > 1e-3 ? Fault($"{worst.Element} is {worst.DeviationMm} mm off") : null;
        })).OfType<string>()];
        Assert.True(faults.Length == 0, $"{faults.Length} of {DrawsPerShape}: {string.Join("; ", faults.Take(5))}");
    }

    private const string Mixed = """
          - block: slab
            long: 20
            deep: 10
            tall: 5
            corner_at: [0, 0, 0]
          - boss: post
            stands_on: slab.top
            at: [5, 5]
            diameter: 8
            top_diameter: 6
            height: 7
          - hole: bore
            from: slab.top
            at: [15, 5]
            diameter: 4
            through: slab
          - edge_round: soft
            meeting: [slab.left, slab.top]
            radius: 0.7
        """;

    private async Task<double> DeviationAsync(string element, Func<Element, Element> change)
    {
        PlacedShape shape = Shapes.Placed(Mixed);
        var elements = shape.Elements.ToDictionary();
        elements[element] = change(elements[element]);
        ExactSolid solid = await warm.BuildAsync(Mixed);
        Assert.InRange(ElementTwin.Compare(shape, solid.Faces).Max(t => t.DeviationMm), 0, 1e-6);
        return ElementTwin.Compare(shape with { Elements = elements }, solid.Faces).Single(t => t.Element == element).DeviationMm;
    }

    [Fact]
    public async Task Two_micrometres_are_noticed_in_every_parameter()
    {
        const double Off = 2e-3;
        Vector aside = new(Off, 0, 0), up = new(0, 0, Off);
        Assert.Equal(Off, await DeviationAsync("slab.top", e => (FlatElement)e with { Point = ((FlatElement)e).Point + up }), 6);
        Assert.InRange(await DeviationAsync("slab.top", e => (FlatElement)e with { Normal = new Vector(Off / 10, 0, 1).Unit() }), Off, 1);
        Assert.Equal(Off, await DeviationAsync("bore.wall", e => (RoundElement)e with { AxisPoint = ((RoundElement)e).AxisPoint + aside }), 6);
        Assert.Equal(Off, await DeviationAsync("bore.wall", e => (RoundElement)e with { Radius = ((RoundElement)e).Radius + Off }), 6);
        Assert.InRange(await DeviationAsync("bore.wall", e => (RoundElement)e with { AxisDirection = new Vector(Off / 4, 0, 1).Unit() }), Off / 2, 1);
        Assert.Equal(Off, await DeviationAsync("post.side", e => (ConeElement)e with { BaseRadius = ((ConeElement)e).BaseRadius + Off }), 6);
        Assert.InRange(await DeviationAsync("post.side", e => (ConeElement)e with { Slope = ((ConeElement)e).Slope + Off / 7 }), Off / 2, 1);
        Assert.Equal(Off, await DeviationAsync("soft.face", e => (EdgeFaceElement)e with { Radius = ((EdgeFaceElement)e).Radius + Off }), 6);
    }

    [Fact]
    public async Task Looking_the_other_way_or_being_of_another_kind_is_noticed()
    {
        Assert.InRange(await DeviationAsync("slab.top", e => (FlatElement)e with { Normal = -((FlatElement)e).Normal }), 1, double.PositiveInfinity);
        Assert.Equal(double.PositiveInfinity, await DeviationAsync("bore.wall", e => (RoundElement)e with { Hollow = false }));
        Assert.Equal(double.PositiveInfinity, await DeviationAsync("post.side", e => (ConeElement)e with { Hollow = true }));
        Assert.Equal(double.PositiveInfinity, await DeviationAsync("slab.top", e => new RoundElement(e.Name, Vector.Zero, new(0, 0, 1), 1, false)));
    }
}
