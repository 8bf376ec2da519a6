namespace Sparewright.Part.Yaml;

/// <summary>What the YAML library says, turned into what the user can do about it.</summary>
internal static class YamlMessage
{
    private static readonly (string Theirs, string What, string Remedy)[] Known =
    [
        ("mapping values are not allowed", "a colon with a blank behind it stands inside a value", "put the value in quotes, or check the indentation of this line and the one before"),
        ("invalid mapping", "a colon with a blank behind it stands inside a value", "put the value in quotes, or check the indentation of this line and the one before"),
        ("tab character", "a tab stands where only blanks may", "indent with blanks"),
        ("unexpected end of stream", "an opening quote is not closed", "close it with the same quote"),
        ("wrong indentation", "an opening quote is not closed", "close it with the same quote"),
        ("unexpected document indicator", "an opening quote is not closed", "close it with the same quote"),
        ("cannot start any token", "this sign cannot begin a value", "put the value in quotes"),
        ("did not find expected node content", "a value is missing between two commas or brackets", "write the value, or remove one comma"),
        ("sequence entries are not allowed", "a list item (-) stands where none can begin", "begin the list on a line of its own"),
        ("did not find expected '-' indicator", "this line does not line up with the list above it", "indent it like the lines that it belongs to, and begin each list item with - and a blank"),
        ("did not find expected key", "this line does not line up with the keys above it", "indent it like the keys that it belongs to"),
        ("could not find expected ':'", "a line without a colon stands among keys", "write it as key: value"),
        ("escape", "an unknown backslash sign stands inside double quotes", "write \\\\ for a backslash, or use single quotes"),
        ("undefined tag handle", "tags (!) are not used in a job file", "remove the tag; quotes make a text of anything"),
        ("anchor", "anchors and references (& and *) are not used in a job file", "write the value out, or put a text that begins with & or * in quotes"),
        ("directive", "a job file has no lines that begin with %", "remove that line"),
        ("expected <document start>", "something stands before or behind the job where nothing can", "keep everything under the keys of one job"),
    ];

    public static bool IsUnclosed(string theirs) => theirs.Contains("expected ',' or", StringComparison.Ordinal);

    public static string What(string theirs) => Find(theirs)?.What ?? "this cannot be read as YAML";

    public static string Remedy(string theirs) =>
        Find(theirs)?.Remedy ?? "look for an unclosed quote or bracket, or a wrong indentation, around here";

    private static (string Theirs, string What, string Remedy)? Find(string theirs)
    {
        foreach (var known in Known)
            if (theirs.Contains(known.Theirs, StringComparison.OrdinalIgnoreCase)) return known;
        return null;
    }
}
