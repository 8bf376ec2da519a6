using System.Diagnostics.CodeAnalysis;

namespace Sparewright.Solid;

/// <summary>What was asked for, or why there is none.</summary>
public sealed class Outcome<T> where T : class
{
    private Outcome(T? value, SolidProblem? problem) => (Value, Problem) = (value, problem);

    /// <summary>What was asked for.</summary>
    public T? Value { get; }

    /// <summary>Why there is none.</summary>
    public SolidProblem? Problem { get; }

    [MemberNotNullWhen(true, nameof(Value))]
    [MemberNotNullWhen(false, nameof(Problem))]
    public bool IsGood => Problem is null;

    public static implicit operator Outcome<T>(T value) => new(value, null);

    public static implicit operator Outcome<T>(SolidProblem problem) => new(null, problem);

    /// <summary>The value, for those who cannot go on without one.</summary>
    /// <exception cref="InvalidOperationException">There is none.</exception>
    public T OrThrow() => Value ?? throw new InvalidOperationException(Problem!.ToString());
}
