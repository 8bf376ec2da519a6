using Microsoft.Playwright;
using Xunit;

namespace Sparewright.Journeys.Web;

/// <summary>What trial prints showed, entered in a window by keyboard and learnt from: gauges, the part itself, the printer's coupon.</summary>
[Collection(BrowserJourneys.Name)]
public sealed class TrialJourneys(Browser browser)
{
    private static async Task<(Window Window, string Job)> AtTrialsAsync(Browser browser, OpenShop shop)
    {
        Window window = await browser.OpenAsync(shop);
        string job = (await window.JobsAsync()).Values.Single();
        await window.GoAsync($"{job}/trials");
        await window.Page.Locator("#keep-part").WaitForAsync();
        return (window, job);
    }

    private static ILocator Taught(Window window) => window.Page.Locator(".taught[aria-busy='false']");

    [Fact]
    public async Task Answers_of_gauges_better_the_odds_and_those_that_contradict_each_other_are_shown()
    {
        await using OpenShop shop = await OpenShop.OpenAsync(Tool.Example("vent-knuckle"));
        (Window window, string _) = await AtTrialsAsync(browser, shop);
        await using Window closing = window;
        ILocator stay = window.Page.GetByRole(AriaRole.Group, new() { Name = "Gauges for stay" });
        ILocator step = window.Page.Locator("nav.index li").Filter(new() { HasText = "Trials" });
        await Assertions.Expect(step).ToContainTextAsync("none yet");

        // Two gauges of one's own beside those of the plan; answered with the arrow keys.
        foreach (string mm in (string[])["12.10", "12.45"])
        {
            await stay.GetByLabel("A gauge drawn otherwise, mm").FocusAsync();
            await window.Keyboard.PressAsync("Control+A");
            await window.Keyboard.TypeAsync(mm);
            await window.Keyboard.PressAsync("Tab");
            await window.Keyboard.PressAsync("Enter");
            await stay.GetByText($"bore_d {mm} mm").WaitForAsync();
        }

        await AnswerAsync(stay, "bore_d 12.10 mm", "too tight");
        await AnswerAsync(stay, "bore_d 12.45 mm", "goes");
        ILocator keep = stay.GetByRole(AriaRole.Button, new() { Name = "Keep the answers for stay" });
        // Until the first answer has come to the server there is nothing to keep, and what cannot be pressed cannot have the keyboard.
        await Assertions.Expect(keep).ToBeEnabledAsync();
        await keep.FocusAsync();
        await window.Keyboard.PressAsync("Enter");
        await Assertions.Expect(window.Page.Locator(".printed li")).ToContainTextAsync("gauges for stay: goes in 12.45 mm; too tight in 12.10 mm");
        await Assertions.Expect(Taught(window)).ToContainTextAsync("Gauges for stay");
        await Assertions.Expect(Taught(window)).ToContainTextAsync("hole upright");
        await Assertions.Expect(step).ToContainTextAsync("1 trial");

        // A looser one that does not go contradicts the one that went.
        await stay.GetByLabel("A gauge drawn otherwise, mm").FillAsync("12.60");
        await stay.GetByRole(AriaRole.Button, new() { Name = "Add it to the gauges for stay" }).ClickAsync();
        await AnswerAsync(stay, "bore_d 12.60 mm", "too tight");
        await stay.GetByRole(AriaRole.Button, new() { Name = "Keep the answers for stay" }).ClickAsync();
        await Assertions.Expect(Taught(window)).ToContainTextAsync("These answers contradict each other: it goes in gauge 2 (12.45 mm) and not in the looser gauge 3 (12.60 mm)");
        await Assertions.Expect(step).ToContainTextAsync("answers contradict each other");

        // Taken out again, and back with undo.
        await window.Page.Locator(".printed li").Last.GetByRole(AriaRole.Button).FocusAsync();
        await window.Keyboard.PressAsync("Enter");
        await Assertions.Expect(window.Page.Locator(".printed li")).ToHaveCountAsync(1);
        await Assertions.Expect(step).ToContainTextAsync("1 trial");
        await window.Page.GetByRole(AriaRole.Button, new() { Name = "Undo" }).ClickAsync();
        await Assertions.Expect(window.Page.Locator(".printed li")).ToHaveCountAsync(2);
    }

    private static async Task AnswerAsync(ILocator gauges, string gauge, string answer)
    {
        ILocator choice = gauges.GetByRole(AriaRole.Group, new() { NameRegex = new(gauge.Replace(".", "\\.", StringComparison.Ordinal)) }).GetByLabel(answer, new() { Exact = true });
        await choice.FocusAsync();
        await choice.PressAsync(" ");
        await Assertions.Expect(choice).ToBeCheckedAsync();
    }

