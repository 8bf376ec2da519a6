using System.Globalization;
using Microsoft.Playwright;
using Xunit;

namespace Sparewright.Journeys.Web;

/// <summary>Readings entered as people do with one hand on the caliper.</summary>
[Collection(BrowserJourneys.Name)]
public sealed class ReadingJourneys(Browser browser)
{
    /// <summary>Whether an entry is kept: the row says so, and the keyboard is where the next value goes.</summary>
    private static Task KeptAsync(Window window, int entry) =>
        window.UntilAsync($"document.querySelectorAll('.ledger [data-row]')[{entry}].querySelector('.kept') && document.activeElement.dataset.cell === 'Entry' && document.activeElement.value === ''");

    private async Task<Window> LedgerAsync(string example = "vent-knuckle")
    {
        Window window = await browser.OnJobAsync("readings", example);
        await window.LedgerListensAsync();
        return window;
    }

    /// <summary>The first column of repeats of all rows.</summary>
    private static async Task<string[]> RepeatsAsync(Window window) => [.. await window.Page.Locator(".ledger [data-row] .figures").AllInnerTextsAsync()];

    [Fact]
    public async Task Thirty_values_come_from_a_caliper_that_types_and_no_pointer_is_touched()
    {
        await using Window window = await LedgerAsync("line-reel-crank");
        string[] before = await RepeatsAsync(window);
        for (int row = 0; row < 30; row++)
        {
            // What the caliper says is a hundredth more than the first time; every third display speaks with a comma.
            double mm = double.Parse(before[row].Split(' ')[0], CultureInfo.InvariantCulture) + 0.01;
            string typed = mm.ToString("0.00", CultureInfo.InvariantCulture);
            await window.Keyboard.TypeAsync(row % 3 == 2 ? typed.Replace('.', ',') : typed);
            await window.Keyboard.PressAsync("Enter");
            await KeptAsync(window, row);
        }

        string[] after = await RepeatsAsync(window);
        for (int row = 0; row < 42; row++)
        {
            string added = row < 30 ? " " + (double.Parse(before[row].Split(' ')[0], CultureInfo.InvariantCulture) + 0.01).ToString("0.00", CultureInfo.InvariantCulture) : "";
            Assert.Equal(before[row] + added, after[row].ReplaceLineEndings(" "));
        }

        await window.Page.ReloadAsync();
        await window.Page.Locator(".ledger [data-row]").First.WaitForAsync();
        Assert.Equal(after, await RepeatsAsync(window));
    }

    [Fact]
    public async Task Keys_that_come_while_an_entry_is_kept_go_to_the_next_reading()
    {
        await using Window window = await LedgerAsync();
        await window.Keyboard.TypeAsync("17.02\n2.42\n12.18\n36.01\n");
        await KeptAsync(window, 3);
        string[] repeats = await RepeatsAsync(window);
        Assert.Equal(["17.01 16.97 16.99 17.02", "2.40 2.43 2.42", "12.19 12.16 12.20 12.18", "35.96 36.04 36.01"], repeats.Take(4).Select(r => r.ReplaceLineEndings(" ")));
    }

    [Fact]
    public async Task However_late_the_server_answers_each_value_goes_to_the_reading_it_was_meant_for()
    {
        await using Window window = await browser.OnJobAsync(null);
        await window.ServerIsSlowAsync(() => TimeSpan.FromSeconds(0.4));
        await window.GoToAsync("readings");
        await window.LedgerListensAsync();
        await window.Page.Locator("#r1 input").FocusAsync();

        // On while the first is on its way, back to the first row before that has been answered, and from there three rows down.
        await TypeAsync("17.02\n");
        await TypeAsync("2.42\n");
        await window.Keyboard.PressAsync("Control+Home");
        await TypeAsync("16.98\n");
        for (int k = 0; k < 3; k++) await window.Keyboard.PressAsync("ArrowDown");
        await TypeAsync("53.02\n");
        // Somebody who goes elsewhere meanwhile stays there.
        await window.Page.Locator("#r8 input").ClickAsync();
        await TypeAsync("4.98\n");
        // A correction, taken back as soon as it is entered.
        await Assertions.Expect(window.Page.Locator("#r8 .kept")).ToBeVisibleAsync();
        await window.Page.Locator("#r15 [data-cell='Repeats']").ClickAsync();
        await window.Keyboard.PressAsync("F2");
        await window.Keyboard.PressAsync("Control+a");
        await TypeAsync("34.01\n");
        await window.Keyboard.PressAsync("Control+z");
        await Assertions.Expect(window.Page.GetByRole(AriaRole.Button, new() { NameRegex = new("Redo: r15") })).ToBeEnabledAsync();
        await Assertions.Expect(window.Page.Locator("#r15 .figures")).ToHaveTextAsync("30.41");

        string[] repeats = [.. (await RepeatsAsync(window)).Select(r => r.ReplaceLineEndings(" "))];
        Assert.Equal(["17.01 16.97 16.99 17.02 16.98", "2.40 2.43 2.42", "12.19 12.16 12.20", "35.96 36.04", "53.00 53.03 53.02", "48.00", "47.98", "4.97 4.99 4.98"], repeats.Take(8));

        // As fast as a hand, so that the answer falls into the middle of a value.
        Task TypeAsync(string keys) => window.Keyboard.TypeAsync(keys, new() { Delay = 70 });
    }

