using CsCheck;
using Xunit;

namespace Sparewright.Strength.Tests;

public sealed class LayeredStiffnessTests
{
    /// <summary>A bar pulled along each axis must give back its modulus and contractions: the stiffness matrix is the inverse of the compliance that the constants define.</summary>
    [Fact]
    public void Pulled_bars_give_back_the_constants() =>
        Gen.Select(Gen.Double[500, 5000], Gen.Double[0.3, 1.2], Gen.Double[0.1, 0.4], Gen.Double[0.1, 0.4], Gen.Double[100, 1500]).Sample((ep, ratio, nuP, nuZ, g) =>
        {
            double ez = ep * ratio;
            if (LayeredStiffness.Fault(ep, ez, nuP, nuZ, g) is not null) return;
            var layers = new LayeredStiffness(ep, ez, nuP, nuZ, g);
            Same(new(1, 0, 0, 0, 0, 0), layers.StressOf(1 / ep, -nuP / ep, -nuZ / ez, 0, 0, 0));
            Same(new(0, 0, 1, 0, 0, 0), layers.StressOf(-nuZ / ez, -nuZ / ez, 1 / ez, 0, 0, 0));
            Same(new(0, 0, 0, 1, 2, 3), layers.StressOf(0, 0, 0, 1 / g, 2 / g, 3 * 2 * (1 + nuP) / ep));
        });

    [Theory]
    [InlineData(0, 1000, 0.3, 0.3, 400, "within the layers")]
    [InlineData(1000, double.NaN, 0.3, 0.3, 400, "across the layers")]
    [InlineData(1000, 1000, 0.3, 0.3, -1, "shear")]
    [InlineData(1000, 1000, 1, 0.3, 400, "Poisson")]
    [InlineData(2000, 1000, 0.35, 0.45, 400, "energy")]
    public void Impossible_materials_are_refused_in_words(double ep, double ez, double nuP, double nuZ, double g, string word)
    {
        Assert.Contains(word, LayeredStiffness.Fault(ep, ez, nuP, nuZ, g), StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => new LayeredStiffness(ep, ez, nuP, nuZ, g));
    }

    [Fact]
    public void Alike_in_all_directions_is_a_special_case()
    {
        Stress s = LayeredStiffness.Isotropic(2300, 0.35).StressOf(1e-3, 0, 0, 1e-3, 1e-3, 1e-3);
        double lambda = 2300 * 0.35 / (1.35 * 0.3), mu = 2300 / 2.7;
        Same(new Stress(lambda + 2 * mu, lambda, lambda, mu, mu, mu) * 1e-3, s);
    }

    private static void Same(Stress expected, Stress found)
    {
        Stress d = found - expected;
        double worst = new[] { d.XX, d.YY, d.ZZ, d.YZ, d.XZ, d.XY }.Max(Math.Abs);
        Assert.True(worst < 1e-11 * (1 + Math.Abs(expected.XX) + Math.Abs(expected.XY)), $"{found} instead of {expected}");
    }
}

public sealed class StressTests
{
    /// <summary>The sum, the sum of squares and the determinant do not depend on the axes.</summary>
    [Fact]
    public void Principal_stresses_keep_the_invariants() =>
        Gen.Double[-50, 50].Array[6].Sample(v =>
        {
            var s = new Stress(v[0], v[1], v[2], v[3], v[4], v[5]);
            var (a, b, c) = s.Principal;
            Assert.True(a >= b - 1e-9 && b >= c - 1e-9);
            Assert.Equal(s.XX + s.YY + s.ZZ, a + b + c, 1e-8);
            Assert.Equal(s.XX * s.XX + s.YY * s.YY + s.ZZ * s.ZZ + 2 * (s.YZ * s.YZ + s.XZ * s.XZ + s.XY * s.XY), a * a + b * b + c * c, 1e-6);
            Assert.Equal(s.VonMises, new Stress(a, b, c, 0, 0, 0).VonMises, 1e-6);
        });

    [Fact]
    public void Layers_are_pulled_but_not_pushed_apart()
    {
        Assert.Equal(0, new Stress(0, 0, -5, 3, 4, 0).LayerPull);
        Assert.Equal(5, new Stress(0, 0, -5, 3, 4, 0).LayerShear);
        Assert.Equal(5, new Stress(0, 0, 5, 0, 0, 9).LayerPull);
    }
}
