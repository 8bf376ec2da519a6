using System.Data.Common;
using DbUp;
using DbUp.Engine;
using Microsoft.Data.Sqlite;

namespace Sparewright.Shop.Store;

/// <summary>
/// A shop's data in one SQLite file. Write-ahead log with a sync at every commit, so that what is acknowledged survives a crash of the machine as far as its disk keeps its word
/// (SQLite documentation, "Write-Ahead Logging" and "PRAGMA synchronous").
/// </summary>
internal sealed class SqliteDatabase : IDatabase
{
    private const string Settings = "pragma journal_mode=wal; pragma synchronous=full; pragma foreign_keys=on; pragma trusted_schema=off; pragma busy_timeout=5000;";

    private readonly string _connectionString;
    private readonly SqliteConnection _writer;
    private readonly SemaphoreSlim _writing = new(1, 1);

    private SqliteDatabase(string connectionString, SqliteConnection writer) => (_connectionString, _writer) = (connectionString, writer);

    /// <summary>Opens the file, makes or extends its tables, and checks that it is sound.</summary>
    public static Kept<SqliteDatabase> Open(string path)
    {
        string connectionString = new SqliteConnectionStringBuilder { DataSource = path, ForeignKeys = true }.ToString();
        SqliteConnection? writer = null;
        try
        {
            writer = new SqliteConnection(connectionString);
            writer.Open();
            Run(writer, Settings);
            using (SqliteCommand check = writer.CreateCommand())
            {
                check.CommandText = "pragma quick_check(1)";
                if (check.ExecuteScalar() as string is not "ok") return Damaged(path);
            }

            DatabaseUpgradeResult upgraded = DeployChanges.To.SqliteDatabase(connectionString)
                .WithScriptsEmbeddedInAssembly(typeof(SqliteDatabase).Assembly, name => name.StartsWith("sqlite/", StringComparison.Ordinal))
                .WithTransaction().LogToNowhere().Build().PerformUpgrade();
            if (!upgraded.Successful) return Meaning(upgraded.Error, path) ?? throw new InvalidOperationException($"the script {upgraded.ErrorScript?.Name} failed", upgraded.Error);
            var database = new SqliteDatabase(connectionString, writer);
            writer = null;
            return database;
        }
        catch (SqliteException e) when (Meaning(e, path) is { } problem)
        {
            return problem;
        }
        finally
        {
            writer?.Dispose();
        }
    }

    public Task<DbConnection> ReadAsync(CancellationToken cancel) => Task.Run<DbConnection>(() =>
    {
        var connection = new SqliteConnection(_connectionString);
        try
        {
            connection.Open();
            Run(connection, Settings);
            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }, cancel);

    /// <summary>SQLite's asynchronous calls are none: the work runs on a thread of its own, never on a window's.</summary>
    public async Task<T> WriteAsync<T>(Func<DbConnection, DbTransaction, Task<T>> write, CancellationToken cancel)
    {
        await _writing.WaitAsync(cancel).ConfigureAwait(false);
        try
        {
            return await Task.Run(async () =>
            {
                using SqliteTransaction transaction = _writer.BeginTransaction(deferred: false);
                T result = await write(_writer, transaction).ConfigureAwait(false);
                transaction.Commit();
                return result;
            }, CancellationToken.None).ConfigureAwait(false);
        }
        finally
        {
            _writing.Release();
        }
    }

    public StoreProblem? AsProblem(Exception e) => Meaning(e, _writer.DataSource);

    public async ValueTask DisposeAsync()
    {
        await _writing.WaitAsync().ConfigureAwait(false);
        _writer.Dispose();
        SqliteConnection.ClearPool(new SqliteConnection(_connectionString));
        _writing.Dispose();
    }

    private static void Run(SqliteConnection connection, string sql)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }

    private static StoreProblem Damaged(string path) => new(StoreProblemKind.Unavailable, $"{path} is damaged", "put it aside and take the last bundle or copy of it");

    // The codes are those of sqlite.org/rescode.html.
    private static StoreProblem? Meaning(Exception? e, string path) => (e as SqliteException)?.SqliteErrorCode switch
    {
        5 or 6 => new(StoreProblemKind.Unavailable, $"{path} is held by another program", "close it and try again"),
        8 => new(StoreProblemKind.Unavailable, $"{path} can only be read", "give yourself leave to write to it and to its folder"),
        10 => new(StoreProblemKind.Unavailable, $"the disk refused {path}", "see whether it is full or failing; what was kept before is intact"),
        13 => new(StoreProblemKind.Unavailable, $"the disk of {path} is full", "make room and try again; what was kept before is intact"),
        14 => new(StoreProblemKind.Unavailable, $"{path} cannot be opened", "see that its folder is there, that you may write to it, and that not too many files are open"),
        11 or 26 => Damaged(path),
        _ => null,
    };
}
