using Xunit;

namespace Sparewright.Shop.Tests;

/// <summary>A shop for one test, on either database, that can be closed and opened again.</summary>
internal sealed class TestShop : IAsyncDisposable
{
    private readonly Func<Task<Kept<ShopData>>> _open;
    private readonly string? _folder;

    private TestShop(Func<Task<Kept<ShopData>>> open, string? folder) => (_open, _folder) = (open, folder);

    public ShopData Data { get; private set; } = null!;

    public IJobStore Jobs => Data.Jobs;

    public static TheoryData<string> Kinds => ["sqlite", "postgresql"];

    public static async Task<TestShop> OpenAsync(string kind, Postgres postgres)
    {
        TestShop shop;
        if (kind == "sqlite")
        {
            string folder = Directory.CreateTempSubdirectory("shop-").FullName;
            shop = new(() => Task.FromResult(ShopData.Open(folder, TimeProvider.System)), folder);
        }
        else
        {
            string address = await postgres.NewDatabaseAsync();
            shop = new(() => ShopData.OpenPostgresAsync(address, TimeProvider.System), null);
        }

        shop.Data = Good(await shop._open());
        return shop;
    }

    public async Task ReopenAsync()
    {
        await Data.DisposeAsync();
        Data = Good(await _open());
    }

    public async ValueTask DisposeAsync()
    {
        await Data.DisposeAsync();
        if (_folder is not null) Directory.Delete(_folder, recursive: true);
    }

    public static T Good<T>(Kept<T> kept) where T : class
    {
        Assert.True(kept.IsGood, $"{kept.Problem}");
        return kept.Value;
    }
}
