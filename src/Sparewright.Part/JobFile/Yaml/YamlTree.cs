using YamlDotNet.Core;
using YamlDotNet.Core.Events;

namespace Sparewright.Part.Yaml;

/// <summary>
/// Reads YAML 1.2 into a small tree with places, over the library's scanner. Whatever could make a file mean something else than
/// it seems to (anchors, tags, merge keys, duplicate keys, tabs, hidden characters) is refused.
/// </summary>
internal sealed class YamlTree
{
    public const int DeepestNesting = 32;

    private readonly string _text;
    private readonly Findings _findings;
    private readonly Parser _parser;
    private readonly Stack<(Place Place, char Bracket)> _open = new();

    private YamlTree(string text, Findings findings)
    {
        (_text, _findings) = (text, findings);
        _parser = new Parser(new Scanner(new StringReader(text), skipComments: true));
    }

    /// <summary>The tree, or null with at least one problem. The text has no byte order mark.</summary>
    public static YamlNode? Parse(string text, Findings findings)
    {
        if (!TextCheck.Passes(text, findings)) return null;
        var tree = new YamlTree(text, findings);
        try
        {
            return tree.Document();
        }
        catch (YamlException e)
        {
            if (!tree.SayUnclosed(YamlMessage.IsUnclosed(e.Message)))
                findings.Add(PlaceOf(e.Start), YamlMessage.What(e.Message), YamlMessage.Remedy(e.Message));
        }
        catch (TooDeepException e)
        {
            findings.Add(e.Place, $"this is nested deeper than {DeepestNesting} levels", "write it flatter; a job needs fewer than ten levels");
        }
        catch (Exception e) when (e is InvalidOperationException or ArgumentException or FormatException or IndexOutOfRangeException or NullReferenceException or KeyNotFoundException or OverflowException)
        {
            // The library's scanner is known to answer some malformed input with exceptions that are not its own.
            if (!tree.SayUnclosed(true))
                findings.Add(PlaceOf(tree._parser.Current?.End ?? Mark.Empty), "what follows here cannot be read as YAML", "look for an unclosed quote or bracket, or a stray sign, around here");
        }

        return null;
    }

    /// <summary>The library finds the end of the file, or the next key; the user wants to know which bracket it was.</summary>
    private bool SayUnclosed(bool unclosed)
    {
        if (!unclosed || !_open.TryPeek(out var open)) return false;
        char close = open.Bracket == '[' ? ']' : '}';
        _findings.Add(open.Place, $"this {open.Bracket} is not closed where it should be", $"close it with {close}, put a comma between its {(close == ']' ? "values" : "keys")}, or put a value with [ ] {{ }} , # : in quotes");
        return true;
    }

    private YamlNode? Document()
    {
        _parser.MoveNext(); // the stream begins
        _parser.MoveNext();
        if (_parser.Current is not DocumentStart start)
        {
            _findings.Add(new Place(1, 1), "the job file is empty", "begin it with: sparewright: 1");
            return null;
        }

        if (start.Version is not null || start.Tags is { Count: > 0 } && _text.AsSpan().TrimStart().StartsWith("%", StringComparison.Ordinal))
            _findings.Add(PlaceOf(start.Start), "a job file has no lines that begin with %", "remove that line");
        _parser.MoveNext();
        YamlNode root = Node(0, false);
        _parser.MoveNext(); // the document's end
        if (_parser.MoveNext() && _parser.Current is DocumentStart second)
            _findings.Add(PlaceOf(second.Start), "a second document begins here", "keep one job to a file: remove the line --- and what follows, or put it into a file of its own");
        return root;
    }

    /// <summary>The node at the parser's present event; afterwards the parser stands on that node's last event.</summary>
    private YamlNode Node(int depth, bool inFlow)
    {
        ParsingEvent here = _parser.Current ?? throw new InvalidOperationException("no event");
        if (depth >= DeepestNesting && here is not Scalar) throw new TooDeepException(PlaceOf(here.Start));
        if (here is NodeEvent { Anchor.IsEmpty: false } anchored)
            _findings.Add(PlaceOf(here.Start), $"anchors (&{Show.Clip(anchored.Anchor.Value)}) are not used in a job file", "write the value out where it is wanted");
        if (here is NodeEvent { Tag.IsEmpty: false } tagged)
            _findings.Add(PlaceOf(here.Start), $"tags ({Show.Clip(tagged.Tag.IsNonSpecific ? "!" : tagged.Tag.Value)}) are not used in a job file", "remove the tag; quotes make a text of anything");
        switch (here)
        {
            case Scalar scalar:
                return Leaf(scalar, inFlow);
            case SequenceStart list:
                return List(list, depth, inFlow);
            case MappingStart map:
                return Map(map, depth, inFlow);
            case AnchorAlias alias:
                _findings.Add(PlaceOf(here.Start), $"references (*{Show.Clip(alias.Value.Value)}) are not used in a job file", "write the value out where it is wanted");
                return new YamlRefused(PlaceOf(here.Start), SpanOf(here));
            default:
                throw new InvalidOperationException("unexpected event");
        }
    }

