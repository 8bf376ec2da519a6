namespace Sparewright.Solid;

/// <summary>What one kernel worker may use.</summary>
public sealed record WorkerLimits
{
    /// <summary>By the clock, for one request, a second try included; then the worker is killed.</summary>
    public TimeSpan PerRequest { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>By the clock, from start to greeting.</summary>
    public TimeSpan ToStart { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>Address space, in MiB.</summary>
    public int MemoryMiB { get; init; } = 3072;

    /// <summary>Whether it works behind whoever else wants a processor: for a worker that builds while somebody types.</summary>
    public bool GivesWay { get; init; }

    /// <summary>Processor time of one worker process, all its requests together. A worker that has used half of it is replaced between requests.</summary>
    public int CpuSeconds { get; init; } = 600;

    /// <summary>The longest answer line, in bytes.</summary>
    public int AnswerLineBytes { get; init; } = 64 << 20;

    /// <summary>All binary blocks of one answer together, in bytes.</summary>
    public long AnswerBlockBytes { get; init; } = 512L << 20;
}
