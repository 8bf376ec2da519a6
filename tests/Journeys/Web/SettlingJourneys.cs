using System.Text.RegularExpressions;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;
using Xunit;

namespace Sparewright.Journeys.Web;

/// <summary>From what was meant, perhaps, to a size that is bound; and from what to measure next to a reading in the ledger. By keyboard alone.</summary>
[Collection(BrowserJourneys.Name)]
public sealed class SettlingJourneys(Browser browser)
{
    /// <summary>What the display would say at a line of what to measure next, going by what the part is known to be there.</summary>
    private static async Task<string> AboutAsync(ILocator line) => Regex.Match(await line.Locator("label").InnerTextAsync(), @"\d+\.\d+").Value;

    [Fact]
    public async Task A_proposal_is_accepted_and_taken_back()
    {
        await using Window window = await browser.OnJobAsync("sizes");
        ILocator size = window.Page.Locator("#size-socket_od");
        await size.GetByRole(AriaRole.Button, new() { Name = "Settle socket_od at 17 mm" }).FocusAsync();
        await window.Keyboard.PressAsync("Enter");
        await size.GetByText("= settled at its nominal").WaitForAsync();
        Assert.StartsWith("17.00 mm", (await size.Locator(".figure").InnerTextAsync()).Trim(), StringComparison.Ordinal);

        // Somebody who comes later finds it settled, and opens it again.
        await window.Page.ReloadAsync();
        await size.GetByRole(AriaRole.Button, new() { Name = "Open again: the nominal of socket_od" }).FocusAsync();
        await window.Keyboard.PressAsync("Enter");
        await size.GetByText("✓ decided").WaitForAsync();
    }

    [Fact]
    public async Task The_budget_behind_a_size_opens_and_closes_by_keyboard_and_can_be_read_in_both_themes_and_on_a_narrow_page()
    {
        await using Window window = await browser.OnJobAsync("sizes");
        ILocator size = window.Page.Locator("#size-socket_od");
        ILocator button = size.GetByRole(AriaRole.Button, new() { Name = "Budget of the readings that decide socket_od" });
        await button.FocusAsync();
        await window.Keyboard.PressAsync("Enter");
        ILocator budget = size.GetByRole(AriaRole.Table).First;
        await budget.GetByText("repeatability").WaitForAsync();
        await Assertions.Expect(button).ToHaveAttributeAsync("aria-expanded", "true");
        await Assertions.Expect(button).ToBeFocusedAsync();
        Assert.Contains("u, mm", await budget.InnerTextAsync(), StringComparison.Ordinal);
        foreach (ColorScheme scheme in (ColorScheme[])[ColorScheme.Light, ColorScheme.Dark])
        {
            await window.Page.EmulateMediaAsync(new() { ColorScheme = scheme });
            Assert.Empty((await window.Page.RunAxe()).Violations.Select(v => $"{v.Id}: {v.Nodes[0].Html}"));
        }

        await window.Page.SetViewportSizeAsync(320, 700);
        Assert.Empty(await Looks.SidewaysAsync(window.Page));
        Assert.Empty(await Looks.SmallTargetsAsync(window.Page));
        await window.Keyboard.PressAsync("Enter");
        await Assertions.Expect(size.GetByRole(AriaRole.Table)).ToHaveCountAsync(0);
    }

    [Fact]
    public async Task What_to_measure_next_goes_into_the_ledger_with_Enter()
    {
        await using Window window = await browser.OnJobAsync("readings", "line-reel-crank");
        ILocator first = window.Page.Locator("section.next li").First;
        await first.Locator("input").FocusAsync();
        await first.Locator("button[aria-pressed='true']").WaitForAsync();
        int before = await window.Page.Locator(".ledger [data-row]").CountAsync();
        string about = await AboutAsync(first);
        await window.Keyboard.TypeAsync(about);
        await window.Keyboard.PressAsync("Enter");
        await window.UntilAsync($"document.querySelectorAll('.ledger [data-row]').length === {before + 1}");
        Assert.Contains(about, await window.Page.Locator(".ledger [data-row]").Last.InnerTextAsync(), StringComparison.Ordinal);
        // The keyboard waits at what is worth most now, its field empty.
        await window.UntilAsync("document.activeElement === document.querySelector('section.next li input') && document.activeElement.value === ''");
    }

    [Fact]
    public async Task Values_typed_while_the_one_before_is_being_kept_go_to_what_is_measured_next()
    {
        await using Window window = await browser.OnJobAsync(null, "line-reel-crank");
        await window.ServerIsSlowAsync(() => TimeSpan.FromSeconds(0.4));
        await window.GoToAsync("readings");
        // The list's script, and not only its rows, is there.
        await window.Page.Locator("section.next ol[aria-busy='false']").WaitForAsync();
        ILocator first = window.Page.Locator("section.next li").First;
        await first.Locator("input").FocusAsync();
        await first.Locator("button[aria-pressed='true']").WaitForAsync();
        ILocator rows = window.Page.Locator(".ledger [data-row]");
        int before = await rows.CountAsync();
        string[] ledger = [.. await rows.AllInnerTextsAsync()];
        string about = await AboutAsync(first), half = about[..^1];
        await window.Keyboard.TypeAsync($"{about}\n{half}", new() { Delay = 70 });
        // Half a value waits where the keyboard is now, and none of it went into another row.
        await Assertions.Expect(rows).ToHaveCountAsync(before + 1);
        await Assertions.Expect(first.Locator("input")).ToHaveValueAsync(half);
        await Assertions.Expect(first.Locator("input")).ToBeFocusedAsync();
        Assert.Equal(ledger.Select(Repeats), (await rows.AllInnerTextsAsync()).Take(before).Select(Repeats));

        await window.Page.ReloadAsync();
        await Assertions.Expect(first.Locator("input")).ToHaveValueAsync(half);

        static string Repeats(string row) => string.Join(' ', row.Split('\n').Take(4));
    }
}
