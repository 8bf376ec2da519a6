using System.Data.Common;
using System.Security.Cryptography;
using Dapper;
using Sparewright.Part;

namespace Sparewright.Shop.Store;

/// <summary>The jobs of a shop in a database, by SQL that both databases understand.</summary>
internal sealed class JobStore(IDatabase database, TimeProvider clock) : IJobStore
{
    private sealed record JobRow(string Id, long Latest);

    public Task<Kept<IReadOnlyList<JobEntry>>> JobsAsync(CancellationToken cancel = default) => database.ReadAsync<IReadOnlyList<JobEntry>>(async (read, within) =>
    {
        var jobs = new List<JobEntry>();
        foreach (JobRow job in await read.QueryAsync<JobRow>("select id as Id, latest as Latest from job", null, within).ConfigureAwait(false))
        {
            RevisionRow row = await RevisionRow.GetAsync(read, within, job.Id, job.Latest).ConfigureAwait(false);
            jobs.Add(new JobEntry(new(job.Id), row.Part, (int)row.Number, row.AtOf));
        }

        return new([.. jobs.OrderByDescending(j => j.ChangedAt).ThenBy(j => j.Job.Text, StringComparer.Ordinal)], null);
    }, cancel);

    public Task<Kept<JobHead>> BeginAsync(string text, string what, CancellationToken cancel = default) =>
        database.WriteAsync((write, within) => BeginAsync(write, within, text, what, clock.GetUtcNow()), cancel);

    public Task<Kept<JobHead>> HeadAsync(JobId job, CancellationToken cancel = default) => database.ReadAsync((read, within) => HeadAsync(read, within, job.Text), cancel);

    public Task<Kept<JobHead>> EnterAsync(JobId job, int basedOn, string text, string what, CancellationToken cancel = default) => AfterAsync(job, basedOn,
        (write, within, last) => EnterAsync(write, within, last, text, what, clock.GetUtcNow()), cancel);

    public Task<Kept<JobHead>> UndoAsync(JobId job, int basedOn, CancellationToken cancel = default) => AfterAsync(job, basedOn,
        (write, within, last) => UndoAsync(write, within, last, clock.GetUtcNow()), cancel);

    public Task<Kept<JobHead>> RedoAsync(JobId job, int basedOn, CancellationToken cancel = default) => AfterAsync(job, basedOn,
        (write, within, last) => RedoAsync(write, within, last, clock.GetUtcNow()), cancel);

    public Task<Kept<IReadOnlyList<Revision>>> RevisionsAsync(JobId job, CancellationToken cancel = default) => database.ReadAsync<IReadOnlyList<Revision>>(async (read, within) =>
    {
        List<RevisionRow> rows = await RevisionRow.AllAsync(read, within, job.Text).ConfigureAwait(false);
        if (rows.Count == 0) return NoSuch("job");
        Dictionary<string, string> texts = await Contents.TextsAsync(read, within, rows.Select(r => r.Text)).ConfigureAwait(false);
        return new([.. rows.Select(r => r.With(texts[r.Text]))], null);
    }, cancel);

    public Task<Kept<Photograph>> AddPhotographAsync(JobId job, string name, string mediaType, int widthPx, int heightPx, ReadOnlyMemory<byte> content, CancellationToken cancel = default) =>
        database.WriteAsync<Photograph>(async (write, within) =>
            await ExistsAsync(write, within, job).ConfigureAwait(false)
                ? await PhotographRow.AddAsync(write, within, job, name, mediaType, widthPx, heightPx, content, clock.GetUtcNow()).ConfigureAwait(false)
                : NoSuch("job"), cancel);

    public Task<Kept<JobPhotographs>> PhotographsAsync(JobId job, CancellationToken cancel = default) => database.ReadAsync<JobPhotographs>(async (read, within) =>
    {
        ILookup<bool, Photograph> all = (await PhotographRow.AllAsync(read, within, job).ConfigureAwait(false)).ToLookup(p => p.IsRemoved, p => p.ToPhotograph());
        return new JobPhotographs([.. all[false]], [.. all[true]]);
    }, cancel);

    public Task<Kept<Photograph>> RemovePhotographAsync(JobId job, int number, CancellationToken cancel = default) => MarkPhotographAsync(job, number, clock.GetUtcNow(), cancel);

    public Task<Kept<Photograph>> PutPhotographBackAsync(JobId job, int number, CancellationToken cancel = default) => MarkPhotographAsync(job, number, null, cancel);

    public Task<Kept<byte[]>> PhotographContentAsync(JobId job, int number, CancellationToken cancel = default) => database.ReadAsync<byte[]>(async (read, within) =>
        (await PhotographRow.PresentAsync(read, within, job).ConfigureAwait(false)).FirstOrDefault(p => p.Number == number) is { } photograph
            ? await Contents.ReadAsync(read, within, photograph.Hash).ConfigureAwait(false)
            : NoSuch("photograph"), cancel);

    internal static async Task<Kept<JobHead>> BeginAsync(DbConnection write, DbTransaction within, string text, string what, DateTimeOffset at)
    {
        Kept<byte[]> bytes = Contents.Bytes(text);
        if (!bytes.IsGood) return bytes.Problem;
        string id = RandomNumberGenerator.GetString("abcdefghijkmnpqrstuvwxyz23456789", 12);
        await write.ExecuteAsync("insert into job (id, latest) values (@id, 0)", new { id }, within).ConfigureAwait(false);
        string hash = await Contents.KeepAsync(write, within, bytes.Value).ConfigureAwait(false);
        await new RevisionRow(id, 1, nameof(RevisionKind.Begun), Contents.OneLine(what), Times.Written(at), PartName(text), hash, 1, null, null, "").AddAsync(write, within).ConfigureAwait(false);
        return await HeadAsync(write, within, id).ConfigureAwait(false);
    }

