using Sparewright.Strength.Cases;
using Sparewright.Strength.Formulas;
using Sparewright.Strength.Margins;
using Xunit;

namespace Sparewright.Strength.Tests.Cases;

/// <summary>Formulas beside the solver: found where the shape allows one, by what a hand calculation gives, and silent elsewhere.</summary>
public class SecondOpinionTests(Bench bench, ITestOutputHelper output)
{
    private static readonly LayeredStiffness Plastic = LayeredStiffness.Isotropic(2300, 0.35);

    private const string Head = "sparewright: 1\npart: Piece\ncould_injure: no\nshape:\n";

    private const string Arm = Head + "  - {block: arm, long: 100, deep: 20, tall: 20, corner_at: [0, 0, 0]}\n";

    private const string Bush = Head + "  - {boss: ring, diameter: 20, height: 20}\n  - {hole: bore, from: ring.top, diameter: 10, through: whole part}\n";

    private async Task<IReadOnlyList<SecondOpinion>> OpinionsAsync(string shape, string load, int cells = 30_000)
    {
        BuiltPart part = await bench.BuildAsync(shape + "loads:\n  - {name: a load, " + load + "}\n");
        var (under, @case) = part.InCells(cells);
        SolvedCase solved = under.Solve(@case, new(0, 0, 1), Plastic, s => MaximumStress.OfMoulded(s, 1), compares: true, cancel: TestContext.Current.CancellationToken).Solved!;
        foreach (SecondOpinion o in solved.Opinions) output.WriteLine(o.ToString());
        return solved.Opinions;
    }

    /// <summary>By hand: 50 N at 100 mm from a cut at x: 6 · 50 · (100 − x)/20³ MPa (strength of materials); the cut lies one depth of 20 mm from the clamp or a little more.</summary>
    [Theory]
    [InlineData("up")]
    [InlineData("back")]
    public async Task An_arm_is_bent_as_beam_theory_says(string toward)
    {
        SecondOpinion beam = Assert.Single(await OpinionsAsync(Arm, $"push: {{at: arm.right, newtons: 50, toward: {toward}}}, held_fast: arm.left"));
        Assert.InRange(Math.Abs(beam.Formula), 6 * 50 * 75 / 8000.0, 6 * 50 * 80 / 8000.0);
        Assert.False(beam.Disagrees);
        Assert.InRange(Math.Abs(beam.Difference), 0, 0.05);
    }

    /// <summary>By hand: 400 N over 20 × 20 mm is 1 MPa, and 50 N across bend it besides.</summary>
    [Fact]
    public async Task Pull_and_bending_add_up()
    {
        SecondOpinion beam = Assert.Single(await OpinionsAsync(Arm, "pull: {at: arm.right, newtons: 400, toward: right}, push: {at: arm.right, newtons: 50, toward: up}, held_fast: arm.left"));
        Assert.InRange(beam.Formula, 1 + 6 * 50 * 75 / 8000.0, 1 + 6 * 50 * 80 / 8000.0);
        Assert.False(beam.Disagrees);
    }

    /// <summary>Strength.md, closed forms: W 30, d 10, edge 15, t 6, P 300 N: net section 2.5 MPa; with an open hole's factor for d/W = 1/3 (Roark) and 1 to 2 times that for a pin.</summary>
    [Fact]
    public async Task An_eye_is_torn_beside_its_hole()
    {
        const string Strap = Head + "  - {block: strap, long: 80, deep: 30, tall: 6, corner_at: [0, -15, 0]}\n  - {hole: eye, from: strap.top, at: [65, 0], diameter: 10, through: strap}\n";
        IReadOnlyList<SecondOpinion> opinions = await OpinionsAsync(Strap, "pull: {at: eye.wall, newtons: 300, toward: right}, held_fast: strap.left");
        SecondOpinion eye = Assert.Single(opinions, o => o.Name.StartsWith("eye eye.wall", StringComparison.Ordinal));
        Assert.Equal(1.5 * 2.5 * HoleInStrip.KtNet(1.0 / 3), eye.Formula, 0.02 * eye.Formula);
        Assert.False(eye.Disagrees);
        // The strap behind it is a beam that is pulled: 300 N over 30 × 6 mm.
        Assert.Equal(300 / 180.0, Assert.Single(opinions, o => o.Name.StartsWith("beam", StringComparison.Ordinal)).Formula, 1e-3);
    }

