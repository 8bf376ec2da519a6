using Xunit;

namespace Sparewright.Solid.Tests;

/// <summary>Outlines that cross themselves enclose nothing that could be built.</summary>
public class CrossingOutlineTests(WarmWorker warm)
{
    private static string Plate(string corners) => $"  - plate: p\n    thickness: 3\n    outline: {{polygon: [{corners}]}}";

    [Fact]
    public async Task An_outline_that_crosses_itself_is_refused_by_name()
    {
        Outcome<ExactSolid> built = await warm.Worker.BuildAsync(Shapes.RecipeOf(Plate("[0, 0], [10, 10], [10, 0], [0, 4]")));
        Assert.Equal((SolidProblemKind.Refused, "p"), (built.Problem!.Kind, built.Problem.Feature));
        Assert.Contains("crosses", built.Problem.Why, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_sound_one_is_built() =>
        Assert.Equal(300, (await warm.Worker.BuildAsync(Shapes.RecipeOf(Plate("[0, 0], [10, 0], [10, 10], [0, 10]")))).OrThrow().VolumeMm3, 6);
}
