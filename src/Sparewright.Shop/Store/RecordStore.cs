using System.Data.Common;
using Dapper;

namespace Sparewright.Shop.Store;

/// <summary>Instruments, machines, materials and trials in a database.</summary>
internal sealed class RecordStore(IDatabase database, TimeProvider clock) : IRecordStore
{
    private const string Columns = "kind, job, name, number, at, text, seal";

    private sealed record Row(string Kind, string Job, string Name, long Number, string At, string Text, string Seal)
    {
        public string OwnSeal() => Sealed.Of(Kind, Job, Name, Number, At, Text);
    }

    public Task<Kept<IReadOnlyList<ShopRecord>>> RecordsAsync(RecordKind kind, JobId? job = null, CancellationToken cancel = default) =>
        database.ReadAsync<IReadOnlyList<ShopRecord>>(async (read, within) => new(await LatestAsync(read, within, kind, job).ConfigureAwait(false), null), cancel);

    public Task<Kept<ShopRecord>> KeepAsync(RecordName name, int basedOn, string text, CancellationToken cancel = default) =>
        database.WriteAsync((write, within) => KeepAsync(write, within, name, basedOn, text, clock.GetUtcNow()), cancel);

    public Task<Kept<IReadOnlyList<ShopRecord>>> RevisionsAsync(RecordName name, CancellationToken cancel = default) => database.ReadAsync<IReadOnlyList<ShopRecord>>(async (read, within) =>
    {
        List<ShopRecord> all = await QueryAsync(read, within, $"select {Columns} from record where kind = @kind and job = @job and name = @name order by number desc", Key(name)).ConfigureAwait(false);
        return all.Count > 0 ? new Kept<IReadOnlyList<ShopRecord>>(all, null) : JobStore.NoSuch("record");
    }, cancel);

    internal static async Task<List<ShopRecord>> LatestAsync(DbConnection read, DbTransaction within, RecordKind kind, JobId? job)
    {
        List<ShopRecord> latest = await QueryAsync(read, within,
            $"select {Columns} from record r where kind = @kind and job = @job and number = (select max(number) from record o where o.kind = r.kind and o.job = r.job and o.name = r.name)",
            new { kind = $"{kind}", job = job?.Text ?? "" }).ConfigureAwait(false);
        return [.. latest.OrderBy(r => r.Name.Name, StringComparer.Ordinal)];
    }

    internal static async Task<Kept<ShopRecord>> KeepAsync(DbConnection write, DbTransaction within, RecordName name, int basedOn, string text, DateTimeOffset at)
    {
        if (name.Kind is RecordKind.Trial != name.Job is not null) throw new ArgumentException("a trial has a job, and only a trial", nameof(name));
        if (name.Name != Contents.OneLine(name.Name) || name.Name.Length == 0) return new StoreProblem(StoreProblemKind.Refused, "the name is empty, too long or cannot be seen", "choose another");
        if (name.Job is { } job && !await JobStore.ExistsAsync(write, within, job).ConfigureAwait(false)) return JobStore.NoSuch("job");
        Kept<byte[]> bytes = Contents.Bytes(text);
        if (!bytes.IsGood) return bytes.Problem;
        long last = await write.ExecuteScalarAsync<long?>("select max(number) from record where kind = @kind and job = @job and name = @name", Key(name), within).ConfigureAwait(false) ?? 0;
        if (last != basedOn) return new StoreProblem(StoreProblemKind.ChangedMeanwhile, $"{name.Name} was changed meanwhile", "look at what stands there now, and choose");
        string hash = await Contents.KeepAsync(write, within, bytes.Value).ConfigureAwait(false);
        var row = new Row($"{name.Kind}", name.Job?.Text ?? "", name.Name, last + 1, Times.Written(at), hash, "");
        await write.ExecuteAsync($"insert into record ({Columns}) values (@Kind, @Job, @Name, @Number, @At, @Text, @Seal)", row with { Seal = row.OwnSeal() }, within).ConfigureAwait(false);
        return new ShopRecord(name, (int)row.Number, at, text);
    }

    private static object Key(RecordName name) => new { kind = $"{name.Kind}", job = name.Job?.Text ?? "", name = name.Name };

    private static async Task<List<ShopRecord>> QueryAsync(DbConnection read, DbTransaction within, string sql, object key)
    {
        var records = new List<ShopRecord>();
        foreach (Row row in await read.QueryAsync<Row>(sql, key, within).ConfigureAwait(false))
        {
            if (row.OwnSeal() != row.Seal || !Enum.TryParse(row.Kind, out RecordKind kind) || Times.Read(row.At) is not { } at) throw new BrokenSealException($"{row.Name} is not what was kept");
            string text = await Contents.TextAsync(read, within, row.Text).ConfigureAwait(false);
            records.Add(new ShopRecord(new RecordName(kind, row.Name, row.Job.Length > 0 ? new JobId(row.Job) : null), (int)row.Number, at, text));
        }

        return records;
    }
}
