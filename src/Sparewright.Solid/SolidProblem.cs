namespace Sparewright.Solid;

/// <summary>What kind of trouble there was with the solid.</summary>
public enum SolidProblemKind
{
    /// <summary>The kernel worker is not there or does not start.</summary>
    NoWorker,

    /// <summary>Arithmetic alone tells that it cannot be.</summary>
    Refused,

    /// <summary>The geometry library could not do it.</summary>
    Failed,

    /// <summary>The geometry library said that it had done it, and a check found that it had not.</summary>
    Wrong,

    /// <summary>A name that no face bears.</summary>
    Missing,

    /// <summary>The memory allowed was not enough.</summary>
    Memory,

    /// <summary>The time allowed was not enough.</summary>
    Time,

    /// <summary>The worker ended in the middle of it.</summary>
    Crashed,

    /// <summary>The worker and this side do not understand each other: our own bug.</summary>
    Misunderstood,
}

/// <summary>Why there is no solid, or no answer about it.</summary>
/// <param name="Feature">The feature in which it happened, where known.</param>
/// <param name="Why">A sentence without a full stop.</param>
/// <param name="Advice">What to do, as a sentence without a full stop, where there is something.</param>
public sealed record SolidProblem(SolidProblemKind Kind, string? Feature, string Why, string? Advice)
{
    /// <summary>The last that the worker wrote to its log, where that may tell more.</summary>
    public string? Log { get; init; }

    public override string ToString() => Advice is null ? Why : $"{Why}; {Advice}";
}
