using System.Globalization;
using System.Text.RegularExpressions;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;
using Xunit;

namespace Sparewright.Journeys.Web;

/// <summary>The step Strength in a browser: computed when asked, also while the window is away, and seen on the part.</summary>
[Collection(BrowserJourneys.Name)]
public sealed partial class StrengthJourneys(Browser browser)
{
    /// <summary>Computing takes seconds on two cores, and far more where all of them are busy.</summary>
    private static readonly LocatorAssertionsToContainTextOptions Patient = new() { Timeout = 280_000 };

    /// <summary>A tab that is soon computed, and asked too much.</summary>
    private const string Tab = """
        sparewright: 1
        part: Tab
        could_injure: no
        sizes:
          reach: {fixed: 40}
          wide: {fixed: 12}
          thick: {fixed: 4}
        shape:
          - {block: tab, long: reach, deep: wide, tall: thick, middle_at: [0, 0, 0]}
        readings: []
        loads:
          - {name: thumb on the end, push: {at: tab.right, newtons: 40, toward: down}, held_fast: tab.left, times: many}
        print: {material: PETG, way_up: up}
        """;

    [Fact]
    public async Task The_margin_is_computed_while_the_window_is_away_and_the_part_is_coloured_by_it()
    {
        using var scratch = new Scratch();
        Directory.CreateDirectory(scratch["tab"]);
        await File.WriteAllTextAsync(Path.Combine(scratch["tab"], "job.yaml"), Tab, TestContext.Current.CancellationToken);
        await using OpenShop shop = await OpenShop.OpenAsync(scratch["tab"]);
        await using Window window = await browser.OnOnlyJobAsync(shop, "strength");
        ILocator step = window.Page.Locator("nav.index a[href$='/strength'] .state"), part = window.Page.Locator("aside.part");
        await Assertions.Expect(step).ToHaveTextAsync("not computed yet");
        await Assertions.Expect(window.Page.Locator(".loads")).ToContainTextAsync("Push of 40 N on tab.right, toward down");
        var (width, height) = (window.Page.ViewportSize!.Width, window.Page.ViewportSize.Height);

        await window.Page.Locator("#compute").FocusAsync();
        await window.Keyboard.PressAsync("Enter");
        await Assertions.Expect(window.Page.Locator("#stop")).ToBeVisibleAsync();
        await Assertions.Expect(step).ToHaveTextAsync("being computed");
        await window.GoToAsync("readings");
        await Assertions.Expect(step).ToContainTextAsync("below 1", Patient);
        await window.GoToAsync("strength");

        Match margin = MarginWithError().Match(await window.Page.Locator("td.margin").InnerTextAsync());
        Assert.True(margin.Success);
        Assert.InRange(double.Parse(margin.Groups[1].Value, CultureInfo.InvariantCulture), 1e-3, 1);
        await Assertions.Expect(step).ToHaveTextAsync($"margin {margin.Groups[1].Value}, below 1");
        await Assertions.Expect(window.Page.Locator("main")).ToContainTextAsync("how often: many");

        await Assertions.Expect(part.Locator(".legend")).ToContainTextAsync($"least margin {margin.Value}");
        await Assertions.Expect(part.Locator(".over .extreme text")).ToHaveTextAsync($"least margin {margin.Value}");
        Assert.Contains($"least margin {margin.Value}", await part.Locator(".figure").GetAttributeAsync("aria-label"), StringComparison.Ordinal);
        await window.UntilAsync("document.querySelector('aside.part').dataset.coloured?.includes('/margin/')");
        await window.SettledAsync();
        string coloured = await LookAsync();

        // The page with all that was found on it, as everybody must be able to read it.
        Assert.Empty((await window.Page.RunAxe()).Violations.Select(v => $"{v.Id}: {v.Nodes[0].Html}"));
        await window.Page.SetViewportSizeAsync(320, 700);
        Assert.Empty(await Looks.SidewaysAsync(window.Page));
        Assert.Empty(await Looks.SmallTargetsAsync(window.Page));
        await window.Page.SetViewportSizeAsync(width, height);

        await window.Page.Locator("#colour").SelectOptionAsync("");
        await Assertions.Expect(part.Locator(".legend")).ToHaveCountAsync(0);
        await window.SettledAsync();
        Assert.NotEqual(coloured, await LookAsync());

        async Task<string> LookAsync()
        {
            await window.PartDrawnAsync();
            // What is written over the picture does not count.
            await part.Locator(".over").EvaluateAsync("over => { over.style.visibility = 'hidden'; }");
            return Convert.ToHexString(System.Security.Cryptography.SHA256.HashData(await part.Locator("canvas").ScreenshotAsync()));
        }
    }

    [GeneratedRegex(@"([\d.]+) ± [\d.]+")]
    private static partial Regex MarginWithError();
}
