using Sparewright.Part;

namespace Sparewright.Handover.Files;

/// <summary>Unwinds the reader from deep inside in one step; caught at its one door and handed on as a value.</summary>
internal sealed class RefusedException(Problem problem) : Exception(problem.What)
{
    public RefusedException(string what, string remedy)
        : this(new Problem(Place.None, what, remedy))
    {
    }

    public Problem Problem { get; } = problem;
}
