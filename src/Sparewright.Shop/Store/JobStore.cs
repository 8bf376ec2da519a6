using System.Data.Common;
using System.Globalization;
using System.Security.Cryptography;
using Dapper;
using Sparewright.Part;

namespace Sparewright.Shop.Store;

/// <summary>The jobs of a shop in a database, by SQL that both databases understand.</summary>
internal sealed class JobStore(IDatabase database, TimeProvider clock) : IJobStore, IAsyncDisposable
{
    private const string Columns = "r.job, r.number, r.kind, r.what, r.at, s.content, r.state, r.redoes";
    private const string Revisions = $"select {Columns} from revision r join revision s on s.job = r.job and s.number = r.state where r.job = @job";

    /// <summary>A row of the table; its text is that of the entry that it stands for.</summary>
    private sealed record Row(string Job, long Number, string Kind, string What, string At, string Content, long State, string Redoes)
    {
        public Revision ToRevision() => new(new(Job), (int)Number, Enum.Parse<RevisionKind>(Kind), What, DateTimeOffset.Parse(At, CultureInfo.InvariantCulture), Content);
    }

    private sealed record PhotographRow(string Job, long Number, string Name, string MediaType, string Hash, long WidthPx, long HeightPx, string At)
    {
        public Photograph ToPhotograph() => new(new(Job), (int)Number, Name, MediaType, Hash, (int)WidthPx, (int)HeightPx, DateTimeOffset.Parse(At, CultureInfo.InvariantCulture));
    }

    public Task<Kept<IReadOnlyList<JobEntry>>> JobsAsync(CancellationToken cancel = default) => ReadAsync<IReadOnlyList<JobEntry>>(async read =>
    {
        var rows = await read.QueryAsync<(string Job, string Part, long Number, string At)>(
            "select r.job, r.part, r.number, r.at from job j join revision r on r.job = j.id and r.number = j.latest order by r.at desc, r.job").ConfigureAwait(false);
        return new([.. rows.Select(r => new JobEntry(new(r.Job), r.Part, (int)r.Number, DateTimeOffset.Parse(r.At, CultureInfo.InvariantCulture)))], null);
    }, cancel);

    public Task<Kept<JobHead>> BeginAsync(string text, string what, CancellationToken cancel = default) => WriteAsync(async (write, within) =>
    {
        string id = NewId();
        await write.ExecuteAsync("insert into job (id, latest) values (@id, 0)", new { id }, within).ConfigureAwait(false);
        await AddAsync(write, within, id, 1, RevisionKind.Begun, what, text, 1, null, "").ConfigureAwait(false);
        return await HeadAsync(write, within, id).ConfigureAwait(false);
    }, cancel);

    public Task<Kept<JobHead>> HeadAsync(JobId job, CancellationToken cancel = default) => ReadAsync(read => HeadAsync(read, null, job.Text), cancel);

    public Task<Kept<JobHead>> EnterAsync(JobId job, int basedOn, string text, string what, CancellationToken cancel = default) => NextAsync(job, basedOn, async (write, within, last) =>
    {
        int number = (int)last.Number + 1;
        await AddAsync(write, within, job.Text, number, RevisionKind.Entry, what, text, number, last.State, "").ConfigureAwait(false);
        return null;
    }, cancel);

    public Task<Kept<JobHead>> UndoAsync(JobId job, int basedOn, CancellationToken cancel = default) => NextAsync(job, basedOn, async (write, within, last) =>
    {
        var (before, what) = await EntryAsync(write, within, job.Text, last.State).ConfigureAwait(false);
        if (before is null) return new StoreProblem(StoreProblemKind.Refused, "there is nothing to undo", "this is how the job began");
        string redoes = last.Redoes.Length == 0 ? $"{last.State}" : $"{last.State} {last.Redoes}";
        await AddAsync(write, within, job.Text, (int)last.Number + 1, RevisionKind.Undo, $"undo: {what}", null, before.Value, null, redoes).ConfigureAwait(false);
        return null;
    }, cancel);

