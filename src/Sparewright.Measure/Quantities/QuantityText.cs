using System.Diagnostics.CodeAnalysis;
using System.Globalization;

namespace Sparewright.Measure.Quantities;

/// <summary>
/// Reads quantities as people write them in a job: <c>12</c>, <c>12.0 mm</c>, <c>0.472 in</c>, <c>15/32 in</c>, <c>1 15/32"</c>, <c>55 degC</c>, <c>1.05 ± 0.02</c>.
/// Strict: one spelling of a number, a point and not a comma, no number that a reader of the file could take for another one.
/// </summary>
public static class QuantityText
{
    private const int LongestText = 64;

    /// <summary>Reads a quantity of the expected kind. A number without a unit is in the kind's own unit.</summary>
    public static bool TryRead(string text, QuantityKind expected, out Quantity quantity, [NotNullWhen(false)] out Refusal? refusal)
    {
        quantity = default;
        string trimmed = text.Trim();
        if (trimmed.Length == 0)
            return Refuse("nothing is written here", $"write {Example(expected)}", out refusal);
        if (trimmed.Length > LongestText)
            return Refuse($"{trimmed[..20]}… is too long for a quantity", $"write {Example(expected)}", out refusal);

        var (numberPart, unitPart) = Split(trimmed);
        if (!TryReadUnit(numberPart, unitPart, expected, out var unit, out refusal)) return false;
        if (!TryReadNumber(numberPart, unit, expected, unitPart.Length > 0, out double value, out refusal)) return false;
        quantity = new Quantity(unit.ToOwn(value), unit);
        return true;
    }

    /// <summary>
    /// Reads <c>value ± half-width</c> (also <c>+-</c> or <c>+/-</c>) of the expected kind; the part after the sign may be left out and is then null.
    /// A unit behind the half-width alone holds for both.
    /// </summary>
    public static bool TryReadPlusMinus(
        string text, QuantityKind expected, out Quantity value, out Quantity? plusMinus, [NotNullWhen(false)] out Refusal? refusal)
    {
        plusMinus = null;
        string plain = text.Replace("+/-", "±", StringComparison.Ordinal).Replace("+-", "±", StringComparison.Ordinal);
        int at = plain.IndexOf('±', StringComparison.Ordinal);
        if (at < 0) return TryRead(text, expected, out value, out refusal);

        value = default;
        string left = plain[..at].Trim(), right = plain[(at + 1)..].Trim();
        if (!TryRead(right, expected, out var half, out refusal)) return false;
        if (half.Value < 0)
            return Refuse($"{right} after ± is negative", $"write {right.TrimStart('-')}", out refusal);
        bool unitOnTheRightOnly = left.Length > 0 && Split(left).Unit.Length == 0 && Split(right).Unit.Length > 0;
        if (!TryRead(unitOnTheRightOnly ? $"{left} {Split(right).Unit}" : left, expected, out value, out refusal)) return false;
        plusMinus = half;
        return true;
    }

    /// <summary>The number ends with its last digit; what follows, blanks apart, is the unit. "g/cm3" and "cm3" keep their 3.</summary>
    private static (string Number, string Unit) Split(string text)
    {
        foreach (var (spelling, unit) in Unit.Spellings)
            if (unit.Kind is QuantityKind.Density or QuantityKind.Volume && text.EndsWith(spelling, StringComparison.Ordinal))
                return (text[..^spelling.Length].TrimEnd(), spelling);

        // Only a text that begins like a number has a unit to split off; ".nan" or "about 12" is refused as a whole.
        if (!char.IsAsciiDigit(text.TrimStart('-', '+', '.').FirstOrDefault())) return (text, "");
        int end = text.Length;
        while (end > 0 && !char.IsAsciiDigit(text[end - 1]) && text[end - 1] is not ('.' or ',')) end--;
        return (text[..end], text[end..].Trim());
    }

    private static bool TryReadUnit(string number, string written, QuantityKind expected, out Unit unit, [NotNullWhen(false)] out Refusal? refusal)
    {
        unit = Unit.Of(expected);
        refusal = null;
        if (written.Length == 0) return true;
        foreach (var (spelling, known) in Unit.Spellings)
        {
            if (spelling != written) continue;
            unit = known;
            return known.Kind == expected
                || Refuse($"{written} is a unit of {Noun(known.Kind)}, and {Noun(expected)} is wanted here", $"write {Example(expected)}", out refusal);
        }

        foreach (var (spelling, instead, factor, offset) in Unit.Foreign)
        {
            if (spelling != written || instead.Kind != expected) continue;
            bool isDecimal = double.TryParse(number, NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out double value);
            string same = isDecimal ? Plain(value * factor + offset) : number;
            string remedy = isDecimal || (factor == 1 && offset == 0) ? $"write {same} {instead.Symbol}" : $"write it in {instead.Symbol}";
            return Refuse($"{written} is not a unit of the job file", remedy, out refusal);
        }

        string[] taken = [.. Unit.Spellings.Where(s => s.Unit.Kind == expected).Select(s => s.Spelling)];
        string? nearest = Spelling.Nearest(written, taken.Length > 0 ? taken : Unit.Spellings.Select(s => s.Spelling));
        string remedyHere = taken.Length == 0 ? $"write {Example(expected)}, without a unit"
            : nearest is not null ? $"write {nearest}"
            : $"write {string.Join(" or ", taken.Where(s => char.IsAsciiLetter(s[0])).Where(s => s.All(char.IsAscii)))}";
        return Refuse($"\"{written}\" is not a unit of {Noun(expected)}", remedyHere, out refusal);
    }

