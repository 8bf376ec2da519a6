using Sparewright.Part;
using Sparewright.Solid;

namespace Sparewright.Remake;

/// <summary>Why a job was not done.</summary>
/// <param name="JobIsWrong">True when the job must be put right; false when a stage failed (kernel, disk).</param>
/// <param name="Messages">One line each, with place and remedy.</param>
public sealed record Failure(bool JobIsWrong, IReadOnlyList<string> Messages)
{
    public static Failure Of(string jobPath, IEnumerable<Problem> problems) => new(true, [.. problems.Select(p => p.In(jobPath))]);

    /// <summary>A refusal by arithmetic is the job's to mend and has the place of its feature; anything else is a stage that failed.</summary>
    public static Failure Of(string jobPath, SolidProblem problem, Place place)
    {
        string line = problem.Kind is SolidProblemKind.Refused or SolidProblemKind.Failed or SolidProblemKind.Wrong
            ? new Problem(place, problem.Why, problem.Advice ?? "change the sizes or the order of the features").In(jobPath)
            : problem.ToString();
        return new(problem.Kind is SolidProblemKind.Refused or SolidProblemKind.Failed or SolidProblemKind.Wrong, [line]);
    }

    public static Failure Of(Exception disk) => new(false, [$"{disk.Message.TrimEnd('.')}; check that the folder can be written to and that there is room"]);
}

/// <summary>What was asked for, or why there is none.</summary>
public readonly record struct Result<T>(T? Value, Failure? Failure) where T : class
{
    public static implicit operator Result<T>(T value) => new(value, null);

    public static implicit operator Result<T>(Failure failure) => new(null, failure);
}
