using Sparewright.Strength.Formulas;
using Xunit;

namespace Sparewright.Outside.Strength;

/// <summary>Worked examples of handbook formulas. Where only the arithmetic was redone by hand and no printed result stands behind it, that is said.</summary>
public class HandbookTests
{
    /// <summary>Beam theory; the sum with shear (κ = 5/6) by Timoshenko. Redone by hand.</summary>
    [Fact]
    public void An_arm_in_bending()
    {
        var arm = new Arm(Section.Rectangle(20, 20), 100);
        Assert.Equal(3.75, arm.RootMPa(50), 1e-9);
        Assert.Equal(0.561087, arm.DeflectionMm(50, 2300, 0.35), 5e-7);
        // A shear modulus that is all but infinite (ν towards -1) leaves the bending alone: .543478.
        Assert.Equal(0.543478, arm.DeflectionMm(50, 2300, -1 + 1e-9), 5e-7);
    }

    /// <summary>Redone by hand.</summary>
    [Fact]
    public void A_tube_in_bending()
    {
        Section tube = Section.Tube(25, 19);
        Assert.Equal(12777.64, tube.SecondMomentMm4, 0.005);
        Assert.Equal(1022.211, tube.ModulusMm3, 0.0005);
        Assert.Equal(9.783, tube.BendingMPa(10_000), 0.0005);
    }

    /// <summary>The usual lug formulas. Redone by hand; the factor of the net section is an open hole's.</summary>
    [Fact]
    public void A_lug()
    {
        var lug = new Lug(30, 10, 15, 6);
        Assert.Equal(5.0, lug.BearingMPa(300), 1e-9);
        Assert.Equal(2.5, lug.NetSectionMPa(300), 1e-9);
        Assert.Equal(2.5, lug.ShearOutMPa(300), 1e-9);
        Assert.Equal(2.238, lug.ShearOutFrom40DegMPa(300), 0.0005);

        var half = new Lug(20, 10, 15, 12);
        Assert.Equal(2.5, half.NetSectionMPa(300), 1e-9);
        Assert.Equal(5.397, half.NetSectionPeakMPa(300), 0.0005);
    }

    /// <summary>Roark's table 17.1, read; the second fit Peterson's, read; the values redone by hand.</summary>
    [Theory]
    [InlineData(0.1, 2.7221, 3.0245)]
    [InlineData(0.2, 2.5082, 3.1352)]
    [InlineData(0.3, 2.3491, 3.3558)]
    [InlineData(0.4, 2.2357, 3.7261)]
    [InlineData(0.5, 2.1587, 4.3175)]
    [InlineData(0.6, 2.1091, 5.2728)]
    public void A_hole_in_a_strip(double ratio, double net, double gross)
    {
        Assert.Equal(net, HoleInStrip.KtNet(ratio), 0.00006);
        Assert.Equal(gross, HoleInStrip.KtGross(ratio), 0.00006);
        Assert.Equal(net, HoleInStrip.KtNetByPeterson(ratio), 0.005 * net);
    }

    /// <summary>Kirsch 1898: 3 at the hole, and exactly (2 + 1/4 + 3/16)/2 at twice the radius.</summary>
    [Fact]
    public void A_hole_in_a_wide_plate()
    {
        Assert.Equal(3, HoleInStrip.Kirsch(1), 1e-12);
        Assert.Equal(1.21875, HoleInStrip.Kirsch(2), 1e-12);
        Assert.Equal(3, HoleInStrip.KtNet(0), 1e-12);
    }

    /// <summary>Flat bars: read in Roark's table 17.1. Round bars by the same pattern: tension read, bending and torsion from memory. 24/20/2 has h/r = 1.</summary>
    [Theory]
    [InlineData(ShoulderShape.FlatBar, ShoulderLoad.Tension, 30, 20, 5, 1.745)]
    [InlineData(ShoulderShape.FlatBar, ShoulderLoad.Tension, 30, 20, 2, 2.227)]
    [InlineData(ShoulderShape.FlatBar, ShoulderLoad.Tension, 24, 20, 2, 1.880)]
    [InlineData(ShoulderShape.FlatBar, ShoulderLoad.Tension, 40, 20, 4, 1.992)]
    [InlineData(ShoulderShape.FlatBar, ShoulderLoad.Bending, 30, 20, 5, 1.444)]
    [InlineData(ShoulderShape.FlatBar, ShoulderLoad.Bending, 30, 20, 2, 1.862)]
    [InlineData(ShoulderShape.RoundBar, ShoulderLoad.Tension, 24, 20, 2, 1.690)]
    [InlineData(ShoulderShape.RoundBar, ShoulderLoad.Bending, 24, 20, 2, 1.666)]
    [InlineData(ShoulderShape.RoundBar, ShoulderLoad.Torsion, 24, 20, 2, 1.357)]
    public void A_shoulder(ShoulderShape shape, ShoulderLoad load, double large, double small, double radius, double kt) =>
        Assert.Equal(kt, new Shoulder(shape, large, small, radius).Kt(load)!.Value, 0.001);

    /// <summary>Printed copies of these fits carry errors: as the step vanishes (y → 1) there is no more stress than beside it, so the coefficients must add up to about 1 in the whole range.</summary>
    [Fact]
    public void The_coefficients_of_every_shoulder_add_up_to_about_one()
    {
        Assert.Equal(9, Shoulder.AllFits.Count);
        Assert.All(Shoulder.AllFits, fit => Assert.True(AddsUpToOne(fit)));
    }

