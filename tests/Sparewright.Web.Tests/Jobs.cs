using Sparewright.Part.Record;
using Sparewright.Remake.Start;

namespace Sparewright.Web.Tests;

/// <summary>The texts that tests work on: both examples, and every starting pattern.</summary>
internal static class Jobs
{
    public static string Root { get; } = FindRoot();

    public static IReadOnlyDictionary<string, string> Examples { get; } =
        Directory.GetDirectories(Path.Combine(Root, "examples")).Order(StringComparer.Ordinal).ToDictionary(d => Path.GetFileName(d), d => File.ReadAllText(Path.Combine(d, "job.yaml")));

    public static IReadOnlyDictionary<string, string> Starts { get; } =
        StartingPattern.All.ToDictionary(p => p.Name, p => new NewJob("A part", null, MadeBy.Unknown, null, null, null, p).Text());

    public static IReadOnlyDictionary<string, string> All { get; } = Examples.Concat(Starts).ToDictionary(p => p.Key, p => p.Value);

    private static string FindRoot()
    {
        string? folder = AppContext.BaseDirectory;
        while (folder is not null && !File.Exists(Path.Combine(folder, "Sparewright.slnx"))) folder = Path.GetDirectoryName(folder);
        return folder ?? throw new InvalidOperationException("the tests run outside the repository");
    }
}
