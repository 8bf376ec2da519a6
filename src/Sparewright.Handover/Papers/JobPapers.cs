namespace Sparewright.Handover.Papers;

/// <summary>One file of a job.</summary>
/// <param name="Name"><c>job.yaml</c>, <c>revisions.txt</c>, or a plain name in one of the folders of <see cref="JobPapers"/>.</param>
/// <param name="ReadAsync">Its content. An <see cref="IOException"/> when it cannot be had any more.</param>
public sealed record Paper(string Name, Func<CancellationToken, Task<byte[]>> ReadAsync)
{
    /// <summary>A paper that is at hand.</summary>
    public static Paper Of(string name, byte[] content) => new(name, _ => Task.FromResult(content));

    /// <summary>The folder it lies in, or nothing.</summary>
    public string Folder => Name.Contains('/', StringComparison.Ordinal) ? Name[..Name.IndexOf('/', StringComparison.Ordinal)] : "";

    /// <summary>Its name within that folder.</summary>
    public string NameInFolder => Name[(Name.IndexOf('/', StringComparison.Ordinal) + 1)..];
}

/// <summary>All that belongs to a job, as files: the same in a folder, in a bundle and out of the shop's store, and each can be written as the others.</summary>
/// <param name="All">The job file first, then its revisions, photographs, trials and outputs, each by name.</param>
/// <param name="Remarks">What was not taken, or not as it was, in sentences.</param>
public sealed record JobPapers(IReadOnlyList<Paper> All, IReadOnlyList<string> Remarks)
{
    public const string JobFile = "job.yaml";

    /// <summary>How the job file came to be what it is.</summary>
    public const string Revisions = "revisions.txt";

    public const string Photographs = "photographs";
    public const string Trials = "trials";

    /// <summary>Where <c>remake</c> puts what it makes.</summary>
    public const string Outputs = "out";

    /// <summary>A file is read into memory as a whole.</summary>
    public const int MostFileBytes = 64 << 20;

    private static readonly string[] Order = ["", Photographs, Trials, Outputs];

    /// <summary>The papers in a folder of the job.</summary>
    public IEnumerable<Paper> In(string folder) => All.Where(p => p.Folder == folder);

    /// <summary>A paper by its whole name, or null.</summary>
    public Paper? Find(string name) => All.FirstOrDefault(p => p.Name == name);

    /// <summary>The papers in their order, whatever order they came in.</summary>
    public static JobPapers Of(IEnumerable<Paper> papers, IEnumerable<string> remarks) =>
        new([.. papers.OrderBy(p => Array.IndexOf(Order, p.Folder)).ThenBy(p => p.Name, StringComparer.Ordinal)], [.. remarks]);

    /// <summary>Whether a job has such a paper, as far as its name says.</summary>
    public static bool Has(string name) =>
        name is JobFile or Revisions || (name.Split('/') is [var folder, var inside] && inside.Length > 0 && Array.IndexOf(Order, folder) > 0);
}
