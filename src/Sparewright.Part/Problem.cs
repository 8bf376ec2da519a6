namespace Sparewright.Part;

/// <summary>A place in the job file; line and column count from 1. Line 0: no particular place.</summary>
public readonly record struct Place(int Line, int Column)
{
    public static readonly Place None = new(0, 0);
}

/// <summary>Something in the job that the user must put right: where, what is wrong, and what to do about it.</summary>
/// <param name="Place">Where in the job file.</param>
/// <param name="What">What is wrong, as a sentence without a full stop.</param>
/// <param name="Remedy">What to do, as a sentence without a full stop.</param>
public sealed record Problem(Place Place, string What, string Remedy)
{
    /// <summary><c>job.yaml:31:9: what; remedy</c>.</summary>
    public string In(string file) =>
        Place.Line == 0 ? $"{file}: {What}; {Remedy}" : $"{file}:{Place.Line}:{Place.Column}: {What}; {Remedy}";
}
