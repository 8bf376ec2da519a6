using System.Globalization;
using Sparewright.Part.Yaml;

namespace Sparewright.Part;

/// <summary>Something to write into a job file.</summary>
public abstract record JobValue
{
    /// <summary>A number, name, expression or text, as it is to be read.</summary>
    public sealed record Text(string Written) : JobValue;

    public sealed record List(IReadOnlyList<JobValue> Items) : JobValue;

    /// <summary>Keys with their values, in order.</summary>
    public sealed record Group(IReadOnlyList<(string Key, JobValue Value)> Entries) : JobValue;

    public static implicit operator JobValue(string written) => new Text(written);
}

/// <summary>The changed text, or why it could not be changed.</summary>
/// <param name="Text">Null exactly when there is a problem.</param>
public sealed record JobEdit(string? Text, Problem? Problem);

/// <summary>Changes one place in the text of a job file and nothing else: comments, order, blanks, quotes and line ends stay as they are.</summary>
public static partial class JobText
{
    /// <summary>The step of a path that stands for a new entry at the end of a list.</summary>
    public const string NewEntry = "+";

    /// <summary>The text with another value at a path such as <c>sizes/bore_d/about</c> or <c>readings/3/reads</c> (list entries count from 0; <c>readings/+</c> is a new one).</summary>
    public static JobEdit WithValue(string text, string path, JobValue value) => WithValue(text, JobPath.Steps(path), value);

    /// <summary>
    /// The text with another value at a path of keys and list numbers. A new key goes where the reference has it in its group, behind the nearest one before it that is there;
    /// a new name or entry goes to the end of its group or list.
    /// </summary>
    public static JobEdit WithValue(string text, IReadOnlyList<string> path, JobValue value)
    {
        int place = 0;
        return Changed(text, path, (plain, root) =>
        {
            place = KeyOrder.PlaceOf(root, path);
            var edit = new TextEdit(plain);
            Problem? problem = edit.Change(root, path, value, place);
            return (edit.Result, problem);
        }, before => before.With(path, 0, Plain.Of(value), place));
    }

    /// <summary>Makes a change and proves it: the changed text, read afresh, is the old tree with that one change.</summary>
    private static JobEdit Changed(string text, IReadOnlyList<string> path, Func<string, YamlNode, (string Result, Problem? Problem)> change, Func<Plain, Plain> wanted)
    {
        string mark = text.StartsWith('\ufeff') ? "\ufeff" : "";
        string plain = text[mark.Length..];
        var findings = new Findings();
        YamlNode? root = YamlTree.Parse(plain, findings);
        if (root is null || findings.Problems.Count > 0) return new JobEdit(null, findings.Problems[0]);

        var (result, problem) = change(plain, root);
        if (problem is not null) return new JobEdit(null, problem);

        var after = new Findings();
        YamlNode? changed = YamlTree.Parse(result, after);
        return changed is not null && after.Problems.Count == 0 && wanted(Plain.Of(root)).Same(Plain.Of(changed))
            ? new JobEdit(mark + result, null)
            : new JobEdit(null, new Problem(root.Place, $"{Show.Name(string.Join('/', path))} cannot be changed where it stands", "change it in the file by hand"));
    }
}

/// <summary>One change to a text.</summary>
internal sealed class TextEdit(string text)
{
    public string Result { get; private set; } = "";

    /// <summary>Null when it is done.</summary>
    /// <param name="place">The number that a new key gets in its group.</param>
    public Problem? Change(YamlNode root, IReadOnlyList<string> path, JobValue value, int place)
    {
        YamlNode here = root;
        YamlEntry? entry = null;
        for (int k = 0; k < path.Count; k++)
        {
            JobValue rest = Nested(path, k + 1, value);
            switch (here)
            {
                case YamlMap map:
                    entry = map.Entries.FirstOrDefault(e => e.Key.Text == path[k]);
                    if (entry is null) return Added(EntryEdit.Inserted(text, map, place, path[k], rest));
                    here = entry.Value;
                    break;
                case YamlList list:
                    int number = path[k] == JobText.NewEntry ? list.Items.Count : int.TryParse(path[k], NumberStyles.None, CultureInfo.InvariantCulture, out int n) ? n : -1;
                    if (number == list.Items.Count) return Added(EntryEdit.Inserted(text, list, number, rest));
                    if (number < 0 || number > list.Items.Count)
                        return new Problem(list.Place, $"this list has no entry {Show.Name(path[k])}", $"it has {list.Items.Count} entries, counted from 0");
                    here = list.Items[number];
                    entry = null;
                    break;
                case YamlScalar { IsNothing: true } when entry is not null:
                    JobValue missing = Nested(path, k, value);
                    return Write(entry, missing);
                default:
                    return new Problem(here.Place, $"there is nothing called {Show.Name(path[k])} in a single value", "write a group of keys there first");
            }
        }

        if (here is YamlScalar { IsNothing: true } && entry is not null) return Write(entry, value);
        Replace(here.Span, Render(value, here as YamlScalar));
        return null;
    }