    internal static async Task<StoreProblem?> EnterAsync(DbConnection write, DbTransaction within, RevisionRow last, string text, string what, DateTimeOffset at)
    {
        Kept<byte[]> bytes = Contents.Bytes(text);
        if (!bytes.IsGood) return bytes.Problem;
        string hash = await Contents.KeepAsync(write, within, bytes.Value).ConfigureAwait(false);
        long number = last.Number + 1;
        await new RevisionRow(last.Job, number, nameof(RevisionKind.Entry), Contents.OneLine(what), Times.Written(at), PartName(text), hash, number, last.State, null, "").AddAsync(write, within).ConfigureAwait(false);
        return null;
    }

    internal static async Task<StoreProblem?> UndoAsync(DbConnection write, DbTransaction within, RevisionRow last, DateTimeOffset at)
    {
        RevisionRow undone = await RevisionRow.GetAsync(write, within, last.Job, last.State).ConfigureAwait(false);
        if (undone.Before is not { } before) return new(StoreProblemKind.Refused, "there is nothing to undo", "this is how the job began");
        RevisionRow state = await RevisionRow.GetAsync(write, within, last.Job, before).ConfigureAwait(false);
        await (state with { Number = last.Number + 1, Kind = nameof(RevisionKind.Undo), What = $"undo: {undone.What}", At = Times.Written(at), State = before, Before = null, Redo = last.Number })
            .AddAsync(write, within).ConfigureAwait(false);
        return null;
    }

    internal static async Task<StoreProblem?> RedoAsync(DbConnection write, DbTransaction within, RevisionRow last, DateTimeOffset at)
    {
        if (last.Redo is not { } redo) return new(StoreProblemKind.Refused, "there is nothing to do again", "only what was undone last, before anything else is entered, can be done again");
        RevisionRow left = await RevisionRow.GetAsync(write, within, last.Job, redo).ConfigureAwait(false);
        RevisionRow state = await RevisionRow.GetAsync(write, within, last.Job, left.State).ConfigureAwait(false);
        await (left with { Number = last.Number + 1, Kind = nameof(RevisionKind.Redo), What = $"again: {state.What}", At = Times.Written(at), Before = null }).AddAsync(write, within).ConfigureAwait(false);
        return null;
    }

    internal static async Task<Kept<JobHead>> HeadAsync(DbConnection read, DbTransaction within, string job)
    {
        RevisionRow? last = await RevisionRow.LatestAsync(read, within, job).ConfigureAwait(false);
        if (last is null) return NoSuch("job");
        RevisionRow state = await RevisionRow.GetAsync(read, within, job, last.State).ConfigureAwait(false);
        string? redoes = null;
        if (last.Redo is { } redo)
        {
            RevisionRow left = await RevisionRow.GetAsync(read, within, job, redo).ConfigureAwait(false);
            redoes = (await RevisionRow.GetAsync(read, within, job, left.State).ConfigureAwait(false)).What;
        }

        string text = await Contents.TextAsync(read, within, last.Text).ConfigureAwait(false);
        return new JobHead(last.With(text), state.Before is null ? null : state.What, redoes);
    }

    internal static async Task<bool> ExistsAsync(DbConnection read, DbTransaction within, JobId job) =>
        await read.ExecuteScalarAsync<string?>("select id from job where id = @job", new { job = job.Text }, within).ConfigureAwait(false) is not null;

    internal static StoreProblem NoSuch(string what) => new(StoreProblemKind.Missing, $"there is no such {what}", "look in the list of jobs");

    private Task<Kept<Photograph>> MarkPhotographAsync(JobId job, int number, DateTimeOffset? removedAt, CancellationToken cancel) => database.WriteAsync<Photograph>(async (write, within) =>
    {
        if ((await PhotographRow.AllAsync(write, within, job).ConfigureAwait(false)).FirstOrDefault(p => p.Number == number) is not { } row) return NoSuch("photograph");
        // Two windows may both ask for it: the first decides since when.
        if (row.IsRemoved != removedAt is not null) await row.MarkAsync(write, within, removedAt).ConfigureAwait(false);
        return row.ToPhotograph();
    }, cancel);

    /// <summary>Adds a revision behind the one that the writer saw, or says what stands there now.</summary>
    private Task<Kept<JobHead>> AfterAsync(JobId job, int basedOn, Func<DbConnection, DbTransaction, RevisionRow, Task<StoreProblem?>> add, CancellationToken cancel) => database.WriteAsync(async (write, within) =>
    {
        RevisionRow? last = await RevisionRow.LatestAsync(write, within, job.Text).ConfigureAwait(false);
        if (last is null) return NoSuch("job");
        if (last.Number != basedOn)
            return new StoreProblem(StoreProblemKind.ChangedMeanwhile, "the job was changed meanwhile", "look at what stands there now, and choose", (await HeadAsync(write, within, job.Text).ConfigureAwait(false)).Value);
        return await add(write, within, last).ConfigureAwait(false) is { } problem ? problem : await HeadAsync(write, within, job.Text).ConfigureAwait(false);
    }, cancel);

    private static string PartName(string text) =>
        Written.Read(text, out _)?.At("part") is Written.Value { Text.Length: > 0 } part ? Contents.OneLine(part.Text) : "part without a name";
}
