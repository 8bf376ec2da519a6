using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;
using Microsoft.CodeAnalysis.CSharp.Syntax;

namespace Sparewright.House;

/// <summary>The house rules of how source is laid out that neither the compiler nor the look at white space knows. Each returns what breaks the rule, one line per breach.</summary>
public static class SourceRules
{
    /// <summary>Using directives stand in order: namespaces, static ones, other names for types; System's first, then by the alphabet.</summary>
    public static IEnumerable<string> UsingsOutOfOrder(IEnumerable<TextFile> files) =>
        from file in files
        where file.EndsIn(".cs")
        let usings = CSharpSyntaxTree.ParseText(file.Text).GetCompilationUnitRoot().Usings.ToArray()
        from pair in usings.Zip(usings.Skip(1))
        where Compare(pair.First, pair.Second) > 0
        select $"{file.Path}: \"{pair.Second}\" stands after \"{pair.First}\"";

    private static int Compare(UsingDirectiveSyntax a, UsingDirectiveSyntax b)
    {
        int kinds = Kind(a).CompareTo(Kind(b));
        if (kinds != 0) return kinds;
        string[] one = Words(a), other = Words(b);
        int systems = (one[0] == "System" ? 0 : 1).CompareTo(other[0] == "System" ? 0 : 1);
        if (systems != 0) return systems;
        int differs = one.Zip(other).Select(w => StringComparer.OrdinalIgnoreCase.Compare(w.First, w.Second)).FirstOrDefault(c => c != 0);
        return differs != 0 ? differs : one.Length.CompareTo(other.Length);
    }

    private static int Kind(UsingDirectiveSyntax u) => u.Alias is not null ? 2 : u.StaticKeyword.IsKind(SyntaxKind.StaticKeyword) ? 1 : 0;

    private static string[] Words(UsingDirectiveSyntax u) => (u.Alias?.Name.ToString() ?? u.NamespaceOrType.ToString()).Split('.');
}
