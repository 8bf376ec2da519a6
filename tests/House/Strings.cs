using System.Text.RegularExpressions;
using Microsoft.CodeAnalysis.CSharp;

namespace Sparewright.House;

/// <summary>The text between quotation marks in a source file: what a user may come to read.</summary>
public static partial class Strings
{
    public static IEnumerable<(int Line, string Text)> Of(TextFile file) => file switch
    {
        _ when file.EndsIn(".cs") => OfCSharp(file.Text),
        _ when file.EndsIn(".cpp", ".hpp", ".h") => OfCpp(file.Lines),
        _ when file.EndsIn(".ts", ".js") => OfScript(file.Lines),
        // In pages and looks nearly everything is between tags or names what is.
        _ when file.EndsIn(".razor", ".css") => file.Lines.Index().Select(line => (line.Index + 1, line.Item)),
        _ => [],
    };

    private static IEnumerable<(int Line, string Text)> OfCSharp(string source) =>
        from token in CSharpSyntaxTree.ParseText(source).GetRoot().DescendantTokens()
        where token.Kind() is SyntaxKind.StringLiteralToken or SyntaxKind.Utf8StringLiteralToken or SyntaxKind.InterpolatedStringTextToken
            or SyntaxKind.SingleLineRawStringLiteralToken or SyntaxKind.MultiLineRawStringLiteralToken
        select (token.GetLocation().GetLineSpan().StartLinePosition.Line + 1, token.ValueText);

    private static IEnumerable<(int Line, string Text)> OfCpp(string[] lines) =>
        from line in lines.Index()
        where !line.Item.TrimStart().StartsWith('#')
        from Match match in Quoted().Matches(line.Item)
        select (line.Index + 1, match.Value);

    private static IEnumerable<(int Line, string Text)> OfScript(string[] lines) =>
        from line in lines.Index()
        from Match match in QuotedInScript().Matches(Remark().Replace(line.Item, ""))
        select (line.Index + 1, match.Value);

    [GeneratedRegex("""
        "(?:[^"\\]|\\.)*"
        """)]
    private static partial Regex Quoted();

    [GeneratedRegex("""
        "(?:[^"\\]|\\.)*"|'(?:[^'\\]|\\.)*'|`(?:[^`\\]|\\.)*`
        """)]
    private static partial Regex QuotedInScript();

    [GeneratedRegex(@"(?<!:)//.*$")]
    private static partial Regex Remark();
}
