using Sparewright.Measure.Numbers;

namespace Sparewright.Part.Sizes;

/// <summary>What kind of quantity an expression stands for where it is written.</summary>
public enum Quantity { Length, Angle, Number }

/// <summary>
/// A size expression: ordinary algebra over numbers, size names, <c>+ - * / ^ ( )</c>, <c>pi</c> and a few functions.
/// Lengths are mm; angles are degrees, also inside the trigonometric functions.
/// </summary>
public abstract record SizeExpression
{
    /// <summary>The number written as such.</summary>
    /// <param name="Value">In mm or degrees where it has a unit.</param>
    /// <param name="Measured">Length or angle where a unit is written behind it; otherwise it is what its surroundings need.</param>
    public sealed record Number(double Value, Quantity? Measured = null) : SizeExpression;

    /// <summary>A size by its name.</summary>
    public sealed record Name(string Size) : SizeExpression;

    /// <summary>The opposite of a value.</summary>
    public sealed record Negative(SizeExpression Of) : SizeExpression;

    /// <summary>Two values joined by <c>+ - * / ^</c>.</summary>
    public sealed record Binary(char Operator, SizeExpression Left, SizeExpression Right) : SizeExpression;

    /// <summary>A function: sqrt abs min max sin cos tan asin acos atan atan2.</summary>
    public sealed record Call(string Function, IReadOnlyList<SizeExpression> Arguments) : SizeExpression;

    private const double Degree = Math.PI / 180;

    public static implicit operator SizeExpression(double value) => new Number(value);

    /// <summary>The value with its derivatives, at given sizes. The value may be infinite or not a number; whoever uses it checks.</summary>
    /// <param name="sizes">Every name that the expression may use; the reader has made sure that all are there.</param>
    public Dual At(IReadOnlyDictionary<string, Dual> sizes) => this switch
    {
        Number n => n.Value,
        Name n => sizes[n.Size],
        Negative n => -n.Of.At(sizes),
        Binary b => Apply(b.Operator, b.Left.At(sizes), b.Right.At(sizes)),
        Call c => Apply(c.Function, [.. c.Arguments.Select(a => a.At(sizes))]),
        _ => throw new InvalidOperationException($"unknown expression {this}"),
    };

    /// <summary>The size names that occur in it, each once, in order of first appearance.</summary>
    public IEnumerable<string> Names() => NamesWithRepeats().Distinct(StringComparer.Ordinal);

    private IEnumerable<string> NamesWithRepeats() => this switch
    {
        Name n => [n.Size],
        Negative n => n.Of.NamesWithRepeats(),
        Binary b => b.Left.NamesWithRepeats().Concat(b.Right.NamesWithRepeats()),
        Call c => c.Arguments.SelectMany(a => a.NamesWithRepeats()),
        _ => [],
    };

    private static Dual Apply(char @operator, Dual a, Dual b) => @operator switch
    {
        '+' => a + b,
        '-' => a - b,
        '*' => a * b,
        '/' => a / b,
        '^' => Dual.Pow(a, b),
        _ => throw new InvalidOperationException($"unknown operator {@operator}"),
    };

    private static Dual Apply(string function, Dual[] a) => function switch
    {
        "sqrt" => Dual.Sqrt(a[0]),
        "abs" => Dual.Abs(a[0]),
        "min" => a.Aggregate(Dual.Min),
        "max" => a.Aggregate(Dual.Max),
        "sin" => Dual.Sin(a[0] * Degree),
        "cos" => Dual.Cos(a[0] * Degree),
        "tan" => Dual.Tan(a[0] * Degree),
        "asin" => Dual.Asin(a[0]) / Degree,
        "acos" => Dual.Acos(a[0]) / Degree,
        "atan" => Dual.Atan(a[0]) / Degree,
        "atan2" => Dual.Atan2(a[0], a[1]) / Degree,
        _ => throw new InvalidOperationException($"unknown function {function}"),
    };
}
