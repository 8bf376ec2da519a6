using System.Data.Common;
using DbUp;
using DbUp.Sqlite.Helpers;
using Microsoft.Data.Sqlite;

namespace Sparewright.Shop.Store;

/// <summary>
/// A shop's data in one SQLite file. Write-ahead log with a sync at every commit, so that what is acknowledged survives a crash of the machine as far as its disk keeps its word
/// (SQLite documentation, "Write-Ahead Logging" and "PRAGMA synchronous"). One writer, one reader beside it; other processes wait their turn.
/// </summary>
internal sealed class SqliteDatabase : IDatabase
{
    /// <summary>How long another process is waited for.</summary>
    private const int PatienceSeconds = 5;

    private readonly SqliteLane _writing, _reading;

    private SqliteDatabase(string path, SqliteConnection writer)
    {
        _writing = new SqliteLane(writer, () => Connect(path), writes: true, e => Meaning(e, path));
        _reading = new SqliteLane(null, () => Connect(path), writes: false, e => Meaning(e, path));
    }

    /// <summary>Opens the file in a folder, checks that it is sound, makes or extends its tables.</summary>
    public static Kept<SqliteDatabase> Open(string folder)
    {
        string path = Path.Combine(folder, "shop.db");
        SqliteConnection? writer = null;
        try
        {
            // To SQLite an empty file is a new one; to a shop that was used it is a lost one.
            if (DataFolder.WasUsed(folder) && !(File.Exists(path) && new FileInfo(path).Length > 0)) return Damaged(path);
            writer = Connect(path);
            if (Ask(writer, "pragma quick_check(1)") is not "ok") return Damaged(path);
            // One transaction round all scripts: two that open a new shop at once make its tables once, and a full disk leaves none half made.
            Run(writer, "begin immediate");
            using (var shared = new SharedConnection(writer))
            {
                StoreProblem? problem = Tables.Bring(DeployChanges.To.SqliteDatabase(shared)
                    .WithScriptsEmbeddedInAssembly(typeof(SqliteDatabase).Assembly, name => name.StartsWith("sqlite/", StringComparison.Ordinal))
                    .WithoutTransaction().WithVariablesDisabled().LogToNowhere().Build(), path);
                if (problem is not null) return problem;
            }

            Run(writer, "commit");
            DataFolder.MarkUsed(folder);
            var database = new SqliteDatabase(path, writer);
            writer = null;
            return database;
        }
        catch (Exception e) when (Meaning(e, path) is { } problem)
        {
            return problem;
        }
        finally
        {
            writer?.Dispose();
        }
    }

    public Task<Kept<T>> ReadAsync<T>(Func<DbConnection, DbTransaction, Task<Kept<T>>> read, CancellationToken cancel) where T : class => _reading.DoAsync(read, cancel);

    public Task<Kept<T>> WriteAsync<T>(Func<DbConnection, DbTransaction, Task<Kept<T>>> write, CancellationToken cancel) where T : class => _writing.DoAsync(write, cancel);

    public async ValueTask DisposeAsync()
    {
        await _reading.DisposeAsync().ConfigureAwait(false);
        await _writing.DisposeAsync().ConfigureAwait(false);
    }

    private static SqliteConnection Connect(string path)
    {
        var connection = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = path, ForeignKeys = true, Pooling = false, DefaultTimeout = PatienceSeconds }.ToString());
        try
        {
            connection.Open();
            Run(connection, $"pragma busy_timeout={PatienceSeconds}000; pragma journal_mode=wal; pragma synchronous=full; pragma trusted_schema=off;");
            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    private static void Run(SqliteConnection connection, string sql)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }

    private static string? Ask(SqliteConnection connection, string sql)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        return command.ExecuteScalar() as string;
    }

    private static StoreProblem Damaged(string path) => new(StoreProblemKind.Unavailable, $"{path} is damaged", "put it aside and take the last copy of it, or begin anew and take in the bundles of its jobs");

    // The codes are those of sqlite.org/rescode.html.
    private static StoreProblem? Meaning(Exception e, string path) => e switch
    {
        BrokenSealException => Damaged(path),
        SqliteException { SqliteErrorCode: 5 or 6 } => new(StoreProblemKind.Unavailable, $"{path} is held by another program", "close it and try again"),
        SqliteException { SqliteErrorCode: 7 } => new(StoreProblemKind.Unavailable, "there is not enough memory", "close other programs and try again; what was kept before is intact"),
        SqliteException { SqliteErrorCode: 8 } => new(StoreProblemKind.Unavailable, $"{path} can only be read", "give yourself leave to write to it and to its folder"),
        SqliteException { SqliteErrorCode: 10 } => new(StoreProblemKind.Unavailable, $"the disk refused {path}", "see whether it is full or failing; what was kept before is intact"),
        SqliteException { SqliteErrorCode: 13 } => new(StoreProblemKind.Unavailable, $"the disk of {path} is full", "make room and try again; what was kept before is intact"),
        SqliteException { SqliteErrorCode: 14 } => new(StoreProblemKind.Unavailable, $"{path} cannot be opened", "see that its folder is there, that you may write to it, and that not too many files are open"),
        SqliteException { SqliteErrorCode: 11 or 26 } => Damaged(path),
        IOException or UnauthorizedAccessException => new(StoreProblemKind.Unavailable, e.Message.TrimEnd('.'), "see that the folder can be written to and that there is room"),
        _ => null,
    };
}