    public Task<Kept<JobHead>> RedoAsync(JobId job, int basedOn, CancellationToken cancel = default) => NextAsync(job, basedOn, async (write, within, last) =>
    {
        if (last.Redoes.Length == 0) return new StoreProblem(StoreProblemKind.Refused, "there is nothing to do again", "only what was undone last, before anything else is entered, can be done again");
        string[] redoes = last.Redoes.Split(' ', 2);
        long state = long.Parse(redoes[0], CultureInfo.InvariantCulture);
        var (_, what) = await EntryAsync(write, within, job.Text, state).ConfigureAwait(false);
        await AddAsync(write, within, job.Text, (int)last.Number + 1, RevisionKind.Redo, $"again: {what}", null, state, null, redoes.Length > 1 ? redoes[1] : "").ConfigureAwait(false);
        return null;
    }, cancel);

    public Task<Kept<IReadOnlyList<Revision>>> RevisionsAsync(JobId job, CancellationToken cancel = default) => ReadAsync<IReadOnlyList<Revision>>(async read =>
    {
        var rows = (await read.QueryAsync<Row>($"{Revisions} order by r.number desc", new { job = job.Text }).ConfigureAwait(false)).ToList();
        if (rows.Count == 0) return NoSuch("job");
        return new([.. rows.Select(r => r.ToRevision())], null);
    }, cancel);

    public Task<Kept<Photograph>> AddPhotographAsync(JobId job, string name, string mediaType, int widthPx, int heightPx, ReadOnlyMemory<byte> content, CancellationToken cancel = default) => WriteAsync<Photograph>(async (write, within) =>
    {
        if (await write.ExecuteScalarAsync<string?>("select id from job where id = @job", new { job = job.Text }, within).ConfigureAwait(false) is null) return NoSuch("job");
        string hash = Convert.ToHexStringLower(SHA256.HashData(content.Span));
        await write.ExecuteAsync("insert into content (hash, bytes) select @hash, @bytes where not exists (select 1 from content where hash = @hash)", new { hash, bytes = content.ToArray() }, within).ConfigureAwait(false);
        int number = (await write.ExecuteScalarAsync<int?>("select max(number) from photograph where job = @job", new { job = job.Text }, within).ConfigureAwait(false) ?? 0) + 1;
        var row = new PhotographRow(job.Text, number, name, mediaType, hash, widthPx, heightPx, Now());
        await write.ExecuteAsync("insert into photograph (job, number, name, media_type, hash, width_px, height_px, at) values (@Job, @Number, @Name, @MediaType, @Hash, @WidthPx, @HeightPx, @At)", row, within).ConfigureAwait(false);
        return row.ToPhotograph();
    }, cancel);

    public Task<Kept<IReadOnlyList<Photograph>>> PhotographsAsync(JobId job, CancellationToken cancel = default) => ReadAsync<IReadOnlyList<Photograph>>(async read =>
    {
        var rows = await read.QueryAsync<PhotographRow>("select job, number, name, media_type as MediaType, hash, width_px as WidthPx, height_px as HeightPx, at from photograph where job = @job order by number", new { job = job.Text }).ConfigureAwait(false);
        return new([.. rows.Select(r => r.ToPhotograph())], null);
    }, cancel);

    public Task<Kept<byte[]>> PhotographContentAsync(JobId job, int number, CancellationToken cancel = default) => ReadAsync<byte[]>(async read =>
        await read.ExecuteScalarAsync<byte[]?>("select c.bytes from photograph p join content c on c.hash = p.hash where p.job = @job and p.number = @number", new { job = job.Text, number }).ConfigureAwait(false) is { } bytes
            ? bytes : NoSuch("photograph"), cancel);

    public ValueTask DisposeAsync() => database.DisposeAsync();

    private static async Task<Kept<JobHead>> HeadAsync(DbConnection on, DbTransaction? within, string job)
    {
        Row? row = await LastAsync(on, within, job).ConfigureAwait(false);
        if (row is null) return NoSuch("job");
        var (before, what) = await EntryAsync(on, within, job, row.State).ConfigureAwait(false);
        string? redoes = row.Redoes.Length == 0 ? null : (await EntryAsync(on, within, job, long.Parse(row.Redoes.Split(' ')[0], CultureInfo.InvariantCulture)).ConfigureAwait(false)).What;
        return new JobHead(row.ToRevision(), before is null ? null : what, redoes);
    }

