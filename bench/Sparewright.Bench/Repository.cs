namespace Sparewright.Bench;

/// <summary>Where things lie in the repository that this was built in.</summary>
internal static class Repository
{
    public static string Root { get; } = Find();

    public static string VentKnuckle => Path.Combine(Root, "examples", "vent-knuckle");

    public static string Tool => Path.Combine(Root, "build", "tool", "Sparewright.Cli");

    public static string Shop => Path.Combine(Root, "build", "web", "Sparewright.Web");

    public static string BareKnuckle => Path.Combine(Root, "build", "bench", "bare-knuckle");

    private static string Find()
    {
        string folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "Sparewright.slnx")))
            folder = Path.GetDirectoryName(folder) ?? throw new InvalidOperationException("the benchmarks do not lie in the repository");
        return folder;
    }
}
