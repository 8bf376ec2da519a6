using Microsoft.Playwright;
using Xunit;

namespace Sparewright.Journeys.Web;

/// <summary>Two windows on one job: each sees what the other enters, and neither overwrites it silently.</summary>
[Collection(BrowserJourneys.Name)]
public sealed class TogetherJourneys(Browser browser)
{
    [Fact]
    public async Task What_one_window_enters_the_other_sees_and_both_are_kept()
    {
        await using Window one = await browser.OnJobAsync("readings");
        await using Window other = await one.AnotherAsync($"{one.Job}/readings");

        await one.Page.Locator("input[data-cell=Entry]").Nth(0).FillAsync("17.03");
        await one.Keyboard.PressAsync("Enter");
        await Assertions.Expect(Repeats(other, 0)).ToContainTextAsync("17.03");
        // The same reading, in both windows: a repeat is added to what the other entered.
        await other.Page.BringToFrontAsync();
        await other.Page.Locator("input[data-cell=Entry]").Nth(0).FillAsync("17.04");
        await other.Keyboard.PressAsync("Enter");
        foreach (Window window in (Window[])[one, other])
        {
            await Assertions.Expect(Repeats(window, 0)).ToContainTextAsync("17.03");
            await Assertions.Expect(Repeats(window, 0)).ToContainTextAsync("17.04");
        }
    }

    [Fact]
    public async Task When_both_change_one_place_the_later_is_shown_the_difference_and_chooses()
    {
        await using Window one = await browser.OnJobAsync("readings");
        await using Window other = await one.AnotherAsync($"{one.Job}/readings");

        // Both open the same line of repeats to correct it.
        ILocator mine = await CorrectAsync(one), theirs = await CorrectAsync(other);
        await theirs.FillAsync("16.50");
        await other.Keyboard.PressAsync("Enter");
        await Assertions.Expect(Repeats(other, 0)).ToContainTextAsync("16.50");
        await one.Page.BringToFrontAsync();
        await mine.FillAsync("16.60");
        await mine.PressAsync("Enter");
        ILocator asked = one.Page.GetByText("Another window changed this reading meanwhile");
        await asked.WaitForAsync();
        ILocator both = one.Page.Locator("dl.both");
        await Assertions.Expect(both).ToContainTextAsync("16.50");
        await Assertions.Expect(both).ToContainTextAsync("16.60");
        // Nothing was overwritten while nobody chose.
        await Assertions.Expect(Repeats(other, 0)).ToContainTextAsync("16.50");
        await one.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "put yours there" }).ClickAsync();
        await Assertions.Expect(Repeats(other, 0)).ToContainTextAsync("16.60");
    }

    private static ILocator Repeats(Window window, int row) => window.Page.Locator("[role=row][data-row]").Nth(row).Locator("[data-cell=Repeats]");

    private static async Task<ILocator> CorrectAsync(Window window)
    {
        await window.Page.BringToFrontAsync();
        await Repeats(window, 0).FocusAsync();
        await window.Keyboard.PressAsync("Enter");
        ILocator field = window.Page.Locator("input.correct");
        await field.WaitForAsync();
        return field;
    }
}
