using System.Data.Common;
using Dapper;

namespace Sparewright.Shop.Store;

/// <summary>
/// A revision as it is kept. How undo works: a revision stands for a <see cref="State"/>, the revision that was begun or entered and whose text it has. An undo stands for the state before;
/// its <see cref="Redo"/> is the revision that it left, and a redo goes back there. Each is one more row, and none is ever changed.
/// </summary>
/// <param name="Text">The hash of its text.</param>
/// <param name="State">With Begun and Entry its own number.</param>
/// <param name="Before">With Entry the state that an undo goes back to.</param>
internal sealed record RevisionRow(string Job, long Number, string Kind, string What, string At, string Part, string Text, long State, long? Before, long? Redo, string Seal)
{
    private const string Columns = "job, number, kind, what, at, part, text, state, before, redo, seal";

    public RevisionKind KindOf => Enum.TryParse(Kind, out RevisionKind kind) ? kind : throw new BrokenSealException($"revision {Number} of {Job} is not what was kept");

    public DateTimeOffset AtOf => Times.Read(At) ?? throw new BrokenSealException($"revision {Number} of {Job} is not what was kept");

    public Revision With(string text) => new(new(Job), (int)Number, KindOf, What, AtOf, text);

    /// <summary>A revision, or null when there is none of this number.</summary>
    public static async Task<RevisionRow?> FindAsync(DbConnection read, DbTransaction within, string job, long number) =>
        (await read.QuerySingleOrDefaultAsync<RevisionRow>($"select {Columns} from revision where job = @job and number = @number", new { job, number }, within).ConfigureAwait(false))?.Checked();

    /// <summary>A revision that another one speaks of.</summary>
    public static async Task<RevisionRow> GetAsync(DbConnection read, DbTransaction within, string job, long number) =>
        await FindAsync(read, within, job, number).ConfigureAwait(false) ?? throw new BrokenSealException($"revision {number} of {job} is not there");

    /// <summary>The latest revision of a job, or null when there is no such job.</summary>
    public static async Task<RevisionRow?> LatestAsync(DbConnection read, DbTransaction within, string job)
    {
        var (latest, last) = await read.QuerySingleOrDefaultAsync<(long?, long?)>(
            "select j.latest, (select max(r.number) from revision r where r.job = j.id) from job j where j.id = @job", new { job }, within).ConfigureAwait(false);
        if (latest is null) return null;
        return latest == last ? await GetAsync(read, within, job, latest.Value).ConfigureAwait(false) : throw new BrokenSealException($"the latest revision of {job} is not there");
    }

    /// <summary>All revisions of a job, the latest first.</summary>
    public static async Task<List<RevisionRow>> AllAsync(DbConnection read, DbTransaction within, string job)
    {
        List<RevisionRow> rows = [.. (await read.QueryAsync<RevisionRow>($"select {Columns} from revision where job = @job order by number desc", new { job }, within).ConfigureAwait(false)).Select(r => r.Checked())];
        return rows.Count == 0 || rows[0].Number == rows.Count ? rows : throw new BrokenSealException($"a revision of {job} is not there");
    }

    /// <summary>Adds it behind all others of its job.</summary>
    public async Task AddAsync(DbConnection write, DbTransaction within)
    {
        await write.ExecuteAsync($"insert into revision ({Columns}) values (@Job, @Number, @Kind, @What, @At, @Part, @Text, @State, @Before, @Redo, @Seal)", this with { Seal = OwnSeal() }, within).ConfigureAwait(false);
        await write.ExecuteAsync("update job set latest = @Number where id = @Job", this, within).ConfigureAwait(false);
    }

    private RevisionRow Checked()
    {
        if (OwnSeal() != Seal) throw new BrokenSealException($"revision {Number} of {Job} is not what was kept");
        return this;
    }

    private string OwnSeal() => Sealed.Of(Job, Number, Kind, What, At, Part, Text, State, Before, Redo);
}
