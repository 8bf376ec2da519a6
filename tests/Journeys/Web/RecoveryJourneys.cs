using System.Globalization;
using Microsoft.Playwright;
using Xunit;

namespace Sparewright.Journeys.Web;

/// <summary>The shop is killed in the midst of entry and opened again: nothing that was kept is lost, and the window goes on by itself.</summary>
[Collection(BrowserJourneys.Name)]
public sealed class RecoveryJourneys(Browser browser)
{
    [Fact]
    public async Task Killed_in_the_midst_of_entry_nothing_kept_is_lost_and_the_window_goes_on()
    {
        await using OpenShop shop = await OpenShop.OpenAsync(Tool.Example("vent-knuckle"));
        await using Window window = await browser.OnOnlyJobAsync(shop, "readings");
        await window.LedgerListensAsync();
        await window.Page.Locator("input[data-cell=Entry]").First.FocusAsync();

        // Three values, each acknowledged by the page before the next.
        string[] values = ["17.02", "2.40", "12.21"];
        for (int k = 0; k < values.Length; k++) await EnterAsync(window, k, values[k]);

        // The fourth is half typed, in the row to which the shop's answer leads, when the shop dies.
        ILocator field = window.Page.Locator("#r4 input");
        await Assertions.Expect(field).ToBeFocusedAsync();
        await window.Keyboard.TypeAsync("36.0");
        string address = window.Page.Url;
        await shop.KillAsync();
        await window.Page.Locator("#line-lost").WaitForAsync();
        Assert.Contains("The shop does not answer", await window.Page.Locator("#line-lost").InnerTextAsync(), StringComparison.Ordinal);
        // What stands in the field stands there still, and can be typed on.
        await window.Keyboard.TypeAsync("3");

        await shop.OpenAgainAsync();
        await window.Page.Locator("#line-lost").WaitForAsync(new LocatorWaitForOptions { State = WaitForSelectorState.Hidden });
        await window.DrawnAsync();
        Assert.Equal(address, window.Page.Url);
        for (int k = 0; k < values.Length; k++) await Assertions.Expect(Repeats(window, k)).ToContainTextAsync(values[k]);
        await Assertions.Expect(field).ToHaveValueAsync("36.03");

        // And entry goes on.
        await field.FocusAsync();
        await window.Keyboard.PressAsync("Enter");
        await Assertions.Expect(Repeats(window, 3)).ToContainTextAsync("36.03");
    }

    [Fact]
    public async Task What_is_typed_while_the_shop_has_not_answered_yet_waits_in_the_next_row_when_the_shop_dies()
    {
        await using OpenShop shop = await OpenShop.OpenAsync(Tool.Example("vent-knuckle"));
        await using Window window = await browser.OnOnlyJobAsync(shop, null);
        TimeSpan late = TimeSpan.Zero;
        await window.ServerIsSlowAsync(() => late);
        await window.GoToAsync("readings");
        await window.LedgerListensAsync();
        await window.Page.Locator("#r1 input").FocusAsync();
        late = TimeSpan.FromSeconds(30);
        await window.Keyboard.TypeAsync("17.02\n2.42\n12.1");
        await shop.KillAsync();
        late = TimeSpan.Zero;
        await shop.OpenAgainAsync();
        await Assertions.Expect(window.Page.Locator("#r3 input")).ToHaveValueAsync("12.1");
        await Assertions.Expect(window.Page.Locator("#r2 input")).ToHaveValueAsync("2.42");
        // The first was on its way: it is kept, or stands in its field still, or both.
        if (!(await Repeats(window, 0).InnerTextAsync()).Contains("17.02", StringComparison.Ordinal)) await Assertions.Expect(window.Page.Locator("#r1 input")).ToHaveValueAsync("17.02");
    }

    [Fact]
    public async Task What_is_typed_before_the_ledgers_script_has_come_is_there_again()
    {
        await using OpenShop shop = await OpenShop.OpenAsync(Tool.Example("vent-knuckle"));
        await using Window window = await browser.OnOnlyJobAsync(shop, null);
        HeldScript script = await window.HoldScriptAsync("Readings/Ledger");
        await window.GoToAsync("readings");
        await script.AskedAsync();
        await window.Page.Locator("#r4 input").FocusAsync();
        await window.Keyboard.TypeAsync("36.02\n53.0");
        await shop.KillAsync();
        await window.Page.UnrouteAllAsync();
        await shop.OpenAgainAsync();
        await Assertions.Expect(window.Page.Locator("#r4 input")).ToHaveValueAsync("36.02");
        await Assertions.Expect(window.Page.Locator("#r5 input")).ToHaveValueAsync("53.0");
    }

    [Fact]
    public async Task Kill_after_kill_nothing_that_was_acknowledged_is_lost()
    {
        await using OpenShop shop = await OpenShop.OpenAsync(Tool.Example("vent-knuckle"));
        await using Window window = await browser.OnOnlyJobAsync(shop, "readings");
        var kept = new List<string>();
        for (int round = 0; round < 4; round++)
        {
            await window.LedgerListensAsync();
            ILocator first = window.Page.Locator("input[data-cell=Entry]").First;
            await first.FocusAsync();
            string value = string.Create(CultureInfo.InvariantCulture, $"17.0{round + 1}");
            await EnterAsync(window, 0, value);
            kept.Add(value);
            // Without waiting for an answer: what comes of it is told by the shop, not by us.
            await first.FocusAsync();
            await window.Keyboard.TypeAsync("16.9\n");
            await shop.KillAsync();
            await shop.OpenAgainAsync();
            await window.Page.Locator("#line-lost").WaitForAsync(new LocatorWaitForOptions { State = WaitForSelectorState.Hidden });
            await window.DrawnAsync();
            foreach (string value_ in kept) await Assertions.Expect(Repeats(window, 0)).ToContainTextAsync(value_);
            await window.Page.EvaluateAsync("() => sessionStorage.clear()");
            await window.Page.ReloadAsync();
            await window.DrawnAsync();
        }
    }

    [Fact]
    public async Task What_is_half_typed_in_any_field_is_there_again()
    {
        await using OpenShop shop = await OpenShop.OpenAsync(Tool.Example("vent-knuckle"));
        await using Window window = await browser.OnOnlyJobAsync(shop, "shape");
        await window.SettledAsync();
        ILocator field = window.Page.Locator("main input.slot:not(.name)").First;
        string id = (await field.GetAttributeAsync("id"))!, before = await field.InputValueAsync();
        await field.FocusAsync();
        await window.Keyboard.PressAsync("End");
        await window.Keyboard.TypeAsync(" + 1");
        await shop.KillAsync();
        await shop.OpenAgainAsync();
        await window.Page.Locator("#line-lost").WaitForAsync(new LocatorWaitForOptions { State = WaitForSelectorState.Hidden });
        await window.DrawnAsync();
        await Assertions.Expect(window.Page.Locator($"[id='{id}']")).ToHaveValueAsync($"{before} + 1");
    }

    private static ILocator Repeats(Window window, int row) => window.Page.Locator("[role=row][data-row]").Nth(row).Locator("[data-cell=Repeats]");

    /// <summary>Types a value as a caliper does and waits until the page says that it is kept.</summary>
    private static async Task EnterAsync(Window window, int row, string value)
    {
        await window.Keyboard.TypeAsync(value + "\n");
        await Assertions.Expect(Repeats(window, row)).ToContainTextAsync(value);
    }
}
