using Sparewright.Part.Record;
using Sparewright.Solid;
using Sparewright.Strength.Cases;
using Sparewright.Strength.Formulas;
using Sparewright.Strength.Loads;
using Sparewright.Strength.Margins;
using Sparewright.Strength.Materials;
using Xunit;

namespace Sparewright.Strength.Tests.Cases;

public class PartUnderLoadTests(Bench bench, ITestOutputHelper output)
{
    private static readonly LayeredStiffness Plastic = LayeredStiffness.Isotropic(2300, 0.35);

    private const string Head = "sparewright: 1\npart: Piece\ncould_injure: no\nshape:\n";

    private const string Strip = Head + """
          - {block: strip, long: 100, deep: 20, tall: 4, corner_at: [0, 0, 0]}
          - {hole: eye, from: strip.top, at: [50, 10], diameter: 6, through: strip}

        """;

    private const string Bracket = Head + """
          - {block: foot, long: 20, deep: 12, tall: 6, corner_at: [0, 0, 0]}
          - {block: post, long: 6, deep: 12, tall: 30, corner_at: [0, 0, 0]}

        """;

    private const string Root = "  - {fillet: root, meeting: [foot.top, post.right], radius: 3}\n";

    private async Task<(BuiltPart Part, SolvedCase Solved)> SolveAsync(string shape, string load, int cells, Point3? up = null, Func<Stress, Reserve>? judge = null)
    {
        BuiltPart part = await bench.BuildAsync(shape + "loads:\n  - {name: a load, " + load + "}\n");
        var under = new PartUnderLoad(part.Mesh, part.Solid.Faces, part.Solid.VolumeMm3, cells);
        var (@case, problems) = new LoadsOnSolid(part.Job, part.Sizes, part.Solid.Faces, part.Mesh, under.CellMm / 2, 1.2).Of(part.Job.Loads[0]);
        Assert.Empty(problems);
        CaseAnswer answer = under.Solve(@case!, up ?? new(0, 0, 1), Plastic, judge ?? (s => MaximumStress.OfMoulded(s, 1)), cancel: TestContext.Current.CancellationToken);
        SolvedCase solved = Assert.IsType<SolvedCase>(answer.Solved);
        output.WriteLine($"{solved.Seconds:0.0} s, {solved.Elements} cells of {solved.CellMm:0.00} and {solved.WindowCellMm:0.000}, reserve {solved.Weakest.Reserve} ± {solved.StressPlusMinus:0.000} at {string.Join('/', part.Solid.Faces[solved.Weakest.Point.Face].Names)} {solved.Weakest.Point.At}, {solved.Resolution}");
        return (part, solved);
    }

    private static string FaceOf(BuiltPart part, SolvedCase solved) => part.Solid.Faces[solved.Weakest.Point.Face].Names[0];

    /// <summary>A strip pulled with 1 MPa over its whole section: at the hole the handbook's factor for d/W = 0.3 (Roark, table 17.1, 3.356 over the gross section), within 5 % and within the stated ±.</summary>
    [Fact]
    public async Task A_hole_in_a_strip_is_weakest_at_its_wall_by_the_handbooks_factor()
    {
        var (part, solved) = await SolveAsync(Strip, "pull: {at: strip.right, newtons: 80, toward: right}, held_fast: strip.left", 60_000);
        double kt = HoleInStrip.KtGross(0.3), found = 1 / solved.Weakest.Reserve.Factor;
        Assert.Equal("eye.wall", FaceOf(part, solved));
        Assert.Equal(kt, found, 0.05 * kt);
        Assert.Equal(50, solved.Weakest.Point.At.X, 1.0);
        Assert.True(solved.StressPlusMinus < 0.1);
        Assert.Equal(Strength.Stresses.Resolution.Resolved, solved.Resolution);
    }

    /// <summary>The layers lie another way, the material is the same in all directions: so is the answer.</summary>
    [Fact]
    public async Task Which_way_the_grid_lies_does_not_matter_to_a_material_without_layers()
    {
        const string Load = "pull: {at: strip.right, newtons: 80, toward: right}, held_fast: strip.left";
        var (_, upright) = await SolveAsync(Strip, Load, 30_000);
        var (_, aside) = await SolveAsync(Strip, Load, 30_000, new(1, 0, 0));
        Assert.Equal(upright.Weakest.Reserve.Factor, aside.Weakest.Reserve.Factor, 0.03 * upright.Weakest.Reserve.Factor);
        Assert.Equal(upright.DisplacementMm, aside.DisplacementMm, 0.02 * upright.DisplacementMm);
    }

    [Fact]
    public async Task Twice_the_load_is_half_the_reserve()
    {
        var (_, once) = await SolveAsync(Bracket + Root, "push: {at: post.top, newtons: 10, toward: left}, held_fast: foot.bottom", 8_000);
        var (_, twice) = await SolveAsync(Bracket + Root, "push: {at: post.top, newtons: 20, toward: left}, held_fast: foot.bottom", 8_000);
        Assert.Equal(once.Weakest.Reserve.Factor / 2, twice.Weakest.Reserve.Factor, 1e-5 * once.Weakest.Reserve.Factor);
        Assert.Equal(2 * once.DisplacementMm, twice.DisplacementMm, 1e-5 * once.DisplacementMm);
    }

    /// <summary>Pushed to the left the post is pulled at its root: with a fillet that is the weakest place; without one the corner is named and not judged.</summary>
    [Fact]
    public async Task A_sharp_inner_corner_is_named_and_a_fillet_is_judged()
    {
        const string Load = "push: {at: post.top, newtons: 10, toward: left}, held_fast: foot.bottom";
        var (part, rounded) = await SolveAsync(Bracket + Root, Load, 30_000);
        Assert.Equal("root.face", FaceOf(part, rounded));
        Assert.Null(rounded.Weakest.SharpCorner);

        var (_, sharp) = await SolveAsync(Bracket, Load, 30_000);
        SharpCorner corner = Assert.NotNull(sharp.Weakest.SharpCorner);
        Assert.Equal((6.0, 6.0), (Math.Round(corner.At.X, 6), Math.Round(corner.At.Z, 6)));
        Assert.True((sharp.Weakest.Point.At - corner.At).Length > 0.4);
    }

    /// <summary>A post that is printed lying down is stronger than one whose layers are pulled apart, and each says so.</summary>
    [Fact]
    public async Task Layers_across_the_pull_are_the_weaker_way()
    {
        LayeredStrength strength = Allowables.Of(MaterialTable.Published.Print("PLA", [])!, HowOften.Once, HowLong.Seconds, null).Strength;
        const string Load = "push: {at: post.top, newtons: 10, toward: left}, held_fast: foot.bottom";
        var (_, standing) = await SolveAsync(Bracket + Root, Load, 30_000, new(0, 0, 1), s => MaximumStress.Of(s, strength));
        var (_, lying) = await SolveAsync(Bracket + Root, Load, 30_000, new(0, 1, 0), s => MaximumStress.Of(s, strength));
        Assert.Equal(FailureMode.LayersPulledApart, standing.Weakest.Reserve.Mode);
        Assert.Equal(FailureMode.TornInLayer, lying.Weakest.Reserve.Mode);
        Assert.InRange(lying.Weakest.Reserve.Factor / standing.Weakest.Reserve.Factor, 1.5, 2.3);
    }
}
