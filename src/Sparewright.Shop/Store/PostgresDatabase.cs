using System.Data.Common;
using DbUp;
using DbUp.Engine;
using Npgsql;

namespace Sparewright.Shop.Store;

/// <summary>A shop's data in a PostgreSQL database that several machines share. It must sync every commit before it says so (PostgreSQL documentation, "Write Ahead Log", fsync, synchronous_commit, full_page_writes).</summary>
internal sealed class PostgresDatabase : IDatabase
{
    /// <summary>One lock for all writers of the shop: any number that nobody else uses.</summary>
    private const long WritersLock = 0x5350_4152_4557;

    private readonly NpgsqlDataSource _source;

    private PostgresDatabase(NpgsqlDataSource source) => _source = source;

    /// <summary>Connects, makes or extends the tables, and refuses a server that may lose what it has acknowledged.</summary>
    /// <param name="connectionString">Without a password: that comes from PGPASSFILE.</param>
    public static async Task<Kept<PostgresDatabase>> OpenAsync(string connectionString, CancellationToken cancel)
    {
        NpgsqlDataSource? source = null;
        try
        {
            if (new NpgsqlConnectionStringBuilder(connectionString).Password is { Length: > 0 })
                return new StoreProblem(StoreProblemKind.Refused, "the address of the database holds a password", "put it into a file and name that in PGPASSFILE");
            source = NpgsqlDataSource.Create(connectionString);
            foreach (string setting in (string[])["fsync", "full_page_writes", "synchronous_commit"])
            {
                await using NpgsqlCommand show = source.CreateCommand($"show {setting}");
                if (await show.ExecuteScalarAsync(cancel).ConfigureAwait(false) as string is "off")
                    return new StoreProblem(StoreProblemKind.Unavailable, $"the database server runs with {setting} off and may lose what it has acknowledged", $"switch {setting} on");
            }

            DatabaseUpgradeResult upgraded = await Task.Run(() => DeployChanges.To.PostgresqlDatabase(connectionString)
                .WithScriptsEmbeddedInAssembly(typeof(PostgresDatabase).Assembly, name => name.StartsWith("postgresql/", StringComparison.Ordinal))
                .WithTransaction().LogToNowhere().Build().PerformUpgrade(), cancel).ConfigureAwait(false);
            if (!upgraded.Successful) return Meaning(upgraded.Error) ?? throw new InvalidOperationException($"the script {upgraded.ErrorScript?.Name} failed", upgraded.Error);
            var database = new PostgresDatabase(source);
            source = null;
            return database;
        }
        catch (Exception e) when (Meaning(e) is { } problem)
        {
            return problem;
        }
        finally
        {
            if (source is not null) await source.DisposeAsync().ConfigureAwait(false);
        }
    }

    public async Task<DbConnection> ReadAsync(CancellationToken cancel) => await _source.OpenConnectionAsync(cancel).ConfigureAwait(false);

    public async Task<T> WriteAsync<T>(Func<DbConnection, DbTransaction, Task<T>> write, CancellationToken cancel)
    {
        NpgsqlConnection connection = await _source.OpenConnectionAsync(cancel).ConfigureAwait(false);
        await using (connection.ConfigureAwait(false))
        {
            NpgsqlTransaction transaction = await connection.BeginTransactionAsync(cancel).ConfigureAwait(false);
            await using (transaction.ConfigureAwait(false))
            {
                await using (NpgsqlCommand alone = connection.CreateCommand())
                {
                    alone.CommandText = $"select pg_advisory_xact_lock({WritersLock})";
                    await alone.ExecuteNonQueryAsync(cancel).ConfigureAwait(false);
                }

                T result = await write(connection, transaction).ConfigureAwait(false);
                await transaction.CommitAsync(CancellationToken.None).ConfigureAwait(false);
                return result;
            }
        }
    }

    public StoreProblem? AsProblem(Exception e) => Meaning(e);

    public ValueTask DisposeAsync() => _source.DisposeAsync();

    private static StoreProblem? Meaning(Exception? e) => e switch
    {
        PostgresException { SqlState: "53100" } => new(StoreProblemKind.Unavailable, "the disk of the database is full", "make room and try again; what was kept before is intact"),
        PostgresException { SqlState: "25006" } => new(StoreProblemKind.Unavailable, "the database can only be read", "ask whoever looks after it"),
        PostgresException told => new(StoreProblemKind.Unavailable, $"the database refused it: {told.MessageText}", "ask whoever looks after it"),
        NpgsqlException or TimeoutException => new(StoreProblemKind.Unavailable, "the database does not answer", "see that its server runs and can be reached; what was kept before is intact"),
        _ => null,
    };
}
