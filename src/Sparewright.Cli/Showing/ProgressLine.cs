using System.Globalization;
using Sparewright.Remake;

namespace Sparewright.Cli.Showing;

/// <summary>Progress on standard error: a line that changes where people watch, one line for each stage elsewhere.</summary>
internal sealed class ProgressLine(TextWriter error, bool moves, bool quiet) : IProgress<StageProgress>, IDisposable
{
    private readonly Lock _lock = new();
    private readonly HashSet<Stage> _seen = [];
    private string _shown = "";

    public void Report(StageProgress value)
    {
        if (quiet) return;
        lock (_lock)
        {
            if (!moves)
            {
                if (_seen.Add(value.Stage)) error.WriteLine($"{value.Stage.Name()}: {value.Doing}");
                return;
            }

            string line = string.Create(CultureInfo.InvariantCulture, $"{value.Stage.Name(),-10}{100 * value.Fraction,4:0} %  {value.Doing}");
            if (line == _shown) return;
            error.Write($"\r\e[K{line}");
            error.Flush();
            _shown = line;
        }
    }

    public void Dispose()
    {
        lock (_lock)
        {
            if (_shown.Length > 0) error.Write("\r\e[K");
        }
    }
}