    [Fact]
    public async Task A_part_that_was_too_tight_gets_a_new_revision_line_by_line()
    {
        await using OpenShop shop = await OpenShop.OpenAsync(Tool.Example("vent-knuckle"));
        (Window window, string job) = await AtTrialsAsync(browser, shop);
        await using Window closing = window;
        await window.Page.GetByLabel("bore_d drawn, mm").FillAsync("12.10");
        ILocator stay = window.Page.GetByRole(AriaRole.Group, new() { Name = "rod stay", Exact = true }), clevis = window.Page.GetByRole(AriaRole.Group, new() { Name = "pin clevis", Exact = true });
        await stay.GetByLabel("too tight").CheckAsync();
        await clevis.GetByLabel("fits").CheckAsync();
        await window.Page.GetByLabel("What broke, and how").FillAsync("nothing: it held");
        await window.Page.Locator("#keep-part").FocusAsync();
        await window.Keyboard.PressAsync("Enter");

        ILocator revision = Taught(window).Locator("table").Filter(new() { HasText = "was drawn" });
        await Assertions.Expect(revision.Locator("tr").Filter(new() { HasText = "bore_d" })).ToContainTextAsync("stay was too tight");
        await Assertions.Expect(revision.Locator("tr").Filter(new() { HasText = "pin_d" })).ToContainTextAsync("clevis fits as it is");
        string text = await (await window.Page.Context.APIRequest.GetAsync(shop.Page($"{job}/job.yaml"))).TextAsync();
        Assert.Matches(@"(?s)\bprint:.*drawn: \{bore_d: 12\.[2-9]", text);
        Assert.Contains("machine: MEX printer, not yet measured      # or one of the shop's own", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_coupon_is_made_measured_and_learnt_from_and_waits_for_the_next_job_of_the_same_printer()
    {
        await using OpenShop shop = await OpenShop.OpenAsync(Tool.Example("vent-knuckle"));
        (Window window, string job) = await AtTrialsAsync(browser, shop);
        await using Window closing = window;
        await window.Page.Locator("#make-coupon").FocusAsync();
        await window.Keyboard.PressAsync("Enter");
        await window.Page.Locator(".files a").First.WaitForAsync(new() { Timeout = 60_000 });
        Assert.Equal(["capability-coupon_as-drawn.3mf", "capability-coupon_as-drawn.png", "capability-coupon_as-drawn.svg", "coupon.yaml", "coupon-readings.csv"], await window.Page.Locator(".files a").AllInnerTextsAsync());
        Assert.StartsWith("number,feature", await (await window.Page.Context.APIRequest.GetAsync(shop.Page($"{job}/coupon/coupon-readings.csv"))).TextAsync(), StringComparison.Ordinal);
        Assert.Equal(404, (await window.Page.Context.APIRequest.GetAsync(shop.Page($"{job}/coupon/..%2F..%2Fkeys"))).Status);

        await window.Page.Locator("#begin-coupon").ClickAsync();
        await window.Page.Locator("#coupon-15").FocusAsync();
        foreach (string reads in (string[])["3.71; 3.72", "7.78", "9.80"])
        {
            await window.Keyboard.TypeAsync(reads);
            await window.Keyboard.PressAsync("Tab");
        }

        await Assertions.Expect(window.Page.GetByText("3 of 28 readings.")).ToBeVisibleAsync();
        await window.Page.Locator("#coupon-18").FillAsync("80");
        await window.Page.Locator("#coupon-18").PressAsync("Tab");
        await Assertions.Expect(window.Page.GetByText("reading 18 is 80.00 mm, where 15.00 mm was drawn")).ToBeVisibleAsync();

        // A power cut takes nothing of what was entered; what was not kept is not there.
        await shop.KillAsync();
        await shop.OpenAgainAsync();
        await using Window again = await browser.OpenAsync(shop);
        await again.GoAsync($"{job}/trials");
        await again.Page.GetByRole(AriaRole.Button, new() { NameRegex = new("^Readings of the coupon of") }).ClickAsync();
        await Assertions.Expect(again.Page.Locator("#coupon-15")).ToHaveValueAsync("3.71; 3.72");
        await Assertions.Expect(again.Page.Locator("#coupon-18")).ToHaveValueAsync("");
        await again.Page.Locator("#learn-coupon").FocusAsync();
        await again.Keyboard.PressAsync("Enter");
        await Assertions.Expect(again.Page.Locator(".printed li")).ToContainTextAsync("3 measured features; capability coupon of");
        await Assertions.Expect(Taught(again)).ToContainTextAsync("hole upright");

        // Measured further, the same print is learnt from once, not twice.
        await again.Page.Locator("#coupon-18").FillAsync("14.83");
        await again.Page.Locator("#coupon-18").PressAsync("Tab");
        await Assertions.Expect(again.Page.GetByText("4 of 28 readings.")).ToBeVisibleAsync();
        await again.Page.Locator("#learn-coupon").ClickAsync();
        await Assertions.Expect(again.Page.Locator(".printed li")).ToContainTextAsync("4 measured features");
        await Assertions.Expect(again.Page.Locator(".printed li")).ToHaveCountAsync(1);
    }
}
