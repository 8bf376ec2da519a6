using System.Data.Common;
using System.Threading.Channels;
using Microsoft.Data.Sqlite;

namespace Sparewright.Shop.Store;

/// <summary>
/// One connection and the queue of those who want it. SQLite's asynchronous calls are none, so the work runs on the lane's own turn and never on a window's thread.
/// A connection on which something failed is not used again.
/// </summary>
internal sealed class SqliteLane : IAsyncDisposable
{
    private readonly Func<SqliteConnection> _open;
    private readonly bool _writes;
    private readonly Func<Exception, StoreProblem?> _meaning;
    private readonly Channel<Func<Task>> _queue = Channel.CreateUnbounded<Func<Task>>(new UnboundedChannelOptions { SingleReader = true });
    private readonly Task _turns;
    private SqliteConnection? _connection;

    /// <param name="connection">The first connection, already open.</param>
    /// <param name="open">Opens another one.</param>
    /// <param name="meaning">What an error means to people; null for what is our own mistake.</param>
    public SqliteLane(SqliteConnection? connection, Func<SqliteConnection> open, bool writes, Func<Exception, StoreProblem?> meaning)
    {
        (_connection, _open, _writes, _meaning) = (connection, open, writes, meaning);
        _turns = Task.Run(TakeTurnsAsync);
    }

    /// <summary>Does the work in its turn, in one transaction.</summary>
    public Task<Kept<T>> DoAsync<T>(Func<DbConnection, DbTransaction, Task<Kept<T>>> work, CancellationToken cancel) where T : class
    {
        var done = new TaskCompletionSource<Kept<T>>(TaskCreationOptions.RunContinuationsAsynchronously);
        bool taken = _queue.Writer.TryWrite(async () =>
        {
            if (cancel.IsCancellationRequested)
            {
                done.SetCanceled(cancel);
                return;
            }

            try
            {
                done.SetResult(await InTransactionAsync(work).ConfigureAwait(false));
            }
            catch (Exception e)
            {
                GiveUpConnection();
                if (_meaning(e) is { } problem) done.SetResult(problem);
                else done.SetException(e);
            }
        });
        return taken ? done.Task : throw new ObjectDisposedException(nameof(ShopData));
    }

    public async ValueTask DisposeAsync()
    {
        _queue.Writer.TryComplete();
        await _turns.ConfigureAwait(false);
        GiveUpConnection();
    }

    private async Task TakeTurnsAsync()
    {
        await foreach (Func<Task> turn in _queue.Reader.ReadAllAsync().ConfigureAwait(false)) await turn().ConfigureAwait(false);
    }

    private async Task<Kept<T>> InTransactionAsync<T>(Func<DbConnection, DbTransaction, Task<Kept<T>>> work) where T : class
    {
        _connection ??= _open();
        // Not deferred is BEGIN IMMEDIATE: whoever is to write waits before it reads, not after.
        using SqliteTransaction transaction = _connection.BeginTransaction(deferred: !_writes);
        Kept<T> kept = await work(_connection, transaction).ConfigureAwait(false);
        if (kept.IsGood) transaction.Commit();
        return kept;
    }

    private void GiveUpConnection()
    {
        try
        {
            _connection?.Dispose();
        }
        catch (SqliteException)
        {
            // It was given up because something failed; that it cannot even be closed well adds nothing.
        }

        _connection = null;
    }
}
