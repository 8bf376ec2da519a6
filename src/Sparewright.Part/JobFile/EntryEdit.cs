using Sparewright.Part.Yaml;

namespace Sparewright.Part;

/// <summary>Where the entries of a list or group stand in the text, with all that belongs to them, and the text with one of them gone, new or elsewhere.</summary>
internal static class EntryEdit
{
    /// <param name="Start">The entry's dash or key.</param>
    /// <param name="End">Behind its value.</param>
    private readonly record struct Entry(int Start, int End);

    public static string Removed(string text, YamlNode parent, YamlEntry? owner, int number)
    {
        Entry[] entries = Entries(text, parent);
        if (IsFlow(parent)) return Without(text, FlowPieces(text, parent, entries, number));

        Entry entry = entries[number];
        TextSpan extent = Lines(text, entries, number);
        bool ownLine = HasOwnLine(text, entry.Start);
        if (entries.Length == 1)
        {
            string empty = parent is YamlList ? "[]" : "{}";
            if (!ownLine || owner is null) return string.Concat(text.AsSpan(0, ownLine ? LineStart(text, extent.Start) : entry.Start), ownLine ? new string(' ', Column(text, entry.Start)) : "", empty, text.AsSpan(extent.End));
            int colon = TextEdit.EndOf(text, owner with { Value = Nothing(owner.Key) });
            return string.Concat(text.AsSpan(0, colon), " " + empty, text.AsSpan(colon, WholeLines(text, extent).Start - colon), text.AsSpan(WholeLines(text, extent).End));
        }

        if (ownLine) return Without(text, [WholeLines(text, extent)]);
        // The entry shares its line with the dash before it: the next one comes up, unless a comment stands between.
        int next = entries[number + 1].Start;
        return text.AsSpan(extent.End, next - extent.End).IsWhiteSpace()
            ? Without(text, [new TextSpan(entry.Start, next)])
            : Without(text, [new TextSpan(text.AsSpan(0, entry.Start).TrimEnd(' ').Length, extent.End)]);
    }

    public static string Inserted(string text, YamlList list, int number, JobValue value)
    {
        Entry[] entries = Entries(text, list);
        if (list.IsFlow) return InBrackets(text, list, entries, number, TextEdit.Render(value));

        int column = Column(text, entries[0].Start);
        string lineEnd = LineEndOf(text, entries[0].Start);
        string entry = "- " + (list.Items[0] is YamlMap { IsFlow: false } && value is JobValue.Group { Entries.Count: > 0 } group
            ? string.Join(lineEnd + new string(' ', column + 2), group.Entries.Select(e => $"{TextEdit.Render(e.Key)}: {TextEdit.Render(e.Value)}"))
            : TextEdit.Render(value));
        string indent = new(' ', column);
        if (number == entries.Length) return text.Insert(Lines(text, entries, number - 1).End, lineEnd + indent + entry);
        int at = Lines(text, entries, number).Start;
        return HasOwnLine(text, entries[number].Start) ? text.Insert(LineStart(text, at), indent + entry + lineEnd) : text.Insert(at, entry + lineEnd + indent);
    }

    public static string Inserted(string text, YamlMap map, int number, string key, JobValue value)
    {
        Entry[] entries = Entries(text, map);
        string entry = $"{TextEdit.Render(key)}: {TextEdit.Render(value)}";
        if (map.IsFlow) return InBrackets(text, map, entries, number, entry);
        string lineEnd = LineEndOf(text, entries[0].Start), indent = new(' ', Column(text, entries[0].Start));
        // Close behind the one before it: what stands above the next one may be the head of a whole section.
        if (number > 0) return text.Insert(Lines(text, entries, number - 1).End, lineEnd + indent + entry);
        int at = Lines(text, entries, 0).Start;
        return HasOwnLine(text, entries[0].Start) ? text.Insert(LineStart(text, at), indent + entry + lineEnd) : text.Insert(at, entry + lineEnd + indent);
    }

    private static string InBrackets(string text, YamlNode parent, Entry[] entries, int number, string written) =>
        number < entries.Length ? text.Insert(entries[number].Start, written + ", ")
        : entries.Length > 0 ? text.Insert(entries[^1].End, ", " + written)
        : text.Insert(parent.Span.Start + 1, written);

