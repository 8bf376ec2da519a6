using Sparewright.Part.Yaml;

namespace Sparewright.Part;

/// <summary>What stands in a job file, as it is written, whether or not it makes a sound job: for whoever shows the text in parts and writes parts of it back with <see cref="JobText"/>.</summary>
/// <param name="Place">Where it begins.</param>
/// <param name="Start">Its first character in the text.</param>
/// <param name="End">The character behind its last.</param>
public abstract record Written(Place Place, int Start, int End)
{
    /// <summary>A single value; empty where nothing stands behind a key.</summary>
    public sealed record Value(string Text, Place Place, int Start, int End) : Written(Place, Start, End);

    public sealed record List(IReadOnlyList<Written> Items, Place Place, int Start, int End) : Written(Place, Start, End);

    public sealed record Group(IReadOnlyList<WrittenEntry> Entries, Place Place, int Start, int End) : Written(Place, Start, End);

    /// <summary>Reads a job's text as far as its brackets and indentation go.</summary>
    /// <param name="problem">Why not even that could be read; null exactly when there is a result.</param>
    public static Written? Read(string text, out Problem? problem)
    {
        var findings = new Findings();
        YamlNode? root = YamlTree.Parse(JobFile.WithoutByteOrderMark(text), findings);
        problem = findings.Problems.FirstOrDefault();
        if (root is null && problem is null) problem = new Problem(Place.None, "the file is empty", "begin it with: sparewright: 1");
        return root is null || problem is not null ? null : Of(root);
    }

    /// <summary>What stands at a path of keys and list numbers (from 0) such as <c>shape/3/diameter</c>; null when there is nothing.</summary>
    public Written? At(params IEnumerable<string> path)
    {
        Written? here = this;
        foreach (string step in path)
            here = here switch
            {
                Group group => group.Entries.FirstOrDefault(e => e.Key == step)?.Value,
                List list when int.TryParse(step, System.Globalization.NumberStyles.None, System.Globalization.CultureInfo.InvariantCulture, out int number) => list.Items.ElementAtOrDefault(number),
                _ => null,
            };
        return here;
    }

    private static Written Of(YamlNode node) => node switch
    {
        YamlMap map => new Group([.. map.Entries.Select(e => new WrittenEntry(e.Key.Text, Of(e.Value), e.Key.Span.Start))], map.Place, map.Span.Start, map.Span.End),
        YamlList list => new List([.. list.Items.Select(Of)], list.Place, list.Span.Start, list.Span.End),
        YamlScalar scalar => new Value(scalar.Text, scalar.Place, scalar.Span.Start, scalar.Span.End),
        _ => new Value("", node.Place, node.Span.Start, node.Span.End),
    };
}

/// <summary>A key and what stands behind it.</summary>
/// <param name="KeyStart">The key's first character in the text.</param>
public sealed record WrittenEntry(string Key, Written Value, int KeyStart);
