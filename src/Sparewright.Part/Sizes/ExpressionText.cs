using Sparewright.Measure.Quantities;

namespace Sparewright.Part.Sizes;

/// <summary>An expression as a job writes it; read again it is the same.</summary>
public static class ExpressionText
{
    public static string Of(SizeExpression expression) => Of(expression, 0);

    /// <param name="binding">How tightly what stands around it binds; brackets are set where it binds tighter.</param>
    private static string Of(SizeExpression expression, int binding) => expression switch
    {
        SizeExpression.Number { Measured: Quantity.Length } n => $"{Shown.Number(n.Value)} mm",
        SizeExpression.Number { Measured: Quantity.Angle } n => $"{Shown.Number(n.Value)} deg",
        SizeExpression.Number n => Shown.Number(n.Value),
        SizeExpression.Name n => n.Size,
        SizeExpression.Negative n => Bracketed($"-{Of(n.Of, 3)}", binding > 2),
        SizeExpression.Binary b when b.Operator is '+' or '-' => Bracketed($"{Of(b.Left, 1)} {b.Operator} {Of(b.Right, 2)}", binding > 1),
        SizeExpression.Binary b when b.Operator is '*' or '/' => Bracketed($"{Of(b.Left, 2)}{b.Operator}{Of(b.Right, 3)}", binding > 2),
        SizeExpression.Binary b => Bracketed($"{Of(b.Left, 4)}{b.Operator}{Of(b.Right, 4)}", binding > 3),
        SizeExpression.Call c => $"{c.Function}({string.Join(", ", c.Arguments.Select(a => Of(a, 0)))})",
        _ => throw new InvalidOperationException($"unknown expression {expression}"),
    };

    private static string Bracketed(string text, bool needed) => needed ? $"({text})" : text;
}
