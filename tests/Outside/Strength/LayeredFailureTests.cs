using Sparewright.Strength;
using Sparewright.Strength.Margins;
using Xunit;

namespace Sparewright.Outside.Strength;

/// <summary>
/// A test vector of layered failure, computed apart from this program from the definitions of the criteria (Tsai and Wu 1971; Hoffman 1967): strengths 45/70 MPa along the layers, 22.5/70 across, shear 18 between and 30 within.
/// </summary>
public class LayeredFailureTests
{
    private static readonly LayeredStrength Strength = new(45, 70, 22.5, 70, 18, 30);

    [Fact]
    public void The_coefficients_of_Tsai_and_Wu()
    {
        QuadraticCriterion c = QuadraticCriterion.TsaiWu(Strength);
        double[] expected = [7.936508e-3, 3.015873e-2, 3.174603e-4, 6.349206e-4, 3.086420e-3, 1.111111e-3, -1.587302e-4, -2.244783e-4];
        double[] found = [c.F1, c.F3, c.F11, c.F33, c.F44, c.F66, c.F12, c.F13];
        // The vector gives seven digits.
        Assert.All(expected.Zip(found), p => Assert.Equal(p.First, p.Second, 5e-7 * Math.Abs(p.First) + 1e-12));
    }

    [Theory]
    [InlineData(45, 0, 0, 0, 0, 0, 1)]
    [InlineData(0, 0, 22.5, 0, 0, 0, 1)]
    [InlineData(0, 0, -70, 0, 0, 0, 1)]
    [InlineData(10, 0, 8, 0, 4, 0, 2.023035)]
    [InlineData(20, 5, 5, 3, 2, 6, 1.691527)]
    [InlineData(0, 0, 0, 0, 10, 0, 1.8)]
    public void The_reserve_by_Tsai_and_Wu(double xx, double yy, double zz, double yz, double xz, double xy, double reserve) =>
        Assert.Equal(reserve, QuadraticCriterion.TsaiWu(Strength).Reserve(new Stress(xx, yy, zz, yz, xz, xy)), 1e-6);

    [Theory]
    [InlineData(10, 0, 8, 0, 4, 0, 0.406482)]
    [InlineData(20, 5, 5, 3, 2, 6, 0.492258)]
    public void The_index_by_Tsai_and_Wu(double xx, double yy, double zz, double yz, double xz, double xy, double index) =>
        Assert.Equal(index, QuadraticCriterion.TsaiWu(Strength).Index(new Stress(xx, yy, zz, yz, xz, xy)), 1e-6);

    [Fact]
    public void The_plain_criterion_of_greatest_stress()
    {
        Reserve reserve = MaximumStress.ByAxes(new Stress(20, 5, 5, 3, 2, 6), Strength);
        Assert.Equal(2.25, reserve.Factor, 1e-6);
        Assert.Equal(FailureMode.TornInLayer, reserve.Mode);
    }

    /// <summary>Hoffman's own form: differences of the normal stresses squared, so that equal stress on all sides leaves only the linear part.</summary>
    [Theory]
    [InlineData(10, 0, 8, 0, 4, 0)]
    [InlineData(20, 5, 5, 3, 2, 6)]
    [InlineData(-12, 7, -3, 1, -4, 2)]
    [InlineData(5, 5, 5, 0, 0, 0)]
    public void Hoffman_by_its_own_form(double x, double y, double z, double yz, double xz, double xy)
    {
        double x2 = 1 / (45.0 * 70), z2 = 1 / (22.5 * 70);
        double c1 = z2 / 2, c2 = z2 / 2, c3 = x2 - z2 / 2;
        double own = c1 * (y - z) * (y - z) + c2 * (z - x) * (z - x) + c3 * (x - y) * (x - y) + (1 / 45.0 - 1 / 70.0) * (x + y) + (1 / 22.5 - 1 / 70.0) * z
            + (yz * yz + xz * xz) / (18.0 * 18) + xy * xy / (30.0 * 30);
        QuadraticCriterion hoffman = QuadraticCriterion.Hoffman(Strength);
        Assert.Equal(own, hoffman.Index(new Stress(x, y, z, yz, xz, xy)), 1e-12);
        Assert.Equal(-hoffman.F33 / 2, hoffman.F13, 1e-15);
        Assert.Equal(hoffman.F33 / 2 - hoffman.F11, hoffman.F12, 1e-15);
    }
}
