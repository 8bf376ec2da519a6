using System.Data.Common;
using DbUp;
using DbUp.Postgresql;
using Npgsql;

namespace Sparewright.Shop.Store;

/// <summary>
/// A shop's data in a PostgreSQL database that several machines share. The server must sync every commit before it says so, and guard against torn pages
/// (PostgreSQL documentation, "Write Ahead Log": fsync, synchronous_commit, full_page_writes): each connection is asked before it is used.
/// </summary>
internal sealed class PostgresDatabase : IDatabase
{
    /// <summary>One lock for all writers of the shop: any number that nobody else uses.</summary>
    private const long WritersLock = 0x5350_4152_4557;

    private const string LosingSettings = "select name from pg_settings where name in ('fsync', 'full_page_writes', 'synchronous_commit') and setting = 'off' limit 1";

    private readonly NpgsqlDataSource _source;

    private PostgresDatabase(NpgsqlDataSource source) => _source = source;

    /// <summary>Connects, makes or extends the tables, and refuses a server that may lose what it has acknowledged.</summary>
    /// <param name="connectionString">Without a password: that comes from a file.</param>
    public static async Task<Kept<PostgresDatabase>> OpenAsync(string connectionString, CancellationToken cancel)
    {
        NpgsqlDataSource? source = null;
        try
        {
            var address = new NpgsqlConnectionStringBuilder(connectionString);
            if (Unguarded(address) is { } unguarded) return unguarded;
            var builder = new NpgsqlDataSourceBuilder(address.ToString());
            builder.UsePhysicalConnectionInitializer(Check, CheckAsync);
            source = builder.Build();
            if (await BringTablesAsync(source, cancel).ConfigureAwait(false) is { } problem) return problem;
            var database = new PostgresDatabase(source);
            source = null;
            return database;
        }
        catch (Exception e) when (Meaning(e) is { } problem)
        {
            return problem;
        }
        catch (ArgumentException e)
        {
            return new StoreProblem(StoreProblemKind.Refused, $"the address of the database cannot be read: {e.Message.TrimEnd('.')}", "write it as Host=…;Database=…;Username=…");
        }
        finally
        {
            if (source is not null) await source.DisposeAsync().ConfigureAwait(false);
        }
    }

    public async Task<Kept<T>> ReadAsync<T>(Func<DbConnection, DbTransaction, Task<Kept<T>>> read, CancellationToken cancel) where T : class =>
        await InTransactionAsync(System.Data.IsolationLevel.RepeatableRead, read, cancel).ConfigureAwait(false);

    public async Task<Kept<T>> WriteAsync<T>(Func<DbConnection, DbTransaction, Task<Kept<T>>> write, CancellationToken cancel) where T : class =>
        await InTransactionAsync(System.Data.IsolationLevel.ReadCommitted, async (connection, transaction) =>
        {
            await LockAsync((NpgsqlConnection)connection, "pg_advisory_xact_lock", cancel).ConfigureAwait(false);
            return await write(connection, transaction).ConfigureAwait(false);
        }, cancel).ConfigureAwait(false);

    public ValueTask DisposeAsync() => _source.DisposeAsync();

    private async Task<Kept<T>> InTransactionAsync<T>(System.Data.IsolationLevel level, Func<DbConnection, DbTransaction, Task<Kept<T>>> work, CancellationToken cancel) where T : class
    {
        try
        {
            NpgsqlConnection connection = await _source.OpenConnectionAsync(cancel).ConfigureAwait(false);
            await using (connection.ConfigureAwait(false))
            {
                NpgsqlTransaction transaction = await connection.BeginTransactionAsync(level, cancel).ConfigureAwait(false);
                await using (transaction.ConfigureAwait(false))
                {
                    Kept<T> kept = await work(connection, transaction).ConfigureAwait(false);
                    if (kept.IsGood) await transaction.CommitAsync(CancellationToken.None).ConfigureAwait(false);
                    return kept;
                }
            }
        }
        catch (Exception e) when (Meaning(e) is { } problem)
        {
            return problem;
        }
    }

