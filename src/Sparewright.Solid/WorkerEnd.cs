using System.Globalization;

namespace Sparewright.Solid;

/// <summary>How a worker ended, for people.</summary>
internal static class WorkerEnd
{
    public static string InWords(int exitCode) => exitCode switch
    {
        134 => "the geometry library gave up (abort)",
        137 => "the worker was killed from outside, as a machine does that runs out of memory",
        139 => "the geometry library crashed (access to memory that is not its own)",
        152 => "the worker had used up its processor time",
        0 => "the worker ended by itself",
        _ => string.Create(CultureInfo.InvariantCulture, $"the worker ended with code {exitCode}"),
    };
}
