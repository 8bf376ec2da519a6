using Xunit;

namespace Sparewright.Solid.Tests;

/// <summary>
/// What the geometry library gets wrong without a word (measured on Open CASCADE 7.6.3), and what arithmetic should stop: refused by the feature's name.
/// </summary>
public class SilentFailureTests(WarmWorker warm)
{
    private async Task<SolidProblem> ProblemAsync(string features, params (string, double)[] sizes) =>
        Assert.IsType<SolidProblem>((await warm.Worker.BuildAsync(Shapes.RecipeOf(features, sizes))).Problem);

    [Theory]
    [InlineData(2.5)] // the library: not done, 1 faulty contour
    [InlineData(2.6)] // the library: done, volume 1,172.9 of 1,000
    [InlineData(5)] // the library: not done, 8 faulty contours
    [InlineData(40)]
    public async Task A_round_that_does_not_fit_its_block(double radius)
    {
        SolidProblem problem = await ProblemAsync(Shapes.Block + "\n  - edge_round: too_big\n    edges_of: slab\n    radius: r", ("r", radius));
        Assert.Equal(SolidProblemKind.Refused, problem.Kind);
        Assert.Equal("too_big", problem.Feature);
        Assert.Contains(radius.ToString("0.0##", System.Globalization.CultureInfo.InvariantCulture), problem.Why, StringComparison.Ordinal);
    }

    private const string SecondBlock = Shapes.Block + "\n" + """
          - block: beside
            long: 20
            deep: 10
            tall: 5
            corner_at: [20 + gap, 0, 0]
        """;

    [Theory]
    [InlineData(5e-7)] // from here on the library gives two solids, and no word
    [InlineData(1e-5)]
    [InlineData(1e-3)]
    [InlineData(1)]
    public async Task A_gap_between_two_blocks(double gap)
    {
        SolidProblem problem = await ProblemAsync(SecondBlock, ("gap", gap));
        Assert.Equal(SolidProblemKind.Refused, problem.Kind);
        Assert.Equal("beside", problem.Feature);
        Assert.Contains("does not touch the rest", problem.Why, StringComparison.Ordinal);
    }

    [Fact]
    public async Task No_gap_joins_and_flush_faces_become_one_with_both_names()
    {
        ExactSolid solid = await warm.BuildAsync(SecondBlock, ("gap", 0));
        Assert.Equal(2000, solid.VolumeMm3, 6);
        Assert.Equal(6, solid.Faces.Count);
        SolidFace top = Assert.Single(solid.Faces, f => f.Direction.Z > 0.9);
        Assert.Equal(["beside.top", "slab.top"], top.Names.Order());
    }

    [Fact]
    public async Task A_cut_that_leaves_two_pieces()
    {
        SolidProblem problem = await ProblemAsync(Shapes.Block + "\n" + """
              - slot: saw
                from: slab.top
                between: [[10, -5], [10, 15]]
                width: 1
                through: slab
            """);
        Assert.Equal((SolidProblemKind.Refused, "saw"), (problem.Kind, problem.Feature));
        Assert.Contains("cuts the part in two", problem.Why, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_cut_that_removes_nothing()
    {
        SolidProblem problem = await ProblemAsync(Shapes.Block + "\n  - hole: astray\n    from: slab.top\n    at: [40, 5]\n    diameter: 3\n    depth: 2");
        Assert.Equal((SolidProblemKind.Refused, "astray"), (problem.Kind, problem.Feature));
        Assert.Contains("cuts nothing", problem.Why, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_cut_that_removes_everything()
    {
        SolidProblem problem = await ProblemAsync(Shapes.Block + "\n  - hole: glutton\n    from: slab.top\n    at: [10, 5]\n    diameter: 50\n    through: slab");
        Assert.Equal((SolidProblemKind.Refused, "glutton"), (problem.Kind, problem.Feature));
        Assert.Contains("removes everything", problem.Why, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Blocks_that_touch_only_along_an_edge()
    {
        SolidProblem problem = await ProblemAsync(Shapes.Block + "\n" + """
              - block: corner
                long: 5
                deep: 5
                tall: 5
                corner_at: [20, 10, 0]
            """);
        Assert.Equal((SolidProblemKind.Refused, "corner"), (problem.Kind, problem.Feature));
    }

    [Fact]
    public async Task An_inner_edge_is_no_edge_round_and_an_outer_edge_no_fillet()
    {
        const string Step = Shapes.Block + "\n" + """
              - block: wall
                long: 4
                deep: 10
                tall: 9
                corner_at: [0, 0, 0]
            """;
        SolidProblem inner = await ProblemAsync(Step + "\n  - edge_round: inner\n    meeting: [wall.right, slab.top]\n    radius: 1");
        Assert.Equal((SolidProblemKind.Refused, "inner"), (inner.Kind, inner.Feature));
        Assert.Contains("fillet", inner.ToString(), StringComparison.Ordinal);
        SolidProblem outer = await ProblemAsync(Step + "\n  - fillet: outer\n    meeting: [wall.right, wall.top]\n    radius: 1");
        Assert.Equal((SolidProblemKind.Refused, "outer"), (outer.Kind, outer.Feature));
        Assert.Contains("edge round", outer.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Faces_that_do_not_meet_have_no_edge_to_round()
    {
        SolidProblem problem = await ProblemAsync(Shapes.Block + "\n  - edge_round: nowhere\n    meeting: [slab.top, slab.bottom]\n    radius: 1");
        Assert.Equal("nowhere", problem.Feature);
        Assert.Contains("slab.top", problem.Why, StringComparison.Ordinal);
        Assert.Contains("slab.bottom", problem.Why, StringComparison.Ordinal);
    }
}
