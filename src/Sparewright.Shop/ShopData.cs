using Sparewright.Shop.Store;

namespace Sparewright.Shop;

/// <summary>A shop's data, open.</summary>
public sealed class ShopData : IAsyncDisposable
{
    /// <summary>The file of a shop that keeps its data in a folder.</summary>
    public const string FileName = "shop.db";

    private readonly JobStore _jobs;

    private ShopData(JobStore jobs) => _jobs = jobs;

    public IJobStore Jobs => _jobs;

    /// <summary>Where a user's shop lies unless told otherwise: <c>sparewright</c> in the user's data folder (XDG Base Directory Specification).</summary>
    public static string UsualFolder =>
        Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify), "sparewright");

    /// <summary>Opens the shop in a folder, and begins one where there is none.</summary>
    public static Kept<ShopData> Open(string folder, TimeProvider clock)
    {
        try
        {
            Directory.CreateDirectory(folder);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return new StoreProblem(StoreProblemKind.Unavailable, $"the folder {folder} cannot be made", "choose another with --data, or give yourself leave to write there");
        }

        Kept<SqliteDatabase> database = SqliteDatabase.Open(Path.Combine(folder, FileName));
        return database.IsGood ? new ShopData(new JobStore(database.Value, clock)) : database.Problem;
    }

    /// <summary>Opens a shop that keeps its data in a PostgreSQL database.</summary>
    /// <param name="connectionString">As Npgsql spells it, without a password.</param>
    public static async Task<Kept<ShopData>> OpenPostgresAsync(string connectionString, TimeProvider clock, CancellationToken cancel = default)
    {
        Kept<PostgresDatabase> database = await PostgresDatabase.OpenAsync(connectionString, cancel).ConfigureAwait(false);
        return database.IsGood ? new ShopData(new JobStore(database.Value, clock)) : database.Problem;
    }

    public ValueTask DisposeAsync() => _jobs.DisposeAsync();
}