    /// <summary>Lamé: inner 5, outer 10 mm, 0.3 MPa (3 bar): 0.2 MPa along the outside. Pressed by 0.1 mm in diameter on what does not give: 0.05/(5/2300 · (125/75 + 0.35)) · 2/3 MPa.</summary>
    [Theory]
    [InlineData("pressure: {at: bore.wall, bar: 3}, rests_on: ring.bottom", 0.2)]
    [InlineData("press: {at: bore.wall, interference: 0.1}, rests_on: ring.bottom", 0.05 / (5 / 2300.0 * (125 / 75.0 + 0.35)) * 2 / 3)]
    public async Task A_ring_is_stretched_all_round(string load, double hand)
    {
        SecondOpinion ring = Assert.Single(await OpinionsAsync(Bush, load));
        Assert.Equal(hand, ring.Formula, 0.01 * hand);
        Assert.False(ring.Disagrees);
    }

    /// <summary>Strength.md, closed forms: an arm 18 mm long and 2.5 mm thick, aside by 2.5 mm: 1.5 h y/L² = 2.89 %.</summary>
    [Fact]
    public async Task A_snap_arm_is_judged_by_its_strain()
    {
        const string Snap = Head + "  - {block: wall, long: 20, deep: 20, tall: 8, corner_at: [-10, -10, -8]}\n  - {block: arm, long: 2.5, deep: 8, tall: 20, corner_at: [0, -4, 0]}\n";
        IReadOnlyList<SecondOpinion> opinions = await OpinionsAsync(Snap, "snap: {at: arm.top, how_far: 2.5, toward: right}, held_fast: wall.bottom");
        SecondOpinion strain = Assert.Single(opinions, o => o.Unit == "%");
        Assert.Equal(1.5 * 2.5 * 2.5 / 400 * 100, strain.Formula, 0.08 * strain.Formula);
        Assert.False(strain.Disagrees);
    }

    [Fact]
    public async Task A_lump_has_no_formula() =>
        Assert.Empty(await OpinionsAsync(Head + "  - {block: lump, long: 10, deep: 12, tall: 11, corner_at: [0, 0, 0]}\n", "push: {at: lump.top, newtons: 50, toward: right}, held_fast: lump.bottom"));

    /// <summary>By hand: 1 N·m twists a square bar of 20 mm with M/0.208 a³ = 0.601 MPa (Timoshenko and Goodier, from memory). What only twists it neither pulls nor bends it: beam theory is silent.</summary>
    [Theory]
    [InlineData("twist: {at: arm.right, newton_metres: 1, about: right}")]
    [InlineData("twist: {at: arm.right, newton_metres: 1, about: left}")]
    public async Task A_square_arm_is_twisted_as_the_handbook_says(string load)
    {
        SecondOpinion twist = Assert.Single(await OpinionsAsync(Arm, $"{load}, held_fast: arm.left"));
        Assert.StartsWith("twist of a rectangular bar", twist.Name, StringComparison.Ordinal);
        Assert.Equal(1000 / (0.208 * 8000), twist.Formula, 0.002 * twist.Formula);
        Assert.False(twist.Disagrees);
        Assert.InRange(Math.Abs(twist.Difference), 0, 0.05);
    }

    /// <summary>By hand: 1 N·m bends a square bar of 20 mm with 6 M/a³ = 0.75 MPa. What only bends it does not twist it: that was once no number at all, and the program broke off.</summary>
    [Fact]
    public async Task What_is_only_bent_has_no_twist()
    {
        SecondOpinion beam = Assert.Single(await OpinionsAsync(Arm, "bend: {at: arm.right, newton_metres: 1, about: up}, held_fast: arm.left"));
        Assert.Equal(0.75, Math.Abs(beam.Formula), 0.01);
        Assert.False(beam.Disagrees);
    }

    /// <summary>Exact: 16 M D/π(D⁴ − d⁴); 2 N·m on 16/10 mm is 2.94 MPa. A force across adds shear that is opposite on the two sides, and beam theory then speaks as well.</summary>
    [Theory]
    [InlineData("", 1)]
    [InlineData("push: {at: tube.top, newtons: 40, toward: right}, ", 2)]
    public async Task A_tube_is_twisted(string besides, int opinions)
    {
        const string Tube = Head + "  - {boss: tube, diameter: 16, height: 60}\n  - {hole: bore, from: tube.top, diameter: 10, through: whole part}\n";
        IReadOnlyList<SecondOpinion> found = await OpinionsAsync(Tube, besides + "twist: {at: tube.top, newton_metres: 2, about: up}, held_fast: tube.bottom");
        Assert.Equal(opinions, found.Count);
        SecondOpinion twist = Assert.Single(found, o => o.Name.StartsWith("twist of a tube", StringComparison.Ordinal));
        Assert.Equal(16 * 2000 * 16 / (Math.PI * (65536 - 10000)), twist.Formula, 0.005 * twist.Formula);
        Assert.False(twist.Disagrees);
        Assert.InRange(Math.Abs(twist.Difference), 0, 0.06);
    }

