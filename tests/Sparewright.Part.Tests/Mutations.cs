using System.Globalization;
using System.Text;

namespace Sparewright.Part.Tests;

/// <summary>Damages texts in the ways of typing errors, merge accidents and malice; the same seed gives the same damage.</summary>
internal sealed class Mutations(IReadOnlyList<string> corpus, int seed)
{
    private static readonly string[] Pieces =
    [
        "\t", "\r", "\n", "\r\n", " ", "  ", ": ", ":", "- ", "-", ",", "[", "]", "{", "}", "#", " #", "&a ", "*a", "!!str ", "! ", "<<: ", "|\n", ">-\n", "'", "\"", "\\", "\\x", "%", "@", "`", "? ", "---\n", "...\n",
        "\0", "\ufeff", "\u2028", "\u0085", "\ud83d", "\ude00", "😀", "±", "°", "″", "½", "−", "×",
        "0", "010", "1e309", "1e-400", ".nan", "-.inf", "0x1F", "1_000", "1,5", "15/32 in", "1 15/32", "1/0", "99999999999999999999", "-0", "1e", "1e+",
        "sqrt(", "min(a, b)", "atan2(1", "pi", "^", "^-", "**", "((((", "))))", "------", "a/2 mm", "sin", "in", "mm", "deg",
        "sparewright: 2", "shape:", "sizes:", "equals: ", "about: ", "hole: ", "of: {", "{row: a, of: ", "foot", "foot.top", "screw_hole#1.wall", "#0", "#99", "..", "ground", "yes", "no", "null", "~", "true",
    ];

    private readonly Random _random = new(seed);

    public string Next()
    {
        var text = new StringBuilder(Pick(corpus));
        int changes = 1 << _random.Next(0, 5);
        for (int k = 0; k < changes; k++) Change(text);
        return text.ToString();
    }

    private void Change(StringBuilder text)
    {
        int at = _random.Next(text.Length + 1);
        int length = Math.Min(text.Length - at, 1 << _random.Next(0, 9));
        switch (_random.Next(12))
        {
            case 0: text.Remove(at, length); break;
            case 1: text.Insert(at, text.ToString(at, length)); break;
            case 2 when at < text.Length: text[at] = (char)_random.Next(0, 0x180); break;
            case 3 when at < text.Length: text[at] = (char)_random.Next(0, 0x10000); break;
            case 4: text.Length = at; break;
            case 5: Repeat(text, at, Pick(Pieces), 1 << _random.Next(0, 12)); break;
            case 6: Repeat(text, at, text.ToString(at, Math.Min(length, 64)), 1 << _random.Next(0, 8)); break;
            case 7:
                string other = Pick(corpus);
                int from = _random.Next(other.Length + 1);
                text.Insert(at, other.AsSpan(from, Math.Min(other.Length - from, length)));
                break;
            case 8: SwapLines(text); break;
            case 9 when at < text.Length && char.IsAsciiDigit(text[at]): text.Remove(at, 1).Insert(at, _random.Next(-5, 200_000).ToString(CultureInfo.InvariantCulture)); break;
            default: text.Insert(at, Pick(Pieces)); break;
        }
    }

    private static void Repeat(StringBuilder text, int at, string piece, int times)
    {
        if (text.Length + piece.Length * times < 1_100_000) text.Insert(at, piece, times);
    }

    private void SwapLines(StringBuilder text)
    {
        string[] lines = text.ToString().Split('\n');
        int a = _random.Next(lines.Length), b = _random.Next(lines.Length);
        (lines[a], lines[b]) = (lines[b], lines[a]);
        text.Clear().AppendJoin('\n', lines);
    }

    private T Pick<T>(IReadOnlyList<T> all) => all[_random.Next(all.Count)];
}
