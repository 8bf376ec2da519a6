using System.Globalization;
using System.Text.Json;
using Microsoft.Playwright;

namespace Sparewright.Bench;

/// <summary>The picture of the part in a real browser that draws WebGL by software: from an entry in the ledger to the picture that it changes; and picking on a large mesh.</summary>
internal static class ViewBench
{
    private const double PictureGoalMs = 300, PickGoalMs = 1;

    /// <summary>Readings of the example whose sizes reach back to the first feature, and to a late one.</summary>
    private static readonly (string Reading, string Changes, double Mm)[] Entries = [("r8", "foot_t, the first feature", 4.98), ("r23", "screw_d, a late feature", 4.49)];

    public static async Task WriteAsync(int runs)
    {
        await using ShopBrowser browser = await ShopBrowser.OpenAsync();
        IPage page = browser.Page;
        await page.Locator("aside[data-drawn]").WaitForAsync();

        var rows = new List<string[]>();
        var shares = new List<string[]>();
        foreach (var (reading, changes, mm) in Entries)
        {
            var times = new Times();
            Times[] steps = [new(), new(), new(), new()];
            for (int run = -1; run < runs; run++)
            {
                Paper.UnderWay($"view: {reading}, run {run + 1} of {runs}");
                double[] until = await EnterAsync(page, reading, mm + 0.01 * ((run + 2) % 5));
                if (run < 0) continue;
                times.Add(until[^1]);
                for (int k = 0; k < steps.Length; k++) steps[k].Add(until[k] - (k == 0 ? 0 : until[k - 1]));
            }

            rows.Add([changes, times.Count.ToString(CultureInfo.InvariantCulture), Paper.Ms(times.Clock), Paper.Ms(times.Share(0.95)), Paper.Ms(times.Most), $"p95 ≤ {PictureGoalMs}"]);
            shares.Add([changes, .. steps.Select(s => Paper.Ms(s.Clock))]);
        }

        Paper.Heading("From a reading entered to the new picture");
        Paper.Words("ms in the browser's own time, from the Enter key in the ledger to the last pixel of the new picture (waited for); vent-knuckle, 1400 × 900, WebGL by software.");
        Paper.Table(["changes", "times", "median", "p95", "most", "goal"], rows);
        Paper.Words("Where it goes, medians: reconciled, kept and built, until the browser asks for the mesh; until the mesh is there; until it is handed to be drawn; until it is drawn.");
        Paper.Table(["changes", "built", "fetched", "taken in", "drawn"], shares);

        Paper.UnderWay("view: picking");
        await WritePickingAsync(page, 100_000);
    }

    /// <summary>Types a value as one more repeat of a reading.</summary>
    /// <returns>From Enter until the mesh is asked for, until it is there, until it is handed to be drawn, and until the picture is there, ms.</returns>
    private static async Task<double[]> EnterAsync(IPage page, string reading, double mm)
    {
        ILocator cell = page.Locator($"input[data-cell=Entry][aria-label^='{reading},']");
        await cell.FocusAsync();
        await cell.FillAsync(mm.ToString("0.00", CultureInfo.InvariantCulture));
        await page.EvaluateAsync("""
            () => {
              const part = document.querySelector("aside[data-drawn]"), gl = part.querySelector("canvas").getContext("webgl2"), was = part.dataset.drawn;
              let entered = 0;
              performance.clearResourceTimings();
              addEventListener("keydown", e => { if (e.key === "Enter") entered = performance.now(); }, { capture: true, once: true });
              window.pictured = new Promise(done => new MutationObserver((_, observer) => {
                if (part.dataset.drawn === was) return;
                observer.disconnect();
                const handed = performance.now(), mesh = performance.getEntriesByType("resource").filter(r => r.name.includes("/mesh/")).at(-1);
                // Reading a pixel waits for all that was drawn.
                gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4));
                done([mesh?.startTime ?? handed, mesh?.responseEnd ?? handed, handed, performance.now()].map(t => t - entered));
              }).observe(part, { attributes: true, attributeFilter: ["data-drawn"] }));
            }
            """);
        await cell.PressAsync("Enter");
        double[] until = await page.EvaluateAsync<double[]>("() => window.pictured");
        await page.Locator("aside .standing", new() { HasTextString = "Drawn from" }).WaitForAsync();
        await ShopBrowser.RestAsync(page);
        return until;
    }

