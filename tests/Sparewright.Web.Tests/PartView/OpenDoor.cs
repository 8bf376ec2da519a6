using System.Net;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.DependencyInjection;
using Sparewright.Handover.Picture;
using Sparewright.Remake.Live;
using Sparewright.Shop;
using Sparewright.Solid;
using Sparewright.Web.Desk;
using Xunit;

namespace Sparewright.Web.Tests.PartView;

/// <summary>The web door open on both examples, with their solids built; once for all tests of a class.</summary>
public sealed class OpenDoor : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("sparewright-door-").FullName;
    private readonly Dictionary<string, JobDesk> _desks = [];
    private ShopData _shop = null!;
    private WebApplication _app = null!;

    public HttpClient Browser { get; private set; } = null!;

    /// <summary>A browser that was never let in.</summary>
    public HttpClient Stranger { get; private set; } = null!;

    public ShopData Shop => _shop;

    public JobDesk Desk(string example) => _desks[example];

    public PartInView Part(string example) => Desk(example).Live.InView!;

    public static TheoryData<string> Examples { get; } = [.. Jobs.Examples.Keys];

    /// <summary>One more job, with its solid built.</summary>
    public async Task<JobDesk> BeginAsync(string text)
    {
        JobHead head = (await _shop.Jobs.BeginAsync(text, "taken in")).Value!;
        JobDesk desk = (await _app.Services.GetRequiredService<Desks>().OpenAsync(head.Job)).Value!;
        await desk.Settled;
        Assert.NotNull(desk.Live.InView);
        return desk;
    }

    public async ValueTask InitializeAsync()
    {
        Kept<ShopData> opened = ShopData.Open(_folder, TimeProvider.System);
        _shop = opened.Value ?? throw new InvalidOperationException(opened.Problem?.ToString());
        _app = ShopDoor.Build(new DoorSettings(_folder, 0, KernelProgram.Find().OrThrow(), _shop.Jobs, _shop.Coupons, TimeProvider.System, Lettering.UsualFiles));
        await _app.StartAsync();
        foreach (var (name, text) in Jobs.Examples) _desks[name] = await BeginAsync(text);

        var address = new Uri(ShopDoor.Address(_app));
        var handler = new SocketsHttpHandler { CookieContainer = new CookieContainer() };
        Browser = new HttpClient(handler) { BaseAddress = new Uri(address, "/") };
        Stranger = new HttpClient { BaseAddress = Browser.BaseAddress };
        (await Browser.GetAsync(address)).EnsureSuccessStatusCode();
    }

    public async ValueTask DisposeAsync()
    {
        Browser.Dispose();
        Stranger.Dispose();
        await _app.DisposeAsync();
        await _shop.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }
}
