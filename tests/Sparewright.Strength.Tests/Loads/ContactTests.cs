using Sparewright.Solid;
using Sparewright.Strength.Formulas;
using Sparewright.Strength.Grid;
using Sparewright.Strength.Loads;
using Xunit;

namespace Sparewright.Strength.Tests.Loads;

/// <summary>Load cases of real parts on a grid: what pushes back balances what acts.</summary>
public class ContactTests(Bench bench, ITestOutputHelper output)
{
    private static readonly LayeredStiffness Plastic = LayeredStiffness.Isotropic(2300, 0.35);

    private const string Bar = """
        sparewright: 1
        part: Bar
        could_injure: no
        shape:
          - block: bar
            long: 60
            deep: 6
            tall: 6
            corner_at: [0, 0, 0]
          - hole: eye
            axis: back
            at: [52, 0, 3]
            diameter: 3
            through: bar
        counterparts:
          - {pin: cord, diameter: 3, goes_through: eye}
        loads:

        """;

    private async Task<(SolidLoadCase Case, ContactSolution Solved)> SolveAsync(string text, GridFrame frame, double cellMm)
    {
        BuiltPart part = await bench.BuildAsync(text);
        var (@case, problems) = new LoadsOnSolid(part.Job, part.Sizes, part.Solid.Faces, part.Mesh, cellMm / 2, 1.2).Of(part.Job.Loads[0]);
        Assert.Empty(problems);
        VoxelGrid grid = VoxelGrid.Over(part.Mesh, frame, cellMm, TestContext.Current.CancellationToken);
        ContactSolution solved = Contact.Solve(Plastic, new GridLoads(@case!, grid, Plastic), exactly: new(), cancel: TestContext.Current.CancellationToken).Solved!;
        output.WriteLine($"{solved.Rounds} rounds, {solved.Solution.Iterations} iterations, {solved.Solution.Unknowns} unknowns");
        return (@case!, solved);
    }

