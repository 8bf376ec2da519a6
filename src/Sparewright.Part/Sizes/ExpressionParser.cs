using System.Collections.Frozen;
using Sparewright.Measure.Numbers;
using Sparewright.Measure.Quantities;

namespace Sparewright.Part.Sizes;

/// <summary>What came of reading a size expression: the expression, or why it was refused and at which character (from 0).</summary>
/// <param name="Names">Every size name in it with the character at which it stands.</param>
public sealed record ExpressionReading(SizeExpression? Expression, IReadOnlyList<(string Name, int Offset)> Names, int Offset, Refusal? Refusal);

/// <summary>
/// Reads size expressions: <c>sum := product {(+|-) product}</c>, <c>product := signed {(*|/) signed}</c>, <c>signed := [-] signed | power</c>,
/// <c>power := value [^ signed]</c>, <c>value := quantity | name | function(…) | (sum)</c>; so <c>-2^2</c> is −4 and <c>2^3^2</c> is 2^9.
/// Wherever a number may begin, the longest quantity is taken: a number with a unit, or digits/digits with a unit (<c>15/32 in</c>, <c>1 15/32 in</c>).
/// Everywhere else a stroke divides: <c>a/2 mm</c> is a / (2 mm), and <c>60/15/32 in</c> is 60 / (15/32 in).
/// </summary>
public sealed class ExpressionParser
{
    public const int LongestText = 1000;
    public const int DeepestNesting = 32;

    private static readonly IReadOnlyDictionary<string, (int Least, int Most)> Functions = new Dictionary<string, (int Least, int Most)>(StringComparer.Ordinal)
    {
        ["sqrt"] = (1, 1), ["abs"] = (1, 1), ["min"] = (2, 16), ["max"] = (2, 16), ["sin"] = (1, 1), ["cos"] = (1, 1), ["tan"] = (1, 1),
        ["asin"] = (1, 1), ["acos"] = (1, 1), ["atan"] = (1, 1), ["atan2"] = (2, 2),
    };

    private static readonly string[] Units = ["mm", "in", "deg"];

    private readonly string _text;
    private readonly List<(string Name, int Offset)> _names = [];
    private int _at;
    private int _depth;
    private int _faultAt;
    private Refusal? _fault;

    private ExpressionParser(string text) => _text = text;

    /// <summary>Words that a size cannot be called: functions, <c>pi</c> and units.</summary>
    public static IReadOnlyList<string> ReservedWords { get; } = [.. Functions.Keys, "pi", .. Units];

    public static ExpressionReading Read(string text)
    {
        if (text.Length > LongestText)
            return new(null, [], 0, new Refusal($"this expression has {text.Length} characters; {LongestText} are the most", "give parts of it names as sizes with `equals`"));
        var parser = new ExpressionParser(text);
        SizeExpression? expression = parser.Whole();
        return parser._fault is { } fault ? new(null, parser._names, parser._faultAt, fault) : new(expression, parser._names, 0, null);
    }

    private SizeExpression? Whole()
    {
        SkipBlanks();
        if (AtEnd) return Refuse("nothing is written here", "write a number, a size name, or an expression like foot_w/2");
        SizeExpression? expression = Sum();
        if (expression is null) return null;
        if (!AtEnd) return RefuseRest();
        return expression.Names().Any() || double.IsFinite(expression.At(NoSizes).Value) ? expression
            : Refuse("this has no finite value", "look for a division by zero, or a function of a value for which it has none", 0);
    }

    private static readonly IReadOnlyDictionary<string, Dual> NoSizes = FrozenDictionary<string, Dual>.Empty;

    private SizeExpression? Sum()
    {
        SizeExpression? left = Product();
        while (left is not null && Take('+', '-') is { } sign)
            left = Product() is { } right ? new SizeExpression.Binary(sign, left, right) : null;
        return left;
    }

    private SizeExpression? Product()
    {
        SizeExpression? left = Signed();
        while (left is not null && Take('*', '/') is { } sign)
        {
            if (sign == '*' && !AtEnd && _text[_at] == '*') return Refuse("** is not an operator here", "write ^ for a power");
            left = Signed() is { } right ? new SizeExpression.Binary(sign, left, right) : null;
        }

        return left;
    }

    private SizeExpression? Signed()
    {
        if (Take('-', '-') is null) return Power();
        if (!Deeper()) return null;
        SizeExpression? of = Signed();
        _depth--;
        return of is null ? null : new SizeExpression.Negative(of);
    }

    private SizeExpression? Power()
    {
        SizeExpression? @base = Value();
        if (@base is null || Take('^', '^') is null) return @base;
        if (!Deeper()) return null;
        SizeExpression? exponent = Signed();
        _depth--;
        return exponent is null ? null : new SizeExpression.Binary('^', @base, exponent);
    }

