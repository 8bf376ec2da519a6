using Sparewright.Strength.Cases;
using Sparewright.Strength.Margins;
using Xunit;

namespace Sparewright.Strength.Tests.Cases;

public sealed class NarrowGapTests(Bench bench, ITestOutputHelper output)
{
    private static readonly LayeredStiffness Plastic = LayeredStiffness.Isotropic(2300, 0.35);

    /// <summary>A fork with two tines 6 mm thick and so far apart.</summary>
    private static string Fork(double gapMm) => string.Create(System.Globalization.CultureInfo.InvariantCulture, $$"""
        sparewright: 1
        part: Fork
        could_injure: no
        shape:
          - {block: root, long: 10, deep: {{12 + gapMm}}, tall: 8, corner_at: [0, 0, 0]}
          - {block: one, long: 50, deep: 6, tall: 8, corner_at: [0, 0, 0]}
          - {block: other, long: 50, deep: 6, tall: 8, corner_at: [0, {{6 + gapMm}}, 0]}
        loads:
          - {name: spread, push: {at: other.right, newtons: 2, toward: back}, held_fast: root.left}

        """);

    private async Task<(BuiltPart Part, SolvedCase Solved)> SolveAsync(double gapMm, int cells)
    {
        BuiltPart part = await bench.BuildAsync(Fork(gapMm));
        var (under, @case) = part.InCells(cells);
        SolvedCase solved = Assert.IsType<SolvedCase>(under.Solve(@case, new(0, 0, 1), Plastic, s => MaximumStress.OfMoulded(s, 1), cancel: TestContext.Current.CancellationToken).Solved);
        output.WriteLine($"cells of {solved.CellMm:0.000} mm, moved {solved.DisplacementMm:0.0000} mm, closed {string.Join("; ", solved.Closed)}");
        return (part, solved);
    }

    /// <summary>A tine bends by itself, P L³ / 3 E I, and as much as a third more for the root that gives way and turns; grown together with the other it would bend by less than a third of it.</summary>
    [Fact]
    public async Task A_gap_that_the_usual_cells_would_close_gets_smaller_ones()
    {
        const double usual = 0.625, gap = 0.8;
        var (part, solved) = await SolveAsync(gap, (int)((10 * 12.8 + 2 * 40 * 6) * 8 / (usual * usual * usual)));
        Assert.Empty(solved.Closed);
        Assert.Equal(gap / 2, solved.CellMm, 1e-6);
        double beam = 2 * 40.0 * 40 * 40 / (3 * 2300 * 8 * 6.0 * 6 * 6 / 12);
        Assert.InRange(solved.DisplacementMm, beam, 1.35 * beam);
    }

    [Fact]
    public async Task A_gap_too_narrow_even_for_those_is_named()
    {
        var (part, solved) = await SolveAsync(0.2, 4000);
        NarrowGap closed = Assert.Single(solved.Closed);
        Assert.Equal(0.2, closed.Mm, 1e-6);
        Assert.Equal(["one.back", "other.front"], new[] { closed.First, closed.Second }.SelectMany(f => part.Solid.Faces[f].Names).Order());
    }

    /// <summary>Cut across the corners of the cells a gap must be wider by the root of two.</summary>
    [Fact]
    public void A_slanting_gap_is_closed_sooner()
    {
        double s = Math.Sqrt(0.5);
        Assert.Equal(0.5, new NarrowGap(0, 1, default, 1, 1).OpenedByMm);
        Assert.Equal(0.5 * s, new NarrowGap(0, 1, default, 1, 2 * s).OpenedByMm, 1e-12);
    }

    [Fact]
    public async Task Walls_holes_and_inner_corners_are_no_gaps()
    {
        BuiltPart part = await bench.BuildAsync("""
            sparewright: 1
            part: Piece
            could_injure: no
            shape:
              - {block: foot, long: 20, deep: 12, tall: 1, corner_at: [0, 0, 0]}
              - {block: post, long: 6, deep: 12, tall: 30, corner_at: [0, 0, 0]}
              - {hole: eye, from: foot.top, at: [14, 6], diameter: 1, through: foot}

            """);
        Assert.Empty(NarrowGap.ClosedBy(PartSurface.Of(part.Mesh, part.Solid.Faces, 2), 1));
    }
}