    private YamlScalar Leaf(Scalar scalar, bool inFlow)
    {
        ScalarStyle style = scalar.Style switch
        {
            YamlDotNet.Core.ScalarStyle.SingleQuoted => ScalarStyle.SingleQuoted,
            YamlDotNet.Core.ScalarStyle.DoubleQuoted => ScalarStyle.DoubleQuoted,
            YamlDotNet.Core.ScalarStyle.Literal or YamlDotNet.Core.ScalarStyle.Folded => ScalarStyle.Block,
            _ => ScalarStyle.Plain,
        };
        TextSpan span = SpanOf(scalar);
        // A block text's span runs to the next key; what belongs to it ends with its last written line.
        if (style == ScalarStyle.Block)
            span = new TextSpan(span.Start, span.Start + _text.AsSpan(span.Start, span.Length).TrimEnd().Length);
        return new YamlScalar(scalar.Value, style, inFlow, PlaceOf(scalar.Start), span);
    }

    private YamlList List(SequenceStart start, int depth, bool inFlow)
    {
        bool isFlow = start.Style == YamlDotNet.Core.Events.SequenceStyle.Flow;
        var items = new List<YamlNode>();
        if (isFlow) _open.Push((PlaceOf(start.Start), '['));
        while (_parser.MoveNext() && _parser.Current is not SequenceEnd)
        {
            YamlNode item = Node(depth + 1, inFlow || isFlow);
            if (isFlow && item is YamlMap { IsFlow: true } && At(item.Span.Start) != '{')
            {
                _findings.Add(item.Place, "a key stands in [ ] without braces", "write it as {key: value}");
                item = new YamlRefused(item.Place, item.Span);
            }

            items.Add(item);
        }

        if (isFlow) _open.Pop();
        return new YamlList(items, isFlow, PlaceOf(start.Start), new TextSpan(SpanOf(start).Start, EndOf(isFlow, start, items.Count > 0 ? items[^1] : null)));
    }

    private YamlMap Map(MappingStart start, int depth, bool inFlow)
    {
        bool isFlow = start.Style == YamlDotNet.Core.Events.MappingStyle.Flow;
        var entries = new List<YamlEntry>();
        if (isFlow) _open.Push((PlaceOf(start.Start), '{'));
        var known = new Dictionary<string, Place>(StringComparer.Ordinal);
        while (_parser.MoveNext() && _parser.Current is not MappingEnd)
        {
            YamlNode key = Node(depth + 1, inFlow || isFlow);
            if (!_parser.MoveNext()) throw new InvalidOperationException("a key without its value");
            YamlNode value = Node(depth + 1, inFlow || isFlow);
            if (key is not YamlScalar { Style: not ScalarStyle.Block } name)
            {
                if (key is not YamlRefused) _findings.Add(key.Place, "a key must be a plain word", "write the key as a name followed by a colon");
            }
            else if (name is { Text: "<<", Style: ScalarStyle.Plain })
            {
                _findings.Add(name.Place, "merge keys (<<) are not used in a job file", "write the keys out where they are wanted");
            }
            else if (!known.TryAdd(name.Text, name.Place))
            {
                _findings.Add(name.Place, $"the key {Show.Name(name.Text)} is there twice; the first is in line {known[name.Text].Line}", "remove one of them");
            }
            else
            {
                entries.Add(new YamlEntry(name, value));
            }
        }

        if (isFlow) _open.Pop();
        return new YamlMap(entries, isFlow, PlaceOf(start.Start), new TextSpan(SpanOf(start).Start, EndOf(isFlow, start, entries.Count > 0 ? entries[^1].Value : null)));
    }

    private int EndOf(bool isFlow, ParsingEvent start, YamlNode? last)
    {
        if (isFlow && _parser.Current is { } end)
        {
            int at = SpanOf(end).Start;
            return At(at) is ']' or '}' ? at + 1 : at;
        }

        return last?.Span.End ?? SpanOf(start).End;
    }

    private char At(int index) => index < _text.Length ? _text[index] : '\0';

    private TextSpan SpanOf(ParsingEvent e)
    {
        int start = (int)Math.Clamp(e.Start.Index, 0, _text.Length);
        return new TextSpan(start, (int)Math.Clamp(e.End.Index, start, _text.Length));
    }

    private static Place PlaceOf(Mark mark) => new(Math.Max(1, (int)mark.Line), Math.Max(1, (int)mark.Column));

    private sealed class TooDeepException(Place place) : Exception
    {
        public Place Place => place;
    }
}
