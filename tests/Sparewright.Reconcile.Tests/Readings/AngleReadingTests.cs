using CsCheck;
using Sparewright.Measure.Numbers;
using Sparewright.Measure.Uncertainty;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Readings;
using Xunit;

namespace Sparewright.Reconcile.Tests.Readings;

/// <summary>Protractor readings: the angle in the corner of two flat faces, and of a cone.</summary>
public class AngleReadingTests
{
    private const string Sizes = "{lean: {about: 20 deg}, top_d: {about: 8}}";

    private const string Shape = """
          - plate: foot
            thickness: 5 mm
            outline: {rectangle: [60 mm, 40 mm], middle_at: [0, 0]}
          - block: arm
            long: 30 mm
            deep: 10 mm
            tall: 12 mm
            middle_at: [0, 0, 20]
            turned: {about: front, by: lean}
          - boss: knob
            diameter: 20 mm
            top_diameter: top_d
            height: 10 mm
            stands_on: foot.top
            at: [-20, 0]
        """;

    private static Job Job(params string[] readings) => Jobs.Of(Sizes, Shape, string.Join('\n', readings.Select(r => $"  - {r}")));

    private static CaliperValue Value(Reading reading, PlacedShape shape) => ReadingGeometry.Span(reading, shape)! is var span && span.Refused is { } why
        ? new(null, Evidence.ProblemOf(reading, why), null) : new(span!.Mm, null, null);

    [Fact]
    public void The_angle_is_that_in_the_corner()
    {
        Job job = Job("{angle: [foot.top, arm.bottom], reads: 160}", "{angle: [foot.top, arm.right], reads: 70}", "{angle: [arm.top, arm.right], reads: 90}", "{angle: knob.side, reads: 61.9}");
        PlacedShape shape = ShapePlacer.Place(job.Shape, job.Sizes.At([20, 8]));
        double[] shown = [.. job.Readings.Select(r => Value(r, shape).Mm!.Value.Value)];
        // The arm's underside looks down and leans by 20° against the foot's top, which looks up: the space between them opens by 20°.
        Assert.Equal(20, shown[0], 1e-9);
        Assert.Equal(90, shown[2], 1e-9);
        // Plain trigonometry: the knob narrows by 12 mm in diameter over 10 mm of height.
        Assert.Equal(2 * Math.Atan(0.6) * 180 / Math.PI, shown[3], 1e-9);
        Assert.Equal(110, shown[1], 1e-9);
    }

    [Fact]
    public void Derivatives_agree_with_central_differences()
    {
        Job job = Job("{angle: [foot.top, arm.bottom], reads: 160}", "{angle: [arm.top, foot.rim#2], reads: 70}", "{angle: knob.side, reads: 61.9}");
        Gen.Select(Gen.Double[5, 80], Gen.Double[4, 19]).Sample((lean, top) =>
        {
            foreach (Reading reading in job.Readings)
            {
                Dual At(double l, double t) => ReadingGeometry.Span(reading, ShapePlacer.Place(job.Shape, job.Sizes.At([l, t])))!.Mm;
                const double h = 1e-4;
                Dual here = At(lean, top);
                Assert.Equal((At(lean + h, top).Value - At(lean - h, top).Value) / (2 * h), here.Gradient.By(0), 1e-6);
                Assert.Equal((At(lean, top + h).Value - At(lean, top - h).Value) / (2 * h), here.Gradient.By(1), 1e-6);
            }
        }, iter: 200, threads: 1);
    }

    [Fact]
    public void A_protractor_decides_an_angle_with_its_own_budget()
    {
        Reconciled reconciled = Jobs.Reconcile(Job("{angle: [foot.top, arm.bottom], reads: [22, 23]}", "{angle: knob.side, reads: 62}"));
        ReconciledReading r1 = reconciled.Reading("r1");
        Assert.Equal(22.5, reconciled.Size("lean").Estimate, 1e-9);
        Assert.Equal(Measure.Quantities.Unit.Degree, r1.Unit);
        Assert.Equal(22.5, r1.Observed!.Value, 1e-9);
        Assert.Equal(r1.Budget!.StandardUncertaintyMm, reconciled.Size("lean").StandardUncertainty, 1e-9);
        Assert.Contains(r1.Budget!.Lines, l => l.Name == "resolution" && Math.Abs(l.StandardUncertaintyMm - 0.5 / Math.Sqrt(3)) < 1e-12);
        // The knob's top follows: r = 10 − 10·tan(31°).
        Assert.Equal(2 * (10 - 10 * Math.Tan(31 * Math.PI / 180)), reconciled.Size("top_d").Estimate, 1e-9);
        Assert.All(reconciled.Readings, r => Assert.Equal(ReadingVerdict.Agrees, r.Verdict));
    }

