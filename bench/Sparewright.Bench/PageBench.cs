using System.Diagnostics;
using System.Globalization;
using Microsoft.Playwright;

namespace Sparewright.Bench;

/// <summary>The readings of the example in a warm server and a warm browser: from asking for the page until a key typed into the ledger is followed.</summary>
internal static class PageBench
{
    private const double GoalMs = 1500;

    public static async Task WriteAsync(int runs)
    {
        await using ShopBrowser browser = await ShopBrowser.OpenAsync();
        IPage page = browser.Page;
        await ShopBrowser.RestAsync(page);
        string address = page.Url;
        var times = new Times();
        for (int run = -1; run < runs; run++)
        {
            Paper.UnderWay($"page: run {run + 1} of {runs}");
            await page.GotoAsync("about:blank");
            var clock = Stopwatch.StartNew();
            await page.GotoAsync(address, new() { WaitUntil = WaitUntilState.Commit });
            // The one place for the Tab key is given by the script once it listens; then an arrow moves on.
            await page.Locator(".ledger [data-cell][tabindex='0']").First.FocusAsync();
            await page.EvaluateAsync("() => { window.left = document.activeElement; }");
            await page.Keyboard.PressAsync("ArrowDown");
            await page.WaitForFunctionAsync("() => document.activeElement !== window.left && document.activeElement?.matches('.ledger [data-cell]')");
            if (run >= 0) times.Add(clock.Elapsed.TotalMilliseconds);
            await ShopBrowser.RestAsync(page);
        }

        Paper.Heading("From asking for a page to using it");
        Paper.Words("ms by the clock, readings page of vent-knuckle, warm server and browser: from the request until an arrow key typed into the ledger has moved to the next reading; WebGL by software.");
        Paper.Table(["times", "median", "p95", "most", "goal"], [[times.Count.ToString(CultureInfo.InvariantCulture), Paper.Ms(times.Clock), Paper.Ms(times.Share(0.95)), Paper.Ms(times.Most), $"≤ {GoalMs}"]]);
    }
}
