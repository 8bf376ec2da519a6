using MathNet.Numerics.LinearAlgebra;
using Sparewright.Measure;
using Sparewright.Measure.Uncertainty;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Xunit;

namespace Sparewright.Reconcile.Tests;

/// <summary>One zero shift for each instrument and way, shared by its readings: against generalized least squares with the whole covariance matrix, written down here.</summary>
public class SharedShiftTests
{
    /// <summary>A stack: thicknesses t1 and t2, and the bore through both.</summary>
    private static Job Stack(string readings) => Jobs.Of("{t1: {about: 5}, t2: {about: 30}, d: {about: 12}}", """
          - {plate: low, thickness: t1, outline: {disc: [0, 0], radius: 20}}
          - {boss: high, stands_on: low.top, diameter: 30, height: t2}
          - {hole: bore, from: high.top, diameter: d, through: whole part}
        """, readings);

    private const string Outside1 = "outside: [low.bottom, low.top]", OutsideBoth = "outside: [low.bottom, high.top]", Depth2 = "depth: [high.top, low.top]", Bore = "inside: bore.wall";

    /// <summary>x = (AᵀV⁻¹A)⁻¹AᵀV⁻¹y with V = own variances on the diagonal, shared·shared between readings of one way, and the variance of the place between readings of one thing.</summary>
    private static (Vector<double> X, Matrix<double> Covariance) ByCovariance(double[,] design, Reconciled reconciled)
    {
        var readings = reconciled.Readings.Select(r => (((CaliperReading)r.Reading).Way, What: Sparewright.Reconcile.Readings.ReadingGeometry.What(r.Reading), r.Measured!.Budget, r.Observed!.Value)).ToArray();
        var v = Matrix<double>.Build.Dense(readings.Length, readings.Length, (i, j) =>
            (i == j ? readings[i].Budget.OwnMm * readings[i].Budget.OwnMm : 0) + (readings[i].Way == readings[j].Way ? readings[i].Budget.SharedMm * readings[j].Budget.SharedMm : 0)
            + (i != j && readings[i].What == readings[j].What ? Place(readings[i].Budget) * Place(readings[j].Budget) : 0));
        var a = Matrix<double>.Build.DenseOfArray(design);
        var y = Vector<double>.Build.DenseOfEnumerable(readings.Select(r => r.Value));
        var covariance = (a.Transpose() * v.Inverse() * a).Inverse();
        return (covariance * a.Transpose() * v.Inverse() * y, covariance);
    }

    private static double Place(UncertaintyBudget budget) => budget.ReachingMm(ErrorReach.SamePlace);

    [Fact]
    public void Sizes_and_their_covariance_are_those_of_the_whole_covariance_matrix()
    {
        Reconciled reconciled = Jobs.Reconcile(Stack($$"""
              - {{{Outside1}}, reads: 5.02}
              - {{{OutsideBoth}}, reads: [35.06, 35.04]}
              - {{{Depth2}}, reads: 29.99}
              - {{{OutsideBoth}}, reads: 35.03}
              - {{{Depth2}}, reads: 30.02}
              - {{{Bore}}, reads: 12.01}
            """));
        var (x, covariance) = ByCovariance(new double[,] { { 1, 0, 0 }, { 1, 1, 0 }, { 0, 1, 0 }, { 1, 1, 0 }, { 0, 1, 0 }, { 0, 0, 1 } }, reconciled);
        string[] names = ["t1", "t2", "d"];
        for (int a = 0; a < 3; a++)
        {
            Assert.Equal(x[a], reconciled.Size(names[a]).Estimate, 1e-9);
            for (int b = 0; b < 3; b++) Assert.Equal(covariance[a, b], reconciled.Adjustment.Covariance(a, b), 1e-12);
        }
    }

    [Fact]
    public void One_reading_of_its_way_is_as_sure_as_its_whole_budget()
    {
        Reconciled reconciled = Jobs.Reconcile(Stack($"  - {{{Outside1}, reads: 5.02}}\n  - {{{Depth2}, reads: 30.01}}\n  - {{{Bore}, reads: 12.01}}"));
        foreach (var (size, id) in new[] { ("t1", "r1"), ("t2", "r2"), ("d", "r3") })
            Assert.Equal(reconciled.Reading(id).Measured!.Budget.StandardUncertaintyMm, reconciled.Size(size).StandardUncertainty, 1e-12);
        Assert.Empty(reconciled.ZeroShifts);
    }

    [Fact]
    public void Reading_again_narrows_what_differs_each_time_and_neither_the_shift_nor_the_error_of_the_place()
    {
        // n readings of one thing: each time anew, over n, + place² + shared²; it comes to the same whether they stand in one line or in several.
        foreach (int n in (int[])[1, 2, 5, 50])
        {
            Reconciled reconciled = Jobs.Reconcile(Stack(string.Join('\n', Enumerable.Repeat($"  - {{{Outside1}, reads: 5.02}}", n)) + $"\n  - {{{Depth2}, reads: 30}}\n  - {{{Bore}, reads: 12}}"));
            UncertaintyBudget budget = reconciled.Reading("r1").Measured!.Budget;
            double each = budget.ReachingMm(ErrorReach.ThisReading);
            Assert.Equal(Math.Sqrt(each * each / n + Place(budget) * Place(budget) + budget.SharedMm * budget.SharedMm), reconciled.Size("t1").StandardUncertainty, 1e-12);
            Assert.Empty(reconciled.SharedErrors);
        }
    }

