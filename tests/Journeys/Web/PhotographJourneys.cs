using Microsoft.Playwright;
using Xunit;

namespace Sparewright.Journeys.Web;

/// <summary>Photographs with a job: chosen, seen, removed, put back.</summary>
[Collection(BrowserJourneys.Name)]
public sealed class PhotographJourneys(Browser browser)
{
    // One grey pixel.
    private static readonly byte[] Png = Convert.FromBase64String("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNoAAAAggCBd81ytgAAAABJRU5ErkJggg==");

    [Fact]
    public async Task A_photograph_of_the_wrong_thing_is_removed_and_put_back_by_keyboard()
    {
        await using Window window = await browser.OnJobAsync("readings");
        ILocator photographs = window.Page.Locator("section.photographs"), pictures = photographs.Locator(".pictures li"), removed = photographs.Locator(".removed");
        await photographs.Locator("input[type=file]").SetInputFilesAsync([new FilePayload { Name = "wrong.png", MimeType = "image/png", Buffer = Png }, new FilePayload { Name = "right.png", MimeType = "image/png", Buffer = Png }]);
        await Assertions.Expect(pictures).ToHaveCountAsync(2);
        string address = (await pictures.Nth(0).Locator("img").GetAttributeAsync("src"))!;

        await photographs.GetByRole(AriaRole.Button, new() { Name = "Remove wrong.png" }).FocusAsync();
        await window.Keyboard.PressAsync("Enter");
        await Assertions.Expect(photographs.GetByRole(AriaRole.Status)).ToContainTextAsync("wrong.png is removed");
        await Assertions.Expect(pictures).ToHaveCountAsync(1);
        await Assertions.Expect(photographs.GetByRole(AriaRole.Heading)).ToBeFocusedAsync();
        Assert.Equal(404, (await window.Page.Context.APIRequest.GetAsync(window.Shop.Page(address))).Status);

        // It can be put back later too.
        await window.GoToAsync("readings");
        await Assertions.Expect(pictures).ToHaveCountAsync(1);
        await removed.Locator("summary").FocusAsync();
        await window.Keyboard.PressAsync("Enter");
        await removed.GetByRole(AriaRole.Button, new() { Name = "Put wrong.png back" }).FocusAsync();
        await window.Keyboard.PressAsync("Enter");
        await Assertions.Expect(pictures).ToHaveCountAsync(2);
        await Assertions.Expect(pictures.Nth(0)).ToContainTextAsync("wrong.png");
        await Assertions.Expect(removed).ToHaveCountAsync(0);
        Assert.Equal(200, (await window.Page.Context.APIRequest.GetAsync(window.Shop.Page(address))).Status);
    }

    [Fact]
    public async Task A_photograph_that_was_chosen_before_the_script_has_come_is_taken_in_when_it_comes()
    {
        await using Window window = await browser.OnJobAsync(null);
        HeldScript script = await window.HoldScriptAsync("Readings/Photographs");
        await window.GoToAsync("readings");
        await script.AskedAsync();
        await window.Page.Locator("section.photographs input[type=file]").SetInputFilesAsync(new FilePayload { Name = "lug.png", MimeType = "image/png", Buffer = Png });
        script.LetGo();
        await Assertions.Expect(window.Page.Locator("section.photographs .pictures li")).ToHaveCountAsync(1);
    }

    [Fact]
    public async Task What_one_window_adds_or_removes_the_other_sees()
    {
        await using Window one = await browser.OnJobAsync("readings");
        await using Window other = await one.AnotherAsync($"{one.Job}/readings");
        ILocator seen = other.Page.Locator("section.photographs .pictures li");
        await one.Page.Locator("section.photographs input[type=file]").SetInputFilesAsync(new FilePayload { Name = "lug.png", MimeType = "image/png", Buffer = Png });
        await Assertions.Expect(seen).ToHaveCountAsync(1);

        await other.Page.GetByRole(AriaRole.Button, new() { Name = "Remove lug.png" }).ClickAsync();
        await Assertions.Expect(one.Page.Locator("section.photographs .pictures li")).ToHaveCountAsync(0);
        await Assertions.Expect(seen).ToHaveCountAsync(0);
    }
}
