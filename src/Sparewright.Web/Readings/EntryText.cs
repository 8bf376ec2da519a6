using System.Diagnostics.CodeAnalysis;
using System.Text.RegularExpressions;
using Sparewright.Measure.Quantities;

namespace Sparewright.Web.Readings;

/// <summary>One value as it was entered.</summary>
/// <param name="Value">In mm, or in g for a weight.</param>
/// <param name="Written">As the job keeps it, digits and unit as they were read: <c>12.40</c>, <c>0.4885 in</c>, <c>31/64 in</c>, <c>15.4 g</c>.</param>
public sealed record Entered(double Value, string Written)
{
    /// <summary>Whether it was read as inches.</summary>
    public bool IsInch => Written.EndsWith(" in", StringComparison.Ordinal);

    /// <summary>Whether it is a fraction, which only an inch scale shows.</summary>
    public bool IsFraction => Written.Contains('/', StringComparison.Ordinal);

    /// <summary>The same digits in the other unit of length; null for a fraction.</summary>
    public Entered? InOtherUnit()
    {
        if (IsFraction) return null;
        string digits = IsInch ? Written[..^3] : Written;
        return EntryText.TryRead(digits, IsInch ? LengthUnit.Millimetre : LengthUnit.Inch, out Entered? other, out _) ? other : null;
    }
}

/// <summary>
/// What somebody typed, or a caliper that types like a keyboard, as a value: comma or point, mm or inch, decimals or fractions, zeros in front, a plus sign.
/// Milder than the job file, which knows one spelling of a number: what is kept is that spelling.
/// </summary>
public static partial class EntryText
{
    /// <summary>Between the repeats of a reading where several stand in one line.</summary>
    public const char Between = ';';

    /// <summary>Beyond this no caliper and no tape on a bench reaches, mm.</summary>
    private const double LongestMm = 5000;

    /// <summary>Reads one length.</summary>
    /// <param name="usual">What a number without a unit is in; a fraction is in inches whatever is usual.</param>
    public static bool TryRead(string typed, LengthUnit usual, [NotNullWhen(true)] out Entered? entered, [NotNullWhen(false)] out Refusal? refusal)
    {
        entered = null;
        if (!TrySplit(typed, out string number, out string unit, out refusal)) return false;
        bool fraction = number.Contains('/', StringComparison.Ordinal);
        string? inches = unit switch
        {
            "" => fraction || usual == LengthUnit.Inch ? "in" : "mm",
            "mm" or "mm." or "millimetre" or "millimetres" or "millimeter" or "millimeters" => "mm",
            "in" or "in." or "inch" or "inches" or "\"" or "''" => "in",
            _ => null,
        };
        string asked = $"{number} {inches ?? unit}";
        if (!QuantityText.TryRead(asked, QuantityKind.Length, out Quantity quantity, out refusal)) return false;
        if (!Plausible(number, quantity.Value, out refusal)) return false;
        entered = new Entered(quantity.Value, inches == "mm" ? number : asked);
        return true;
    }

    /// <summary>Reads one weight, in g unless it says otherwise.</summary>
    public static bool TryReadGrams(string typed, [NotNullWhen(true)] out Entered? entered, [NotNullWhen(false)] out Refusal? refusal)
    {
        entered = null;
        if (!TrySplit(typed, out string number, out string unit, out refusal)) return false;
        if (!QuantityText.TryRead($"{number} {(unit.Length == 0 ? "g" : unit)}", QuantityKind.Mass, out Quantity quantity, out refusal)) return false;
        if (!Plausible(number, quantity.Value, out refusal)) return false;
        entered = new Entered(quantity.Value, $"{number} g");
        return true;
    }

