using CsCheck;
using Sparewright.Measure.Numbers;
using Xunit;

namespace Sparewright.Measure.Tests;

public sealed class DualTests
{
    private delegate Dual Function(Dual a, Dual b);

    private static readonly (string Name, Function F)[] Functions =
    [
        ("+", (a, b) => a + b), ("-", (a, b) => a - b), ("negative", (a, _) => -a), ("*", (a, b) => a * b), ("/", (a, b) => a / b),
        ("sqrt", (a, _) => Dual.Sqrt(a)), ("abs", (a, b) => Dual.Abs(a - b)), ("min", Dual.Min), ("max", Dual.Max),
        ("sin", (a, _) => Dual.Sin(a)), ("cos", (a, _) => Dual.Cos(a)), ("tan", (a, _) => Dual.Tan(a)),
        ("asin", (a, b) => Dual.Asin(a / (a + b))), ("acos", (a, b) => Dual.Acos(a / (a + b))), ("atan", (a, _) => Dual.Atan(a)), ("atan2", Dual.Atan2),
        ("pow", Dual.Pow), ("square", (a, _) => Dual.Pow(a, 2)), ("to the minus half", (a, _) => Dual.Pow(a, -0.5)), ("constant base", (a, _) => Dual.Pow(2, a)),
        ("exp", (a, _) => Dual.Exp(a)), ("log", (a, _) => Dual.Log(a)),
        ("all together", (a, b) => Dual.Sqrt(a * a + b * b) * Dual.Cos(Dual.Atan2(a, b)) / (1 + Dual.Exp(-a * b))),
    ];

    /// <summary>Arguments where every function above is smooth: away from the corners of abs, min and max and from the poles of tan.</summary>
    private static readonly Gen<(double, double)> Smooth = Gen.Select(Gen.Double[0.1, 1.4], Gen.Double[0.1, 1.4]).Where((a, b) => Math.Abs(a - b) > 0.01);

    [Fact]
    public void Every_derivative_agrees_with_central_differences() => Smooth.Sample((a, b) =>
    {
        const double h = 1e-5;
        foreach (var (name, f) in Functions)
        {
            Dual exact = f(Dual.Unknown(0, a), Dual.Unknown(1, b));
            double byA = (f(a + h, b).Value - f(a - h, b).Value) / (2 * h), byB = (f(a, b + h).Value - f(a, b - h).Value) / (2 * h);
            if (Math.Abs(exact.Gradient.By(0) - byA) > 1e-6 * (1 + Math.Abs(byA)) || Math.Abs(exact.Gradient.By(1) - byB) > 1e-6 * (1 + Math.Abs(byB)))
                throw new InvalidOperationException($"{name} at {a}, {b}: {exact.Gradient.By(0)}, {exact.Gradient.By(1)} against {byA}, {byB}");
        }
    }, iter: 2000);

    [Fact]
    public void A_turned_vector_keeps_its_length_and_its_derivatives_agree_with_differences() =>
        Gen.Select(Gen.Double[-3, 3], Gen.Double[-3, 3], Gen.Double[0.5, 3], Gen.Double[-3, 3]).Sample((x, y, z, angle) =>
        {
            Vector Turn(Dual by) => new Vector(x, y, z).Turned(new Vector(1, 2, 2).Unit(), by);
            Vector turned = Turn(Dual.Unknown(0, angle));
            Assert.Equal(new Vector(x, y, z).Length.Value, turned.Length.Value, 1e-12);
            Assert.Equal((Turn(angle + 1e-5).X.Value - Turn(angle - 1e-5).X.Value) / 2e-5, turned.X.Gradient.By(0), 1e-7);
            Assert.Equal(0, turned.Length.Gradient.By(0), 1e-12);
        });

    [Fact]
    public void Gradients_stay_sparse_sorted_and_whole() =>
        Gen.Int[0, 50].Array[1, 12].Sample(indices =>
        {
            Dual sum = 0;
            foreach (int index in indices) sum += 2 * Dual.Unknown(index, index);
            int[] unknowns = sum.Gradient.Unknowns.ToArray();
            Assert.Equal(indices.Distinct().Order(), unknowns);
            foreach (int index in unknowns) Assert.Equal(2 * indices.Count(i => i == index), sum.Gradient.By(index));
            Assert.Equal(0, sum.Gradient.By(99));
        });

    [Fact]
    public void A_constant_has_no_derivatives()
    {
        Dual constant = 3;
        Assert.True(constant.IsConstant);
        Assert.True((constant * constant + Dual.Sqrt(0)).IsConstant);
        Assert.True((Dual.Unknown(0, 5) * 0).IsConstant);
        Assert.Equal(1, Dual.Pow(Dual.Unknown(0, 0), 0).Value);
        Assert.Equal(4, Dual.Pow(-2, 2).Value);
    }

    [Fact]
    public void Left_of_right_is_back()
    {
        var left = new PlanePoint(1, 0).Left;
        Assert.Equal((0.0, 1.0), (left.U.Value, left.V.Value));
        Assert.Equal(1, PlanePoint.Cross(new(1, 0), left).Value);
        Assert.Equal(1, Vector.Cross(new(1, 0, 0), new(0, 1, 0)).Z.Value);
    }
}
