using Microsoft.Playwright;

namespace Sparewright.Bench;

/// <summary>A real browser with one window on the readings of the example, in a shop of its own.</summary>
internal sealed class ShopBrowser : IAsyncDisposable
{
    private const string Chromium = "/usr/bin/chromium";

    private readonly ShopProcess _shop;
    private readonly IPlaywright _playwright;
    private readonly IBrowser _browser;

    private ShopBrowser(ShopProcess shop, IPlaywright playwright, IBrowser browser, IPage page) => (_shop, _playwright, _browser, Page) = (shop, playwright, browser, page);

    public IPage Page { get; }

    public static async Task<ShopBrowser> OpenAsync()
    {
        ShopProcess shop = await ShopProcess.OpenAsync();
        IPlaywright playwright = await Playwright.CreateAsync();
        // Chromium does not put the root user into its sandbox. SwiftShader draws WebGL without a graphics card.
        string[] flags = ["--use-angle=swiftshader", "--enable-unsafe-swiftshader", .. Environment.UserName == "root" ? ["--no-sandbox"] : Array.Empty<string>()];
        IBrowser browser = await playwright.Chromium.LaunchAsync(new() { ExecutablePath = Chromium, Args = flags });
        // A context of our own: that of a single page takes no further window.
        IBrowserContext context = await browser.NewContextAsync(new() { ViewportSize = new() { Width = 1400, Height = 900 } });
        IPage page = await context.NewPageAsync();
        await page.GotoAsync(shop.Address);
        await page.Locator("a[href*='/readings']").First.ClickAsync();
        return new ShopBrowser(shop, playwright, browser, page);
    }

    /// <summary>Waits until a page's picture is the one that it is to show, and half a second more: as long as a hand needs at least for the next reading.</summary>
    public static async Task RestAsync(IPage page)
    {
        while (!await page.EvaluateAsync<bool>("() => { const part = document.querySelector('aside[data-drawn]'); return part !== null && part.dataset.drawn === part.dataset.wanted && !document.querySelector('nav.index').textContent.includes('being built'); }"))
            await Task.Delay(20);
        await Task.Delay(500);
    }

    public async ValueTask DisposeAsync()
    {
        await _browser.DisposeAsync();
        _playwright.Dispose();
        await _shop.DisposeAsync();
    }
}
