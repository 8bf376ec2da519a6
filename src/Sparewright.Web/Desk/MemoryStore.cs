using Sparewright.Shop;

namespace Sparewright.Web.Desk;

/// <summary>Stands in for the shop's store until it is there.</summary>
internal sealed class MemoryStore(TimeProvider clock) : IJobStore
{
    private readonly Dictionary<JobId, List<Revision>> _jobs = [];

    public Task<Kept<IReadOnlyList<JobEntry>>> JobsAsync(CancellationToken cancel = default) =>
        Task.FromResult(new Kept<IReadOnlyList<JobEntry>>([.. _jobs.Values.Select(r => new JobEntry(r[^1].Job, Sparewright.Part.JobFile.Read(r[^1].Text).Job?.PartName ?? "?", r[^1].Number, r[^1].At))], null));

    public Task<Kept<JobHead>> BeginAsync(string text, string what, CancellationToken cancel = default)
    {
        var id = new JobId(Convert.ToHexStringLower(System.Security.Cryptography.RandomNumberGenerator.GetBytes(6)));
        _jobs[id] = [new Revision(id, 1, RevisionKind.Begun, what, clock.GetUtcNow(), text)];
        return HeadAsync(id, cancel);
    }

    public Task<Kept<JobHead>> HeadAsync(JobId job, CancellationToken cancel = default) =>
        Task.FromResult<Kept<JobHead>>(_jobs.TryGetValue(job, out var r) ? new JobHead(r[^1], null, null) : Missing);

    public Task<Kept<JobHead>> EnterAsync(JobId job, int basedOn, string text, string what, CancellationToken cancel = default)
    {
        if (!_jobs.TryGetValue(job, out var r)) return Task.FromResult<Kept<JobHead>>(Missing);
        if (r[^1].Number != basedOn) return Task.FromResult<Kept<JobHead>>(new StoreProblem(StoreProblemKind.ChangedMeanwhile, "changed meanwhile", "choose", new JobHead(r[^1], null, null)));
        r.Add(new Revision(job, basedOn + 1, RevisionKind.Entry, what, clock.GetUtcNow(), text));
        return HeadAsync(job, cancel);
    }

    public Task<Kept<JobHead>> UndoAsync(JobId job, int basedOn, CancellationToken cancel = default) => HeadAsync(job, cancel);

    public Task<Kept<JobHead>> RedoAsync(JobId job, int basedOn, CancellationToken cancel = default) => HeadAsync(job, cancel);

    public Task<Kept<IReadOnlyList<Revision>>> RevisionsAsync(JobId job, CancellationToken cancel = default) =>
        Task.FromResult(_jobs.TryGetValue(job, out var r) ? new Kept<IReadOnlyList<Revision>>([.. r.AsEnumerable().Reverse()], null) : Missing);

    public Task<Kept<Photograph>> AddPhotographAsync(JobId job, string name, string mediaType, int widthPx, int heightPx, ReadOnlyMemory<byte> content, CancellationToken cancel = default) => Task.FromResult<Kept<Photograph>>(Missing);

    public Task<Kept<IReadOnlyList<Photograph>>> PhotographsAsync(JobId job, CancellationToken cancel = default) => Task.FromResult(new Kept<IReadOnlyList<Photograph>>([], null));

    public Task<Kept<byte[]>> PhotographContentAsync(JobId job, int number, CancellationToken cancel = default) => Task.FromResult<Kept<byte[]>>(Missing);

    private static readonly StoreProblem Missing = new(StoreProblemKind.Missing, "there is no such job", "look in the list");
}
