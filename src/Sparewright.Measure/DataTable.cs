namespace Sparewright.Measure;

/// <summary>The tables that are built into the rooms: comma-separated, their sources in the first lines behind #.</summary>
public static class DataTable
{
    /// <summary>The rows below the heading, split at commas that stand outside quotation marks.</summary>
    /// <param name="room">Any type of the room that holds the table.</param>
    public static IEnumerable<string[]> Rows(Type room, string name)
    {
        using var stream = room.Assembly.GetManifestResourceStream($"{room.Assembly.GetName().Name}.Data.{name}")
            ?? throw new InvalidOperationException($"the table {name} is not built in");
        using var reader = new StreamReader(stream);
        bool heading = true;
        while (reader.ReadLine() is { } line)
        {
            if (line.StartsWith('#') || line.Length == 0) continue;
            if (!heading) yield return Cells(line);
            heading = false;
        }
    }

    private static string[] Cells(string line)
    {
        string[] quoted = line.Split('"');
        for (int i = 1; i < quoted.Length; i += 2) quoted[i] = quoted[i].Replace(',', '\u001f');
        return [.. string.Concat(quoted).Split(',').Select(cell => cell.Replace('\u001f', ','))];
    }
}
