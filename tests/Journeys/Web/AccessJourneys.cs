using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;
using Xunit;

namespace Sparewright.Journeys.Web;

/// <summary>Every page of the shop can be read and worked by everybody: rules engine, and what it does not look at.</summary>
[Collection(BrowserJourneys.Name)]
public sealed class AccessJourneys(Browser browser, ExampleShop example) : IClassFixture<ExampleShop>
{
    [Fact]
    public async Task By_day_axe_finds_nothing_and_targets_focus_and_drags_are_as_they_must_be()
    {
        await using Window window = await browser.OpenAsync(example.Shop);
        await OnEveryPageAsync(window, async page => [.. await AxeAsync(page), .. await Looks.SmallTargetsAsync(page), .. await Looks.OnlyDraggedAsync(page), .. await Looks.HiddenFocusAsync(page)]);
    }

    [Fact]
    public async Task By_night_axe_finds_nothing_and_who_asked_for_less_motion_gets_none()
    {
        await using Window window = await browser.OpenAsync(example.Shop, look: new WindowLook { Dark = true, StillPictures = true });
        await OnEveryPageAsync(window, async page => [.. await AxeAsync(page, AboutColours), .. await Looks.MotionAsync(page)]);
    }

    [Fact]
    public async Task A_narrow_window_is_never_scrolled_sideways_and_hides_no_focus()
    {
        await using Window window = await browser.OpenAsync(example.Shop, look: new WindowLook { WidthPx = 320, HeightPx = 700 });
        await OnEveryPageAsync(window, async page => [.. await Looks.SidewaysAsync(page), .. await Looks.SmallTargetsAsync(page), .. await Looks.HiddenFocusAsync(page)]);
    }

    /// <summary>Who is not let in reads a page too.</summary>
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Axe_finds_nothing_on_the_page_that_refuses(bool dark)
    {
        await using Window window = await browser.OpenAsync(example.Shop, look: new WindowLook { Dark = dark });
        await window.Page.Context.ClearCookiesAsync();
        await window.Page.GotoAsync(example.Shop.Page(""));
        Assert.Empty(await AxeAsync(window.Page));
    }

    [Fact]
    public async Task The_looks_notice_what_they_are_for()
    {
        await using Window window = await browser.OpenAsync(example.Shop, look: new WindowLook { WidthPx = 320 });
        IPage page = window.Page;
        await page.SetContentAsync("""
            <main><h1>x</h1><button id="small">a</button><button id="big">b</button><input type="range" aria-label="alone"><div draggable="true">d</div><p id="wide">w</p></main>
            """);
        // Set by script, since the page's own policy forbids it in the text.
        await page.EvaluateAsync("""
            () => {
              const set = (id, looks) => Object.assign(document.getElementById(id).style, looks);
              set('small', { width: '20px', height: '20px', padding: 0, outline: 'none' });
              set('big', { width: '60px', height: '60px', transition: 'color 1s' });
              set('wide', { width: '900px' });
              const over = document.body.appendChild(document.createElement('div'));
              Object.assign(over.style, { position: 'fixed', inset: 0, background: 'white' });
            }
            """);
        Assert.Contains("20.0 x 20.0", Assert.Single(await Looks.SmallTargetsAsync(page), t => t.Contains("\"a\"", StringComparison.Ordinal)), StringComparison.Ordinal);
        Assert.DoesNotContain(await Looks.SmallTargetsAsync(page), t => t.Contains("\"b\"", StringComparison.Ordinal));
        IReadOnlyList<string> focus = await Looks.HiddenFocusAsync(page);
        Assert.Contains(focus, f => f.StartsWith("hidden: ", StringComparison.Ordinal) && f.Contains("\"b\"", StringComparison.Ordinal));
        Assert.Contains(focus, f => f.StartsWith("not marked: ", StringComparison.Ordinal) && f.Contains("\"a\"", StringComparison.Ordinal));
        Assert.Equal(2, (await Looks.OnlyDraggedAsync(page)).Length);
        Assert.NotEmpty(await Looks.SidewaysAsync(page));
        Assert.NotEmpty(await Looks.MotionAsync(page));
        Assert.NotEmpty(await AxeAsync(page));
    }

    private static async Task OnEveryPageAsync(Window window, Func<IPage, Task<string[]>> look)
    {
        var found = new List<string>();
        IReadOnlyList<Pages.Entry> pages = await Pages.AllAsync(window);
        foreach (Pages.Entry page in pages)
        {
            await window.GoAsync(page.Path);
            await window.SettledAsync();
            found.AddRange((await look(window.Page)).Select(f => $"{page.Name}: {f}"));
        }

        Assert.True(found.Count == 0, string.Join('\n', found));
        Assert.InRange(pages.Count, 6, 40);
    }

    /// <summary>The rules that can tell night from day; to all others the page is the same.</summary>
    private static readonly string[] AboutColours = ["color-contrast", "link-in-text-block"];

    /// <param name="rules">All, when it is null.</param>
    private static async Task<IEnumerable<string>> AxeAsync(IPage page, string[]? rules = null)
    {
        AxeResult result = await page.RunAxe(rules is null ? null : new AxeRunOptions { RunOnly = new RunOnlyOptions { Type = "rule", Values = [.. rules] } });
        Assert.NotEmpty(result.Passes);
        return result.Violations.SelectMany(v => v.Nodes.Select(n => $"{v.Id} ({v.Impact}): {n.Html[..Math.Min(n.Html.Length, 160)]}"));
    }
}
