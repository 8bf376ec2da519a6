namespace Sparewright.Part.Sizes;

/// <summary>
/// What an expression is a quantity of: powers of length and of angle. A bare number is open (null): it is what its surroundings need in a sum, and a pure number in a product.
/// </summary>
internal readonly record struct Dimension(double Length, double Angle)
{
    public static readonly Dimension Pure = new(0, 0);
    public static readonly Dimension OfLength = new(1, 0);
    public static readonly Dimension OfAngle = new(0, 1);

    public static Dimension Of(Quantity quantity) => quantity switch { Quantity.Length => OfLength, Quantity.Angle => OfAngle, _ => Pure };

    public override string ToString() => this switch
    {
        (0, 0) => "a pure number",
        (1, 0) => "a length",
        (2, 0) => "an area",
        (3, 0) => "a volume",
        (0, 1) => "an angle",
        (-1, 0) => "one over a length",
        _ => "neither a length nor an angle nor a number",
    };

    /// <summary>The dimension of an expression, null when it is open; or false and the complaint. The sizes in it are all known.</summary>
    public static bool TryFind(SizeExpression expression, Func<string, Quantity> sizes, out Dimension? found, out string? complaint)
    {
        complaint = null;
        found = null;
        switch (expression)
        {
            case SizeExpression.Number n:
                found = n.Measured is { } measured ? Of(measured) : null;
                return true;
            case SizeExpression.Name name:
                found = Of(sizes(name.Size));
                return true;
            case SizeExpression.Negative negative:
                return TryFind(negative.Of, sizes, out found, out complaint);
            case SizeExpression.Binary binary:
                if (!TryFind(binary.Left, sizes, out var left, out complaint) || !TryFind(binary.Right, sizes, out var right, out complaint)) return false;
                return binary.Operator is '+' or '-' ? Same([left, right], binary.Operator == '+' ? "added" : "subtracted", out found, out complaint)
                    : binary.Operator == '^' ? Power(left, right, binary.Right, out found, out complaint)
                    : Product(left, right, binary.Operator == '*' ? 1 : -1, out found);
            case SizeExpression.Call call:
                var arguments = new Dimension?[call.Arguments.Count];
                for (int k = 0; k < arguments.Length; k++)
                    if (!TryFind(call.Arguments[k], sizes, out arguments[k], out complaint)) return false;
                return Function(call.Function, arguments, out found, out complaint);
            default:
                throw new InvalidOperationException("unknown expression");
        }
    }

    private static bool Same(Dimension?[] all, string how, out Dimension? found, out string? complaint)
    {
        Dimension?[] told = [.. all.Where(d => d is not null)];
        found = told.FirstOrDefault();
        Dimension? first = found;
        complaint = told.FirstOrDefault(d => d != first) is { } other ? $"{first} and {other} are {how} here" : null;
        return complaint is null;
    }

    private static bool Product(Dimension? left, Dimension? right, int sign, out Dimension? found)
    {
        found = left is null && right is null ? null
            : new Dimension((left?.Length ?? 0) + sign * (right?.Length ?? 0), (left?.Angle ?? 0) + sign * (right?.Angle ?? 0));
        return true;
    }

    private static bool Power(Dimension? @base, Dimension? exponent, SizeExpression power, out Dimension? found, out string? complaint)
    {
        found = null;
        complaint = null;
        if (exponent is { } e && e != Pure) complaint = $"the exponent is {e}";
        else if (@base is null || @base == Pure) found = @base is null && exponent is null ? null : Pure;
        else if (power.Names().Any()) complaint = $"{@base} has an exponent that is not a plain number";
        else
        {
            double value = power.At(new Dictionary<string, Measure.Numbers.Dual>()).Value;
            // Roots and powers cancel, up to the last digits.
            found = new Dimension(Math.Round(@base.Value.Length * value, 9), Math.Round(@base.Value.Angle * value, 9));
        }

        return complaint is null;
    }

    private static bool Function(string function, Dimension?[] of, out Dimension? found, out string? complaint)
    {
        complaint = null;
        switch (function)
        {
            case "abs":
                found = of[0];
                return true;
            case "sqrt":
                found = of[0] is { } area ? new Dimension(area.Length / 2, area.Angle / 2) : null;
                return true;
            case "min" or "max":
                return Same(of, $"compared by {function}", out found, out complaint);
            case "atan2":
                bool same = Same(of, "compared by atan2", out _, out complaint);
                found = OfAngle;
                return same;
            case "sin" or "cos" or "tan":
                found = Pure;
                if (of[0] is { } angle && angle != OfAngle) complaint = $"{function} takes an angle, and {angle} stands in its brackets";
                return complaint is null;
            default: // asin acos atan
                found = OfAngle;
                if (of[0] is { } pure && pure != Pure) complaint = $"{function} takes a pure number, and {pure} stands in its brackets";
                return complaint is null;
        }
    }
}
