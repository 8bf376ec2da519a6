using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Xunit;

namespace Sparewright.Journeys.Web;

/// <summary>The shape in hand with the mouse: pick a face, add a sentence, fill its slots, take it away again; the picture follows.</summary>
[Collection(BrowserJourneys.Name)]
public sealed class ShapeJourneys(Browser browser)
{
    [Fact]
    public async Task A_boss_is_added_put_right_and_removed_with_the_mouse_and_the_picture_follows()
    {
        await using OpenShop shop = await OpenShop.OpenAsync(Tool.Example("vent-knuckle"));
        await using Window window = await browser.OpenAsync(shop);
        await window.GoAsync($"{(await window.JobsAsync()).Values.Single()}/shape");
        await window.SettledAsync();
        IPage page = window.Page;
        ILocator sentences = page.Locator("ol.sentences > li.sentence");
        int before = await sentences.CountAsync();
        string first = await DrawnAsync(page, "");

        // A face is picked on the part: it says its name and size.
        ILocator figure = page.Locator("aside.part .figure");
        await figure.ClickAsync();
        await Assertions.Expect(page.Locator("aside.part .told .face code").First).ToBeVisibleAsync();

        await page.GetByRole(AriaRole.Button, new() { Name = "Add a sentence" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "A round boss" }).ClickAsync();
        await Assertions.Expect(sentences).ToHaveCountAsync(before + 1);

        // On the top of the lug it touches nothing: the sentence says so, and the last good picture stays, marked as such.
        ILocator sentence = sentences.Nth(before);
        await Assertions.Expect(sentence.Locator(".problem")).ToContainTextAsync("does not touch");
        await Assertions.Expect(page.Locator("aside.part .standing")).ToContainTextAsync("out of date");
        Assert.Equal(first, await DrawnAsync(page, ""));

        // Another face from the list of the slot, and a diameter that stands out: the picture follows.
        await sentence.Locator("button.slot.pick").ClickAsync();
        await sentence.Locator(".list button").Filter(new() { HasText = "top of foot" }).First.ClickAsync();
        await SizeAsync("diameter", "21");
        await SizeAsync("height", "4");
        string added = await DrawnAsync(page, first);
        await Assertions.Expect(sentence.Locator(".problem")).ToHaveCountAsync(0);
        await SizeAsync("diameter", "22");
        string resized = await DrawnAsync(page, added);
        await page.ReloadAsync();
        await window.SettledAsync();
        await Assertions.Expect(sentence.GetByLabel(new Regex("^diameter")).First).ToHaveValueAsync("22");
        Assert.Equal(resized, await DrawnAsync(page, ""));

        async Task SizeAsync(string which, string value)
        {
            await sentence.GetByLabel(new Regex($"^{which}")).First.ClickAsync();
            await sentence.GetByLabel(new Regex($"^{which}")).First.FillAsync(value);
            await page.Locator("h1").ClickAsync();
            await Assertions.Expect(page.Locator("nav.index")).ToContainTextAsync("kept");
        }

        await sentence.Locator("button.opener").ClickAsync();
        await sentence.Locator("button.remove").ClickAsync();
        await Assertions.Expect(sentences).ToHaveCountAsync(before);
        await DrawnAsync(page, resized);
    }

    /// <summary>Waits until another part is drawn, and gives the key of it.</summary>
    private static async Task<string> DrawnAsync(IPage page, string before)
    {
        await page.WaitForFunctionAsync("before => (document.querySelector('aside.part')?.dataset.drawn ?? before) !== before", before);
        return (await page.Locator("aside.part").GetAttributeAsync("data-drawn"))!;
    }
}