    public static string Moved(string text, YamlList list, int from, int to)
    {
        Entry[] entries = Entries(text, list);
        TextSpan[] slots = [.. entries.Select((entry, k) => list.IsFlow ? new TextSpan(entry.Start, entry.End) : Lines(text, entries, k))];
        bool firstShares = !list.IsFlow && !HasOwnLine(text, entries[0].Start);
        if (!list.IsFlow) slots = [.. slots.Select((slot, k) => k == 0 && firstShares ? slot : new TextSpan(LineStart(text, slot.Start), slot.End))];
        List<string> pieces = [.. slots.Select(slot => text[slot.Start..slot.End])];
        if (firstShares) pieces[0] = new string(' ', Column(text, entries[0].Start)) + pieces[0];
        string moved = pieces[from];
        pieces.RemoveAt(from);
        pieces.Insert(to, moved);
        if (firstShares) pieces[0] = pieces[0].TrimStart(' ');

        var result = new System.Text.StringBuilder();
        int at = 0;
        for (int k = 0; k < slots.Length; k++)
        {
            result.Append(text, at, slots[k].Start - at).Append(pieces[k]);
            at = slots[k].End;
        }

        return result.Append(text, at, text.Length - at).ToString();
    }

    /// <summary>An entry with all that belongs to it.</summary>
    public static TextSpan Extent(string text, YamlNode parent, int number)
    {
        Entry[] entries = Entries(text, parent);
        return IsFlow(parent) ? new TextSpan(entries[number].Start, entries[number].End) : Lines(text, entries, number);
    }

    /// <summary>Every comment, from its # to the end of its line.</summary>
    public static IReadOnlyList<TextSpan> Comments(string text, YamlNode root)
    {
        var comments = new List<TextSpan>();
        int at = 0;
        foreach (YamlScalar scalar in Scalars(root).Where(s => s.Span.Length > 0).OrderBy(s => s.Span.Start))
        {
            AddComments(text, at, scalar.Span.Start, comments);
            // Behind the sign that opens a block text there may be a comment.
            if (scalar.Style == ScalarStyle.Block) AddComments(text, scalar.Span.Start, Math.Min(LineEnd(text, scalar.Span.Start), scalar.Span.End), comments);
            at = scalar.Span.End;
        }

        AddComments(text, at, text.Length, comments);
        return comments;
    }

    private static void AddComments(string text, int from, int to, List<TextSpan> comments)
    {
        for (int k = from; k < to; k++)
        {
            if (text[k] != '#' || (k > 0 && text[k - 1] is not (' ' or '\t' or '\n' or '\r'))) continue;
            int end = LineEnd(text, k);
            comments.Add(new TextSpan(k, end));
            k = end;
        }
    }

    private static IEnumerable<YamlScalar> Scalars(YamlNode node) => node switch
    {
        YamlScalar scalar => [scalar],
        YamlList list => list.Items.SelectMany(Scalars),
        YamlMap map => map.Entries.SelectMany(e => Scalars(e.Value).Prepend(e.Key)),
        _ => [],
    };

    private static bool IsFlow(YamlNode parent) => parent is YamlList { IsFlow: true } or YamlMap { IsFlow: true };

    private static YamlScalar Nothing(YamlScalar at) => new("", ScalarStyle.Plain, false, at.Place, new TextSpan(at.Span.End, at.Span.End));

    private static Entry[] Entries(string text, YamlNode parent)
    {
        if (parent is YamlMap map) return [.. map.Entries.Select(e => new Entry(e.Key.Span.Start, TextEdit.EndOf(text, e)))];
        var list = (YamlList)parent;
        var entries = new Entry[list.Items.Count];
        int at = list.Span.Start;
        for (int k = 0; k < entries.Length; k++)
        {
            int start = list.IsFlow ? list.Items[k].Span.Start : Dash(text, at);
            at = Math.Max(start + (list.IsFlow ? 0 : 1), TextEdit.EndOf(text, list.Items[k]));
            entries[k] = new Entry(start, at);
        }

        return entries;
    }

    /// <summary>The next dash, over blanks and comments.</summary>
    private static int Dash(string text, int at)
    {
        while (at < text.Length && text[at] != '-')
            at = text[at] == '#' ? LineEnd(text, at) : at + 1;
        return at;
    }

