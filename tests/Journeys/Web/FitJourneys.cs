using System.IO.Compression;
using Microsoft.Playwright;
using Xunit;

namespace Sparewright.Journeys.Web;

/// <summary>The odds that everything fits, read and followed in a window, and the gauges that would settle a fit made from it.</summary>
[Collection(BrowserJourneys.Name)]
public sealed class FitJourneys(Browser browser)
{
    [Fact]
    public async Task The_odds_are_read_and_follow_a_reading_that_is_entered_in_another_window()
    {
        await using Window window = await browser.OnJobAsync("fit");
        ILocator stay = window.Page.Locator("#fit-stay");
        await stay.WaitForAsync();
        Assert.Matches("^[0-9.]+ %", (await stay.Locator(".figure").InnerTextAsync()).Trim());
        await Assertions.Expect(stay).ToContainTextAsync("0.16 to 0.53 mm (slides)");
        await Assertions.Expect(window.Page.Locator(".printer")).ToContainTextAsync("is assumed, not measured");
        ILocator step = window.Page.Locator("nav.index li").Filter(new() { HasText = "Fit" });
        await Assertions.Expect(step).ToContainTextAsync("% will fit");
        string bore = await window.Page.Locator(".sizes li").Filter(new() { HasText = "bore_d" }).Locator(".change").InnerTextAsync();

        // The bore is read once more in another window; what was measured is another, and what is drawn for the fit is worked out anew.
        await using Window readings = await window.AnotherAsync($"{window.Job}/readings");
        await readings.LedgerListensAsync();
        await readings.Page.Locator("#r3 input").FocusAsync();
        await readings.Keyboard.TypeAsync("12.30\n");
        await Assertions.Expect(window.Page.Locator(".said")).ToContainTextAsync("Of revision 2.");
        string after = await window.Page.Locator(".sizes li").Filter(new() { HasText = "bore_d" }).Locator(".change").InnerTextAsync();
        Assert.NotEqual(bore.Split('→')[0], after.Split('→')[0]);
        Assert.Matches(@"1[2-3]\.[0-9]{2} mm", after.Split('→')[1]);
    }

    [Fact]
    public async Task Gauges_are_made_by_keyboard_and_their_files_fetched()
    {
        await using Window window = await browser.OnJobAsync("fit");
        ILocator gauges = window.Page.Locator("#fit-stay .gauges");
        await gauges.GetByRole(AriaRole.Button, new() { Name = "Make the gauges for stay" }).FocusAsync();
        await window.Keyboard.PressAsync("Enter");
        await gauges.Locator(".files a").First.WaitForAsync(new() { Timeout = 60_000 });
        string[] files = [.. await gauges.Locator(".files a").AllInnerTextsAsync()];
        Assert.Equal([".3mf", ".png", ".svg"], files.Select(f => Path.GetExtension(f)));
        string address = (await gauges.Locator(".files a").First.GetAttributeAsync("href"))!;
        using var threeMf = new ZipArchive(new MemoryStream(await (await window.Page.Context.APIRequest.GetAsync(window.Shop.Page(address))).BodyAsync()));
        Assert.Contains(threeMf.Entries, e => e.FullName == "3D/3dmodel.model");
        await window.UntilAsync("document.querySelector('#fit-stay .picture img')?.naturalWidth > 300");
        // A name in an address is never a path.
        Assert.Equal(404, (await window.Page.Context.APIRequest.GetAsync(window.Shop.Page(address[..(address.LastIndexOf('/') + 1)] + "..%2F..%2Fkeys"))).Status);
    }
}