    /// <summary>The two ranges of a fit are made for the same curves, so they meet at h/r = 2: each coefficient, and with them the factor, to 4 %.</summary>
    [Fact]
    public void The_two_ranges_of_every_shoulder_meet()
    {
        Assert.Equal(4, Shoulder.AllFits.Count(f => f.To == 2));
        Assert.All(Shoulder.AllFits.Where(f => f.To == 2), low => Assert.True(Meet(low, HighRangeOf(low))));
    }

    /// <summary>The three errors that we met in print, put back: each is found by one of the two tests.</summary>
    [Theory]
    [InlineData(ShoulderShape.FlatBar, ShoulderLoad.Tension, 2, 2, "a", -3.495)]
    [InlineData(ShoulderShape.FlatBar, ShoulderLoad.Bending, 0.1, 3, "c", -0.200)]
    [InlineData(ShoulderShape.RoundBar, ShoulderLoad.Bending, 2, 1, "b", -0.968)]
    public void Errors_met_in_print_are_found(ShoulderShape shape, ShoulderLoad load, double from, int number, string which, double printed)
    {
        ShoulderFit good = Shoulder.AllFits.Single(f => f.Shape == shape && f.Load == load && f.From == from);
        var (a, b, c) = good.Coefficients[number];
        (double, double, double) wrong = which switch { "a" => (printed, b, c), "b" => (a, printed, c), _ => (a, b, printed) };
        ShoulderFit bad = good with { Coefficients = [.. good.Coefficients.Select((x, k) => k == number ? wrong : x)] };
        bool meets = from == 2 ? Meet(Shoulder.AllFits.Single(f => f.Shape == shape && f.Load == load && f.To == 2), bad) : Meet(bad, HighRangeOf(good));
        Assert.False(AddsUpToOne(bad) && meets);
    }

    private static ShoulderFit HighRangeOf(ShoulderFit low) => Shoulder.AllFits.Single(f => f.From == 2 && f.Shape == low.Shape && f.Load == low.Load);

    private static bool AddsUpToOne(ShoulderFit fit) => Enumerable.Range(0, 101).Select(k => fit.From + (fit.To - fit.From) * k / 100)
        .All(steepness => Enumerable.Range(0, 4).Sum(k => fit.C(k, steepness)) is > 0.964 and < 1.034);

    private static bool Meet(ShoulderFit low, ShoulderFit high) =>
        Enumerable.Range(0, 4).All(k => Math.Abs(low.C(k, 2) - high.C(k, 2)) < 0.04)
        && Enumerable.Range(1, 19).Select(k => k * 0.05).All(y => Math.Abs(low.At(2, y) / high.At(2, y) - 1) < 0.04);

    /// <summary>A handbook of snap fits prints 4.17 and 2.89 % (read).</summary>
    [Fact]
    public void A_snap_arm_of_constant_section()
    {
        Assert.Equal(0.0417, new SnapArm(15, 1, 2.5, false).Strain(2.5), 0.00005);
        Assert.Equal(0.0289, new SnapArm(18, 1, 2.5, false).Strain(2.5), 0.00005);
    }

    /// <summary>Another handbook prints 3.28 mm, 32.5 N and 58.5 N (from memory; the arithmetic gives 58.6).</summary>
    [Fact]
    public void A_snap_arm_that_tapers_to_half()
    {
        double thick = new SnapArm(19, 9.5, 1, true).ThicknessForMm(0.02, 2.4);
        Assert.Equal(3.28, thick, 0.005);
        var arm = new SnapArm(19, 9.5, thick, true);
        Assert.Equal(0.02, arm.Strain(2.4), 1e-12);
        double bending = arm.BendingNewtons(0.02, 1815);
        Assert.Equal(32.5, bending, 0.05);
        Assert.Equal(58.6, SnapArm.PushingNewtons(bending, 0.6, 30), 0.05);
        Assert.Equal(double.PositiveInfinity, SnapArm.PushingNewtons(bending, 0.6, 60));
    }

    /// <summary>Redone by hand: π · 3.5 · 10 · 41/√3.</summary>
    [Fact]
    public void A_screw_pulled_out()
    {
        double shear = ScrewPullOut.ShearStrengthMPa(41);
        Assert.Equal(23.67, shear, 0.005);
        Assert.Equal(2603, new ScrewPullOut(3.5, 10).Newtons(shear), 0.5);
    }

    /// <summary>Lamé's ring, exact: a 10, b 20, pressure 1 from inside; growth for E 2300, ν 0.35 in plane strain.</summary>
    [Fact]
    public void A_thick_ring()
    {
        var ring = new ThickRing(10, 20);
        Assert.Equal(1.666667, ring.HoopMPa(1, 10), 5e-7);
        Assert.Equal(0.666667, ring.HoopMPa(1, 20), 5e-7);
        Assert.Equal(-1, ring.RadialMPa(1, 10), 1e-12);
        Assert.Equal(0, ring.RadialMPa(1, 20), 1e-12);
        Assert.Equal(0.008413043, ring.GrowthMm(1, 10, 2300, 0.35), 5e-10);
    }

    /// <summary>Lamé; p = E δ (c² − b²)/2bc² for one material. Redone by hand.</summary>
    [Fact]
    public void A_hub_pressed_on_a_shaft()
    {
        PressedHub hub = PressedHub.OfOneMaterial(new ThickRing(5, 10), 2300, 0.35);
        Assert.Equal(8.625, hub.PressureMPa(0.05), 1e-9);
        Assert.Equal(14.375, hub.BoreHoopMPa(0.05), 1e-9);
    }
}
