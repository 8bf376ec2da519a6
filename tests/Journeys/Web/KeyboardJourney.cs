using System.Globalization;
using Microsoft.Playwright;
using Xunit;

namespace Sparewright.Journeys.Web;

/// <summary>From an empty shop to the files of a remade part with the keyboard alone: no pointer is touched.</summary>
[Collection(BrowserJourneys.Name)]
public sealed class KeyboardJourney(Browser browser)
{
    private const int Rounds = 5;

    /// <summary>What is measured on the bush, in which way, and what the display says in each round: invented, a hundredth or two about 8, 14, 18, 20 and 3.</summary>
    private static readonly (string Way, string From, string To, double Mm)[] Plan =
    [
        ("inside", "bore.wall", "", 7.97), ("outside", "barrel.side", "", 14.02), ("outside", "collar.bottom", "barrel.top", 18.01), ("outside", "collar.side", "", 19.98), ("outside", "collar.bottom", "collar.top", 3.01),
    ];

    [Fact]
    public async Task A_new_job_is_measured_and_remade_without_a_pointer()
    {
        await using OpenShop shop = await OpenShop.OpenAsync();
        await using Window window = await browser.OpenAsync(shop);
        await window.Page.AddInitScriptAsync("window.addEventListener('pointerdown', () => sessionStorage.setItem('pointers', 'yes'), true)");
        await window.GoAsync("");

        // A new job: what is it, how is it called, could it hurt?
        await TabToAsync(window, "e.textContent.trim() === 'New job'");
        await window.Keyboard.PressAsync("Enter");
        await window.Page.GetByRole(AriaRole.Heading, new() { Name = "A new job" }).WaitForAsync();
        await TabToAsync(window, "e.name === 'shape'");
        await window.Keyboard.PressAsync("Space");
        for (int k = 0; k < 10 && await window.Page.EvaluateAsync<string>("() => document.activeElement.value") != "bush"; k++) await window.Keyboard.PressAsync("ArrowDown");
        await TabToAsync(window, "e.id === 'part'");
        await window.Keyboard.TypeAsync("Reel spacer");
        await TabToAsync(window, "e.id === 'could-no'");
        await window.Keyboard.PressAsync("Space");
        await TabToAsync(window, "e.type === 'submit'");
        await window.Keyboard.PressAsync("Enter");

        // Its shape, as it is proposed.
        await window.Page.GetByRole(AriaRole.Heading, new() { Name = "Shape", Exact = true }).WaitForAsync();
        await Assertions.Expect(window.Page.Locator("ol.sentences > li.sentence")).ToHaveCountAsync(4);

        // What is measured, each described once …
        await StepAsync(window, "Readings");
        foreach (var (way, from, to, mm) in Plan)
        {
            await TabToAsync(window, "e.matches('.adding select') && e.closest('label').textContent.trim().startsWith('way')");
            await window.Keyboard.TypeAsync(way);
            await TabToAsync(window, "e.matches('.adding label:nth-of-type(2) input')");
            await window.Keyboard.TypeAsync(from);
            await TabToAsync(window, "e.matches('.adding input') && e.closest('label').textContent.trim().startsWith('to')");
            await window.Keyboard.TypeAsync(to);
            await TabToAsync(window, "e.matches('.adding input') && e.closest('label').textContent.trim().startsWith('display says')");
            await window.Keyboard.TypeAsync(Shown(mm, 0));
            await window.Keyboard.PressAsync("Enter");
            await Assertions.Expect(window.Page.Locator("[role=row][data-row]")).ToHaveCountAsync(Array.FindIndex(Plan, p => p.From == from && p.To == to) + 1);
        }

        // … and then taken again with a caliper that types digits and Enter: thirty values in all.
        await TabToAsync(window, "e.matches('[data-cell]')");
        for (int round = 1; round <= Rounds; round++)
        {
            await window.Keyboard.PressAsync("Control+Home");
            for (int row = 0; row < Plan.Length; row++)
            {
                await window.Keyboard.TypeAsync(Shown(Plan[row].Mm, round));
                await window.Keyboard.PressAsync("Enter");
                string all = string.Join(' ', Enumerable.Range(0, round + 1).Select(r => Shown(Plan[row].Mm, r)));
                await Assertions.Expect(window.Page.Locator("[role=row][data-row]").Nth(row).Locator(".figures")).ToHaveTextAsync(all);
            }
        }

        await Assertions.Expect(window.Page.Locator("nav.index")).ToContainTextAsync("5 readings, all agree");

        // The sizes that they decide; the flats of the jaws made the bore read small.
        await StepAsync(window, "Sizes");
        await Assertions.Expect(window.Page.GetByRole(AriaRole.Listitem).Filter(new() { Has = window.Page.GetByRole(AriaRole.Heading, new() { Name = "bore_d", Exact = true }) })).ToContainTextAsync("7.986 mm");

        // And the files.
        await StepAsync(window, "Hand-over");
        await TabToAsync(window, "e.textContent.trim() === 'Make the files'");
        await window.Keyboard.PressAsync("Enter");
        await Assertions.Expect(window.Page.Locator("table.files a[href$='.3mf']")).ToHaveCountAsync(1, new() { Timeout = 60_000 });
        Assert.Null(await window.Page.EvaluateAsync<string?>("() => sessionStorage.getItem('pointers')"));
    }

