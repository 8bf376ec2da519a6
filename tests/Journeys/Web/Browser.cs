using Microsoft.Playwright;
using Xunit;

namespace Sparewright.Journeys.Web;

/// <summary>Debian's Chromium, started once for all journeys through the web door.</summary>
public sealed class Browser : IAsyncLifetime
{
    private IPlaywright _playwright = null!;
    private IBrowser _browser = null!;
    private IBrowser? _flat;
    private SharedShop? _shared;
    private string? _pass;

    public async ValueTask InitializeAsync()
    {
        _playwright = await Playwright.CreateAsync();
        // A shop that has just been opened on a busy machine takes its time; how long is what benchmarks are for.
        Assertions.SetDefaultExpectTimeout(20_000);
        _browser = await LaunchAsync(["--use-angle=swiftshader", "--enable-unsafe-swiftshader"]);
    }

    public async ValueTask DisposeAsync()
    {
        if (_shared is not null) await _shared.DisposeAsync();
        await _browser.DisposeAsync();
        if (_flat is not null) await _flat.DisposeAsync();
        _playwright.Dispose();
    }

    /// <summary>A new window of a browser that has never seen the shop, let in by the address that the shop printed.</summary>
    /// <param name="path">The page to go to.</param>
    internal async Task<Window> OpenAsync(OpenShop shop, string path = "", WindowLook? look = null)
    {
        Window window = await ComeInAsync(shop, look);
        await window.GoAsync(path);
        return window;
    }

    /// <summary>A new window on a job of its own, a copy of an example, in the shop that all journeys share which leave it open.</summary>
    /// <param name="step">Where to go; nowhere yet, when it is null.</param>
    internal async Task<Window> OnJobAsync(string? step, string example = "vent-knuckle")
    {
        _shared ??= await SharedShop.OpenAsync(this);
        Window window;
        if (_pass is null)
        {
            window = await ComeInAsync(_shared.Shop, null);
            _pass = await window.Page.Context.StorageStateAsync();
        }
        else
        {
            // Let in once, a browser need not come in by the long address again.
            BrowserNewContextOptions options = new WindowLook().Options();
            options.StorageState = _pass;
            window = new Window(_shared.Shop, await (await _browser.NewContextAsync(options)).NewPageAsync(), ownsContext: true);
        }

        return await window.TakeAsync(_shared.Take(example), step);
    }

    /// <summary>A new window on the only job of a shop.</summary>
    /// <param name="step">Where to go; nowhere yet, when it is null.</param>
    internal async Task<Window> OnOnlyJobAsync(OpenShop shop, string? step)
    {
        Window window = await ComeInAsync(shop, null);
        return await window.TakeAsync((await window.JobsAsync()).Values.Single(), step);
    }

    private async Task<Window> ComeInAsync(OpenShop shop, WindowLook? look)
    {
        look ??= new WindowLook();
        IBrowserContext context = await (await BrowserAsync(look)).NewContextAsync(look.Options());
        var window = new Window(shop, await context.NewPageAsync(), ownsContext: true);
        await window.Page.GotoAsync(shop.Address.AbsoluteUri);
        // The page that lets a browser in sends on by itself.
        await window.Page.Locator("#line-lost").WaitForAsync(new LocatorWaitForOptions { State = WaitForSelectorState.Attached });
        return window;
    }

    private async Task<IBrowser> BrowserAsync(WindowLook look) =>
        look.WebGl ? _browser : _flat ??= await LaunchAsync(["--disable-gpu", "--disable-3d-apis"]);

    // Chromium does not put the root user, which build machines are, into its sandbox. SwiftShader draws WebGL without a graphics card.
    private Task<IBrowser> LaunchAsync(string[] flags) =>
        _playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions { ExecutablePath = "/usr/bin/chromium", Args = [.. Environment.UserName == "root" ? ["--no-sandbox"] : Array.Empty<string>(), .. flags] });
}

/// <summary>How a window looks at the shop.</summary>
internal sealed record WindowLook
{
    public bool Dark { get; init; }

    public int WidthPx { get; init; } = 1400;

    public int HeightPx { get; init; } = 900;

    public bool StillPictures { get; init; }

    public bool WebGl { get; init; } = true;

    public BrowserNewContextOptions Options() => new()
    {
        ColorScheme = Dark ? ColorScheme.Dark : ColorScheme.Light,
        ViewportSize = new ViewportSize { Width = WidthPx, Height = HeightPx },
        ReducedMotion = StillPictures ? ReducedMotion.Reduce : ReducedMotion.NoPreference,
        Locale = "en-GB",
        TimezoneId = "UTC",
    };
}

/// <summary>All journeys in a browser share one, and go one after the other: two would only slow each other down.</summary>
[CollectionDefinition(Name)]
public sealed class BrowserJourneys : ICollectionFixture<Browser>
{
    public const string Name = "browser";
}
