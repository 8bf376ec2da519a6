using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Xunit;

namespace Sparewright.Solid.Tests;

/// <summary>A boss as wide as the round end of the plate on which it stands: its full round side is flush with a part of one.</summary>
public class FlushRoundTests(WarmWorker warm)
{
    private const string Lever = """
        sparewright: 1
        part: Lever with an eye
        could_injure: no
        sizes:
          unused: {fixed: 1}
        shape:
          - plate: arm
            thickness: 5
            outline: {belt: [{disc: [0, 0], radius: 8}, {disc: [40, 0], radius: 5}]}
          - boss: eye
            stands_on: arm.top
            diameter: 16
            height: 6
          - hole: bore
            from: eye.top
            diameter: 8
            through: whole part
        """;

    [Fact]
    public async Task A_boss_flush_with_the_round_end_of_its_plate_is_built()
    {
        Job job = Shapes.Read(Lever);
        PlacedShape shape = Shapes.Placed(job, []);
        ExactSolid solid = (await warm.Worker.BuildAsync(Recipe.Of(shape).OrThrow())).OrThrow();

        // A belt about two discs: the hull of the two sectors and the trapeze between the tangents, from plain geometry.
        double tangent = Math.Sqrt(40 * 40 - 3 * 3), lean = Math.Asin(3 / 40.0);
        double belt = (8 + 5) * tangent + 8 * 8 * (Math.PI / 2 + lean) + 5 * 5 * (Math.PI / 2 - lean);
        double expected = 5 * belt + 6 * Math.PI * 64 - 11 * Math.PI * 16;
        Assert.Equal(expected, solid.VolumeMm3, 1e-6 * expected);
        Assert.All(ElementTwin.Compare(shape, solid.Faces), twin => Assert.InRange(twin.DeviationMm, 0, 1e-6));
    }
}
