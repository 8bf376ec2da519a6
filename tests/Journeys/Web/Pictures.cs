using Microsoft.Playwright;
using Xunit;

namespace Sparewright.Journeys.Web;

/// <summary>Not a test: `scripts/pictures` has every page photographed into docs/pictures, in both themes.</summary>
[Collection(BrowserJourneys.Name)]
public sealed class Pictures(Browser browser)
{
    [Fact(Explicit = true)]
    public async Task Of_every_page_in_both_themes()
    {
        string folder = Path.Combine(Tool.Repository, "docs", "pictures");
        Directory.CreateDirectory(folder);
        await using OpenShop shop = await OpenShop.OpenAsync(Tool.Example("line-reel-crank"), Tool.Example("vent-knuckle"));
        foreach (bool dark in (bool[])[false, true])
        {
            await using Window window = await browser.OpenAsync(shop, look: new WindowLook { Dark = dark, StillPictures = true, WidthPx = 1280, HeightPx = 800 });
            foreach (Pages.Entry page in (await Pages.AllAsync(window)).Where(p => p.Name != "no-such-page"))
            {
                await window.GoAsync(page.Path);
                await window.SettledAsync();
                string path = Path.Combine(folder, $"{page.Name}-{(dark ? "dark" : "light")}.png");
                byte[] picture = await window.Page.ScreenshotAsync(new PageScreenshotOptions { Path = path });
                Assert.InRange(picture.Length, 5_000, 600_000);
            }
        }
    }
}
