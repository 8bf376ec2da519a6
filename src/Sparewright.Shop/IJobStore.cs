namespace Sparewright.Shop;

/// <summary>
/// The shop's jobs and all their revisions. Nothing is ever overwritten: an entry, an undo and a redo are each a new revision.
/// A value comes back only after it is committed to the disk. Bad disks and lost races are values, not exceptions.
/// </summary>
public interface IJobStore
{
    /// <summary>All jobs, the last changed first.</summary>
    Task<Kept<IReadOnlyList<JobEntry>>> JobsAsync(CancellationToken cancel = default);

    /// <summary>Begins a job with its first revision.</summary>
    Task<Kept<JobHead>> BeginAsync(string text, string what, CancellationToken cancel = default);

    /// <summary>The latest revision of a job.</summary>
    Task<Kept<JobHead>> HeadAsync(JobId job, CancellationToken cancel = default);

    /// <summary>Keeps a new text. Refused with what stands there now when <paramref name="basedOn"/> is not the latest revision any more.</summary>
    Task<Kept<JobHead>> EnterAsync(JobId job, int basedOn, string text, string what, CancellationToken cancel = default);

    /// <summary>Goes back to the text before the last entry that is not undone yet, across restarts down to the first revision.</summary>
    Task<Kept<JobHead>> UndoAsync(JobId job, int basedOn, CancellationToken cancel = default);

    /// <summary>Does again what was undone last, as long as nothing was entered since.</summary>
    Task<Kept<JobHead>> RedoAsync(JobId job, int basedOn, CancellationToken cancel = default);

    /// <summary>All revisions of a job, the latest first.</summary>
    Task<Kept<IReadOnlyList<Revision>>> RevisionsAsync(JobId job, CancellationToken cancel = default);

    /// <summary>Keeps a photograph, which must have been checked and re-encoded.</summary>
    Task<Kept<Photograph>> AddPhotographAsync(JobId job, string name, string mediaType, int widthPx, int heightPx, ReadOnlyMemory<byte> content, CancellationToken cancel = default);

    /// <summary>The photographs of a job.</summary>
    Task<Kept<JobPhotographs>> PhotographsAsync(JobId job, CancellationToken cancel = default);

    /// <summary>Removes a photograph from its job: it is not shown, given out or bundled any more. The store keeps it, so that it can be put back.</summary>
    Task<Kept<Photograph>> RemovePhotographAsync(JobId job, int number, CancellationToken cancel = default);

    /// <summary>Puts a removed photograph back to where it was.</summary>
    Task<Kept<Photograph>> PutPhotographBackAsync(JobId job, int number, CancellationToken cancel = default);

    /// <summary>The content of a photograph that is not removed.</summary>
    Task<Kept<byte[]>> PhotographContentAsync(JobId job, int number, CancellationToken cancel = default);
}