    private static JobValue Nested(IReadOnlyList<string> path, int from, JobValue value)
    {
        for (int k = path.Count - 1; k >= from; k--)
            value = path[k] is JobText.NewEntry or "0" ? new JobValue.List([value]) : new JobValue.Group([(path[k], value)]);
        return value;
    }

    /// <summary>Behind a key that has no value yet.</summary>
    private Problem? Write(YamlEntry entry, JobValue value)
    {
        int end = EndOf(entry);
        bool colon = text[end - 1] == ':' && end > entry.Key.Span.End;
        Replace(new TextSpan(end, end), (colon ? " " : ": ") + Render(value));
        return null;
    }

    private Problem? Added(string result)
    {
        Result = result;
        return null;
    }

    private int EndOf(YamlEntry entry) => EndOf(text, entry);

    /// <summary>Where a node's own writing ends; a value that is not there ends with its key's colon.</summary>
    internal static int EndOf(string text, YamlNode node) => node switch
    {
        YamlMap { IsFlow: false, Entries.Count: > 0 } map => EndOf(text, map.Entries[^1]),
        YamlList { IsFlow: false, Items.Count: > 0 } list => EndOf(text, list.Items[^1]),
        _ => node.Span.End,
    };

    internal static int EndOf(string text, YamlEntry entry)
    {
        if (entry.Value is not YamlScalar { IsNothing: true }) return EndOf(text, entry.Value);
        int at = entry.Key.Span.End;
        while (at < text.Length && text[at] is ' ' or '\t') at++;
        return at < text.Length && text[at] == ':' ? at + 1 : entry.Key.Span.End;
    }

    private void Replace(TextSpan span, string by) => Result = string.Concat(text.AsSpan(0, span.Start), by, text.AsSpan(span.End));

    internal static string Render(JobValue value, YamlScalar? old = null) => value switch
    {
        JobValue.Text t => Render(t.Written, old?.Style ?? ScalarStyle.Plain),
        JobValue.List list => $"[{string.Join(", ", list.Items.Select(i => Render(i)))}]",
        JobValue.Group group => $"{{{string.Join(", ", group.Entries.Select(e => $"{Render(e.Key)}: {Render(e.Value)}"))}}}",
        _ => throw new InvalidOperationException("unknown value"),
    };

    internal static string Render(string written, ScalarStyle style = ScalarStyle.Plain)
    {
        bool printable = written.All(c => c >= ' ' && c is not ((>= '\u007f' and <= '\u009f') or '\u2028' or '\u2029' or '\ufeff'));
        if (style == ScalarStyle.SingleQuoted && printable) return $"'{written.Replace("'", "''", StringComparison.Ordinal)}'";
        return style is ScalarStyle.Plain or ScalarStyle.Block && printable && IsPlain(written) ? written : Quoted(written);
    }

    /// <summary>Whether a text is itself again when it is written without quotes, inside brackets too.</summary>
    private static bool IsPlain(string written) =>
        written.Length > 0 && written.AsSpan().Trim().Length == written.Length
        && written is not ("~" or "null" or "Null" or "NULL" or "<<" or "-" or "?" or ":" or "=")
        && !"?:,[]{}#&*!|>'\"%@`".Contains(written[0], StringComparison.Ordinal)
        && !(written[0] == '-' && (written.Length == 1 || written[1] is ' ' or '-' or ','))
        && !written.StartsWith("...", StringComparison.Ordinal)
        && written.AsSpan().IndexOfAny("[]{},") < 0
        && !written.Contains(": ", StringComparison.Ordinal) && !written.Contains(" #", StringComparison.Ordinal) && !written.EndsWith(':');

    private static string Quoted(string written)
    {
        var quoted = new System.Text.StringBuilder("\"");
        foreach (char c in written)
        {
            quoted.Append(c switch
            {
                '"' => "\\\"",
                '\\' => "\\\\",
                '\n' => "\\n",
                '\t' => "\\t",
                '\r' => "\\r",
                < ' ' or (>= '\u007f' and <= '\u009f') or '\u2028' or '\u2029' or '\ufeff' => $"\\u{(int)c:x4}",
                _ => c.ToString(),
            });
        }

        return quoted.Append('"').ToString();
    }
}