    private SizeExpression? Value()
    {
        SkipBlanks();
        if (AtEnd) return Refuse("the expression ends where a value is wanted", "write the value, or remove what stands before it");
        char c = _text[_at];
        if (char.IsAsciiDigit(c) || c == '.') return Number();
        if (char.IsAsciiLetter(c) || c == '_') return Word();
        if (c == '(') return Bracket();
        if (c == '+') return Refuse("a plus sign stands where a value is wanted", "remove it");
        return c is '*' or '/' or '^' or ')' or ',' ? Refuse($"{c} stands where a value is wanted", "write the value before it") : RefuseRest();
    }

    private SizeExpression? Bracket()
    {
        int open = _at++;
        if (!Deeper()) return null;
        SizeExpression? inside = Sum();
        _depth--;
        if (inside is null) return null;
        if (Take(')', ')') is not null) return inside;
        return AtEnd ? Refuse("this bracket is not closed", "add )", open) : RefuseRest();
    }

    private SizeExpression? Word()
    {
        int start = _at;
        while (!AtEnd && (char.IsAsciiLetterOrDigit(_text[_at]) || _text[_at] == '_')) _at++;
        string word = _text[start.._at];
        SkipBlanks();
        bool called = !AtEnd && _text[_at] == '(';
        if (Functions.ContainsKey(word)) return called ? Call(word, start) : Refuse($"the function {word} stands without its brackets", $"write {word}(…)", start);
        if (called)
        {
            string? nearest = Spelling.Nearest(word, Functions.Keys);
            return Refuse($"there is no function `{Short(word)}`",
                nearest is not null ? $"did you mean `{nearest}`?" : $"the functions are {string.Join(" ", Functions.Keys)}; write * for a product", start);
        }

        if (word == "pi") return new SizeExpression.Number(Math.PI);
        if (Units.Contains(word)) return Refuse($"the unit {word} stands without its number", $"write the number before it, as in 12 {word}", start);
        if (word.Any(char.IsAsciiLetterUpper) || !char.IsAsciiLetter(word[0]))
            return Refuse($"`{Short(word)}` is not a size name", $"size names have lower-case letters, digits and underscores, and begin with a letter: `{Short(word.TrimStart('_').ToLowerInvariant())}`", start);
        _names.Add((word, start));
        return new SizeExpression.Name(word);
    }

    private SizeExpression.Call? Call(string function, int start)
    {
        int open = _at++;
        if (!Deeper()) return null;
        var arguments = new List<SizeExpression>();
        do
        {
            if (Sum() is not { } argument) return null;
            arguments.Add(argument);
        }
        while (Take(',', ',') is not null);
        _depth--;
        if (Take(')', ')') is null)
        {
            if (AtEnd) Refuse($"the bracket of {function} is not closed", "add )", open);
            else RefuseRest();
            return null;
        }

        var (least, most) = Functions[function];
        if (arguments.Count >= least && arguments.Count <= most) return new SizeExpression.Call(function, arguments);
        string wanted = least == most ? (least == 1 ? "one value" : "two values") : $"two to {most} values";
        Refuse($"{function} has {arguments.Count} values in its brackets and takes {wanted}", $"write {function}({(most == 1 ? "x" : function == "atan2" ? "y, x" : "a, b")})", start);
        return null;
    }

    /// <summary>The longest quantity that begins here.</summary>
    private SizeExpression.Number? Number()
    {
        int start = _at;
        int end = DecimalEnd(start);
        int fractionEnd = FractionEnd(start);
        int unitEnd = UnitEnd(fractionEnd > 0 ? fractionEnd : end);
        bool mixed = fractionEnd > 0 && _text.AsSpan(start, fractionEnd - start).ContainsAny(' ', '\t');
        string written;
        QuantityKind kind;
        if (unitEnd > 0)
        {
            written = _text[start..unitEnd];
            kind = written.EndsWith("deg", StringComparison.Ordinal) || written.EndsWith('°') ? QuantityKind.Angle : QuantityKind.Length;
            _at = unitEnd;
        }
        else if (mixed)
        {
            (written, kind, _at) = (_text[start..fractionEnd], QuantityKind.Length, fractionEnd);
        }
        else
        {
            (written, kind, _at) = (_text[start..end], QuantityKind.Number, end);
        }

        if (!QuantityText.TryRead(written, kind, out var quantity, out var refusal))
        {
            Refuse(refusal.Reason, refusal.Remedy, start);
            return null;
        }

        if (unitEnd <= 0 && !mixed && RefuseUnitOrName(start)) return null;
        return new SizeExpression.Number(quantity.Value, kind switch { QuantityKind.Length => Quantity.Length, QuantityKind.Angle => Quantity.Angle, _ => null });
    }

