namespace Sparewright.Solid;

/// <summary>Where the kernel worker's executable is.</summary>
public sealed record KernelProgram(string Path)
{
    /// <summary>Names the executable outright.</summary>
    public const string Variable = "SPAREWRIGHT_KERNEL";

    private const string Executable = "sparewright-kernel";

    /// <summary>Looks where <see cref="Variable"/> says, beside the tool, and in the repository's <c>build/kernel</c>.</summary>
    public static Outcome<KernelProgram> Find() => Find(Environment.GetEnvironmentVariable(Variable), AppContext.BaseDirectory);

    internal static Outcome<KernelProgram> Find(string? named, string toolFolder)
    {
        if (!string.IsNullOrEmpty(named))
        {
            if (File.Exists(named)) return new KernelProgram(named);
            return new SolidProblem(SolidProblemKind.NoWorker, null, $"{Variable} names {named}, which is not there", $"set {Variable} to the kernel worker's executable, or unset it");
        }

        string beside = System.IO.Path.Combine(toolFolder, Executable);
        if (File.Exists(beside)) return new KernelProgram(beside);
        for (DirectoryInfo? folder = new(toolFolder); folder is not null; folder = folder.Parent)
        {
            if (!File.Exists(System.IO.Path.Combine(folder.FullName, "kernel", "CMakeLists.txt"))) continue;
            string built = System.IO.Path.Combine(folder.FullName, "build", "kernel", Executable);
            if (File.Exists(built)) return new KernelProgram(built);
            return new SolidProblem(SolidProblemKind.NoWorker, null, "the kernel worker is not built yet", $"run `scripts/build tool` in {folder.FullName}");
        }

        return new SolidProblem(SolidProblemKind.NoWorker, null, $"the kernel worker {Executable} is not beside the tool", $"put it into {toolFolder}, or set {Variable} to where it is");
    }
}

/// <summary>What a kernel worker says of itself when it starts.</summary>
/// <param name="Library">The version of the geometry library.</param>
public sealed record KernelGreeting(int Protocol, string Library);