/// <summary>What a tree says, without how and where it is written: to compare before and after.</summary>
internal abstract record Plain
{
    private sealed record Leaf(string Text) : Plain;

    private sealed record Items(IReadOnlyList<Plain> All) : Plain;

    private sealed record Keys(IReadOnlyList<(string Key, Plain Value)> All) : Plain;

    public static Plain Of(YamlNode node) => node switch
    {
        // The line end behind a block text is part of it or not as the file ends; it means nothing.
        YamlScalar s => new Leaf(s.Style == ScalarStyle.Block ? s.Text.TrimEnd('\r', '\n') : s.Text),
        YamlList l => new Items([.. l.Items.Select(Of)]),
        YamlMap m => new Keys([.. m.Entries.Select(e => (e.Key.Text, Of(e.Value)))]),
        _ => new Leaf(""),
    };

    public static Plain Of(JobValue value) => value switch
    {
        JobValue.Text t => new Leaf(t.Written),
        JobValue.List l => new Items([.. l.Items.Select(Of)]),
        JobValue.Group g => new Keys([.. g.Entries.Select(e => (e.Key, Of(e.Value)))]),
        _ => throw new InvalidOperationException("unknown value"),
    };

    /// <summary>This with another value at a path, of which what is missing is made.</summary>
    /// <param name="place">The number that a new key gets in its group.</param>
    public Plain With(IReadOnlyList<string> path, int from, Plain value, int place)
    {
        if (from == path.Count) return value;
        string step = path[from];
        switch (this)
        {
            case Items items:
                int number = step == JobText.NewEntry ? items.All.Count : int.Parse(step, CultureInfo.InvariantCulture);
                return number == items.All.Count
                    ? new Items([.. items.All, Nothing.With(path, from + 1, value, place)])
                    : new Items([.. items.All.Select((item, k) => k == number ? item.With(path, from + 1, value, place) : item)]);
            case Keys keys:
                return keys.All.Any(e => e.Key == step)
                    ? new Keys([.. keys.All.Select(e => e.Key == step ? (e.Key, e.Value.With(path, from + 1, value, place)) : e)])
                    : new Keys([.. keys.All.Take(place), (step, Nothing.With(path, from + 1, value, place)), .. keys.All.Skip(place)]);
            default:
                Plain rest = Nothing.With(path, from + 1, value, place);
                return step is JobText.NewEntry or "0" ? new Items([rest]) : new Keys([(step, rest)]);
        }
    }

    /// <summary>This with something done to the list or group that a path leads to.</summary>
    public Plain Within(IReadOnlyList<string> path, Func<Plain, Plain> change)
    {
        if (path.Count == 0) return change(this);
        IReadOnlyList<string> rest = [.. path.Skip(1)];
        return this switch
        {
            Items items => new Items([.. items.All.Select((item, k) => k.ToString(CultureInfo.InvariantCulture) == path[0] ? item.Within(rest, change) : item)]),
            Keys keys => new Keys([.. keys.All.Select(e => e.Key == path[0] ? (e.Key, e.Value.Within(rest, change)) : e)]),
            _ => this,
        };
    }

    /// <summary>This list or group without one entry.</summary>
    public Plain Without(string step) => this switch
    {
        Items items => new Items([.. items.All.Where((_, k) => k.ToString(CultureInfo.InvariantCulture) != step)]),
        Keys keys => new Keys([.. keys.All.Where(e => e.Key != step)]),
        _ => this,
    };

    /// <summary>This group with another key for one of its entries.</summary>
    public Plain WithKey(string old, string key) => this is Keys keys ? new Keys([.. keys.All.Select(e => e.Key == old ? (key, e.Value) : e)]) : this;

    /// <summary>This list with one entry more.</summary>
    public Plain WithEntry(int at, Plain value) => this is Items items ? new Items([.. items.All.Take(at), value, .. items.All.Skip(at)]) : this;

    /// <summary>This list with one entry elsewhere.</summary>
    public Plain WithMoved(int from, int to) => this is Items items ? Without(from.ToString(CultureInfo.InvariantCulture)).WithEntry(to, items.All[from]) : this;

    private static Plain Nothing => new Leaf("");

    public bool Same(Plain other) => (this, other) switch
    {
        (Leaf a, Leaf b) => a.Text == b.Text,
        (Items a, Items b) => a.All.Count == b.All.Count && a.All.Zip(b.All).All(p => p.First.Same(p.Second)),
        (Keys a, Keys b) => a.All.Count == b.All.Count && a.All.Zip(b.All).All(p => p.First.Key == p.Second.Key && p.First.Value.Same(p.Second.Value)),
        _ => false,
    };
}
