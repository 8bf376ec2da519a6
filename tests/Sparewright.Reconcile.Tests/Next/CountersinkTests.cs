using Sparewright.Part.Record;
using Sparewright.Part.Sizes;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Next;
using Xunit;

namespace Sparewright.Reconcile.Tests.Next;

/// <summary>The mouth of a countersink lies in the face that the hole starts from, and moves with it: its height is told in the sizes.</summary>
public class CountersinkTests
{
    private const string Sizes = "{t: {about: 4}, step: {about: 3}, hole: {about: 4.5}, mouth: {about: 9}, long: {about: 40}}";

    private const string Shape = """
          - {block: foot, long: long, deep: 24, tall: t, corner_at: [0, 0, 0]}
          - {block: pad, long: 16, deep: 24, tall: step, corner_at: [0, 0, t]}
          - {hole: low, from: foot.top, at: [28, 12], diameter: hole, through: foot, countersink: {diameter: mouth, angle: 90}}
          - {hole: high, from: pad.top, at: [8, 12], diameter: hole, through: whole part, countersink: {diameter: mouth + 2, angle: 90}}
          - {hole: under, from: foot.bottom, at: [20, 6], diameter: 3, through: foot, countersink: {diameter: mouth - 3, angle: 90}}
        """;

    private const string Low = "inside: low.countersink, at_height: t", High = "inside: high.countersink, at_height: t + step", Under = "inside: under.countersink, at_height: 0";

    [Fact]
    public void It_is_planned_at_its_height_and_decides_its_diameter()
    {
        Job bare = Jobs.Of(Sizes, Shape, "  []");
        Reconciled before = Jobs.Reconcile(bare);
        string[] planned = [.. before.Plan.Select(p => p.Text).Where(t => t.Contains("countersink", StringComparison.Ordinal))];
        Assert.NotEmpty(planned);
        Assert.All(planned, p => Assert.Contains(p, new[] { Low, High, Under }));

        // Written into a job as it is told, with what the display says of a true part, it gives the truth.
        double[] truth = [4, 3.2, 4.5, 9.4, 41];
        Job taken = Jobs.Of(Sizes, Shape, string.Join('\n', before.Plan.Select(p => $"  - {{{p.Text}, reads: 1}}")));
        double[] shown = Jobs.True(taken, truth);
        Reconciled after = Jobs.Reconcile(taken with { Readings = [.. taken.Readings.Select((r, k) => (Reading)((CaliperReading)r with { ReadsMm = [shown[k]] }))] });
        Assert.Empty(after.Plan);
        Assert.All(after.Sizes.Zip(truth), s => Assert.Equal(s.Second, s.First.Estimate, 1e-6));
    }

    [Fact]
    public void It_is_named_where_its_diameter_is_open_and_told_what_it_would_narrow()
    {
        const string others = """
              - {outside: [foot.bottom, foot.top], reads: 4}
              - {depth: [foot.top, pad.top], reads: 3}
              - {inside: low.wall, reads: 4.5}
              - {outside: [foot.left, foot.right], reads: 40}
            """;
        Reconciled open = Jobs.Reconcile(Jobs.Of(Sizes, Shape, others));
        UndecidedSizes undecided = Assert.Single(open.Undecided);
        Assert.Equal(["mouth"], undecided.Sizes);
        Assert.Contains(Low, undecided.Measure);
        Assert.Contains(High, undecided.Measure);
        Assert.Contains(open.Next, n => n.Purpose == Purpose.Decides && n.Why.Contains("mouth", StringComparison.Ordinal) && n.Text.Contains("countersink, at_height", StringComparison.Ordinal));

        Reconciled read = Jobs.Reconcile(Jobs.Of(Sizes, Shape, others + $"\n  - {{{High}, reads: 11.02}}"));
        Assert.Empty(read.Undecided);
        // Jaws rest on a rim, which is no sharp edge: ± of a tenth (Data/surface-extras.csv).
        Assert.True(read.Size("mouth").StandardUncertainty > 0.1);
        Assert.Contains(read.Readings[^1].Budget!.Lines, l => l is { Name: "broken edge", StandardUncertaintyMm: 0.10 });
        Assert.Equal(9.02, read.Size("mouth").Estimate, 1e-6);
        Assert.Equal("inside diameter of high.countersink, at height t + step", read.Readings[^1].Says);
    }

    /// <summary>Jaw flats read the chord of the mouth too: D² = R² + b² (JawFlat).</summary>
    [Fact]
    public void Jaws_with_flats_read_its_chord()
    {
        Job job = Jobs.Of(Sizes, Shape, $"  - {{outside: [foot.bottom, foot.top], reads: 4}}\n  - {{depth: [foot.top, pad.top], reads: 3}}\n  - {{inside: low.wall, reads: 4.5}}\n  - {{{Low}, reads: 8.96}}");
        Job flats = job with { Instruments = job.Instruments.ToDictionary(i => i.Key, i => i.Value with { InsideJawFlat = 0.8 }) };
        Assert.Equal(8.96, Jobs.Reconcile(job).Size("mouth").Estimate, 1e-6);
        Assert.Equal(Math.Sqrt(8.96 * 8.96 + 0.8 * 0.8), Jobs.Reconcile(flats).Size("mouth").Estimate, 1e-3);
    }

    [Fact]
    public void The_angle_of_a_countersink_that_no_caliper_gets_at_is_for_a_protractor()
    {
        Reconciled open = Jobs.Reconcile(Jobs.Of("{t: {about: 4}, cone: {about: 90 deg}}", """
              - {block: foot, long: 40, deep: 24, tall: t, corner_at: [0, 0, 0]}
              - {hole: low, from: foot.top, at: [28, 12], diameter: 4, through: foot, countersink: {diameter: 8, angle: cone}}
            """, "  - {outside: [foot.bottom, foot.top], reads: 4}"));
        Assert.Equal(["angle: low.countersink"], Assert.Single(open.Undecided).Measure);
    }

    [Theory]
    [InlineData("t")]
    [InlineData("step + t")]
    [InlineData("2*t - 3.5")]
    [InlineData("-(a + b)*c/(d - 2)")]
    [InlineData("a - (b - c)")]
    [InlineData("sqrt(a^2 + b^2)/2 + 4 mm")]
    [InlineData("(a + 1)^2")]
    [InlineData("-a^2")]
    public void An_expression_is_written_as_it_was_read(string text)
    {
        SizeExpression read = ExpressionParser.Read(text).Expression!;
        Assert.Equal(text, ExpressionText.Of(read));
        Assert.Equal(read.ToString(), ExpressionParser.Read(ExpressionText.Of(read)).Expression!.ToString());
    }
}
