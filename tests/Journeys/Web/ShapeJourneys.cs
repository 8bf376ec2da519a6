using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Xunit;

namespace Sparewright.Journeys.Web;

/// <summary>The shape in hand with the mouse: pick a face, add a sentence, fill its slots, take it away again; the picture follows.</summary>
[Collection(BrowserJourneys.Name)]
public sealed partial class ShapeJourneys(Browser browser)
{
    [Fact]
    public async Task A_boss_is_added_put_right_and_removed_with_the_mouse_and_the_picture_follows()
    {
        await using Window window = await browser.OnJobAsync("shape");
        IPage page = window.Page;
        ILocator sentences = page.Locator("ol.sentences > li.sentence"), standing = page.Locator("aside.part .standing");
        string first = await window.PartDrawnAsync();
        int before = await sentences.CountAsync();

        // A face is picked on the part: it says its name and size.
        await page.Locator("aside.part .figure").ClickAsync();
        await Assertions.Expect(page.Locator("aside.part .told .face code").First).ToBeVisibleAsync();

        await page.GetByRole(AriaRole.Button, new() { Name = "Add a sentence" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "A round boss" }).ClickAsync();
        await Assertions.Expect(sentences).ToHaveCountAsync(before + 1);

        // On the top of the lug it touches nothing: the sentence says so, and the last good picture stays, marked as such.
        ILocator sentence = sentences.Nth(before);
        await Assertions.Expect(sentence.Locator(".problem")).ToContainTextAsync("does not touch");
        await Assertions.Expect(standing).ToContainTextAsync("out of date");
        Assert.Equal(first, await page.Locator("aside.part").GetAttributeAsync("data-drawn"));

        // Another face from the list of the slot, and a diameter that stands out: the picture follows.
        await sentence.Locator("button.slot.pick").ClickAsync();
        await sentence.Locator(".list button").Filter(new() { HasText = "top of foot" }).First.ClickAsync();
        await Assertions.Expect(sentence.Locator("button.slot.pick")).ToContainTextAsync("foot");
        await SizeAsync("diameter", "21");
        await SizeAsync("height", "4");
        string added = await window.PartDrawnAsync();
        await Assertions.Expect(sentence.Locator(".problem")).ToHaveCountAsync(0);
        await SizeAsync("diameter", "22");
        string resized = await window.PartDrawnAsync();
        Assert.Equal(3, new[] { first, added, resized }.Distinct().Count());
        await Assertions.Expect(page.Locator("aside.part details.faces")).ToContainTextAsync("⌀22.00 mm");

        // A window that comes new to the job sees the very same.
        await page.ReloadAsync();
        await window.DrawnAsync();
        Assert.Equal(resized, await window.PartDrawnAsync());
        await Assertions.Expect(sentence.GetByLabel(new Regex("^diameter")).First).ToHaveValueAsync("22");

        await sentence.Locator("button.opener").ClickAsync();
        await sentence.Locator("button.remove").ClickAsync();
        await sentence.GetByRole(AriaRole.Group, new() { NameRegex = Remove() }).GetByRole(AriaRole.Button, new() { NameRegex = Remove() }).ClickAsync();
        await Assertions.Expect(sentences).ToHaveCountAsync(before);
        Assert.Equal(first, await window.PartDrawnAsync());

        async Task SizeAsync(string which, string value)
        {
            ILocator field = sentence.GetByLabel(new Regex($"^{which}")).First;
            await field.ClickAsync();
            await field.FillAsync(value);
            await page.Locator("h1").ClickAsync();
            await Assertions.Expect(page.Locator(".announced")).ToContainTextAsync(new Regex($"{which} of .*: kept"));
        }
    }

    [GeneratedRegex("^Remove ")]
    private static partial Regex Remove();
}
