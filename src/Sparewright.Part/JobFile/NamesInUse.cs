using Sparewright.Part.Yaml;

namespace Sparewright.Part;

/// <summary>A place of the text that uses a name.</summary>
/// <param name="Path">As <c>readings/3/outside/1</c>.</param>
/// <param name="Text">All that is written there: <c>socket.side</c>.</param>
public sealed record NameUse(string Path, string Text);

/// <summary>Where a job's text uses the names of features, and the text with a feature renamed. It works on jobs with problems too, as far as they can be read.</summary>
public static class NamesInUse
{
    /// <summary>Every place that uses an element or copy of a feature, in the order of the text.</summary>
    public static IReadOnlyList<NameUse> OfFeature(string text, string feature) =>
        Root(text, out Findings findings) is { } root ? [.. Uses(root, findings, feature).Select(u => new NameUse(u.Path, u.Text))] : [];

    /// <summary>The text with a feature renamed, and all that refers to it.</summary>
    /// <param name="path">Of the feature's own name: <c>shape/3/boss</c>.</param>
    public static JobEdit Renamed(string text, string path, string name)
    {
        JobEdit renamed = JobText.WithValue(text, path, name);
        if (renamed.Text is null || Root(text, out Findings findings) is not { } root || Written.Read(text, out _)?.At(JobPath.Steps(path)) is not Written.Value old) return renamed;
        foreach (var (place, used, segment) in Uses(root, findings, old.Text))
        {
            string[] segments = used.Split('.');
            segments[segment] = name + segments[segment][old.Text.Length..];
            renamed = JobText.WithValue(renamed.Text, place, string.Join('.', segments));
            if (renamed.Text is null) return renamed;
        }

        return renamed;
    }

    /// <summary>Every place that names an instrument, in the order of the text.</summary>
    public static IReadOnlyList<NameUse> OfInstrument(string text, string instrument)
    {
        if (Root(text, out Findings findings) is not { } root) return [];
        HashSet<(string, Place)> used = [.. findings.Instruments.Used.Select(u => (u.Name, u.Place))];
        return [.. Scalars(root, "").Where(s => s.Scalar.Text == instrument && used.Contains((s.Scalar.Text, s.Scalar.Place))).Select(s => new NameUse(s.Path, s.Scalar.Text))];
    }

    /// <summary>The text with an instrument renamed, and all readings that name it. Its figures and comments stay as they are written.</summary>
    public static JobEdit InstrumentRenamed(string text, string instrument, string name)
    {
        if (Written.Read(text, out _)?.At("instruments", name) is not null)
            return new JobEdit(null, new Problem(Place.None, $"there is an instrument {Show.Name(name)} already", "give it another name"));
        return OfInstrument(text, instrument).Aggregate(JobText.WithKey(text, ["instruments", instrument], name), (edit, use) => edit.Text is { } so ? JobText.WithValue(so, JobPath.Steps(use.Path), name) : edit);
    }

    /// <summary>Nothing but an image of several features has another feature's name behind its own.</summary>
    private static IEnumerable<(string Path, string Text, int Segment)> Uses(YamlNode root, Findings findings, string feature)
    {
        HashSet<string> images = [.. Groups(root).Where(g => g.Entries.Any(e => e is { Key.Text: "of", Value: YamlList })).SelectMany(g => g.Entries).Where(e => e.Key.Text == "mirror").Select(e => ((e.Value as YamlScalar)?.Text) ?? "")];
        HashSet<(string, Place)> used = [.. findings.Features.Used.Select(u => (u.Name, u.Place))];
        foreach (var (path, scalar) in Scalars(root, ""))
        {
            if (!used.Contains((scalar.Text, scalar.Place))) continue;
            string[] segments = scalar.Text.Split('.');
            int segment = Own(segments[0]) == feature ? 0 : segments.Length > 1 && images.Contains(Own(segments[0])) && Own(segments[1]) == feature ? 1 : -1;
            if (segment >= 0) yield return (path, scalar.Text, segment);
        }
    }

    private static string Own(string segment) => segment.Split('#')[0];

    private static YamlNode? Root(string text, out Findings findings)
    {
        findings = new Findings();
        YamlNode? root = YamlTree.Parse(JobFile.WithoutByteOrderMark(text), findings);
        _ = JobFile.Parts(root, findings);
        return root;
    }

    private static IEnumerable<YamlMap> Groups(YamlNode node) => node switch
    {
        YamlMap map => map.Entries.SelectMany(e => Groups(e.Value)).Prepend(map),
        YamlList list => list.Items.SelectMany(Groups),
        _ => [],
    };

    private static IEnumerable<(string Path, YamlScalar Scalar)> Scalars(YamlNode node, string path) => node switch
    {
        YamlScalar scalar => [(path, scalar)],
        YamlMap map => map.Entries.SelectMany(e => Scalars(e.Value, Under(path, e.Key.Text))),
        YamlList list => list.Items.SelectMany((item, k) => Scalars(item, Under(path, k.ToString(System.Globalization.CultureInfo.InvariantCulture)))),
        _ => [],
    };

    private static string Under(string path, string step) => path.Length == 0 ? JobPath.Step(step) : $"{path}/{JobPath.Step(step)}";
}
