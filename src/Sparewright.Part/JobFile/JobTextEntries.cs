using System.Globalization;
using Sparewright.Part.Yaml;

namespace Sparewright.Part;

/// <summary>
/// Whole entries: taken away, put in, moved. To an entry of a list or group that is written in lines belong the comments on its own lines, the comment lines
/// directly above it that begin no further left than it, and those below it that are indented deeper. They move with it, and go when it is taken away;
/// a comment that a blank line separates from the next entry belongs to nobody and stays. Inside [ ] and { } an entry has only the comments within its own brackets.
/// </summary>
public static partial class JobText
{
    /// <summary>The text without the list entry or key at a path; <see cref="CommentsOf"/> says which comments go with it.</summary>
    public static JobEdit Without(string text, string path) => Without(text, JobPath.Steps(path));

    /// <inheritdoc cref="Without(string, string)"/>
    public static JobEdit Without(string text, IReadOnlyList<string> path) => Changed(text, path, (plain, root) =>
        Reached(root, path) is (var parent, var owner, var number) ? (EntryEdit.Removed(plain, parent, owner, number), null) : ("", Missing(root, path)),
        before => before.Within([.. path.SkipLast(1)], parent => parent.Without(path[^1])));

    /// <summary>The text with another key for what stands at a path; what stands there stays.</summary>
    public static JobEdit WithKey(string text, IReadOnlyList<string> path, string key) => Changed(text, path, (plain, root) =>
        Reached(root, path) is (YamlMap map, _, var number)
            ? (plain.Remove(map.Entries[number].Key.Span.Start, map.Entries[number].Key.Span.Length).Insert(map.Entries[number].Key.Span.Start, TextEdit.Render(key, map.Entries[number].Key.Style)), null)
            : ("", Missing(root, path)),
        before => before.Within([.. path.SkipLast(1)], group => group.WithKey(path[^1], key)));

    /// <summary>The text with a new entry in a list, before the one that has this number now (from 0); at the list's count behind all. It is written in lines or in brackets as the list's first entry is.</summary>
    public static JobEdit WithEntry(string text, string list, int number, JobValue value)
    {
        string[] path = JobPath.Steps(list);
        return Changed(text, path, (plain, root) => At(root, path) is YamlList found && number >= 0 && number <= found.Items.Count
            ? (EntryEdit.Inserted(plain, found, number, value), null)
            : ("", Missing(root, [.. path, number.ToString(CultureInfo.InvariantCulture)])),
            before => before.Within(path, found => found.WithEntry(number, Plain.Of(value))));
    }

    /// <summary>The text with a list's entry moved so that it then has another number (both from 0). Blank lines and comments that belong to no entry stay where they are.</summary>
    public static JobEdit WithMoved(string text, string list, int from, int to)
    {
        string[] path = JobPath.Steps(list);
        return Changed(text, path, (plain, root) => At(root, path) is YamlList found && Has(found, from) && Has(found, to)
            ? (EntryEdit.Moved(plain, found, from, to), null)
            : ("", Missing(root, [.. path, (At(root, path) is YamlList known && Has(known, from) ? to : from).ToString(CultureInfo.InvariantCulture)])),
            before => before.Within(path, found => found.WithMoved(from, to)));
    }

    /// <summary>The comments that belong to the entry at a path, as they are written; none where nothing stands.</summary>
    public static IReadOnlyList<string> CommentsOf(string text, string path)
    {
        string plain = JobFile.WithoutByteOrderMark(text);
        var findings = new Findings();
        string[] steps = JobPath.Steps(path);
        if (YamlTree.Parse(plain, findings) is not { } root || findings.Problems.Count > 0 || Reached(root, steps) is not (var parent, _, var number)) return [];
        TextSpan extent = EntryEdit.Extent(plain, parent, number);
        return [.. EntryEdit.Comments(plain, root).Where(c => c.Start >= extent.Start && c.End <= extent.End).Select(c => plain[c.Start..c.End])];
    }

    private static bool Has(YamlList list, int number) => number >= 0 && number < list.Items.Count;

    private static Problem Missing(YamlNode root, IReadOnlyList<string> path) => new(root.Place, $"there is nothing at {Show.Name(string.Join('/', path))}", "look at what stands there now");

    private static YamlNode? At(YamlNode? node, IEnumerable<string> path) => path.Aggregate(node, (here, step) => here switch
    {
        YamlMap map => map.Entries.FirstOrDefault(e => e.Key.Text == step)?.Value,
        YamlList list when int.TryParse(step, NumberStyles.None, CultureInfo.InvariantCulture, out int number) => list.Items.ElementAtOrDefault(number),
        _ => null,
    });

    /// <summary>The list or group in which a path ends, the key that it stands behind (null for a list's entry), and the number of the entry in it.</summary>
    private static (YamlNode Parent, YamlEntry? Owner, int Number)? Reached(YamlNode root, IReadOnlyList<string> path)
    {
        string[] above = [.. path.SkipLast(1)];
        YamlNode? parent = At(root, above);
        int number = parent switch
        {
            YamlMap map => map.Entries.Select((e, k) => (e, k)).Where(p => p.e.Key.Text == path[^1]).Select(p => p.k).DefaultIfEmpty(-1).First(),
            YamlList list when int.TryParse(path[^1], NumberStyles.None, CultureInfo.InvariantCulture, out int n) && n < list.Items.Count => n,
            _ => -1,
        };
        if (parent is null || number < 0) return null;
        YamlEntry? owner = above.Length > 0 && At(root, above.SkipLast(1)) is YamlMap holder ? holder.Entries.First(e => e.Key.Text == above[^1]) : null;
        return (parent, owner, number);
    }
}