    /// <summary>Strength.md V9: a round bar of 24 that steps to 20 mm over a round of 2, in torsion: 1.357 times 16 M/πd³; what is left beside a round as high as its step is kept a little wider here.</summary>
    [Fact]
    public async Task A_stepped_round_bar_is_twisted_most_at_its_round()
    {
        const string Step = Head + "  - {boss: foot, diameter: 12.02, height: 14}\n  - {boss: pin, stands_on: foot.top, diameter: 10, height: 14}\n  - {fillet: neck, meeting: [pin.side, foot.top], radius: 1}\n";
        IReadOnlyList<SecondOpinion> opinions = await OpinionsAsync(Step, "twist: {at: pin.top, newton_metres: 1, about: up}, held_fast: foot.bottom");
        SecondOpinion step = Assert.Single(opinions, o => o.Name.StartsWith("step of a round bar", StringComparison.Ordinal));
        Assert.Equal(1.357 * 16000 / (Math.PI * 1000), step.Formula, 0.003 * step.Formula);
        Assert.False(step.Disagrees);
    }

    /// <summary>Thin open walls far from their ends, M t/Σ(l t³/3): an angle with 30 mm of middle line, a channel with 26. The ends of a channel that is short are felt all along it, and nothing is said.</summary>
    [Theory]
    [InlineData(false, 120, 16, 30)]
    [InlineData(true, 120, 10, 26)]
    [InlineData(true, 40, 10, null)]
    public async Task Thin_open_walls_are_twisted(bool isChannel, int longMm, int deepMm, int? lineMm)
    {
        string shape = Head + FormattableString.Invariant($"  - {{block: one, long: {longMm}, deep: {deepMm}, tall: 2, corner_at: [0, 0, 0]}}\n  - {{block: two, long: {longMm}, deep: 2, tall: {deepMm}, corner_at: [0, 0, 0]}}\n")
            + (isChannel ? FormattableString.Invariant($"  - {{block: three, long: {longMm}, deep: 2, tall: {deepMm}, corner_at: [0, {deepMm - 2}, 0]}}\n") : "");
        string third = isChannel ? ", three." : "";
        IReadOnlyList<SecondOpinion> opinions = await OpinionsAsync(shape, $"twist: {{at: [one.right, two.right{third}{(isChannel ? "right" : "")}], newton_metres: 0.2, about: right}}, held_fast: [one.left, two.left{third}{(isChannel ? "left" : "")}]", 40_000);
        if (lineMm is not { } line)
        {
            Assert.Empty(opinions);
            return;
        }

        SecondOpinion twist = Assert.Single(opinions);
        Assert.StartsWith("twist of open thin walls", twist.Name, StringComparison.Ordinal);
        Assert.Equal(200 * 2 / (line * 8 / 3.0), twist.Formula, 0.06 * twist.Formula);
        Assert.False(twist.Disagrees);
    }

    /// <summary>A tube's section by its triangles against its formula; the mesh's chords lie inside the circle.</summary>
    [Fact]
    public void A_section_is_measured_on_the_mesh()
    {
        CrossSection cut = CrossSection.Of(Shapes.Ring(19 / 2.0, 25 / 2.0, 30, 720), 2, 12)!;
        Section tube = Section.Tube(25, 19);
        Assert.Equal(tube.AreaMm2, cut.AreaMm2, 1e-4 * tube.AreaMm2);
        Assert.Equal(tube.SecondMomentMm4, cut.Uu, 1e-4 * tube.SecondMomentMm4);
        Assert.Equal(tube.SecondMomentMm4, cut.Vv, 1e-4 * tube.SecondMomentMm4);
        Assert.Equal(0, cut.Uv, 1e-6 * tube.SecondMomentMm4);
        Assert.Equal(0, cut.Centroid.X, 1e-9);
    }
}
