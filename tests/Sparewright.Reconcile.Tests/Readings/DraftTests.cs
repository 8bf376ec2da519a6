using CsCheck;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Readings;
using Xunit;

namespace Sparewright.Reconcile.Tests.Readings;

/// <summary>Faces that lean so that the part could leave its mould: what jaws find on them differs from height to height.</summary>
public class DraftTests
{
    /// <summary>A tray, 30 mm high, pulled upwards: outside it narrows upwards, its pocket widens.</summary>
    private static Job Tray(string readings, string lean = "1 deg", string thins = "up", string sizesAt = "0") => Jobs.Read($$$"""
        sparewright: 1
        part: tray
        could_injure: no
        instruments:
          caliper: {kind: digital caliper, resolution: 0.01, mpe: 0.03, zero_error: 0.00, inside_jaw_flat: 0}
        sizes: {w: {about: 60}, in_w: {about: 50}, d: {about: 8}, lean: {about: 1 deg}}
        shape:
          - {block: tray, long: w, deep: 40, tall: 30, middle_at: [0, 0, 15]}
          - {pocket: inner, from: tray.top, outline: {rectangle: [in_w, 30], middle_at: [0, 0]}, depth: 25}
          - {boss: stud, stands_on: inner.floor, at: [0, 0], diameter: d, height: 20}
        draft:
          - {faces: [tray.left, tray.right, inner.wall, stud.side], angle: {{{lean}}}, thins: {{{thins}}}, sizes_at: {{{sizesAt}}}}
        readings:
        {{{readings}}}
        """);

    private static double Shown(Job job, int reading, params double[] sizes) => CaliperGeometry.Of((CaliperReading)job.Readings[reading], ShapePlacer.Place(job.Shape, job.Sizes.At(sizes))).Mm!.Value.Value;

    [Fact]
    public void Walls_get_thinner_and_pockets_wider_the_way_the_mould_opened() =>
        Gen.Select(Gen.Double[0.2, 5], Gen.Double[1, 28], Gen.Double[0, 20]).Sample((lean, height, holdAt) =>
        {
            string readings = string.Create(System.Globalization.CultureInfo.InvariantCulture, $$$"""
                  - {outside: [tray.left, tray.right], at_height: {{{height:R}}}, reads: 60}
                  - {inside: [inner.wall#2, inner.wall#4], at_height: {{{height:R}}}, reads: 50}
                  - {outside: [inner.wall#4, tray.left], at_height: {{{height:R}}}, reads: 5}
                  - {outside: stud.side, at_height: {{{height:R}}}, reads: 8}
                  - {outside: [tray.top, tray.bottom], reads: 30}
                """);
            Job up = Tray(readings, "lean", sizesAt: FormattableString.Invariant($"{holdAt:R}")), down = Tray(readings, "lean", "down", FormattableString.Invariant($"{holdAt:R}"));
            // Plain geometry: each face stands back by tan of its lean for every mm.
            double back = Math.Tan(lean * Math.PI / 180) * (height - holdAt);
            foreach (var (job, each) in new[] { (up, back), (down, -back) })
            {
                Assert.Equal(60 - 2 * each, Shown(job, 0, 60, 50, 8, lean), 1e-9);
                Assert.Equal(50 + 2 * each, Shown(job, 1, 60, 50, 8, lean), 1e-9);
                Assert.Equal(5 - 2 * each, Shown(job, 2, 60, 50, 8, lean), 1e-9);
                Assert.Equal(8 - 2 * each, Shown(job, 3, 60, 50, 8, lean), 1e-9);
                Assert.Equal(30, Shown(job, 4, 60, 50, 8, lean), 1e-9);
            }
        });

