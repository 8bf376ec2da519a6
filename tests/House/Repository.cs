namespace Sparewright.House;

/// <summary>A text file of the repository, its path relative to the root with forward slashes.</summary>
public sealed record TextFile(string Path, string Text)
{
    public string[] Lines => Text.Split('\n');

    public bool IsIn(params string[] folders) => folders.Any(folder => Path.StartsWith(folder + "/", StringComparison.Ordinal));

    public bool EndsIn(params string[] endings) => endings.Any(ending => Path.EndsWith(ending, StringComparison.Ordinal));
}

/// <summary>The repository's own text files; what was built or made from them is left out.</summary>
public static class Repository
{
    private static readonly string[] Made = ["bin", "obj", "build", "out", ".git", ".vs", "node_modules", "TestResults", "BenchmarkDotNet.Artifacts"];

    /// <summary>What scripts/browser bundles for browsers.</summary>
    private static readonly string[] Bundled = ["src/Sparewright.Web/wwwroot/browser", "src/Sparewright.Web/wwwroot/fonts"];

    public static string Root { get; } = FindRoot(AppContext.BaseDirectory);

    public static IReadOnlyList<TextFile> Files { get; } = [.. Read(new DirectoryInfo(Root))];

    /// <summary>True when a file or folder stands at this path from the root.</summary>
    public static bool Has(string path) => Path.Exists(Path.Combine(Root, path));

    private static string FindRoot(string from)
    {
        for (var folder = new DirectoryInfo(from); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Sparewright.slnx")))
                return folder.FullName;
        throw new InvalidOperationException($"no Sparewright.slnx above {from}");
    }

    private static IEnumerable<TextFile> Read(DirectoryInfo folder)
    {
        foreach (var file in folder.EnumerateFiles())
        {
            string text = File.ReadAllText(file.FullName);
            if (!text.Contains('\0'))
                yield return new TextFile(Path.GetRelativePath(Root, file.FullName).Replace('\\', '/'), text);
        }
        foreach (var below in folder.EnumerateDirectories().Where(below => !Made.Contains(below.Name) && !Bundled.Contains(Path.GetRelativePath(Root, below.FullName).Replace('\\', '/'))))
            foreach (var file in Read(below))
                yield return file;
    }
}