    /// <summary>Reads all repeats of a reading, <see cref="Between"/> them.</summary>
    public static bool TryReadAll(string typed, Func<string, (Entered?, Refusal?)> one, out IReadOnlyList<Entered> all, [NotNullWhen(false)] out Refusal? refusal)
    {
        all = [];
        refusal = null;
        var found = new List<Entered>();
        foreach (string piece in typed.Split(Between, StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            var (entered, why) = one(piece);
            if (entered is null) return Refuse(why!.Reason, why.Remedy, out refusal);
            found.Add(entered);
        }

        if (found.Count == 0)
        {
            refusal = new Refusal("a reading keeps at least one value", "leave one, or remove the whole reading");
            return false;
        }

        all = found;
        return true;
    }

    private static bool TrySplit(string typed, out string number, out string unit, [NotNullWhen(false)] out Refusal? refusal)
    {
        refusal = null;
        string text = Blanks().Replace(Plainly(typed), " ").Trim();
        int end = text.Length;
        while (end > 0 && !char.IsAsciiDigit(text[end - 1])) end--;
        if (end < text.Length && text[end] is ('.' or ',')) end++;
        (number, unit) = (text[..end].Trim(), text[end..].Trim().ToLowerInvariant());
        if (text.Length == 0) return Refuse("nothing is written here", "type what the display says", out refusal);
        if (text.Length > 40) return Refuse($"{text[..12]}… is too long for one value", "type what the display says, once", out refusal);
        if (number.StartsWith('+')) number = number[1..].TrimStart();
        if (number.StartsWith('-')) return Refuse($"{text} is below zero", "close the jaws, set the display to zero, and read again", out refusal);
        if (number.Contains('/', StringComparison.Ordinal))
        {
            number = Between3().Replace(number, "$1 $2");
            if (!Fraction().IsMatch(number)) return Refuse($"\"{text}\" is not a fraction of an inch", "type for example 1 15/32", out refusal);
            number = number.Replace(" /", "/", StringComparison.Ordinal).Replace("/ ", "/", StringComparison.Ordinal);
            return true;
        }

        if (number.Count(c => c is '.' or ',') > 1)
            return Refuse(number.Contains('.', StringComparison.Ordinal) && number.Contains(',', StringComparison.Ordinal) ? $"{text} has a comma and a point" : $"{text} looks like two values run together", "type it again, with one comma or one point", out refusal);
        if (Gap().IsMatch(number)) return Refuse($"{text} has a gap between its digits", $"type one value; {Between} stands between several", out refusal);
        Match shape = Digits().Match(number.Replace(',', '.'));
        if (!shape.Success) return Refuse($"\"{text}\" is not a value", "type what the display says, as 12.40", out refusal);
        string whole = shape.Groups["whole"].Value.TrimStart('0'), decimals = shape.Groups["decimals"].Value;
        number = (whole.Length == 0 ? "0" : whole) + (decimals.Length == 0 ? "" : "." + decimals);
        return true;
    }

    private static bool Plausible(string number, double value, [NotNullWhen(false)] out Refusal? refusal)
    {
        refusal = null;
        if (value <= 0) return Refuse($"{number} is nothing to measure", "put the jaws on the part and read again", out refusal);
        if (value > LongestMm) return Refuse($"{number} is longer than any caliper", "type it again", out refusal);
        return true;
    }

    /// <summary>Signs that look like others, and the fractions that have a sign of their own.</summary>
    private static string Plainly(string typed) => typed
        .Replace('−', '-').Replace('–', '-').Replace('⁄', '/').Replace('″', '"').Replace('”', '"').Replace('“', '"').Replace("''", "\"", StringComparison.Ordinal)
        .Replace("½", " 1/2", StringComparison.Ordinal).Replace("¼", " 1/4", StringComparison.Ordinal).Replace("¾", " 3/4", StringComparison.Ordinal)
        .Replace("⅛", " 1/8", StringComparison.Ordinal).Replace("⅜", " 3/8", StringComparison.Ordinal).Replace("⅝", " 5/8", StringComparison.Ordinal).Replace("⅞", " 7/8", StringComparison.Ordinal);

    private static bool Refuse(string reason, string remedy, [NotNullWhen(false)] out Refusal? refusal)
    {
        refusal = new Refusal(reason, remedy);
        return false;
    }

    [GeneratedRegex(@"[\s\u00a0\u2007\u2009\u202f\p{Cc}]+")]
    private static partial Regex Blanks();

    /// <summary>The whole inches and the fraction, whatever stands between them.</summary>
    [GeneratedRegex(@"^(\d+) ?[ +-] ?(\d+ ?/ ?\d+)$")]
    private static partial Regex Between3();

    [GeneratedRegex(@"^(?:\d+ )?\d+ ?/ ?\d+$")]
    private static partial Regex Fraction();

    [GeneratedRegex(@"\d \d")]
    private static partial Regex Gap();

    [GeneratedRegex(@"^(?<whole>\d*)(?:\.(?<decimals>\d*))?$(?<=\d\.?)")]
    private static partial Regex Digits();
}
