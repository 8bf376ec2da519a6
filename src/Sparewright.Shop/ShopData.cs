using Sparewright.Shop.Store;

namespace Sparewright.Shop;

/// <summary>A shop's data, open.</summary>
public sealed class ShopData : IAsyncDisposable
{
    private readonly IDatabase _database;

    private ShopData(IDatabase database, TimeProvider clock)
    {
        _database = database;
        Jobs = new JobStore(database, clock);
        Records = new RecordStore(database, clock);
        Coupons = new CouponShelf(Records);
        Papers = new PaperStore(database, clock);
    }

    public IJobStore Jobs { get; }

    public IRecordStore Records { get; }

    public CouponShelf Coupons { get; }

    public IPaperStore Papers { get; }

    /// <summary>Where a user's shop lies unless told otherwise: <c>sparewright</c> in the user's data folder (XDG Base Directory Specification).</summary>
    public static string UsualFolder =>
        Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify), "sparewright");

    /// <summary>Opens the shop in a folder, and begins one where there is none. Not for a window's thread: it waits for the disk.</summary>
    public static Kept<ShopData> Open(string folder, TimeProvider clock)
    {
        if (DataFolder.Ready(folder) is { } problem) return problem;
        Kept<SqliteDatabase> database = SqliteDatabase.Open(folder);
        return database.IsGood ? new ShopData(database.Value, clock) : database.Problem;
    }

    /// <summary>Opens a shop that keeps its data in a PostgreSQL database.</summary>
    /// <param name="connectionString">As Npgsql spells it, without a password.</param>
    public static async Task<Kept<ShopData>> OpenPostgresAsync(string connectionString, TimeProvider clock, CancellationToken cancel = default)
    {
        Kept<PostgresDatabase> database = await PostgresDatabase.OpenAsync(connectionString, cancel).ConfigureAwait(false);
        return database.IsGood ? new ShopData(database.Value, clock) : database.Problem;
    }

    public ValueTask DisposeAsync() => _database.DisposeAsync();
}