    /// <summary>A word directly behind a number is neither a unit that is known nor a factor.</summary>
    private bool RefuseUnitOrName(int start)
    {
        int here = _at;
        SkipBlanks();
        int wordStart = _at;
        while (!AtEnd && (char.IsLetterOrDigit(_text[_at]) || _text[_at] == '_')) _at++;
        string word = _text[wordStart.._at];
        _at = here;
        if (word.Length == 0) return false;
        string number = _text[start..here];
        if (QuantityText.TryRead($"{number} {word}", QuantityKind.Length, out _, out var refusal)) return false;
        // A foreign unit has a remedy of its own; anything else is taken for a size with the sign forgotten.
        if (refusal.Reason.Contains("is not a unit of the job file", StringComparison.Ordinal)) Refuse(refusal.Reason, refusal.Remedy, start);
        else Refuse($"`{Short(word)}` stands directly behind {Short(number)}", $"write {Short(number)}*{Short(word)} for a product; the units are mm, in and deg", wordStart);
        return true;
    }

    private int DecimalEnd(int at)
    {
        while (at < _text.Length && (char.IsAsciiDigit(_text[at]) || _text[at] is '.' or '_')) at++;
        if (at >= _text.Length || _text[at] is not ('e' or 'E')) return at;
        int exponent = at + 1;
        if (exponent < _text.Length && _text[exponent] is '+' or '-') exponent++;
        int digits = exponent;
        while (digits < _text.Length && char.IsAsciiDigit(_text[digits])) digits++;
        return digits > exponent ? digits : at;
    }

    /// <summary>The end of <c>15/32</c> or <c>1 15/32</c> beginning here, or 0.</summary>
    private int FractionEnd(int start)
    {
        int first = Digits(start);
        int second = first;
        if (first < _text.Length && first > start && _text[first] is ' ' or '\t')
        {
            int next = Blanks(first);
            if (Digits(next) > next) second = Digits(next);
        }

        if (second == start || second >= _text.Length || _text[second] != '/') return 0;
        int end = Digits(second + 1);
        if (end == second + 1 || (end < _text.Length && _text[end] is '.' or '_')) return 0;
        // 2/4.5 and 2/3e5 divide; a fraction that only divides is left to the operators unless a unit follows or it is mixed.
        return second > first || UnitEnd(end) > 0 ? end : 0;
    }

    /// <summary>The end of a unit that stands at or behind blanks after a number's end, or 0.</summary>
    private int UnitEnd(int numberEnd)
    {
        int at = Blanks(numberEnd);
        if (at >= _text.Length) return 0;
        if (_text[at] is '"' or '″' or '°') return at + 1;
        foreach (string unit in Units)
        {
            if (string.CompareOrdinal(_text, at, unit, 0, unit.Length) != 0) continue;
            int end = at + unit.Length;
            if (end >= _text.Length || !(char.IsLetterOrDigit(_text[end]) || _text[end] == '_')) return end;
        }

        return 0;
    }

    private int Digits(int at)
    {
        while (at < _text.Length && char.IsAsciiDigit(_text[at])) at++;
        return at;
    }

    private int Blanks(int at)
    {
        while (at < _text.Length && _text[at] is ' ' or '\t' or '\n' or '\r') at++;
        return at;
    }

    private bool AtEnd => _at >= _text.Length;

    private void SkipBlanks() => _at = Blanks(_at);

    private char? Take(char one, char other)
    {
        SkipBlanks();
        return !AtEnd && (_text[_at] == one || _text[_at] == other) ? _text[_at++] : null;
    }

    private bool Deeper()
    {
        if (++_depth <= DeepestNesting) return true;
        Refuse($"this is nested deeper than {DeepestNesting} levels", "give parts of it names as sizes with `equals`");
        return false;
    }

    private SizeExpression? RefuseRest()
    {
        SkipBlanks();
        string rest = char.IsHighSurrogate(_text[_at]) && _at + 1 < _text.Length ? _text[_at..(_at + 2)] : _text[_at..(_at + 1)];
        (string what, string remedy) = rest switch
        {
            ")" => ("this bracket closes none", "remove it, or open one with ("),
            "," => ("a comma stands here", "decimals have a point: 1.5; a comma separates the values of a function only"),
            "×" or "·" or "⋅" => ($"{rest} is not an operator here", "write * for a product"),
            "÷" or ":" => ($"{rest} is not an operator here", "write / for a quotient"),
            "−" or "–" => ($"{rest} is a typographic minus sign", "write -"),
            "=" or "<" or ">" or "!" or "?" => ($"{rest} is not part of the algebra of sizes", "write one value; a size that follows from others has `equals`"),
            "%" => ("% is not an operator here", "write 0.15 for 15 %"),
            "(" => ("a bracket stands directly behind a value", "write * between them"),
            _ when char.IsAsciiLetterOrDigit(rest[0]) || rest[0] == '_' => ("two values stand side by side", "write + - * / or ^ between them"),
            _ => ($"{rest} is not part of the algebra of sizes", "write numbers, size names, + - * / ^ ( ) and the functions " + string.Join(" ", Functions.Keys)),
        };
        return Refuse(what, remedy);
    }

    private SizeExpression? Refuse(string what, string remedy, int? at = null)
    {
        if (_fault is null) (_fault, _faultAt) = (new Refusal(what, remedy), at ?? _at);
        return null;
    }

    private static string Short(string word) => word.Length <= 40 ? word : word[..39] + "…";
}
