using System.Globalization;
using Sparewright.Solid;

namespace Sparewright.Bench;

/// <summary>How long processes have had a processor, as the system counts it; ms.</summary>
internal static class Processor
{
    /// <summary>The running worker.</summary>
    public static double Of(KernelWorker worker) =>
        worker.ProcessId is { } id ? Number(File.ReadAllText($"/proc/{id}/schedstat"), 0) / 1e6 : 0;

    /// <summary>All processes that this one started and that have ended, with their own; in steps of 10 ms.</summary>
    public static double OfEnded()
    {
        // The command's name, in brackets, may hold blanks. Behind it stand cutime and cstime as 14th and 15th (proc(5)), in hundredths of a second.
        string rest = File.ReadAllText("/proc/self/stat").Split(')')[^1].TrimStart();
        return 10 * (Number(rest, 13) + Number(rest, 14));
    }

    private static double Number(string line, int at) => double.Parse(line.Split(' ')[at], CultureInfo.InvariantCulture);
}