    /// <summary>Whoever opens a new shop at the same time waits until its tables are made.</summary>
    private static async Task<StoreProblem?> BringTablesAsync(NpgsqlDataSource source, CancellationToken cancel)
    {
        NpgsqlConnection alone = await source.OpenConnectionAsync(cancel).ConfigureAwait(false);
        await using (alone.ConfigureAwait(false))
        {
            await LockAsync(alone, "pg_advisory_lock", cancel).ConfigureAwait(false);
            try
            {
                return await Task.Run(() => Tables.Bring(DeployChanges.To.PostgresqlDatabase(new PostgresqlConnectionManager(source))
                    .WithScriptsEmbeddedInAssembly(typeof(PostgresDatabase).Assembly, name => name.StartsWith("postgresql/", StringComparison.Ordinal))
                    .WithTransaction().WithVariablesDisabled().LogToNowhere().Build(), "the database"), cancel).ConfigureAwait(false);
            }
            finally
            {
                await LockAsync(alone, "pg_advisory_unlock", CancellationToken.None).ConfigureAwait(false);
            }
        }
    }

    private static async Task LockAsync(NpgsqlConnection connection, string function, CancellationToken cancel)
    {
        NpgsqlCommand command = connection.CreateCommand();
        await using (command.ConfigureAwait(false))
        {
            command.CommandText = $"select {function}({WritersLock})";
            await command.ExecuteNonQueryAsync(cancel).ConfigureAwait(false);
        }
    }

    /// <summary>A password that others can read, or a way on which it and the data could be read.</summary>
    private static StoreProblem? Unguarded(NpgsqlConnectionStringBuilder address)
    {
        if (address.Password is { Length: > 0 })
            return new(StoreProblemKind.Refused, "the address of the database holds a password", "put it into a file that only you can read, and name that file in PGPASSFILE");
        if (Environment.GetEnvironmentVariable("PGPASSWORD") is { Length: > 0 })
            return new(StoreProblemKind.Refused, "the password stands in PGPASSWORD, where other programs can read it", "put it into a file that only you can read, and name that file in PGPASSFILE");
        bool isNear = address.Host is not { Length: > 0 } host || host.Split(',').All(h => h.StartsWith('/') || h is "localhost" or "127.0.0.1" or "::1");
        if (isNear || address.SslMode is SslMode.VerifyFull) return null;
        return new(StoreProblemKind.Refused, "the way to the database's machine is not guarded", "add SSL Mode=VerifyFull to its address");
    }

    private static void Check(NpgsqlConnection connection)
    {
        using NpgsqlCommand command = new(LosingSettings, connection);
        if (command.ExecuteScalar() is string setting) throw new LosingServerException(setting);
    }

    private static async Task CheckAsync(NpgsqlConnection connection)
    {
        var command = new NpgsqlCommand(LosingSettings, connection);
        await using (command.ConfigureAwait(false))
        {
            if (await command.ExecuteScalarAsync().ConfigureAwait(false) is string setting) throw new LosingServerException(setting);
        }
    }

    // The codes are those of appendix A of the PostgreSQL documentation.
    private static StoreProblem? Meaning(Exception? e) => e switch
    {
        LosingServerException losing => new(StoreProblemKind.Unavailable, $"the database server runs with {losing.Message} off and may lose what it has acknowledged", $"switch {losing.Message} on"),
        BrokenSealException => new(StoreProblemKind.Unavailable, "the database is damaged, or somebody changed it by hand", "take the last copy of it, or begin anew and take in the bundles of its jobs"),
        PostgresException { SqlState: "53100" } => new(StoreProblemKind.Unavailable, "the disk of the database is full", "make room and try again; what was kept before is intact"),
        PostgresException { SqlState: "25006" } => new(StoreProblemKind.Unavailable, "the database can only be read", "ask whoever looks after it"),
        PostgresException { SqlState: "28P01" or "28000" } => new(StoreProblemKind.Unavailable, "the database does not let this user in", "see that the file in PGPASSFILE holds the password and that only you can read it"),
        PostgresException told => new(StoreProblemKind.Unavailable, $"the database refused it: {told.MessageText}", "ask whoever looks after it"),
        NpgsqlException or TimeoutException or IOException => new(StoreProblemKind.Unavailable, "the database does not answer", "see that its server runs and can be reached; what was kept before is intact"),
        _ => null,
    };

    /// <summary>The server does not do what an acknowledgement needs.</summary>
    private sealed class LosingServerException(string setting) : Exception(setting);
}
