using System.Globalization;
using System.Text;

namespace Sparewright.Handover.Files;

/// <summary>File names that say which part it is and in what state its sizes are: <c>vent-knuckle_as-measured_mm.stl</c>.</summary>
public static class FileNames
{
    /// <summary>The part's name and state in small letters, digits and hyphens, with an ending such as <c>.3mf</c> or <c>_mm.stl</c>.</summary>
    public static string For(string partName, string state, string ending) => $"{Plain(partName, "part")}_{Plain(state, "state")}{ending}";

    /// <summary>An STL file holds no unit, so its name carries it.</summary>
    public static string ForStl(string partName, string state) => For(partName, state, "_mm.stl");

    private static string Plain(string text, string whenEmpty)
    {
        var plain = new StringBuilder();
        foreach (char c in text.Normalize(NormalizationForm.FormD).ToLowerInvariant())
        {
            if (char.IsAsciiLetterOrDigit(c))
                plain.Append(c);
            else if (CharUnicodeInfo.GetUnicodeCategory(c) != UnicodeCategory.NonSpacingMark && plain.Length > 0 && plain[^1] != '-')
                plain.Append('-');
        }

        string name = plain.ToString().Trim('-');
        if (name.Length > 60)
            name = name[..60].TrimEnd('-');
        return name.Length == 0 ? whenEmpty : name;
    }
}
