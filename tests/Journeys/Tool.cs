using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using Sparewright.Solid;

namespace Sparewright.Journeys;

/// <summary>What one run of the tool came to.</summary>
internal sealed record Ran(int Code, string Out, string Error, TimeSpan Time)
{
    public JsonElement Json => JsonDocument.Parse(Out).RootElement;
}

/// <summary>The tool as its users run it: built, compiled ahead, a process of its own.</summary>
internal static class Tool
{
    public static string Repository { get; } = Find();

    public static string Executable { get; } = Build("tool", "Sparewright.Cli");

    public static string Example(string name) => Path.Combine(Repository, "examples", name);

    public static Task<Ran> RunAsync(params string[] args) => RunAsync([], args);

    /// <param name="variables">Environment variables beside the usual ones.</param>
    public static async Task<Ran> RunAsync((string Name, string Value)[] variables, string[] args, string input = "")
    {
        using Process process = Start(variables, args);
        var clock = Stopwatch.StartNew();
        await process.StandardInput.WriteAsync(input);
        process.StandardInput.Close();
        Task<string> output = process.StandardOutput.ReadToEndAsync(), error = process.StandardError.ReadToEndAsync();
        await process.WaitForExitAsync();
        return new Ran(process.ExitCode, await output, await error, clock.Elapsed);
    }

    public static Process Start((string Name, string Value)[] variables, params string[] args)
    {
        var start = new ProcessStartInfo(Executable, args)
        { RedirectStandardInput = true, RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false };
        foreach (var (name, value) in variables) start.Environment[name] = value;
        return Process.Start(start)!;
    }

    /// <summary>Sends a signal to the tool alone.</summary>
    public static Task SignalAsync(Process process, string signal) => KillAsync(signal, process.Id.ToString(CultureInfo.InvariantCulture));

    /// <summary>Starts the tool in a session of its own, so that its workers can be told from those of other tests.</summary>
    public static Process StartSession(params string[] args) =>
        Process.Start(new ProcessStartInfo("/usr/bin/setsid", [Executable, .. args])
        { RedirectStandardInput = true, RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false })!;

    /// <summary>Interrupts the tool and its workers together, as a terminal does at Ctrl-C.</summary>
    public static Task InterruptSessionAsync(Process process) => KillAsync("INT", string.Create(CultureInfo.InvariantCulture, $"-{process.Id}"));

    /// <summary>What still runs in the session that a process began: its state and its place in /proc (proc(5): state and session are the first and fourth word behind the command in brackets).</summary>
    public static IReadOnlyList<string> RunningInSession(int session)
    {
        var running = new List<string>();
        foreach (string folder in Directory.EnumerateDirectories("/proc").Where(f => char.IsAsciiDigit(Path.GetFileName(f)[0])))
            try
            {
                string[] words = File.ReadAllText(Path.Combine(folder, "stat")).Split(')')[^1].Trim().Split(' ');
                if (words[3] == session.ToString(CultureInfo.InvariantCulture)) running.Add($"{words[0]} {folder}");
            }
            catch (IOException)
            {
                // It ended while we looked.
            }

        return running;
    }

    public static KernelProgram Kernel() => KernelProgram.Find().OrThrow();

    /// <summary>Builds as `./sparewright` does: nothing, unless a source changed.</summary>
    /// <param name="door">tool or web.</param>
    public static string Build(string door, string executable)
    {
        using Process build = Process.Start(new ProcessStartInfo(Path.Combine(Repository, "scripts", "build"), [door]) { RedirectStandardError = true })!;
        string said = build.StandardError.ReadToEnd();
        build.WaitForExit();
        return build.ExitCode == 0 ? Path.Combine(Repository, "build", door, executable) : throw new InvalidOperationException(said);
    }

    private static async Task KillAsync(string signal, string whom)
    {
        using Process kill = Process.Start("/bin/kill", ["-s", signal, "--", whom]);
        await kill.WaitForExitAsync();
    }

    private static string Find()
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Sparewright.slnx"))) folder = folder.Parent;
        return folder?.FullName ?? throw new InvalidOperationException("the tests are not inside the repository");
    }
}

/// <summary>A folder that is gone after the test.</summary>
internal sealed class Scratch : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("sparewright-journey-");

    public string this[string name] => Path.Combine(_folder.FullName, name);

    /// <summary>A copy of an example's job, to be changed.</summary>
    public string CopyOf(string example)
    {
        string folder = this[example];
        Directory.CreateDirectory(folder);
        File.Copy(Path.Combine(Tool.Example(example), "job.yaml"), Path.Combine(folder, "job.yaml"));
        return folder;
    }

    /// <summary>Changes a job's text; the place must be there once.</summary>
    public static void Change(string folder, string from, string to)
    {
        string path = Path.Combine(folder, "job.yaml"), text = File.ReadAllText(path);
        if (text.Split(from).Length != 2) throw new InvalidOperationException($"\"{from}\" is not there once");
        File.WriteAllText(path, text.Replace(from, to, StringComparison.Ordinal));
    }

    /// <summary>Every file of a folder with when it was written and what is in it.</summary>
    public static Dictionary<string, (DateTime Written, string Hash)> Files(string folder) => Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories)
        .ToDictionary(f => Path.GetRelativePath(folder, f), f => (File.GetLastWriteTimeUtc(f), Convert.ToHexString(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(f)))));

    public void Dispose() => _folder.Delete(recursive: true);
}