    [Fact]
    public void At_one_place_of_the_scale_the_same_error_is_read_whatever_the_faces_are_called()
    {
        // Two holes of one pattern, and one plane that has two names: what is the same length by the shape is read at one place of the scale.
        Job job = Jobs.Of("{t: {about: 4}, pitch: {about: 30}, hole: {about: 5}, long: {about: 60}}", """
              - {block: low, long: long, deep: 20, tall: t, corner_at: [0, 0, 0]}
              - {block: post, long: 6, deep: 20, tall: 15, corner_at: [0, 0, 0]}
              - {hole: left, from: low.top, at: [15, 10], diameter: hole, through: low}
              - {hole: right, from: low.top, at: [15 + pitch, 10], diameter: hole, through: low}
            """, """
              - {outside: [low.bottom, low.top], reads: 4}
              - {outside: [low.top, post.bottom], reads: 4}
              - {inside: left.wall, reads: 5}
              - {inside: right.wall, reads: 5}
              - {outside: [left.wall, right.wall], reads: 25}
              - {outside: [low.left, low.right], reads: 60}
            """);
        Reconciled reconciled = Jobs.Reconcile(job);
        UncertaintyBudget outside = reconciled.Reading("r1").Measured!.Budget, inside = reconciled.Reading("r3").Measured!.Budget;
        foreach (var (size, budget, times) in new[] { ("t", outside, 2), ("hole", inside, 2), ("long", outside, 1) })
        {
            double each = budget.ReachingMm(ErrorReach.ThisReading);
            Assert.Equal(Math.Sqrt(each * each / times + Place(budget) * Place(budget) + budget.SharedMm * budget.SharedMm), reconciled.Size(size).StandardUncertainty, 2e-4);
        }
    }

    [Fact]
    public void A_difference_of_two_readings_of_one_way_is_free_of_the_shift()
    {
        Reconciled reconciled = Jobs.Reconcile(Stack($"  - {{{Outside1}, reads: 5.02}}\n  - {{{OutsideBoth}, reads: 35.05}}\n  - {{{Bore}, reads: 12}}"));
        double[] own = [.. reconciled.Readings.Take(2).Select(r => r.Measured!.Budget.OwnMm)];
        Assert.Equal(Math.Sqrt(own[0] * own[0] + own[1] * own[1]), reconciled.Size("t2").StandardUncertainty, 1e-12);
    }

    /// <summary>The depth of a step is the difference of two outside readings, in which their shift cancels out: so it shows the shift of the depth rod.</summary>
    [Fact]
    public void What_readings_say_of_a_shift_is_told()
    {
        const int times = 4;
        const double off = 0.06;
        Reconciled reconciled = Jobs.Reconcile(Stack(string.Join('\n', Enumerable.Repeat($"  - {{{Outside1}, reads: 5}}\n  - {{{OutsideBoth}, reads: 35}}\n  - {{{Depth2}, reads: 30.06}}", times)) + $"\n  - {{{Bore}, reads: 12}}"));
        UncertaintyBudget outside = reconciled.Reading("r1").Measured!.Budget, depth = reconciled.Reading("r3").Measured!.Budget;
        double assumed = depth.SharedMm * depth.SharedMm, seen = 2 * (Anew(outside) / times + Square(Place(outside))) + Anew(depth) / times + Square(Place(depth));
        static double Square(double x) => x * x;
        static double Anew(UncertaintyBudget budget) => Square(budget.ReachingMm(ErrorReach.ThisReading));

        ZeroShift shift = Assert.Single(reconciled.ZeroShifts);
        Assert.Equal(("caliper", ReadingWay.Depth), (shift.Instrument, shift.Way));
        Assert.Equal(off * assumed / (assumed + seen), shift.Mm, 1e-9);
        Assert.Equal(Math.Sqrt(assumed * seen / (assumed + seen)), shift.StandardUncertaintyMm, 1e-9);
        Assert.Equal(depth.SharedMm, shift.AssumedMm, 1e-12);
        Assert.Empty(reconciled.Contradictions);
    }

    [Fact]
    public void A_shift_beyond_all_that_is_assumed_is_told_and_no_suspect()
    {
        Reconciled reconciled = Jobs.Reconcile(Stack($"  - {{{Outside1}, reads: 5}}\n  - {{{OutsideBoth}, reads: 35}}\n  - {{{Depth2}, reads: 30.40}}\n  - {{{Depth2}, reads: 30.41}}\n  - {{{Bore}, reads: 12}}"));
        Assert.Equal(ReadingWay.Depth, Assert.Single(reconciled.ZeroShifts).Way);
        string[] ids = [.. reconciled.Readings.Select(r => r.Reading.Id)];
        Assert.NotEmpty(reconciled.Contradictions);
        Assert.All(reconciled.Contradictions, c => Assert.Subset(ids.ToHashSet(), c.Ids.ToHashSet()));
    }
}
