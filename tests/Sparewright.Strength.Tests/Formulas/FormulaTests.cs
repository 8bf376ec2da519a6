using CsCheck;
using Sparewright.Strength.Formulas;
using Xunit;

namespace Sparewright.Strength.Tests.Formulas;

public class FormulaTests
{
    [Fact]
    public void A_tube_without_a_hole_is_a_round_bar_and_what_is_left_of_it_is_what_was_taken_away() => Gen.Select(Gen.Double[1, 50], Gen.Double[0.1, 0.9]).Sample((outer, share) =>
    {
        Section all = Section.Round(outer), core = Section.Round(outer * share), tube = Section.Tube(outer, outer * share);
        Assert.Equal(all.AreaMm2 - core.AreaMm2, tube.AreaMm2, 1e-9 * all.AreaMm2);
        Assert.Equal(all.SecondMomentMm4 - core.SecondMomentMm4, tube.SecondMomentMm4, 1e-9 * all.SecondMomentMm4);
    });

    /// <summary>What pushes on the inside of a ring is balanced by what its two walls pull: the mean of the stress along it is p a/(b − a).</summary>
    [Fact]
    public void A_rings_walls_balance_the_pressure() => Gen.Select(Gen.Double[1, 20], Gen.Double[1.1, 3]).Sample((inner, ratio) =>
    {
        var ring = new ThickRing(inner, inner * ratio);
        const int Pieces = 2000;
        double wall = ring.OuterMm - ring.InnerMm;
        double mean = Enumerable.Range(0, Pieces).Average(k => ring.HoopMPa(1, ring.InnerMm + wall * (k + 0.5) / Pieces));
        Assert.Equal(inner / wall, mean, 1e-5 * mean);
    });

    [Fact]
    public void A_stiffer_shaft_presses_harder()
    {
        var hub = new ThickRing(5, 10);
        double plastic = PressedHub.OfOneMaterial(hub, 2300, 0.35).PressureMPa(0.05), steel = new PressedHub(hub, 2300, 0.35, double.PositiveInfinity, 0.3).PressureMPa(0.05);
        Assert.True(steel > plastic);
        // By hand: 0.05 / (5/2300 · (125/75 + 0.35)).
        Assert.Equal(0.05 / (5 / 2300.0 * (125 / 75.0 + 0.35)), steel, 1e-12);
    }

    [Fact]
    public void Outside_the_range_of_the_fits_there_is_no_factor()
    {
        Assert.Null(new Shoulder(ShoulderShape.FlatBar, 30, 20, 0.2).Kt(ShoulderLoad.Tension));
        Assert.Null(new Shoulder(ShoulderShape.FlatBar, 20.1, 20, 5).Kt(ShoulderLoad.Bending));
        Assert.Null(new Shoulder(ShoulderShape.FlatBar, 30, 20, 5).Kt(ShoulderLoad.Torsion));
    }

    [Theory]
    [InlineData(10, 0.1, 10.5, 0.02, false)]
    [InlineData(10, 0.1, 11.5, 0.02, true)]
    [InlineData(10, 0.1, 11.5, 0.12, false)]
    [InlineData(0, 0, 0, 0, false)]
    [InlineData(10, 0, 10.0001, 0, true)]
    public void Two_answers_disagree_beyond_what_both_errors_explain(double formula, double of, double solver, double with, bool disagrees) =>
        Assert.Equal(disagrees, new SecondOpinion("arm", "MPa", formula, of, solver, with).Disagrees);
}