    /// <summary>A machine may be slow in what it says after the page is there; who has gone on meanwhile is not brought back to the heading, where the next key would be lost.</summary>
    [Fact]
    public async Task Whoever_goes_on_as_soon_as_a_page_is_drawn_keeps_their_place()
    {
        await using OpenShop shop = await OpenShop.OpenAsync();
        await using Window window = await browser.OpenAsync(shop);
        await window.ServerIsSlowAsync(() => TimeSpan.FromSeconds(1));
        await window.GoAsync("");
        await TabToAsync(window, "e.textContent.trim() === 'New job'");
        await window.Keyboard.PressAsync("Enter");
        await window.Page.GetByRole(AriaRole.Heading, new() { Name = "A new job" }).WaitForAsync();
        Assert.Equal("A new job", await window.Page.EvaluateAsync<string>("() => document.activeElement.textContent"));
        await TabToAsync(window, "e.name === 'shape'");
        await window.Keyboard.PressAsync("Space");
        await window.Page.WaitForTimeoutAsync(3_000);
        await window.Keyboard.PressAsync("ArrowDown");
        Assert.Equal("lever", await window.Page.EvaluateAsync<string>("() => document.activeElement.value"));
        await Assertions.Expect(window.Page.Locator(".shape.chosen strong")).ToHaveTextAsync("lever");
    }

    private static string Shown(double mm, int round) => (mm + (round % 3 - 1) * 0.01).ToString("0.00", CultureInfo.InvariantCulture);

    /// <summary>Goes to a step by the card's index.</summary>
    private static async Task StepAsync(Window window, string name)
    {
        await TabToAsync(window, $"e.matches('nav.index a') && e.textContent.includes('{name}')");
        await window.Keyboard.PressAsync("Enter");
        await window.Page.GetByRole(AriaRole.Heading, new() { Name = name, Exact = true }).WaitForAsync();
        await window.SettledAsync();
    }

    /// <summary>Presses Tab until the keyboard stands where it should.</summary>
    /// <param name="where">A JavaScript expression over the element e.</param>
    private static async Task TabToAsync(Window window, string where)
    {
        for (int k = 0; k < 300; k++)
        {
            if (await window.Page.EvaluateAsync<bool>($"() => {{ const e = document.activeElement; return !!e && ({where}); }}")) return;
            await window.Keyboard.PressAsync("Tab");
        }

        Assert.Fail($"the Tab key does not lead to {where}");
    }
}