    /// <summary>A second picture on the same page, of a ball with bumps; its mesh is handed to the browser in place of one from the shop.</summary>
    private static async Task WritePickingAsync(IPage page, int triangles)
    {
        byte[] mesh = BumpyBall.Bytes(triangles);
        await page.RouteAsync("**/mesh/bumpy-ball", route => route.FulfillAsync(new() { BodyBytes = mesh, ContentType = "application/octet-stream" }));
        JsonElement told = (await page.EvaluateAsync<JsonElement?>("""
            async () => {
              const { attach } = await import(document.querySelector("script[type=importmap]") ? JSON.parse(document.querySelector("script[type=importmap]").textContent).imports["./browser/part-view.js"] ?? "./browser/part-view.js" : "./browser/part-view.js");
              const root = document.querySelector("aside.part").cloneNode(true);
              root.querySelector("canvas").replaceWith(document.createElement("canvas"));
              document.querySelector("aside.part").replaceWith(root);
              const view = attach(root, { invokeMethodAsync: async () => undefined });
              await view.show({ key: "bumpy-ball", mesh: "mesh/bumpy-ball", views: "", words: [] }, { chosen: [], named: [], dimensions: [] });
              const box = root.querySelector(".stage").getBoundingClientRect(), gl = root.querySelector("canvas").getContext("webgl2"), frame = () => new Promise(requestAnimationFrame);
              await frame(); await frame();
              let begun = performance.now();
              view.faceAt(box.width / 2, box.height / 2);
              const tree = performance.now() - begun;
              const picks = [];
              let hits = 0;
              for (let k = 0; k < 400; k++) {
                const x = box.width * (0.2 + 0.6 * ((k * 0.618034) % 1)), y = box.height * (0.2 + 0.6 * ((k * 0.754878) % 1));
                begun = performance.now();
                if (view.faceAt(x, y) !== null) hits++;
                picks.push(performance.now() - begun);
              }
              const frames = [];
              for (let k = 0; k < 9; k++) {
                root.querySelector("[data-do='arrow left']").click();
                begun = performance.now();
                await frame();
                gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4));
                frames.push(performance.now() - begun);
              }
              return { triangles: view.facts().triangles, tree, hits, picks, frames };
            }
            """))!.Value;
        Times picks = Of(told.GetProperty("picks")), frames = Of(told.GetProperty("frames"));
        Paper.Heading("Picking a face, and turning");
        Paper.Words(string.Create(CultureInfo.InvariantCulture, $"A ball with bumps of {told.GetProperty("triangles").GetInt32()} triangles; {told.GetProperty("hits").GetInt32()} of {picks.Count} places lie on it. Frames include the wait for the last pixel, WebGL by software."));
        Paper.Table(["what", "times", "median", "p95", "most", "goal"],
        [
            ["pick, ms", .. Row(picks), $"≤ {PickGoalMs}"],
            ["planting the tree for it, once a mesh, ms", "1", Paper.Ms(told.GetProperty("tree").GetDouble()), "", "", ""],
            ["a frame while turning, ms", .. Row(frames), ""],
        ]);

        static string[] Row(Times times) => [times.Count.ToString(CultureInfo.InvariantCulture), Paper.Ms(times.Clock), Paper.Ms(times.Share(0.95)), Paper.Ms(times.Most)];
    }

    private static Times Of(JsonElement ms)
    {
        var times = new Times();
        foreach (JsonElement one in ms.EnumerateArray()) times.Add(one.GetDouble());
        return times;
    }
}