    private static async Task<Row?> LastAsync(DbConnection on, DbTransaction? within, string job) =>
        await on.QuerySingleOrDefaultAsync<Row>($"{Revisions} and r.number = (select latest from job where id = @job)", new { job }, within).ConfigureAwait(false);

    private static async Task<(long? Before, string What)> EntryAsync(DbConnection on, DbTransaction? within, string job, long number) =>
        await on.QuerySingleAsync<(long?, string)>("select before, what from revision where job = @job and number = @number", new { job, number }, within).ConfigureAwait(false);

    /// <summary>Adds a revision behind the one that the writer saw, or says what stands there now.</summary>
    private Task<Kept<JobHead>> NextAsync(JobId job, int basedOn, Func<DbConnection, DbTransaction, Row, Task<StoreProblem?>> add, CancellationToken cancel) => WriteAsync(async (write, within) =>
    {
        Row? last = await LastAsync(write, within, job.Text).ConfigureAwait(false);
        if (last is null) return NoSuch("job");
        if (last.Number != basedOn)
            return new StoreProblem(StoreProblemKind.ChangedMeanwhile, "the job was changed meanwhile", "look at what stands there now, and choose", (await HeadAsync(write, within, job.Text).ConfigureAwait(false)).Value);
        return await add(write, within, last).ConfigureAwait(false) is { } problem ? problem : await HeadAsync(write, within, job.Text).ConfigureAwait(false);
    }, cancel);

    private async Task AddAsync(DbConnection write, DbTransaction within, string job, int number, RevisionKind kind, string what, string? content, long state, long? before, string redoes)
    {
        string part = content is null
            ? await write.ExecuteScalarAsync<string>("select part from revision where job = @job and number = @state", new { job, state }, within).ConfigureAwait(false) ?? ""
            : PartName(content);
        await write.ExecuteAsync("insert into revision (job, number, kind, what, at, part, content, state, before, redoes) values (@job, @number, @kind, @what, @at, @part, @content, @state, @before, @redoes)",
            new { job, number, kind = kind.ToString(), what, at = Now(), part, content, state, before, redoes }, within).ConfigureAwait(false);
        await write.ExecuteAsync("update job set latest = @number where id = @job", new { job, number }, within).ConfigureAwait(false);
    }

    private async Task<Kept<T>> ReadAsync<T>(Func<DbConnection, Task<Kept<T>>> read, CancellationToken cancel) where T : class
    {
        try
        {
            DbConnection connection = await database.ReadAsync(cancel).ConfigureAwait(false);
            await using (connection.ConfigureAwait(false)) return await Task.Run(() => read(connection), cancel).ConfigureAwait(false);
        }
        catch (Exception e) when (database.AsProblem(e) is { } problem)
        {
            return problem;
        }
    }

    private async Task<Kept<T>> WriteAsync<T>(Func<DbConnection, DbTransaction, Task<Kept<T>>> write, CancellationToken cancel) where T : class
    {
        try
        {
            return await database.WriteAsync(write, cancel).ConfigureAwait(false);
        }
        catch (Exception e) when (database.AsProblem(e) is { } problem)
        {
            return problem;
        }
    }

    private string Now() => clock.GetUtcNow().UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.fffffff'Z'", CultureInfo.InvariantCulture);

    private static string PartName(string text) => Written.Read(text, out _)?.At("part") is Written.Value { Text.Length: > 0 } part ? part.Text : "part without a name";

    private static string NewId() => string.Concat(Enumerable.Range(0, 12).Select(_ => "abcdefghjkmnpqrstuvwxyz23456789"[RandomNumberGenerator.GetInt32(31)]));

    private static StoreProblem NoSuch(string what) => new(StoreProblemKind.Missing, $"there is no such {what}", "look in the list of jobs");
}
