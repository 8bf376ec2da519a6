using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Remake.Start;

namespace Sparewright.Web.Intake;

/// <summary>Something of a form that must be put right.</summary>
/// <param name="Field">The id of its field.</param>
public sealed record FieldProblem(string Field, string What);

/// <summary>What has been answered so far where a job begins.</summary>
public sealed record Beginning
{
    public string Part { get; set; } = "";

    public string Shape { get; set; } = "";

    public string About { get; set; } = "";

    public string MadeBy { get; set; } = "unknown";

    public string Broke { get; set; } = "";

    public Harm Harm { get; set; } = new();

    /// <summary>The job, or everything that must be answered first, in the order of the form.</summary>
    public (NewJob? Job, IReadOnlyList<FieldProblem> Problems) Finish()
    {
        var problems = new List<FieldProblem>();
        if (StartingPattern.Find(Shape) is not { } pattern) problems.Add(new("shape", "Choose what it is; “other” will do"));
        if (string.IsNullOrWhiteSpace(Part)) problems.Add(new("part", "Say what the part is called"));
        problems.AddRange(Harm.Problems());
        if (problems.Count > 0) return (null, problems);

        var job = new NewJob(Part.Trim(), Blank(About), Enum.Parse<MadeBy>(MadeBy, ignoreCase: true), Blank(Broke), Harm.Could == "yes" ? Harm.Why.Trim() : null, Harm.Could == "yes" ? Injury.Acknowledgement : null, StartingPattern.Find(Shape)!);
        // A name may hold what no job file can.
        return JobFile.Read(job.Text()) is { Problems: [var first, ..] } ? (null, [new("part", $"{first.What}: {first.Remedy}")]) : (job, []);
    }

    private static string? Blank(string text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}

/// <summary>The answer to whether the part's failure could injure someone.</summary>
public sealed record Harm
{
    /// <summary>yes, no, or empty while it is not answered.</summary>
    public string Could { get; set; } = "";

    public string Why { get; set; } = "";

    /// <summary>What was typed to acknowledge a yes.</summary>
    public string Typed { get; set; } = "";

    public IEnumerable<FieldProblem> Problems()
    {
        if (Could is not ("yes" or "no"))
        {
            yield return new("could-no", "Answer whether its failure could injure anyone");
            yield break;
        }

        if (Could == "no") yield break;
        if (string.IsNullOrWhiteSpace(Why)) yield return new("why", "Say how it could injure: one of the list, or in your own words");
        if (!string.Equals(string.Join(' ', Typed.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)).TrimEnd('.'), Injury.Acknowledgement, StringComparison.OrdinalIgnoreCase))
            yield return new("typed", $"If you mean it, type in full: {Injury.Acknowledgement}");
    }

    /// <summary>As it stands in the job file. The answer must have no problems.</summary>
    internal JobValue Written() => Could == "no" ? "no" : new JobValue.Group([("why", Why.Trim()), ("acknowledged", Injury.Acknowledgement)]);
}