    [Fact]
    public async Task What_is_typed_before_the_ledgers_script_has_come_is_entered_when_it_comes()
    {
        await using Window window = await browser.OnJobAsync(null);
        HeldScript script = await window.HoldScriptAsync("Readings/Ledger");
        await window.GoToAsync("readings");
        await window.Page.Locator("#r4").WaitForAsync();
        await script.AskedAsync();
        // The keyboard stands nowhere yet; then Enter, and on in the next row.
        await window.Keyboard.TypeAsync("17.02\n2.42\n12.1");
        await Assertions.Expect(window.Page.Locator("#r3 input")).ToBeFocusedAsync();
        script.LetGo();
        await window.LedgerListensAsync();
        await window.Keyboard.TypeAsync("8\n");
        await KeptAsync(window, 2);
        Assert.Equal(["17.01 16.97 16.99 17.02", "2.40 2.43 2.42", "12.19 12.16 12.20 12.18", "35.96 36.04"], (await RepeatsAsync(window)).Take(4).Select(r => r.ReplaceLineEndings(" ")));
        Assert.Equal("", await window.Page.Locator("#r1 input").InputValueAsync());
    }

    [Fact]
    public async Task A_value_in_the_wrong_unit_is_asked_about_and_nonsense_stays_where_it_was_typed()
    {
        await using Window window = await LedgerAsync();
        await window.Keyboard.TypeAsync("0.669\n");
        await window.Page.GetByText("Millimetres or inches?").WaitForAsync();
        await window.UntilAsync("document.activeElement.textContent === '0.669 in'");
        await window.Keyboard.PressAsync("Enter");
        await KeptAsync(window, 0);
        Assert.Equal("17.01 16.97 16.99 16.99", (await RepeatsAsync(window))[0].ReplaceLineEndings(" "));

        await window.Keyboard.TypeAsync("2.4x\n");
        await window.Page.GetByText("Not kept.").WaitForAsync();
        await window.UntilAsync("document.activeElement.value === '2.4x'");
        Assert.Equal("2.40 2.43", (await RepeatsAsync(window))[1].ReplaceLineEndings(" "));
    }

    [Fact]
    public async Task The_wrong_reading_is_corrected_and_the_correction_taken_back()
    {
        await using Window window = await LedgerAsync();
        ILocator wrong = window.Page.Locator("#r15");
        Assert.Contains("contradicts", await wrong.InnerTextAsync(), StringComparison.Ordinal);
        await window.Page.Keyboard.PressAsync("Tab");
        await window.Page.Locator("#r15 [data-cell='Repeats']").FocusAsync();
        await window.Keyboard.PressAsync("F2");
        await window.UntilAsync("document.activeElement.value === '30.41'");
        await window.Keyboard.TypeAsync("34.01\n");
        await window.Page.Locator("#r15:not(.look)").WaitForAsync();
        await window.Keyboard.PressAsync("Control+z");
        await window.Page.Locator("#r15.look").WaitForAsync();
        await window.Keyboard.PressAsync("Control+y");
        await window.Page.Locator("#r15:not(.look)").WaitForAsync();
    }

    [Fact]
    public async Task Two_windows_that_correct_one_reading_are_shown_both()
    {
        await using Window one = await LedgerAsync();
        await using Window other = await one.AnotherAsync(new Uri(one.Page.Url).AbsolutePath);
        await other.LedgerListensAsync();
        foreach (Window window in (Window[])[one, other])
        {
            await window.Page.BringToFrontAsync();
            await window.Page.Locator("#r15 [data-cell='Repeats']").FocusAsync();
            await window.Keyboard.PressAsync("F2");
            await window.UntilAsync("document.activeElement.value === '30.41'");
        }

        await other.Keyboard.TypeAsync("34.01\n");
        await other.Page.Locator("#r15:not(.look)").WaitForAsync();
        await one.Page.BringToFrontAsync();
        await one.Keyboard.TypeAsync("30.40\n");
        await one.Page.GetByText("Another window changed this reading meanwhile.").WaitForAsync();
        Assert.Contains("34.01", await one.Page.Locator("#r15 .both").InnerTextAsync(), StringComparison.Ordinal);
        Assert.Contains("30.40", await one.Page.Locator("#r15 .both").InnerTextAsync(), StringComparison.Ordinal);
        await one.Page.GetByText("leave what is there").ClickAsync();
        await one.Page.GetByText("Another window changed this reading meanwhile.").WaitForAsync(new() { State = WaitForSelectorState.Detached });
        Assert.Equal("34.01", (await RepeatsAsync(one))[14]);
    }

    [Fact]
    public async Task What_is_half_typed_when_the_shop_is_killed_is_there_again_and_what_was_kept_is_kept()
    {
        await using OpenShop shop = await OpenShop.OpenAsync(Tool.Example("vent-knuckle"));
        await using Window window = await browser.OnOnlyJobAsync(shop, "readings");
        await window.LedgerListensAsync();
        await window.Keyboard.TypeAsync("17.02\n");
        await KeptAsync(window, 0);
        await window.Keyboard.TypeAsync("2.4");
        await shop.KillAsync();
        await shop.OpenAgainAsync();
        await window.Page.ReloadAsync();
        await window.UntilAsync("document.querySelector('#r2 input')?.value === '2.4'");
        Assert.Equal("17.01 16.97 16.99 17.02", (await RepeatsAsync(window))[0].ReplaceLineEndings(" "));
        Assert.Equal("2.40 2.43", (await RepeatsAsync(window))[1].ReplaceLineEndings(" "));
    }
}
