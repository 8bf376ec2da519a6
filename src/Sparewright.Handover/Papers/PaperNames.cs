using System.Globalization;
using System.Text;

namespace Sparewright.Handover.Papers;

/// <summary>Names under which papers may be written: made by us, whatever they were called before. A plain name stays as it is.</summary>
public static class PaperNames
{
    private const int Longest = 100;

    /// <summary>Names that some systems keep for devices.</summary>
    private static readonly string[] Devices = ["con", "prn", "aux", "nul", "com1", "com2", "com3", "com4", "com5", "com6", "com7", "com8", "com9", "lpt1", "lpt2", "lpt3", "lpt4", "lpt5", "lpt6", "lpt7", "lpt8", "lpt9"];

    /// <summary>Whether a name would be left as it is.</summary>
    public static bool IsPlain(string name) => Plain(name) == name;

    /// <summary>A plain name made of any text, other than all that are taken; it is taken now.</summary>
    /// <param name="taken">Compares as file systems may: without regard to case.</param>
    public static string Make(string text, ISet<string> taken)
    {
        string name = Plain(text);
        string ending = Path.GetExtension(name), stem = name[..^ending.Length];
        for (int n = 2; !taken.Add(name); n++) name = string.Create(CultureInfo.InvariantCulture, $"{stem}-{n}{ending}");
        return name;
    }

    /// <summary>Letters and digits of any script, blanks and a few marks; nothing that a file system or a shell takes for something else.</summary>
    private static string Plain(string text)
    {
        var plain = new StringBuilder();
        // The runes first: half a character cannot be normalized.
        foreach (Rune rune in string.Concat(text.EnumerateRunes()).Normalize().EnumerateRunes())
        {
            bool isLetter = Rune.IsLetterOrDigit(rune) || Rune.GetUnicodeCategory(rune) is UnicodeCategory.NonSpacingMark or UnicodeCategory.SpacingCombiningMark;
            plain.Append(isLetter || rune.Value is ' ' or '.' or '_' or '-' or '+' or ',' or '(' or ')' ? rune : new Rune('-'));
        }

        string name = plain.ToString().TrimStart('.', ' ', '-').TrimEnd('.', ' ');
        if (name.Length > Longest) name = Shortened(name);
        if (name.Length == 0) return "file";
        return Devices.Contains(name.Split('.')[0].Trim(), StringComparer.OrdinalIgnoreCase) ? $"a-{name}" : name;
    }

    private static string Shortened(string name)
    {
        string ending = Path.GetExtension(name);
        if (ending.Length > 10) ending = "";
        int cut = Longest - ending.Length - 4;
        if (char.IsLowSurrogate(name[cut])) cut--;
        return name[..cut].TrimEnd('.', ' ') + ending;
    }
}