    [Fact]
    public void Readings_at_two_heights_decide_the_draft_too()
    {
        double back = Math.Tan(1.5 * Math.PI / 180);
        string readings = string.Create(System.Globalization.CultureInfo.InvariantCulture, $$$"""
              - {outside: [tray.left, tray.right], at_height: 2, reads: {{{60 - 4 * back:0.0000}}}}
              - {outside: [tray.left, tray.right], at_height: 28, reads: {{{60 - 56 * back:0.0000}}}}
              - {inside: [inner.wall#2, inner.wall#4], at_height: 20, reads: {{{50 + 40 * back:0.0000}}}}
              - {outside: stud.side, at_height: 10, reads: {{{8 - 20 * back:0.0000}}}}
            """);
        Reconciled found = Jobs.Reconcile(Tray(readings, "lean"));
        Assert.Equal(1.5, found.Size("lean").Estimate, 1e-3);
        Assert.Equal(60, found.Size("w").Estimate, 1e-3);
        Assert.Equal(50, found.Size("in_w").Estimate, 1e-3);
        Assert.Equal(8, found.Size("d").Estimate, 1e-3);
        // By hand: the shift of the way cancels, so u(tan) = √2·own/(2·26 mm).
        double own = found.Reading("r1").Measured!.Budget.OwnMm, slope = Math.Sqrt(2) * own / 52, degrees = slope / (1 + back * back) * 180 / Math.PI;
        Assert.Equal(degrees, found.Size("lean").StandardUncertainty, 0.01 * degrees);
    }

    [Fact]
    public void A_draft_that_is_to_be_found_is_planned_at_two_heights_and_a_known_one_at_one()
    {
        static double[] Heights(Reconciled found, string start) => [.. found.Plan.Where(p => p.Text.StartsWith(start, StringComparison.Ordinal)).Select(p => ((Part.Sizes.SizeExpression.Number)p.Reading.AtHeight!).Value).Distinct().Order()];
        Reconciled open = Jobs.Reconcile(Tray("  []", "lean")), known = Jobs.Reconcile(Tray("  []"));
        Assert.All(open.Plan.Concat(known.Plan), p => Assert.Equal(p.Reading.AtHeight is not null, p.Text.Contains("at_height: ", StringComparison.Ordinal)));
        // Of the walls, 30 mm high, something is read near the lower end and something near the upper one.
        double[] apart = [.. open.Plan.Where(p => p.Reading.AtHeight is not null).Select(p => ((Part.Sizes.SizeExpression.Number)p.Reading.AtHeight!).Value)];
        Assert.True(apart.Max() - apart.Min() >= 15, string.Join(", ", apart));
        // Where the draft is known, at one height: as low as jaws get, for the sizes hold at the bottom.
        Assert.Single(Heights(known, "outside: [tray.left, tray.right]"));

        // Who follows it has the draft decided.
        Reconciled after = Jobs.Reconcile(Tray("  []", "lean") is { } job ? job with { Readings = [.. open.Plan.Select((p, k) => p.Reading with { Id = $"p{k}", ReadsMm = [p.AboutMm] })] } : throw new InvalidOperationException());
        Assert.All(after.Sizes, s => Assert.NotEqual(SizeStatus.Undecided, s.Status));
        Assert.Equal(1, after.Size("lean").Estimate, 1e-3);
        Assert.Empty(after.Plan);
    }

    [Fact]
    public void What_leaves_a_draft_open_is_told_with_a_reading_at_another_height()
    {
        Reconciled found = Jobs.Reconcile(Tray("""
              - {outside: [tray.left, tray.right], at_height: 2, reads: 59.90}
              - {inside: [inner.wall#2, inner.wall#4], at_height: 20, reads: 50.70}
              - {outside: stud.side, at_height: 10, reads: 7.70}
            """, "lean"));
        UndecidedSizes open = Assert.Single(found.Undecided);
        Assert.Contains("lean", open.Sizes);
        Assert.Contains(open.Measure, m => m.Contains("at_height: ", StringComparison.Ordinal));
        // What narrows nothing is not asked for.
        Assert.DoesNotContain(found.Next, n => n.Text == "depth: [inner.floor, stud.top]");
        Assert.Contains(found.Next, n => n.Purpose == Sparewright.Reconcile.Next.Purpose.Decides && n.Text.Contains("at_height: ", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("  - {outside: [tray.left, tray.right], reads: 60}", "r1: `tray.left` leans by its draft, and what jaws find on it differs from height to height", "at_height")]
    [InlineData("  - {depth: [tray.left, tray.right], at_height: 3, reads: 60}", "do not face the same way", "")]
    public void Without_a_height_it_cannot_be_read(string reading, string what, string remedy)
    {
        Problem problem = Assert.Single(Jobs.Problems(Tray($"{reading}\n  - {{inside: [inner.wall#2, inner.wall#4], at_height: 20, reads: 50}}\n  - {{outside: stud.side, at_height: 10, reads: 8}}")));
        Assert.Contains(what, problem.What, StringComparison.Ordinal);
        Assert.Contains(remedy, problem.Remedy, StringComparison.Ordinal);
    }
}
