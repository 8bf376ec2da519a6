using Microsoft.Playwright;
using Xunit;

namespace Sparewright.Journeys.Web;

/// <summary>Debian's Chromium, started once for all journeys through the web door.</summary>
public sealed class Browser : IAsyncLifetime
{
    private IPlaywright _playwright = null!;
    private IBrowser _browser = null!;
    private IBrowser? _flat;

    public async ValueTask InitializeAsync()
    {
        _playwright = await Playwright.CreateAsync();
        _browser = await LaunchAsync(["--use-angle=swiftshader", "--enable-unsafe-swiftshader"]);
    }

    public async ValueTask DisposeAsync()
    {
        await _browser.DisposeAsync();
        if (_flat is not null) await _flat.DisposeAsync();
        _playwright.Dispose();
    }

    /// <summary>A new window of a browser that has never seen the shop, let in by the address that the shop printed.</summary>
    /// <param name="path">The page to go to.</param>
    internal async Task<Window> OpenAsync(OpenShop shop, string path = "", WindowLook? look = null)
    {
        IBrowserContext context = await (await BrowserAsync(look ?? new WindowLook())).NewContextAsync((look ?? new WindowLook()).Options());
        var window = new Window(shop, await context.NewPageAsync(), ownsContext: true);
        await window.Page.GotoAsync(shop.Address.AbsoluteUri);
        // The page that lets a browser in sends on by itself.
        await window.Page.Locator("#line-lost").WaitForAsync(new LocatorWaitForOptions { State = WaitForSelectorState.Attached });
        await window.GoAsync(path);
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
