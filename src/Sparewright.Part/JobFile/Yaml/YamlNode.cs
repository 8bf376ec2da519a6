namespace Sparewright.Part.Yaml;

/// <summary>A stretch of the job's text: from the character at Start up to, not including, the one at End.</summary>
internal readonly record struct TextSpan(int Start, int End)
{
    public int Length => End - Start;
}

/// <summary>A piece of the job's text with its place: what is left of YAML once all that a job does without is refused.</summary>
internal abstract record YamlNode(Place Place, TextSpan Span);

internal enum ScalarStyle { Plain, SingleQuoted, DoubleQuoted, Block }

/// <param name="InFlow">Written somewhere inside [ ] or { }.</param>
internal sealed record YamlScalar(string Text, ScalarStyle Style, bool InFlow, Place Place, TextSpan Span) : YamlNode(Place, Span)
{
    /// <summary>Nothing is written where a value could be.</summary>
    public bool IsNothing => Style == ScalarStyle.Plain && Text.Length == 0;

    /// <summary>The place of a character of <see cref="Text"/>, where text and source run alike; otherwise of the whole.</summary>
    public Place PlaceOf(int offset)
    {
        int quote = Style is ScalarStyle.SingleQuoted or ScalarStyle.DoubleQuoted ? 1 : 0;
        return Style != ScalarStyle.Block && Span.Length == Text.Length + 2 * quote ? new Place(Place.Line, Place.Column + quote + offset) : Place;
    }
}

internal sealed record YamlList(IReadOnlyList<YamlNode> Items, bool IsFlow, Place Place, TextSpan Span) : YamlNode(Place, Span);

internal sealed record YamlMap(IReadOnlyList<YamlEntry> Entries, bool IsFlow, Place Place, TextSpan Span) : YamlNode(Place, Span);

internal sealed record YamlEntry(YamlScalar Key, YamlNode Value);

/// <summary>Something that has been refused already; whoever meets it says no more about it.</summary>
internal sealed record YamlRefused(Place Place, TextSpan Span) : YamlNode(Place, Span);
