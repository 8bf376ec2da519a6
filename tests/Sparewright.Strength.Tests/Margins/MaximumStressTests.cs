using CsCheck;
using Sparewright.Strength.Margins;
using Xunit;

namespace Sparewright.Strength.Tests.Margins;

public class MaximumStressTests
{
    private static readonly LayeredStrength Strength = new(45, 70, 22.5, 70, 18, 30);

    private static readonly Gen<Stress> Stresses = Gen.Select(Gen.Double[-50, 50], Gen.Double[-50, 50], Gen.Double[-50, 50], Gen.Double[-20, 20], Gen.Double[-20, 20], Gen.Double[-20, 20])
        .Select((xx, yy, zz, yz, xz, xy) => new Stress(xx, yy, zz, yz, xz, xy));

    [Theory]
    [InlineData(9, 0, 0, 0, 0, 0, 5, FailureMode.TornInLayer)]
    [InlineData(0, -7, 0, 0, 0, 0, 10, FailureMode.CrushedInLayer)]
    [InlineData(0, 0, 4.5, 0, 0, 0, 5, FailureMode.LayersPulledApart)]
    [InlineData(0, 0, -7, 0, 0, 0, 10, FailureMode.LayersCrushed)]
    [InlineData(0, 0, 0, 3, 4, 0, 3.6, FailureMode.LayersSheared)]
    [InlineData(0, 0, 0, 0, 0, -6, 5, FailureMode.ShearedInLayer)]
    public void Each_way_to_go_has_its_name(double xx, double yy, double zz, double yz, double xz, double xy, double reserve, FailureMode mode)
    {
        Reserve found = MaximumStress.Of(new Stress(xx, yy, zz, yz, xz, xy), Strength);
        Assert.Equal(reserve, found.Factor, 1e-12);
        Assert.Equal(mode, found.Mode);
    }

    [Fact]
    public void Nothing_goes_where_nothing_acts() => Assert.Equal(double.PositiveInfinity, MaximumStress.Of(default, Strength).Factor);

    /// <summary>Pull and shear at 60 and 80 % of what each alone may be: together just enough to split the layers.</summary>
    [Fact]
    public void Pull_and_shear_split_the_layers_together()
    {
        Reserve found = MaximumStress.Of(new Stress(0, 0, 0.6 * 22.5, 0.8 * 18, 0, 0), Strength);
        Assert.Equal(1, found.Factor, 1e-12);
        Assert.Equal(FailureMode.LayersSheared, found.Mode);
    }

    [Fact]
    public void Turning_the_part_about_the_build_axis_changes_nothing() => Gen.Select(Stresses, Gen.Double[0, 6.3]).Sample((s, angle) =>
    {
        (double c, double n) = (Math.Cos(angle), Math.Sin(angle));
        var turned = new Stress(c * c * s.XX + n * n * s.YY + 2 * c * n * s.XY, n * n * s.XX + c * c * s.YY - 2 * c * n * s.XY, s.ZZ, c * s.YZ - n * s.XZ, n * s.YZ + c * s.XZ, (c * c - n * n) * s.XY + c * n * (s.YY - s.XX));
        double factor = MaximumStress.Of(s, Strength).Factor;
        Assert.Equal(factor, MaximumStress.Of(turned, Strength).Factor, 1e-9 * factor);
        Assert.True(factor <= MaximumStress.ByAxes(turned with { XY = 0 }, Strength).Factor * (1 + 1e-12));
    });

    [Fact]
    public void A_load_that_grows_by_its_reserve_is_just_borne() => Stresses.Sample(s =>
    {
        double greatest = MaximumStress.Of(s, Strength).Factor, tsaiWu = QuadraticCriterion.TsaiWu(Strength).Reserve(s);
        Assert.Equal(1, MaximumStress.Of(s * greatest, Strength).Factor, 1e-9);
        Assert.Equal(1, QuadraticCriterion.TsaiWu(Strength).Index(s * tsaiWu), 1e-9);
        Assert.True(QuadraticCriterion.TsaiWu(Strength).Index(s * (0.99 * tsaiWu)) < 1);
    });

    [Fact]
    public void What_Hoffman_cannot_break_has_no_reserve_that_ends() =>
        Assert.Equal(double.PositiveInfinity, QuadraticCriterion.Hoffman(Strength).Reserve(new Stress(-5, -5, -5, 0, 0, 0)));

    [Fact]
    public void A_moulded_part_is_judged_alike_in_all_directions()
    {
        Assert.Equal(4, MaximumStress.OfMoulded(new Stress(0, 0, 10, 0, 0, 0), 40).Factor, 1e-12);
        Assert.Equal(40 / (10 * Math.Sqrt(3)), MaximumStress.OfMoulded(new Stress(0, 0, 0, 10, 0, 0), 40).Factor, 1e-12);
        Assert.Equal(FailureMode.Yields, MaximumStress.OfMoulded(new Stress(0, 0, 0, 10, 0, 0), 40).Mode);
        Assert.Equal(4, MaximumStress.OfMoulded(new Stress(10, 10, 10, 0, 0, 0), 40).Factor, 1e-9);
    }
}