    private static bool TryReadNumber(
        string text, Unit unit, QuantityKind expected, bool unitWritten, out double value, [NotNullWhen(false)] out Refusal? refusal)
    {
        value = 0;
        if (text.Contains('/', StringComparison.Ordinal)) return TryReadFraction(text, unit, expected, unitWritten, out value, out refusal);
        return TryReadDecimal(text, expected, out value, out refusal);
    }

    private static bool TryReadDecimal(string text, QuantityKind expected, out double value, [NotNullWhen(false)] out Refusal? refusal)
    {
        value = 0;
        string digits = text.StartsWith('-') ? text[1..] : text;
        string sign = text.StartsWith('-') ? "-" : "";
        if (text.StartsWith('+'))
            return Refuse($"{text} has a plus sign", $"write {text[1..]}", out refusal);
        if (text.StartsWith('−'))
            return Refuse($"{text} has a typographic minus sign", $"write -{text[1..]}", out refusal);
        if (digits.TrimStart('.').ToLowerInvariant() is "nan" or "inf" or "infinity")
            return Refuse($"{text} is not a number that an instrument can show", $"write {Example(expected)}", out refusal);
        if (digits.Contains(',', StringComparison.Ordinal))
            return RefuseComma(text, expected, out refusal);
        if (digits.Contains('_', StringComparison.Ordinal) || (digits.Contains(' ', StringComparison.Ordinal) && digits.All(c => char.IsAsciiDigit(c) || c is ' ' or '.')))
            return Refuse($"{text} has gaps between its digits", $"write {text.Replace("_", "", StringComparison.Ordinal).Replace(" ", "", StringComparison.Ordinal)}", out refusal);
        if (!HasShapeOfNumber(digits, out string? better))
            return Refuse(
                better is null ? $"\"{text}\" is not a number" : $"{text} is not written in full",
                better is null ? $"write {Example(expected)}" : $"write {sign}{better}",
                out refusal);
        if (digits.Length > 1 && digits[0] == '0' && char.IsAsciiDigit(digits[1]))
        {
            string stripped = digits.TrimStart('0');
            stripped = stripped.Length == 0 || !char.IsAsciiDigit(stripped[0]) ? "0" + stripped : stripped;
            return Refuse($"{text} begins with a zero, which some programs read as octal", $"write {sign}{stripped}", out refusal);
        }

        value = double.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture);
        refusal = null;
        if (!double.IsFinite(value))
            return Refuse($"{text} is too large for a number", $"write {Example(expected)}", out refusal);
        // A number so small that it would silently become zero, or minus nothing.
        if (value == 0 && digits.TakeWhile(c => c is not ('e' or 'E')).Any(c => c is >= '1' and <= '9'))
            return Refuse($"{text} is too small for a number", "write 0", out refusal);
        if (value == 0) value = 0.0;
        return true;
    }

    /// <summary>digits, then perhaps a point and digits, then perhaps an exponent. Where only a digit beside the point lacks, says what was meant.</summary>
    private static bool HasShapeOfNumber(string digits, out string? better)
    {
        better = null;
        int whole = Run(digits, 0);
        int at = whole, decimals = -1;
        if (at < digits.Length && digits[at] == '.')
        {
            decimals = Run(digits, at + 1);
            at += 1 + decimals;
        }

        if (at < digits.Length && digits[at] is 'e' or 'E')
        {
            int exponent = at + 1 < digits.Length && digits[at + 1] is '+' or '-' ? at + 2 : at + 1;
            int length = Run(digits, exponent);
            if (length == 0) return false;
            at = exponent + length;
        }

        if (at < digits.Length || (whole == 0 && decimals <= 0)) return false;
        if (whole == 0) better = "0" + digits;
        if (decimals == 0) better = digits.Replace(".", "", StringComparison.Ordinal);
        return better is null;
    }

    private static int Run(string text, int from)
    {
        int at = from;
        while (at < text.Length && char.IsAsciiDigit(text[at])) at++;
        return at - from;
    }

    private static bool RefuseComma(string text, QuantityKind expected, [NotNullWhen(false)] out Refusal? refusal)
    {
        // "1,234.5" has its comma for thousands, "12,5" for a point; "1,234" could be either, and both are offered.
        bool point = text.Contains('.', StringComparison.Ordinal);
        string without = text.Replace(",", "", StringComparison.Ordinal);
        int commas = text.Count(c => c == ',');
        string asPoint = text.Replace(',', '.');
        bool threeBehind = text.Length - text.LastIndexOf(',') == 4;
        bool sensible = without.TrimStart('-').All(c => char.IsAsciiDigit(c) || c == '.');
        string remedy = !sensible ? $"write {Example(expected)}"
            : point || commas > 1 ? $"write {without}"
            : threeBehind && !text.TrimStart('-').StartsWith("0,", StringComparison.Ordinal) ? $"write {asPoint} or {without}"
            : $"write {asPoint}";
        return Refuse($"{text} has a comma", remedy, out refusal);
    }

    private static bool TryReadFraction(
        string text, Unit unit, QuantityKind expected, bool unitWritten, out double value, [NotNullWhen(false)] out Refusal? refusal)
    {
        value = 0;
        if (expected != QuantityKind.Length)
            return Refuse($"{text} is a fraction, and those are for inches", $"write {Example(expected)}", out refusal);

        string sign = text.StartsWith('-') ? "-" : "";
        string[] pieces = text[sign.Length..].Split([' ', '-', '/', '+'], StringSplitOptions.RemoveEmptyEntries);
        bool whole = pieces.Length == 3;
        if (pieces.Length is < 2 or > 3 || pieces.Any(p => p.Length > 6 || !p.All(char.IsAsciiDigit)) || text.Count(c => c == '/') != 1)
            return Refuse($"\"{text}\" is not a fraction of an inch", "write for example 1 15/32 in", out refusal);

        int[] n = [.. pieces.Select(p => int.Parse(p, CultureInfo.InvariantCulture))];
        int inches = whole ? n[0] : 0, top = n[^2], bottom = n[^1];
        string written = sign + (whole ? $"{inches} {top}/{bottom}" : $"{top}/{bottom}");
        if (!unitWritten)
            return Refuse($"{text} is a fraction without its unit", $"write {written} in", out refusal);
        if (unit != Unit.Inch)
            return Refuse($"{text} is a fraction, and those are for inches", $"write {Plain(bottom == 0 ? 0 : inches + (double)top / bottom)} {unit.Symbol}, or {written} in", out refusal);
        if (bottom is not (2 or 4 or 8 or 16 or 32 or 64 or 128))
            return Refuse($"no inch rule is divided into {bottom} parts", bottom == 0 ? "write for example 1 15/32 in" : $"write {sign}{Plain(Math.Round(inches + (double)top / bottom, 4))} in", out refusal);
        if (top >= bottom)
        {
            int more = inches + top / bottom, rest = top % bottom;
            return Refuse($"{top}/{bottom} is not a proper fraction", $"write {sign}{more}{(rest == 0 ? "" : $" {rest}/{bottom}")} in", out refusal);
        }

        if (text != written)
            return Refuse($"{text} is not how a mixed number is written", $"write {written} in", out refusal);
        value = (sign.Length > 0 ? -1 : 1) * (inches + (double)top / bottom);
        refusal = null;
        return true;
    }

    private static bool Refuse(string reason, string remedy, [NotNullWhen(false)] out Refusal? refusal)
    {
        refusal = new Refusal(reason, remedy);
        return false;
    }

    private static string Plain(double value) => Math.Abs(value) is < 1e15 and > 1e-6 or 0
        ? ((decimal)value).ToString("0.##########", CultureInfo.InvariantCulture)
        : value.ToString("R", CultureInfo.InvariantCulture);

    private static string Noun(QuantityKind kind) => kind switch
    {
        QuantityKind.Number => "a number",
        QuantityKind.Length => "a length",
        QuantityKind.Angle => "an angle",
        QuantityKind.Mass => "a mass",
        QuantityKind.Temperature => "a temperature",
        QuantityKind.Force => "a force",
        QuantityKind.Density => "a density",
        QuantityKind.Volume => "a volume",
        _ => throw new ArgumentOutOfRangeException(nameof(kind)),
    };

    private static string Example(QuantityKind kind) => kind switch
    {
        QuantityKind.Number => "a number like 2 or 0.5",
        QuantityKind.Length => "a length like 12.5, 12.5 mm, 0.492 in or 15/32 in",
        QuantityKind.Angle => "an angle like 30 or 30 deg",
        QuantityKind.Mass => "a mass like 15.4 g",
        QuantityKind.Temperature => "a temperature like 55 degC",
        QuantityKind.Force => "a force like 120 N",
        QuantityKind.Density => "a density like 1.05 g/cm3",
        QuantityKind.Volume => "a volume like 14.6 ml",
        _ => throw new ArgumentOutOfRangeException(nameof(kind)),
    };
}
