namespace Sparewright.Cli;

/// <summary>What the tool ends with; other programs rely on the numbers.</summary>
public static class ExitCode
{
    public const int Done = 0;

    /// <summary>Done, but somebody should look: a contradiction, a size that nothing decides.</summary>
    public const int NeedsAttention = 1;

    /// <summary>The job or the command is wrong.</summary>
    public const int Wrong = 2;

    /// <summary>A stage failed: kernel worker, disk.</summary>
    public const int Failed = 3;

    /// <summary>Stopped by the user.</summary>
    public const int Stopped = 130;
}
