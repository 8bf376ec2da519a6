using CsCheck;
using Sparewright.Measure.Numbers;
using Sparewright.Part.Sizes;
using Xunit;
using Size = Sparewright.Part.Sizes.Size;

namespace Sparewright.Part.Tests;

public class JobFileExpressionTests
{
    private static readonly Dictionary<string, Dual> Sizes = new() { ["a"] = 3, ["b"] = 4, ["alpha"] = 30, ["in_wide"] = 7 };

    private static double Value(string text)
    {
        ExpressionReading reading = ExpressionParser.Read(text);
        Assert.Null(reading.Refusal);
        return reading.Expression!.At(Sizes).Value;
    }

    // Values by hand; an inch is 25.4 mm exactly (international yard and pound agreement, 1959).
    [Theory]
    [InlineData("1 + 2*3", 7)]
    [InlineData("(1 + 2)*3", 9)]
    [InlineData("8 - 3 - 2", 3)]
    [InlineData("24/4/2", 3)]
    [InlineData("-2^2", -4)]
    [InlineData("2^-1", 0.5)]
    [InlineData("2^3^2", 512)]
    [InlineData("--3", 3)]
    [InlineData("a*-b", -12)]
    [InlineData("sqrt(a^2 + b^2)", 5)]
    [InlineData("sin(alpha)", 0.5)]
    [InlineData("atan2(1, 1)", 45)]
    [InlineData("acos(0)", 90)]
    [InlineData("max(a, b, 1) - min(a, b, 1)", 3)]
    [InlineData("abs(a - b)", 1)]
    [InlineData("pi", Math.PI)]
    [InlineData("1e1 + 1.5e-1", 10.15)]
    [InlineData("12 mm", 12)]
    [InlineData("15/32 in", 11.90625)]
    [InlineData("1 15/32 in", 37.30625)]
    [InlineData("1 15/32\" + 1", 38.30625)]
    [InlineData("0.5in", 12.7)]
    [InlineData("15/32", 0.46875)]
    [InlineData("60/15/32 in", 60 / 11.90625)]
    [InlineData("60/15/32", 0.125)]
    [InlineData("a/2 mm", 1.5)]
    [InlineData("2*15/32 in", 23.8125)]
    [InlineData("1/2 in_wide", double.NaN)]
    [InlineData("30 deg + 15°", 45)]
    [InlineData("3/4 in^2", 362.9025)]
    public void An_expression_has_the_value_that_algebra_gives_it(string text, double expected)
    {
        if (double.IsNaN(expected)) Assert.NotNull(ExpressionParser.Read(text).Refusal);
        else Assert.Equal(expected, Value(text), 10);
    }

    [Fact]
    public void Depth_and_length_have_limits()
    {
        Assert.Null(ExpressionParser.Read(new string('(', 32) + "1" + new string(')', 32)).Refusal);
        Assert.Equal("this is nested deeper than 32 levels", ExpressionParser.Read(new string('(', 33) + "1" + new string(')', 33)).Refusal!.Reason);
        Assert.Equal("this is nested deeper than 32 levels", ExpressionParser.Read(new string('-', 33) + "1").Refusal!.Reason);
        Assert.Equal("this is nested deeper than 32 levels", ExpressionParser.Read("1" + string.Concat(Enumerable.Repeat("^1", 33))).Refusal!.Reason);
        Assert.Equal("this expression has 1001 characters; 1000 are the most", ExpressionParser.Read(string.Join('+', Enumerable.Repeat("1", 501))).Refusal!.Reason);
    }

    private static Gen<T> Among<T>(params T[] all) => Gen.Int[0, all.Length - 1].Select(k => all[k]);

    private static readonly Gen<SizeExpression> Random = Gen.Recursive<SizeExpression>((depth, gen) =>
    {
        Gen<SizeExpression> leaf = Gen.OneOf(
            Gen.Double[0.25, 100].Select(v => (SizeExpression)new SizeExpression.Number(Math.Round(v, 3))),
            Among("a", "b", "alpha").Select(n => (SizeExpression)new SizeExpression.Name(n)));
        return depth > 5 ? leaf : Gen.OneOf(
            leaf,
            gen.Select(e => (SizeExpression)new SizeExpression.Negative(e)),
            Gen.Select(Among('+', '-', '*', '/'), gen, gen, (o, x, y) => (SizeExpression)new SizeExpression.Binary(o, x, y)),
            Gen.Select(Among("min", "max", "atan2"), gen, gen, (f, x, y) => (SizeExpression)new SizeExpression.Call(f, [x, y])),
            gen.Select(e => (SizeExpression)new SizeExpression.Call("cos", [e])));
    });

    /// <summary>Written out with no more brackets than needed, an expression reads as itself.</summary>
    [Fact]
    public void What_is_written_out_reads_as_the_same_expression() => Random.Sample(expression =>
    {
        string text = Written(expression, 0);
        if (text.Length > ExpressionParser.LongestText) return;
        ExpressionReading reading = ExpressionParser.Read(text);
        Assert.True(reading.Refusal is null || reading.Refusal.Reason.Contains("finite", StringComparison.Ordinal) || reading.Refusal.Reason.Contains("deeper", StringComparison.Ordinal), $"{text}: {reading.Refusal}");
        if (reading.Expression is { } read) Assert.Equal(text, Written(read, 0));
        if (reading.Expression is { } same) Assert.Equal(expression.At(Sizes).Value, same.At(Sizes).Value);
    }, iter: 5_000);

    private static string Written(SizeExpression expression, int binding) => expression switch
    {
        SizeExpression.Number n => n.Value.ToString("R", System.Globalization.CultureInfo.InvariantCulture),
        SizeExpression.Name n => n.Size,
        SizeExpression.Negative n => Bracketed("-" + Written(n.Of, 3), 3, binding),
        SizeExpression.Call c => $"{c.Function}({string.Join(", ", c.Arguments.Select(a => Written(a, 0)))})",
        SizeExpression.Binary { Operator: '+' or '-' } b => Bracketed($"{Written(b.Left, 1)} {b.Operator} {Written(b.Right, 2)}", 1, binding),
        SizeExpression.Binary b => Bracketed($"{Written(b.Left, 2)}{b.Operator}{Written(b.Right, 3)}", 2, binding),
        _ => throw new InvalidOperationException(),
    };

    private static string Bracketed(string text, int own, int wanted) => own < wanted ? $"({text})" : text;

    [Fact]
    public void A_long_chain_of_derived_sizes_is_put_in_order_and_a_circle_is_found()
    {
        Size Derived(int k, int from) => new($"s{k}", Quantity.Length, new Given.EqualTo(ExpressionParser.Read($"s{from} + 1").Expression!), Place.None);
        Size[] chain = [.. Enumerable.Range(0, 20_000).Select(k => Derived(k, k + 1)), new Size("s20000", Quantity.Length, new Given.About(1), Place.None)];

        Assert.Null(SizeTable.FirstCircle(chain));
        Assert.Equal(20_001, new SizeTable(chain).At([1.0])["s0"].Value);

        Size[] circle = [Derived(0, 1), Derived(1, 2), Derived(2, 3), Derived(3, 1)];
        Assert.Equal(["s1", "s2", "s3"], SizeTable.FirstCircle(circle)!.Select(s => s.Name));
    }
}
