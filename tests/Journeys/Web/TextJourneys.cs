using Microsoft.Playwright;
using Xunit;

namespace Sparewright.Journeys.Web;

/// <summary>The job as text, in the Shape step: kept by keyboard, and in two windows at once.</summary>
[Collection(BrowserJourneys.Name)]
public sealed class TextJourneys(Browser browser)
{
    [Fact]
    public async Task Ctrl_Enter_keeps_the_text_and_neither_the_caret_nor_what_is_typed_meanwhile_is_lost()
    {
        await using Window window = await browser.OnJobAsync(null);
        await window.ServerIsSlowAsync(() => TimeSpan.FromMilliseconds(200));
        ILocator text = await OpenTextAsync(window);

        await WriteOnTopAsync(window, text, "# kept by hand");
        await window.Keyboard.PressAsync("Control+Enter");
        await window.Keyboard.TypeAsync(", and more");
        await Assertions.Expect(window.Page.Locator("#job-text-how")).ToContainTextAsync("Kept as revision 2.");
        Assert.StartsWith("# kept by hand, and more\nsparewright: 1\n", await text.InputValueAsync(), StringComparison.Ordinal);
        Assert.StartsWith("# kept by hand", await KeptAsync(window), StringComparison.Ordinal);

        await window.Keyboard.TypeAsync("!");
        await window.Keyboard.PressAsync("Control+Enter");
        await Assertions.Expect(window.Page.Locator("#job-text-how")).ToContainTextAsync("Kept as revision 3.");
        Assert.StartsWith("# kept by hand, and more!\nsparewright: 1\n", await text.InputValueAsync(), StringComparison.Ordinal);
        Assert.Equal(await text.InputValueAsync(), await KeptAsync(window));
        await window.Keyboard.PressAsync("Control+Enter");
        await Assertions.Expect(window.Page.Locator("#job-text-how")).ToContainTextAsync("Nothing was changed.");

        // What is wrong is kept too, and said with its place.
        await window.Keyboard.PressAsync("Enter");
        await window.Keyboard.TypeAsync("thicknes: 3");
        await window.Keyboard.PressAsync("Control+Enter");
        ILocator problem = window.Page.Locator("section.problems button", new() { HasText = "unknown key" });
        await Assertions.Expect(problem).ToContainTextAsync("Line 2, column 1");
        await problem.FocusAsync();
        await window.Keyboard.PressAsync("Enter");
        await Assertions.Expect(text).ToBeFocusedAsync();
        Assert.Equal("thicknes", await text.EvaluateAsync<string>("t => t.value.slice(t.selectionStart, t.selectionEnd)"));
    }

    [Fact]
    public async Task Who_keeps_a_text_over_that_of_another_window_sees_the_difference_first_and_chooses()
    {
        await using Window one = await browser.OnJobAsync(null);
        ILocator mine = await OpenTextAsync(one);
        await using Window other = await one.AnotherAsync($"{one.Job}/shape");
        ILocator theirs = await OpenTextAsync(other);
        await WriteOnTopAsync(other, theirs, "# theirs");
        await one.Page.BringToFrontAsync();
        await WriteOnTopAsync(one, mine, "# mine");
        await other.Page.BringToFrontAsync();
        await other.Keyboard.PressAsync("Control+Enter");
        await Assertions.Expect(other.Page.Locator("#job-text-how")).ToContainTextAsync("Kept as revision 2.");

        await one.Page.BringToFrontAsync();
        await Assertions.Expect(one.Page.Locator("#job-text-how")).ToContainTextAsync("Another window changed the job meanwhile");
        Assert.StartsWith("# mine\n", await mine.InputValueAsync(), StringComparison.Ordinal);
        await one.Keyboard.PressAsync("Control+Enter");
        ILocator asked = one.Page.GetByRole(AriaRole.Alert).Filter(new() { HasText = "Another window was there first" });
        await Assertions.Expect(asked.Locator("li.OnlyBefore")).ToHaveTextAsync(["−# theirs"]);
        await Assertions.Expect(asked.Locator("li.OnlyAfter")).ToHaveTextAsync(["+# mine"]);
        Assert.StartsWith("# theirs\n", await KeptAsync(one), StringComparison.Ordinal);

        // What is written while the question stands is kept as well.
        await mine.FocusAsync();
        await one.Keyboard.TypeAsync(", after all");
        await one.Page.GetByRole(AriaRole.Button, new() { Name = "Keep mine over theirs" }).ClickAsync();
        await Assertions.Expect(one.Page.Locator("#job-text-how")).ToContainTextAsync("Kept as revision 3.");
        Assert.StartsWith("# mine, after all\n", await KeptAsync(one), StringComparison.Ordinal);
        await Assertions.Expect(asked).ToHaveCountAsync(0);

        // The other window has nothing of its own under way, and follows.
        await other.Page.BringToFrontAsync();
        await other.UntilAsync("document.querySelector('#job-text').value.startsWith('# mine, after all\\n')");
    }

    private static async Task<ILocator> OpenTextAsync(Window window)
    {
        await window.GoToAsync("shape");
        await window.Page.GetByRole(AriaRole.Button, new() { Name = "Text", Exact = true }).ClickAsync();
        await window.UntilAsync("document.querySelector('#job-text')?.value.length > 0");
        return window.Page.Locator("#job-text");
    }

    private static async Task WriteOnTopAsync(Window window, ILocator text, string line)
    {
        await text.FocusAsync();
        await window.Keyboard.PressAsync("Control+Home");
        await window.Keyboard.PressAsync("Enter");
        await window.Keyboard.PressAsync("ArrowUp");
        await window.Keyboard.TypeAsync(line);
    }

    private static async Task<string> KeptAsync(Window window) =>
        await (await window.Page.Context.APIRequest.GetAsync(window.Shop.Page($"{window.Job}/job.yaml"))).TextAsync();
}
