using Microsoft.Playwright;
using Xunit;

namespace Sparewright.Journeys.Web;

/// <summary>A browser that cannot shade: everything can be done without the picture that needs it.</summary>
[Collection(BrowserJourneys.Name)]
public sealed class FlatJourneys(Browser browser, ExampleShop example) : IClassFixture<ExampleShop>
{
    [Fact]
    public async Task Without_WebGL_the_part_is_drawn_in_lines_and_its_faces_can_be_picked()
    {
        await using Window window = await browser.OpenAsync(example.Shop, look: new WindowLook { WebGl = false });
        Assert.False(await window.Page.EvaluateAsync<bool>("() => !!document.createElement('canvas').getContext('webgl2')"));
        string job = (await window.JobsAsync()).Values.Single();
        foreach (string step in (string[])["readings", "shape", "sizes", "fit"])
        {
            await window.GoAsync($"{job}/{step}");
            await window.SettledAsync();
            await Assertions.Expect(window.Page.Locator("aside.part .drawn svg, aside.part .drawn img").First).ToBeVisibleAsync();
            await Assertions.Expect(window.Page.Locator("aside.part")).ToContainTextAsync("this browser cannot shade");
        }

        // A standard view by its button, and a face by the list.
        ILocator top = window.Page.Locator("aside.part button[data-do='view top']");
        await top.ClickAsync();
        await Assertions.Expect(top).ToHaveAttributeAsync("aria-pressed", "true");
        ILocator faces = window.Page.Locator("aside.part details").Filter(new LocatorFilterOptions { HasText = "face" }).Last;
        if (!await faces.EvaluateAsync<bool>("d => d.open")) await faces.Locator("summary").ClickAsync();
        await faces.Locator("button").First.ClickAsync();
        await Assertions.Expect(window.Page.Locator("aside.part .told .face").First).ToBeVisibleAsync();
    }
}
