namespace Sparewright.Shop;

/// <summary>The name of a job in the shop: twelve lower-case letters and digits, given once and never again.</summary>
public readonly record struct JobId(string Text)
{
    public override string ToString() => Text;
}

/// <summary>How a revision came about.</summary>
public enum RevisionKind { Begun, Entry, Undo, Redo }

/// <summary>One state of a job file, kept for ever.</summary>
/// <param name="Number">1, 2, 3 … within the job.</param>
/// <param name="What">What was done, in a few words: "reading r7", "undo: reading r7".</param>
/// <param name="Text">The whole job file, byte for byte as UTF-8 gives it.</param>
public sealed record Revision(JobId Job, int Number, RevisionKind Kind, string What, DateTimeOffset At, string Text);

/// <summary>The latest revision of a job, and whether there is something to undo or to redo.</summary>
/// <param name="Undoes">What an undo would take back, in words, or null when there is nothing.</param>
/// <param name="Redoes">What a redo would do again, in words, or null.</param>
public sealed record JobHead(Revision Latest, string? Undoes, string? Redoes)
{
    public JobId Job => Latest.Job;
}

/// <summary>A job in the shop's list.</summary>
/// <param name="Part">What the part is called, as far as its text can be read.</param>
public sealed record JobEntry(JobId Job, string Part, int Revision, DateTimeOffset ChangedAt);

/// <summary>A photograph of a job: re-encoded, without the data of place and camera that it came with.</summary>
/// <param name="Name">As the user named the file; data, never a path.</param>
/// <param name="MediaType">image/png or image/jpeg.</param>
/// <param name="Hash">SHA-256 of the content, hexadecimal.</param>
public sealed record Photograph(JobId Job, int Number, string Name, string MediaType, string Hash, int WidthPx, int HeightPx, DateTimeOffset At);

/// <summary>The photographs of a job, in the order in which they came.</summary>
/// <param name="Removed">Those that were removed and can be put back.</param>
public sealed record JobPhotographs(IReadOnlyList<Photograph> There, IReadOnlyList<Photograph> Removed);
