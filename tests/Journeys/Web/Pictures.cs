using Microsoft.Playwright;
using Xunit;

namespace Sparewright.Journeys.Web;

/// <summary>Not a test: `scripts/pictures` has every page photographed into docs/pictures, in both themes.</summary>
[Collection(BrowserJourneys.Name)]
public sealed class Pictures(Browser browser)
{
    /// <summary>Computing takes seconds on two cores, and far more where all of them are busy.</summary>
    private const float PatientMs = 280_000;

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
                await InUseAsync(window, page.Name);
                await window.SettledAsync();
                string path = Path.Combine(folder, $"{page.Name}-{(dark ? "dark" : "light")}.png");
                byte[] picture = await window.Page.ScreenshotAsync(new PageScreenshotOptions { Path = path });
                Assert.InRange(picture.Length, 5_000, 600_000);
            }
        }
    }

    /// <summary>As a page looks while somebody works with it: the doubtful reading in hand, the margin computed, the files made.</summary>
    private static async Task InUseAsync(Window window, string page)
    {
        switch (page)
        {
            case "readings":
                await window.LedgerListensAsync();
                await window.Page.Locator(".ledger .look input[data-cell=Entry]").First.FocusAsync();
                await window.Page.Locator("aside.part .over .dimension").First.WaitForAsync();
                break;
            case "strength":
                await DoneAsync("#compute", "table.cases");
                await window.UntilAsync("document.querySelector('aside.part').dataset.coloured?.includes('/margin/')");
                break;
            case "hand-over":
                await DoneAsync("#make", "table.files");
                break;
        }

        async Task DoneAsync(string button, string result)
        {
            await window.Page.Locator(button).Or(window.Page.Locator(result)).First.WaitForAsync();
            if (await window.Page.Locator(result).CountAsync() > 0) return;
            await window.Page.Locator(button).ClickAsync();
            await window.Page.Locator(result).WaitForAsync(new() { Timeout = PatientMs });
        }
    }
}