    [Fact]
    public void An_angle_with_swapped_digits_is_set_aside_and_explained()
    {
        Reconciled reconciled = Jobs.Reconcile(Job(
            "{angle: [foot.top, arm.bottom], reads: 24}", "{angle: [foot.top, arm.bottom], reads: 24}", "{angle: [foot.top, arm.bottom], reads: 42}", "{outside: knob.side, at_height: 15, reads: 8}"));
        ReconciledReading wrong = reconciled.Reading("r3");
        Assert.Equal(ReadingVerdict.SetAside, wrong.Verdict);
        Assert.Equal("two digits swapped", wrong.Explanations[0].Why);
        Assert.Equal(24, wrong.Explanations[0].ShouldHaveReadMm!.Value, 1e-9);
        Assert.Contains("42.00°", Assert.Single(reconciled.Contradictions).Words, StringComparison.Ordinal);
        Assert.Equal(24, reconciled.Size("lean").Estimate, 1e-6);
    }

    [Theory]
    [InlineData("[foot.top, foot.bottom]", "are parallel and make no corner")]
    [InlineData("[foot.top, knob.side]", "`knob.side` is no flat face of the part")]
    [InlineData("[foot.top, ground]", "`ground` is no flat face of the part")]
    [InlineData("foot.top", "`foot.top` alone has no angle")]
    [InlineData("[foot.top, arm.lid]", "there is no element `arm.lid` on the shape")]
    public void What_no_protractor_takes_is_refused_with_the_reason(string elements, string reason)
    {
        var problem = Assert.Single(Jobs.Problems(Job($"{{angle: {elements}, reads: 30}}", "{angle: [foot.top, arm.bottom], reads: 22}", "{angle: knob.side, reads: 62}")));
        Assert.Contains(reason, problem.What, StringComparison.Ordinal);
        Assert.True(problem.Place.Line > 0);
        Assert.NotEqual("", problem.Remedy);
    }

    [Fact]
    public void A_caliper_does_not_read_angles()
    {
        var problem = Assert.Single(Jobs.Problems(Job("{angle: [foot.top, arm.bottom], reads: 22, with: caliper}", "{angle: knob.side, reads: 62}")));
        Assert.Contains("does not measure angles", problem.What, StringComparison.Ordinal);
        Assert.Contains("protractor", problem.Remedy, StringComparison.Ordinal);
    }

    /// <summary>Readings of one protractor share its zero shift: two angles are as sure each as alone, and their difference is surer.</summary>
    [Fact]
    public void Angles_of_one_protractor_share_its_shift()
    {
        Reconciled reconciled = Jobs.Reconcile(Job("{angle: [foot.top, arm.bottom], reads: 22}", "{angle: knob.side, reads: 62}"));
        UncertaintyBudget budget = reconciled.Reading("r1").Budget!;
        double angleOfKnob(double top) => 2 * Math.Atan((20 - top) / 20) * 180 / Math.PI;
        double top = reconciled.Size("top_d").Estimate, slope = (angleOfKnob(top + 1e-4) - angleOfKnob(top - 1e-4)) / 2e-4;
        DerivedDifference(reconciled, slope, out double difference);
        Assert.Equal(Math.Sqrt(2) * budget.OwnMm, difference, 1e-4);
    }

    private static void DerivedDifference(Reconciled reconciled, double slope, out double standardUncertainty) =>
        standardUncertainty = reconciled.Adjustment.Of(x => x[0] - slope * x[1]).StandardUncertainty;
}
