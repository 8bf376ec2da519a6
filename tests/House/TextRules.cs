using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace Sparewright.House;

/// <summary>The house rules that plain text can be held to. Each returns what breaks the rule, one line per breach.</summary>
public static partial class TextRules
{
    /// <summary>A file can be read in one sitting.</summary>
    public const int MostLines = 600;

    public static IEnumerable<string> LongFiles(IEnumerable<TextFile> files) =>
        from file in files
        where file.IsIn("src") && file.EndsIn(".cs") || file.IsIn("kernel") && file.EndsIn(".cpp", ".hpp", ".h")
        where file.Lines.Length > MostLines
        select $"{file.Path}: {file.Lines.Length} lines, more than {MostLines}";

    /// <summary>Versions stand in Directory.Packages.props alone.</summary>
    public static IEnumerable<string> VersionsInProjects(IEnumerable<TextFile> files) =>
        from file in files
        where file.EndsIn(".csproj")
        from reference in XDocument.Parse(file.Text).Descendants("PackageReference")
        where reference.Attribute("Version") is not null || reference.Attribute("VersionOverride") is not null || reference.Element("Version") is not null
        select $"{file.Path}: {reference.Attribute("Include")?.Value} states a version";

    /// <summary>A room's project refers only to rooms nearer the ground.</summary>
    public static IEnumerable<string> ReferencesUpwards(IEnumerable<TextFile> files) =>
        from file in files
        where file.IsIn("src") && file.EndsIn(".csproj")
        let room = Path.GetFileNameWithoutExtension(file.Path)
        from reference in XDocument.Parse(file.Text).Descendants("ProjectReference")
        let other = Path.GetFileNameWithoutExtension(reference.Attribute("Include")!.Value)
        where Rooms.Floor(other) >= Rooms.Floor(room)
        select $"{file.Path}: {room} refers to {other}, which is not nearer the ground";

    /// <summary>What a user may read keeps to the words of the trade: prose as a whole, source files between their quotation marks.</summary>
    public static IEnumerable<string> AvoidedWords(IEnumerable<TextFile> files, IReadOnlyList<AvoidedWord> avoided, IReadOnlyList<AllowedWord> allowed)
    {
        var unused = allowed.ToHashSet();
        foreach (var file in files)
            foreach (var (line, text) in WhatUsersRead(file))
                foreach (var word in avoided)
                    foreach (Match match in word.Pattern.Matches(text))
                    {
                        var exception = allowed.FirstOrDefault(a => a.File == file.Path && a.Word.Equals(match.Value, StringComparison.OrdinalIgnoreCase));
                        if (exception is null)
                            yield return $"{file.Path}:{line}: \"{match.Value}\"; say {word.Instead}";
                        else
                            unused.Remove(exception);
                    }
        foreach (var exception in unused)
            yield return $"{exception.File}: \"{exception.Word}\" is allowed but no longer used";
    }

    private static IEnumerable<(int Line, string Text)> WhatUsersRead(TextFile file) => file switch
    {
        _ when file.IsIn("src/Sparewright.Web/Browser/tests") => [],
        _ when file.IsIn("src", "kernel") => Strings.Of(file),
        _ when file.EndsIn(".md") || file.IsIn("examples") => file.Lines.Index().Select(line => (line.Index + 1, line.Item)),
        _ => [],
    };

    /// <summary>Nothing points at the disk of whoever wrote it.</summary>
    public static IEnumerable<string> MachinePaths(IEnumerable<TextFile> files) =>
        from file in files
        from line in file.Lines.Index()
        where MachinePath().IsMatch(line.Item)
        select $"{file.Path}:{line.Index + 1}: {line.Item.Trim()}";

    [GeneratedRegex(@"(?<![\w.])/(?:wor[k]|far[m]|hom[e]|roo[t])/\w|/tm[p]/\w|[A-Z]:\\User[s]\\")]
    private static partial Regex MachinePath();

    /// <summary>A table of published values says in its first lines where they come from; for byte copies the README.md beside them does.</summary>
    public static IEnumerable<string> TablesWithoutSource(IReadOnlyCollection<TextFile> files) =>
        from file in files
        where file.EndsIn(".csv", ".tsv", ".dat")
        where !file.Lines.Take(8).Any(line => line.StartsWith('#') && line.Contains("source", StringComparison.OrdinalIgnoreCase))
        where !file.EndsIn(".dat") || !files.Any(other => other.Path == $"{Path.GetDirectoryName(file.Path)}/README.md")
        select $"{file.Path}: no source in its first lines";

    /// <summary>A page that links to a file of ours links to one that is there.</summary>
    public static IEnumerable<string> BrokenLinks(IEnumerable<TextFile> files, Predicate<string> exists) =>
        from file in files
        where file.EndsIn(".md")
        from line in file.Lines.Index()
        from Match link in Link().Matches(line.Item)
        let target = link.Groups["target"].Value
        where !target.Contains("://", StringComparison.Ordinal) && !exists(Path.Join(Path.GetDirectoryName(file.Path), target))
        select $"{file.Path}:{line.Index + 1}: {target} is not there";

    [GeneratedRegex(@"\]\((?<target>[^)#\s]+)(?:#[^)]*)?\)")]
    private static partial Regex Link();

    /// <summary>Each decision has a number of its own, in its name and in its title.</summary>
    public static IEnumerable<string> NumbersOfDecisions(IEnumerable<TextFile> files)
    {
        TextFile[] pages = [.. files.Where(f => Decision().IsMatch(f.Path))];
        return pages.GroupBy(p => Decision().Match(p.Path).Groups["number"].Value).Where(same => same.Count() > 1).Select(same => $"{string.Join(", ", same.Select(p => p.Path))}: one number")
            .Concat(pages.Where(p => !p.Lines[0].StartsWith($"# {Decision().Match(p.Path).Groups["number"].Value} ", StringComparison.Ordinal)).Select(p => $"{p.Path}: another number in its title"));
    }

    [GeneratedRegex("^docs/decisions/(?<number>[0-9]{4})-")]
    private static partial Regex Decision();

    /// <summary>Nothing half done passes for done.</summary>
    public static IEnumerable<string> UnfinishedWork(IEnumerable<TextFile> files) =>
        from file in files
        where file.IsIn("src", "kernel")
        from line in file.Lines.Index()
        where Unfinished().IsMatch(line.Item)
        select $"{file.Path}:{line.Index + 1}: {line.Item.Trim()}";

    [GeneratedRegex(@"\b(?:TODO|FIXME|XXX|HACK|NotImplementedException)\b")]
    private static partial Regex Unfinished();
}
