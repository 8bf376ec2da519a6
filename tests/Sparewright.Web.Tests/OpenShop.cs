using Sparewright.Shop;
using Sparewright.Solid;
using Sparewright.Web.Desk;

namespace Sparewright.Web.Tests;

/// <summary>A shop in a folder of its own, with one job lying open. No kernel worker: what is tested needs no solid.</summary>
internal sealed class OpenShop : IAsyncDisposable
{
    private readonly string _folder = Path.Combine(Path.GetTempPath(), $"sparewright-desk-{Guid.NewGuid():n}");
    private readonly ShopData _shop;
    private readonly Desks _desks;

    private OpenShop()
    {
        Directory.CreateDirectory(_folder);
        _shop = ShopData.Open(_folder, TimeProvider.System) is { IsGood: true } opened ? opened.Value : throw new InvalidOperationException("the shop does not open");
        _desks = new Desks(_shop.Jobs, new KernelProgram(Path.Combine(_folder, "no-such-worker")));
    }

    public CouponShelf Coupons => _shop.Coupons;

    public JobDesk Desk { get; private set; } = null!;

    public IJobStore Store => _shop.Jobs;

    public Desks Desks => _desks;

    public string Text => Desk.Head.Latest.Text;

    public static async Task<OpenShop> WithAsync(string text)
    {
        var shop = new OpenShop();
        JobId id = (await shop._shop.Jobs.BeginAsync(text, "begun")).Value!.Job;
        shop.Desk = (await shop._desks.OpenAsync(id)).Value!;
        return shop;
    }

    public async ValueTask DisposeAsync()
    {
        await Desk.Settled;
        await _desks.DisposeAsync();
        await _shop.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }
}