    private void Balanced(SolidLoadCase @case, ContactSolution solved, double share = 1e-8)
    {
        Point3 left = solved.SupportsN.Aggregate(@case.TotalN, (sum, f) => sum + f);
        output.WriteLine($"out of balance by {left.Length / @case.TotalN.Length:0.0e0}");
        Assert.True(left.Length <= share * @case.TotalN.Length, $"{left} is left over");
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public async Task On_the_grid_force_and_moment_stay_what_they_were(int upOfTheGrid)
    {
        BuiltPart part = await bench.ExampleAsync("vent-knuckle");
        SolidLoadCase @case = new LoadsOnSolid(part.Job, part.Sizes, part.Solid.Faces, part.Mesh, 0.5, 1.2).Of(part.Job.Loads[0]).Case!;
        GridFrame frame = upOfTheGrid == 0 ? GridFrame.Job : GridFrame.WithUp(new(1, 2, 3));
        VoxelGrid grid = VoxelGrid.Over(part.Mesh, frame, 0.8, TestContext.Current.CancellationToken);

        var (force, moment) = new GridLoads(@case, grid, Plastic).With(_ => true).Resultant;

        SurfaceLoad gust = @case.Loads[0];
        Assert.True((frame.ToJob(force) - gust.TotalN).Length < 1e-9 * gust.TotalN.Length);
        Assert.True((frame.ToJob(moment) - gust.MomentNmm).Length < 1e-9 * gust.MomentNmm.Length);
    }

    /// <summary>The bar as an arm from its left end, by beam theory with shear; the hole near its end and the clamp cost less than 3 %.</summary>
    [Fact]
    public async Task An_arm_bends_as_beams_do()
    {
        var (@case, solved) = await SolveAsync(Bar + "  - {name: pull, pull: {at: eye.wall, newtons: 10, toward: down}, held_fast: bar.left}\n", GridFrame.Job, 0.5);
        Balanced(@case, solved);
        double moved = -solved.Solution.At(104, 6, 12).Z, beam = new Arm(Section.Rectangle(6, 6), 52).DeflectionMm(10, 2300, 0.35);
        Assert.Equal(beam, moved, 0.03 * beam);
        Assert.Equal(1, solved.Rounds);
    }

    /// <summary>The bar lies on a table, a pin through its eye keeps it from lifting there, its front is guided, and the left end is pulled up: the table pushes only, and only under the eye.</summary>
    [Fact]
    public async Task A_table_does_not_pull()
    {
        var (@case, solved) = await SolveAsync(Bar + "  - {name: lifted, pull: {at: bar.left, newtons: 2, toward: up}, rests_on: bar.bottom, held_fast: eye.wall}\n", GridFrame.Job, 1);
        Assert.Equal(0, solved.PullingShare);
        Assert.True(solved.Rounds > 1);
        Assert.True(solved.SupportsN[0].Z >= 0);
        Assert.True(solved.Solution.At(0, 3, 3).Z > 0.1);
        Balanced(@case, solved);
    }

    [Fact]
    public async Task The_gust_on_the_vent_knuckle_is_balanced_by_its_screws_and_the_foot_lifts_off_where_it_would_have_to_pull()
    {
        BuiltPart part = await bench.ExampleAsync("vent-knuckle");
        SolidLoadCase @case = new LoadsOnSolid(part.Job, part.Sizes, part.Solid.Faces, part.Mesh, 0.5, 1.2).Of(part.Job.Loads[0]).Case!;
        VoxelGrid grid = VoxelGrid.Over(part.Mesh, GridFrame.Job, 1, TestContext.Current.CancellationToken);
        ContactSolution solved = Contact.Solve(Plastic, new GridLoads(@case, grid, Plastic), exactly: new(), cancel: TestContext.Current.CancellationToken).Solved!;
        output.WriteLine($"{solved.Rounds} rounds, {solved.Solution.Iterations} iterations, {solved.Solution.Unknowns} unknowns; {string.Join("  ", solved.SupportsN)}");
        Assert.Equal(0, solved.PullingShare);
        Assert.InRange(solved.Rounds, 2, 15);
        Balanced(@case, solved);
        // The screws pull down, the foot's far side is pressed up.
        Assert.True(solved.SupportsN[0].Z < 0 && solved.SupportsN[2].Z < 0);
        Assert.True(solved.SupportsN[4].Z > 0);
    }

    [Theory]
    [InlineData("push: {at: bar.left, newtons: 5, toward: up}, held_by: cord", "free to turn about an axis along y")]
    [InlineData("pull: {at: bar.top, newtons: 5, toward: up}, rests_on: bar.bottom", "free to shift along z")]
    [InlineData("push: {at: bar.front, newtons: 5, toward: back}, rests_on: bar.bottom", "free to shift along y")]
    [InlineData("moved: {at: bar.right, how_far: 0.5, toward: up}", "free to shift along z")]
    [InlineData("moved: {at: bar.left, how_far: 0.5, toward: up}, held_by: cord", "free to turn about an axis along y")]
    public async Task A_part_that_gets_away_is_not_solved_but_explained(string load, string how)
    {
        BuiltPart part = await bench.BuildAsync(Bar + "  - {name: a load, " + load + "}\n");
        SolidLoadCase @case = new LoadsOnSolid(part.Job, part.Sizes, part.Solid.Faces, part.Mesh, 0.5, 1.2).Of(part.Job.Loads[0]).Case!;
        VoxelGrid grid = VoxelGrid.Over(part.Mesh, GridFrame.Job, 1, TestContext.Current.CancellationToken);
        ContactOutcome outcome = Contact.Solve(Plastic, new GridLoads(@case, grid, Plastic), cancel: TestContext.Current.CancellationToken);
        Assert.Null(outcome.Solved);
        Assert.Contains(how, Assert.Single(outcome.Loose).InWords, StringComparison.Ordinal);
    }

    /// <summary>Pressure in a bore presses against itself: what the part rests on has next to nothing to bear, and what that is was once not settled, by half of itself.</summary>
    [Fact]
    public async Task Pressure_that_balances_itself_leaves_a_rest_settled()
    {
        const string Cap = "sparewright: 1\npart: Cap\ncould_injure: no\nshape:\n  - {boss: cap, diameter: 24, height: 12}\n  - {hole: bore, from: cap.top, diameter: 16, depth: 10}\nloads:\n";
        var (_, solved) = await SolveAsync(Cap + "  - {name: a load, pressure: {at: bore.wall, bar: 2}, rests_on: cap.bottom}\n", GridFrame.Job, 0.8);
        Assert.Equal(0, solved.PullingShare);
        Assert.InRange(solved.SupportsN[0].Length, 0, 1e-6);
    }

    /// <summary>
    /// A block that lies on a table may slide and turn, and one on a pin turn about it and slide along it, but nothing makes it: pressed down each is solved all the same, and all that acts is borne by what the job says,
    /// whichever way the grid lies. Soft springs all over it took a few parts in 100,000 of the load.
    /// </summary>
    [Theory]
    [InlineData("push: {at: bar.top, newtons: 50, toward: down}, rests_on: bar.bottom", false)]
    [InlineData("push: {at: bar.top, newtons: 50, toward: down}, rests_on: bar.bottom", true)]
    [InlineData("pull: {at: bar.left, newtons: 50, toward: left}, held_by: cord", false)]
    [InlineData("pull: {at: bar.left, newtons: 50, toward: left}, held_by: cord", true)]
    public async Task What_is_free_but_not_driven_is_solved_and_balanced(string load, bool leans)
    {
        var (@case, solved) = await SolveAsync(Bar + "  - {name: a load, " + load + "}\n", leans ? GridFrame.WithUp(new(1, 2, 3)) : GridFrame.Job, 1);
        Balanced(@case, solved);
    }

    /// <summary>What holds on a coarser grid is a good start on a finer one: it is the same answer in fewer rounds.</summary>
    [Fact]
    public async Task A_coarser_grid_tells_where_it_lifts_off()
    {
        BuiltPart part = await bench.ExampleAsync("vent-knuckle");
        SolidLoadCase @case = new LoadsOnSolid(part.Job, part.Sizes, part.Solid.Faces, part.Mesh, 0.5, 1.2).Of(part.Job.Loads[0]).Case!;
        GridLoads On(double cellMm) => new(@case, VoxelGrid.Over(part.Mesh, GridFrame.Job, cellMm, TestContext.Current.CancellationToken), Plastic);
        ContactSolution coarse = Contact.Solve(Plastic, On(1.2), cancel: TestContext.Current.CancellationToken).Solved!;
        ContactSolution guessed = Contact.Solve(Plastic, On(1), coarse.Pressed, cancel: TestContext.Current.CancellationToken).Solved!, own = Contact.Solve(Plastic, On(1), cancel: TestContext.Current.CancellationToken).Solved!;
        output.WriteLine($"{guessed.Rounds} rounds instead of {own.Rounds}");
        Assert.True(guessed.Rounds < own.Rounds);
        Assert.True((guessed.SupportsN[4] - own.SupportsN[4]).Length < 0.02 * own.SupportsN[4].Length);
    }
}
