using System.Text;
using Sparewright.Handover.Picture;
using Sparewright.Solid;

namespace Sparewright.Cli;

/// <summary>What the tool meets where it runs: streams and whether people sit at them, the kernel worker, fonts, the clock.</summary>
public sealed record Surroundings(TextReader In, TextWriter Out, TextWriter Error)
{
    /// <summary>Whether somebody can answer questions.</summary>
    public bool CanAsk { get; init; }

    /// <summary>Whether results may be drawn with frames and colours.</summary>
    public bool DrawsOut { get; init; }

    /// <summary>Whether progress may be shown as a line that changes.</summary>
    public bool MovesError { get; init; }

    public Func<Outcome<KernelProgram>> FindKernel { get; init; } = KernelProgram.Find;

    public IReadOnlyList<string> Fonts { get; init; } = Lettering.UsualFiles;

    public TimeProvider Clock { get; init; } = TimeProvider.System;

    public static Surroundings OfThisProcess()
    {
        Console.OutputEncoding = new UTF8Encoding(false);
        // no-color.org: any value but an empty one counts.
        bool plain = !string.IsNullOrEmpty(Environment.GetEnvironmentVariable("NO_COLOR")) || Environment.GetEnvironmentVariable("TERM") == "dumb";
        return new(Console.In, Console.Out, Console.Error)
        {
            CanAsk = !Console.IsInputRedirected && !Console.IsErrorRedirected,
            DrawsOut = !Console.IsOutputRedirected && !plain,
            MovesError = !Console.IsErrorRedirected && !plain,
        };
    }
}
