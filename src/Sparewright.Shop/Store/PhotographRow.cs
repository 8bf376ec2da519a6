using System.Data.Common;
using Dapper;

namespace Sparewright.Shop.Store;

/// <summary>A photograph as it is kept.</summary>
internal sealed record PhotographRow(string Job, long Number, string Name, string MediaType, string Hash, long WidthPx, long HeightPx, string At, string? RemovedAt, string Seal)
{
    private const string Columns = "job as Job, number as Number, name as Name, media_type as MediaType, hash as Hash, width_px as WidthPx, height_px as HeightPx, at as At, removed_at as RemovedAt, seal as Seal";

    public bool IsRemoved => RemovedAt is not null;

    public Photograph ToPhotograph() => new(new(Job), (int)Number, Name, MediaType, Hash, (int)WidthPx, (int)HeightPx, Times.Read(At) ?? throw new BrokenSealException("a photograph is not what was kept"));

    /// <summary>Those that are not removed.</summary>
    public static async Task<IEnumerable<PhotographRow>> PresentAsync(DbConnection read, DbTransaction within, JobId job) =>
        (await AllAsync(read, within, job).ConfigureAwait(false)).Where(p => !p.IsRemoved);

    public static async Task<List<PhotographRow>> AllAsync(DbConnection read, DbTransaction within, JobId job)
    {
        List<PhotographRow> rows = [.. await read.QueryAsync<PhotographRow>($"select {Columns} from photograph where job = @job order by number", new { job = job.Text }, within).ConfigureAwait(false)];
        if (rows.Exists(r => r.OwnSeal() != r.Seal) || (rows.Count > 0 && rows[^1].Number != rows.Count)) throw new BrokenSealException($"a photograph of {job} is not what was kept");
        return rows;
    }

    public static async Task<Photograph> AddAsync(DbConnection write, DbTransaction within, JobId job, string name, string mediaType, int widthPx, int heightPx, ReadOnlyMemory<byte> content, DateTimeOffset at)
    {
        string hash = await Contents.KeepAsync(write, within, content).ConfigureAwait(false);
        long last = await write.ExecuteScalarAsync<long?>("select max(number) from photograph where job = @job", new { job = job.Text }, within).ConfigureAwait(false) ?? 0;
        var row = new PhotographRow(job.Text, last + 1, Contents.OneLine(name), mediaType, hash, widthPx, heightPx, Times.Written(at), null, "");
        await write.ExecuteAsync("insert into photograph (job, number, name, media_type, hash, width_px, height_px, at, seal) values (@Job, @Number, @Name, @MediaType, @Hash, @WidthPx, @HeightPx, @At, @Seal)",
            row with { Seal = row.OwnSeal() }, within).ConfigureAwait(false);
        return row.ToPhotograph();
    }

    /// <param name="removedAt">Since when it is removed; null puts it back.</param>
    public async Task MarkAsync(DbConnection write, DbTransaction within, DateTimeOffset? removedAt)
    {
        PhotographRow marked = this with { RemovedAt = removedAt is { } at ? Times.Written(at) : null };
        await write.ExecuteAsync("update photograph set removed_at = @RemovedAt, seal = @Seal where job = @Job and number = @Number", marked with { Seal = marked.OwnSeal() }, within).ConfigureAwait(false);
    }

    private string OwnSeal() => RemovedAt is null ? Sealed.Of(Job, Number, Name, MediaType, Hash, WidthPx, HeightPx, At) : Sealed.Of(Job, Number, Name, MediaType, Hash, WidthPx, HeightPx, At, RemovedAt);
}
