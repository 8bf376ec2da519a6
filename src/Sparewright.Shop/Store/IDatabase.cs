using System.Data.Common;

namespace Sparewright.Shop.Store;

/// <summary>What differs from database to database.</summary>
internal interface IDatabase : IAsyncDisposable
{
    /// <summary>A connection for reading; to be disposed of after use.</summary>
    Task<DbConnection> ReadAsync(CancellationToken cancel);

    /// <summary>Does something as a whole or not at all, alone among all writers; it is on the disk when this comes back.</summary>
    Task<T> WriteAsync<T>(Func<DbConnection, DbTransaction, Task<T>> write, CancellationToken cancel);

    /// <summary>What an error of the database or the disk means to people; null for what is our own mistake.</summary>
    StoreProblem? AsProblem(Exception e);
}
