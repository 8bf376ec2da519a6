using System.Globalization;
using System.Runtime.InteropServices;
using Sparewright.Solid;

namespace Sparewright.Bench;

/// <summary>What the figures were taken on.</summary>
internal static class Machine
{
    /// <summary>How many processes wanted a core, on average over the last minute.</summary>
    public static double Load => double.Parse(File.ReadAllText("/proc/loadavg").Split(' ')[0], CultureInfo.InvariantCulture);

    public static async Task WriteAsync()
    {
        await using var worker = new KernelWorker(KernelProgram.Find().OrThrow());
        KernelGreeting kernel = (await worker.GreetAsync()).OrThrow();
        Paper.Words($"""
            - processor: {Line("/proc/cpuinfo", "model name")}, {Environment.ProcessorCount} cores
            - memory: {Line("/proc/meminfo", "MemTotal")}
            - system: {Line("/etc/os-release", "PRETTY_NAME").Trim('"')}, {RuntimeInformation.OSArchitecture.ToString().ToLowerInvariant()}
            - {RuntimeInformation.FrameworkDescription}
            - geometry library: Open CASCADE {kernel.Library}
            - load before the first figure: {Load.ToString(CultureInfo.InvariantCulture)}
            """);
    }

    private static string Line(string file, string key) =>
        File.ReadLines(file).FirstOrDefault(line => line.StartsWith(key, StringComparison.Ordinal))?.Split([':', '='], 2)[1].Trim() ?? "unknown";
}
