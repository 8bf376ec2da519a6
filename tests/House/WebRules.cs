using System.Text.RegularExpressions;

namespace Sparewright.House;

/// <summary>The house rules for what browsers get. Each returns what breaks the rule, one line per breach.</summary>
public static partial class WebRules
{
    /// <summary>Names in standards look like addresses, and nobody fetches them.</summary>
    private static readonly string[] OnlyNames = ["http://www.w3.org/"];

    /// <summary>What users wrote is shown as text: nothing is put into a page unescaped.</summary>
    public static IEnumerable<string> UnescapedMarkup(IEnumerable<TextFile> files) => Matches(files, Unescaped(), ".razor", ".cs", ".ts", ".js");

    /// <summary>The content policy forbids looks within the markup, so they would have no effect.</summary>
    public static IEnumerable<string> LooksWithinMarkup(IEnumerable<TextFile> files) => Matches(files, InlineLook(), ".razor");

    /// <summary>The content policy forbids script within the markup.</summary>
    public static IEnumerable<string> ScriptWithinMarkup(IEnumerable<TextFile> files) => Matches(files, InlineScript(), ".razor");

    /// <summary>Everything comes from the shop itself: it works with no network.</summary>
    public static IEnumerable<string> AddressesElsewhere(IEnumerable<TextFile> files) =>
        from file in Shipped(files, ".razor", ".css", ".ts", ".js", ".html", ".svg", ".json")
        where !file.EndsIn("package.json", "package-lock.json", "packages.lock.json", "tsconfig.json")
        from line in file.Lines.Index()
        from Match address in Address().Matches(line.Item)
        where !OnlyNames.Any(name => address.Value.StartsWith(name, StringComparison.Ordinal))
        select $"{file.Path}:{line.Index + 1}: {address.Value}";

    private static IEnumerable<string> Matches(IEnumerable<TextFile> files, Regex pattern, params string[] endings) =>
        from file in Shipped(files, endings)
        from line in file.Lines.Index()
        where pattern.IsMatch(line.Item)
        select $"{file.Path}:{line.Index + 1}: {line.Item.Trim()}";

    // What is bundled into one file is looked at where it is written.
    private static IEnumerable<TextFile> Shipped(IEnumerable<TextFile> files, params string[] endings) =>
        files.Where(file => file.IsIn("src/Sparewright.Web") && !file.IsIn("src/Sparewright.Web/Browser/tests", "src/Sparewright.Web/wwwroot/browser") && file.EndsIn(endings));

    [GeneratedRegex(@"\bMarkupString\b|\bAddMarkupContent\b|\.(?:inner|outer)HTML\s*=|\binsertAdjacentHTML\b|\bdocument\.write\b")]
    private static partial Regex Unescaped();

    [GeneratedRegex(@"(?<![\w-])style\s*=|<style\b")]
    private static partial Regex InlineLook();

    [GeneratedRegex(@"<script(?![^>]*\bsrc=)|(?<![\w@-])on[a-z]+\s*=\s*""")]
    private static partial Regex InlineScript();

    [GeneratedRegex(@"https?://[\w.-]+[^\s""'`)]*")]
    private static partial Regex Address();
}
