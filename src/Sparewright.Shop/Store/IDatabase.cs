using System.Data.Common;

namespace Sparewright.Shop.Store;

/// <summary>A database, and in which line work waits for it. The SQL that is run on it is one that all of them understand.</summary>
internal interface IDatabase : IAsyncDisposable
{
    /// <summary>Reads, beside the writers, from one state of the data.</summary>
    Task<Kept<T>> ReadAsync<T>(Func<DbConnection, DbTransaction, Task<Kept<T>>> read, CancellationToken cancel) where T : class;

    /// <summary>
    /// Writes as a whole or, with a problem, not at all, alone among all writers; what comes back is on the disk.
    /// Once it is under way it is not cancelled: nobody would know whether it was kept.
    /// </summary>
    Task<Kept<T>> WriteAsync<T>(Func<DbConnection, DbTransaction, Task<Kept<T>>> write, CancellationToken cancel) where T : class;
}
