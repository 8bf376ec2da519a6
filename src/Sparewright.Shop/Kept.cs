using System.Diagnostics.CodeAnalysis;

namespace Sparewright.Shop;

/// <summary>Why the shop's store did not do it.</summary>
public enum StoreProblemKind
{
    /// <summary>Somebody else changed the job meanwhile; nothing was overwritten.</summary>
    ChangedMeanwhile,

    /// <summary>There is no such job, photograph or revision.</summary>
    Missing,

    /// <summary>What was handed in cannot be kept: too large, broken or hostile.</summary>
    Refused,

    /// <summary>The disk is full, read-only, or the database does not answer; what was kept before is intact.</summary>
    Unavailable,
}

/// <summary>Why something was not kept, and what to do.</summary>
/// <param name="Head">With <see cref="StoreProblemKind.ChangedMeanwhile"/>: what stands there now.</param>
public sealed record StoreProblem(StoreProblemKind Kind, string What, string Remedy, JobHead? Head = null)
{
    public override string ToString() => $"{What}; {Remedy}";
}

/// <summary>What the store has kept or found, or why not. When there is a value that was written, it is on the disk.</summary>
public readonly record struct Kept<T>(T? Value, StoreProblem? Problem) where T : class
{
    [MemberNotNullWhen(true, nameof(Value))]
    [MemberNotNullWhen(false, nameof(Problem))]
    public bool IsGood => Problem is null;

    public static implicit operator Kept<T>(T value) => new(value, null);

    public static implicit operator Kept<T>(StoreProblem problem) => new(null, problem);
}
