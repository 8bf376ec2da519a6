using System.Globalization;
using Microsoft.Playwright;

namespace Sparewright.Bench;

/// <summary>The ledger in a real browser: from Enter behind a value to the row that shows it reconciled, with one window open on the job and with five.</summary>
internal static class EntryBench
{
    private const double GoalMs = 100, GoalOfFiveMs = 200;

    /// <summary>Readings of the example that take lengths, with something that each may have shown.</summary>
    private static readonly (string Reading, double Mm)[] Entries = [("r1", 16.99), ("r2", 2.41), ("r3", 12.18), ("r5", 53.01), ("r8", 4.98), ("r13", 20.00), ("r16", 34.01), ("r19", 4.98), ("r22", 29.52), ("r23", 4.49)];

    public static async Task WriteAsync(int runs)
    {
        await using ShopBrowser browser = await ShopBrowser.OpenAsync();
        IPage page = browser.Page;
        await ListeningAsync(page);

        var rows = new List<string[]>
        {
            await TimedAsync(page, runs, "one window", $"p95 ≤ {GoalMs}", ShopBrowser.RestAsync),
            await TimedAsync(page, runs, "one window, the picture of the entry before still under way", "", p => p.WaitForTimeoutAsync(150)),
        };
        for (int k = 0; k < 4; k++)
        {
            IPage other = await page.Context.NewPageAsync();
            await other.GotoAsync(page.Url);
            await ListeningAsync(other);
        }

        await page.BringToFrontAsync();
        rows.Add(await TimedAsync(page, runs, "five windows", $"p95 ≤ {GoalOfFiveMs}", ShopBrowser.RestAsync));
        Paper.Heading("From a reading entered to its row reconciled");
        Paper.Words("ms in the browser's own time, from the Enter key to the row with the new repeat and its adjusted value (kept on the disk before); vent-knuckle, 26 readings. Between two entries the picture comes to rest and half a second passes, unless said otherwise; WebGL by software.");
        Paper.Table(["open on the job", "times", "median", "p95", "most", "goal"], rows);
    }

    /// <summary>The ledger's script, not only its rows, is there: it gives the grid its one place for the Tab key.</summary>
    private static Task ListeningAsync(IPage page) => page.Locator(".ledger [data-cell][tabindex='0']").First.WaitForAsync();

    private static async Task<string[]> TimedAsync(IPage page, int runs, string windows, string goal, Func<IPage, Task> pause)
    {
        var times = new Times();
        for (int run = -1; run < runs; run++)
        {
            Paper.UnderWay($"entry: {windows}, run {run + 1} of {runs}");
            foreach (var (reading, mm) in Entries)
            {
                await pause(page);
                double ms = await EnterAsync(page, reading, mm + 0.01 * ((run + 2) % 3 - 1));
                if (run >= 0) times.Add(ms);
            }
        }

        return [windows, times.Count.ToString(CultureInfo.InvariantCulture), Paper.Ms(times.Clock), Paper.Ms(times.Share(0.95)), Paper.Ms(times.Most), goal];
    }

    private static async Task<double> EnterAsync(IPage page, string reading, double mm)
    {
        await page.Locator($"#{reading} input[data-cell=Entry]").FocusAsync();
        await page.EvaluateAsync("""
            reading => {
              const row = document.getElementById(reading);
              let entered = 0;
              addEventListener("keydown", function once(e) { if (e.key !== "Enter") return; entered = performance.now(); removeEventListener("keydown", once, true); }, true);
              window.reconciled = new Promise(done => new MutationObserver((changes, observer) => {
                if (!entered || !changes.some(c => c.target.parentElement?.closest(".repeats") || c.target.closest?.(".repeats"))) return;
                observer.disconnect();
                done(performance.now() - entered);
              }).observe(row, { childList: true, characterData: true, subtree: true }));
            }
            """, reading);
        await page.Keyboard.TypeAsync(mm.ToString("0.00", CultureInfo.InvariantCulture));
        await page.Keyboard.PressAsync("Enter");
        return await page.EvaluateAsync<double>("() => window.reconciled");
    }
}