    /// <summary>From the first comment line that belongs to an entry (or from the entry itself) to the end of the last line that does.</summary>
    private static TextSpan Lines(string text, Entry[] entries, int number)
    {
        int column = Column(text, entries[number].Start);
        int start = entries[number].Start;
        if (HasOwnLine(text, start))
        {
            int floor = number > 0 ? Below(text, entries[number - 1].End, column) : 0;
            int line = LineStart(text, start);
            while (line > floor && LineStart(text, line - 1) is var above && above >= floor && IsComment(text, above, out int indent) && indent >= column) line = above;
            if (line < LineStart(text, start)) start = line + text.AsSpan(line).IndexOf('#');
        }

        return new TextSpan(start, Below(text, entries[number].End, column));
    }

    /// <summary>The end of the line in which an entry ends, or of the last comment line below it that is indented deeper.</summary>
    private static int Below(string text, int entryEnd, int column)
    {
        int end = LineEnd(text, entryEnd);
        for (int line = NextLine(text, end); line < text.Length; line = NextLine(text, LineEnd(text, line)))
        {
            if (IsComment(text, line, out int indent))
            {
                if (indent <= column) break;
                end = LineEnd(text, line);
            }
            else if (!text.AsSpan(line, LineEnd(text, line) - line).IsWhiteSpace())
            {
                break;
            }
        }

        return end;
    }

    /// <summary>What to delete of a list or group in brackets.</summary>
    private static List<TextSpan> FlowPieces(string text, YamlNode parent, Entry[] entries, int number)
    {
        Entry entry = entries[number];
        int close = parent.Span.End - 1;
        int after = number + 1 < entries.Length ? entries[number + 1].Start : close;
        var pieces = new List<TextSpan> { new(entry.Start, entry.End) };
        if (Comma(text, entry.End, after) is { } comma && (number + 1 < entries.Length || entries.Length == 1))
        {
            pieces.Add(new TextSpan(comma, comma + 1));
            if (text.AsSpan(comma + 1, after - comma - 1).Trim(' ').IsEmpty) pieces.Add(new TextSpan(comma + 1, after));
        }
        else if (number > 0 && Comma(text, entries[number - 1].End, entry.Start) is { } before)
        {
            pieces.Add(new TextSpan(before, before + 1));
            if (text.AsSpan(before + 1, entry.Start - before - 1).Trim(' ').IsEmpty) pieces.Add(new TextSpan(before + 1, entry.Start));
        }

        return pieces;
    }

    private static int? Comma(string text, int from, int to)
    {
        for (int k = from; k < to; k++)
        {
            if (text[k] == ',') return k;
            if (text[k] == '#') k = LineEnd(text, k);
        }

        return null;
    }

    private static string Without(string text, IEnumerable<TextSpan> pieces) =>
        pieces.OrderByDescending(p => p.Start).Aggregate(text, (all, piece) => all.Remove(piece.Start, piece.Length));

    /// <summary>The lines of an extent with the line end behind them.</summary>
    private static TextSpan WholeLines(string text, TextSpan extent) => new(LineStart(text, extent.Start), NextLine(text, extent.End));

    private static bool IsComment(string text, int line, out int indent)
    {
        indent = 0;
        while (line + indent < text.Length && text[line + indent] == ' ') indent++;
        return line + indent < text.Length && text[line + indent] == '#';
    }

    private static bool HasOwnLine(string text, int at) => text.AsSpan(LineStart(text, at), at - LineStart(text, at)).Trim(' ').IsEmpty;

    private static int Column(string text, int at) => at - LineStart(text, at);

    private static int LineStart(string text, int at) => at == 0 ? 0 : text.LastIndexOf('\n', at - 1) + 1;

    /// <summary>Before the line end.</summary>
    private static int LineEnd(string text, int at)
    {
        int end = text.IndexOf('\n', at);
        if (end < 0) return text.Length;
        return end > at && text[end - 1] == '\r' ? end - 1 : end;
    }

    private static int NextLine(string text, int lineEnd)
    {
        int end = text.IndexOf('\n', lineEnd);
        return end < 0 ? text.Length : end + 1;
    }

    private static string LineEndOf(string text, int at)
    {
        int end = text.IndexOf('\n', at);
        if (end < 0) end = text.IndexOf('\n', StringComparison.Ordinal);
        return end > 0 && text[end - 1] == '\r' ? "\r\n" : "\n";
    }
}
