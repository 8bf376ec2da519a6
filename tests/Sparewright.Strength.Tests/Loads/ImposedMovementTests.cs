using Sparewright.Strength.Formulas;
using Sparewright.Strength.Grid;
using Sparewright.Strength.Loads;
using Xunit;

namespace Sparewright.Strength.Tests.Loads;

/// <summary>What is moved takes the force that formulas say, wherever the moved and the held faces lie between the cells.</summary>
public class ImposedMovementTests(Bench bench, ITestOutputHelper output)
{
    private static readonly LayeredStiffness Plastic = LayeredStiffness.Isotropic(2300, 0.35);

    private const string Head = "sparewright: 1\npart: Piece\ncould_injure: no\nshape:\n";

    private async Task<ContactSolution> SolveAsync(string shape, string load, double cellMm, GridFrame? frame = null)
    {
        BuiltPart part = await bench.BuildAsync(shape + "loads:\n  - {name: a load, " + load + "}\n");
        var (@case, problems) = new LoadsOnSolid(part.Job, part.Sizes, part.Solid.Faces, part.Mesh, cellMm / 2, 1.2).Of(part.Job.Loads[0]);
        Assert.Empty(problems);
        VoxelGrid grid = VoxelGrid.Over(part.Mesh, frame ?? GridFrame.Job, cellMm, TestContext.Current.CancellationToken);
        ContactSolution solved = Contact.Solve(Plastic, new GridLoads(@case!, grid, Plastic), exactly: new(), cancel: TestContext.Current.CancellationToken).Solved!;
        output.WriteLine($"h {cellMm}: {solved.Rounds} rounds, {solved.Solution.Iterations} iterations, {solved.Solution.Unknowns} unknowns, {solved.Loads.Springs.Count} springs; {string.Join("  ", solved.SupportsN)}");
        return solved;
    }

    /// <summary>
    /// A snap arm, 20 above its root rounds of 1 mm, is moved at its end face by 1 mm and is free to tilt there: P = 3 E I y / L³, from its end to somewhere within the rounds (strength of materials).
    /// Held at the corners of the cells that it cuts, the face could not tilt and took up to four times that.
    /// </summary>
    [Fact]
    public async Task A_snap_arm_pushes_back_as_an_arm_that_is_free_to_tilt()
    {
        const string Arm = Head + """
              - {block: wall, long: 20, deep: 5, tall: 8, corner_at: [-9, 0, -8]}
              - {block: arm, long: 2, deep: 5, tall: 21, corner_at: [0, 0, 0]}
              - {fillet: left_root, meeting: [wall.top, arm.left], radius: 1}
              - {fillet: right_root, meeting: [wall.top, arm.right], radius: 1}

            """;
        double Beam(double longMm) => 1 / new Arm(Section.Rectangle(5, 2), longMm).DeflectionMm(1, 2300, 0.35);
        var forces = new List<double>();
        foreach (double cell in (double[])[0.43, 0.31, 0.23])
        {
            ContactSolution solved = await SolveAsync(Arm, "snap: {at: arm.top, how_far: 1, toward: right}, held_fast: wall.bottom", cell);
            forces.Add(solved.SupportsN[0].X);
            // What moves it is held against by what holds it, although the springs that move it ask for thousands of times as much at first.
            double left = (solved.SupportsN[0] + solved.SupportsN[1]).Length / solved.SupportsN[0].Length;
            output.WriteLine($"out of balance by {left:0.0e0}");
            Assert.InRange(left, 0, 1e-8);
        }

        output.WriteLine($"{string.Join("  ", forces.Select(f => $"{f:0.000} N"))}; beam {Beam(21):0.000} to {Beam(20):0.000}");
        Assert.All(forces, f => Assert.InRange(f, 0.9 * Beam(21), 1.03 * Beam(20)));
        Assert.True(Math.Abs(forces[2] - forces[1]) < Math.Abs(forces[1] - forces[0]));
    }

    /// <summary>
    /// Lamé: a ring 5/10 by a stiff shaft pressed apart by 0.05 in radius: p = δ / (a/E · ((b² + a²)/(b² − a²) + ν)) while it may grow along its axis. The force on a quarter of the bore is p a l across each way.
    /// </summary>
    [Fact]
    public async Task A_pressed_ring_pushes_back_by_Lames_pressure()
    {
        const string Bush = Head + "  - {boss: ring, diameter: 20, height: 8}\n  - {hole: bore, from: ring.top, diameter: 10, through: whole part}\n";
        double pressure = 0.05 / (5 / 2300.0 * (125 / 75.0 + 0.35));
        var found = new List<double>();
        foreach (double cell in (double[])[0.83, 0.57, 0.37])
        {
            ContactSolution solved = await SolveAsync(Bush, "press: {at: bore.wall, interference: 0.1}, rests_on: ring.bottom", cell);
            // All pushes square to the wall, over its area.
            double push = solved.Loads.Springs.Index().Where(s => s.Item.Support == 0 && solved.Holds[s.Index])
                .Sum(s => s.Item.StiffnessNPerMm * (s.Item.RestMm - Solid.Point3.Dot(s.Item.Direction, MovementOf(solved, s.Item))));
            found.Add(push / (2 * Math.PI * 5 * 8));
        }

        output.WriteLine($"{string.Join("  ", found.Select(p => $"{p:0.000} ({100 * (p / pressure - 1):0.0} %)"))}; Lamé {pressure:0.000}");
        Assert.InRange(found[1] / pressure, 0.96, 1.04);
        Assert.InRange(found[2] / pressure, 0.97, 1.03);
    }

    private static Solid.Point3 MovementOf(ContactSolution solved, SupportSpring spring) => solved.Solution.At(spring.Place);
}
