using System.Text.Json;
using Microsoft.Playwright;

namespace Sparewright.Journeys.Web;

/// <summary>What rules engines do not look at, found by looking at the page as it is drawn (WCAG 2.2 numbers beside each). Each returns what breaks the rule, one line a breach.</summary>
internal static class Looks
{
    /// <summary>2.5.8: targets are at least 24 px high and wide, but for links within a sentence.</summary>
    public static Task<string[]> SmallTargetsAsync(IPage page) => page.EvaluateAsync<string[]>("""
        () => {
          const least = 24, found = [];
          const shown = e => e.checkVisibility({ visibilityProperty: true, opacityProperty: true }) && e.getClientRects().length > 0;
          const isInText = e => e.matches('a, button.link') && getComputedStyle(e).display === 'inline' && [...e.parentElement.childNodes].some(n => n.nodeType === 3 && n.textContent.trim());
          for (const e of document.querySelectorAll('a[href], button, input:not([type=hidden]), select, textarea, summary, [role=button], [role=option], [role=tab], [role=link], [data-cell]')) {
            if (!shown(e) || isInText(e)) continue;
            const boxes = [e, ...(e.labels ?? [])].map(x => x.getBoundingClientRect());
            if (boxes.some(b => b.width >= least - 0.01 && b.height >= least - 0.01)) continue;
            if (boxes[0].width <= 1 || boxes[0].height <= 1) continue;
            found.push(`${e.tagName.toLowerCase()}.${e.className} "${(e.ariaLabel ?? e.textContent ?? '').trim().slice(0, 40)}": ${boxes[0].width.toFixed(1)} x ${boxes[0].height.toFixed(1)}`);
          }
          return [...new Set(found)];
        }
        """);

    /// <summary>2.4.11, 2.4.7, 2.1.2: the Tab key walks through the page and out again; wherever it stands can be seen, and that it stands there too.</summary>
    public static async Task<IReadOnlyList<string>> HiddenFocusAsync(IPage page)
    {
        const int Most = 400, LooksAgain = 10;
        var found = new List<string>();
        await page.EvaluateAsync("() => { document.activeElement?.blur(); window.scrollTo(0, 0); }");
        string first = "";
        for (int stop = 0; stop < Most; stop++)
        {
            await page.Keyboard.PressAsync("Tab");
            JsonElement seen = await StopAsync(page);
            // What lay over it may be on its way out: the server is asked for that.
            for (int again = 0; again < LooksAgain && seen.TryGetProperty("isSeen", out JsonElement isSeen) && !isSeen.GetBoolean(); again++)
            {
                await page.WaitForTimeoutAsync(100);
                seen = await StopAsync(page);
            }

            string who = seen.GetProperty("who").GetString()!;
            if (who.Length == 0 || who == first) return found;
            if (first.Length == 0) first = who;
            if (!seen.GetProperty("isSeen").GetBoolean()) found.Add($"hidden: {who}");
            if (!seen.GetProperty("isMarked").GetBoolean()) found.Add($"not marked: {who}");
        }

        found.Add($"the Tab key does not come out again within {Most} stops");
        return found;
    }

    /// <summary>Where the Tab key stands, and how that looks.</summary>
    private static Task<JsonElement> StopAsync(IPage page) => page.EvaluateAsync<JsonElement>("""
        () => {
          const e = document.activeElement;
          if (!e || e === document.body || e === document.documentElement) return { who: '' };
          if (!e.dataset.stop) e.dataset.stop = String(window.stops = (window.stops ?? 0) + 1);
          const who = `${e.dataset.stop} ${e.tagName.toLowerCase()}.${e.getAttribute('class') ?? ''} "${(e.ariaLabel ?? e.textContent ?? '').trim().slice(0, 40)}"`;
          const boxes = [...e.getClientRects()].filter(b => b.width > 0 && b.height > 0);
          const spots = boxes.flatMap(b => [[.5, .5], [.1, .1], [.9, .1], [.1, .9], [.9, .9]].map(([x, y]) => [b.left + x * b.width, b.top + y * b.height]));
          const isSeen = spots.some(([x, y]) => { const top = document.elementFromPoint(x, y); return top && (e.contains(top) || top.contains(e) && !top.matches('body, html') || [...(e.labels ?? [])].some(l => l.contains(top))); });
          const look = [e, e.closest('label'), e.parentElement].filter(Boolean).map(x => getComputedStyle(x));
          const isMarked = look.some(s => s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) > 0 || s.boxShadow !== 'none');
          return { who, isSeen, isMarked };
        }
        """);

    /// <summary>1.4.10: at 320 px nothing is to be scrolled sideways.</summary>
    public static Task<string[]> SidewaysAsync(IPage page) => page.EvaluateAsync<string[]>("""
        () => {
          const wide = document.documentElement.clientWidth, found = [];
          if (document.documentElement.scrollWidth <= wide) return [];
          for (const e of document.querySelectorAll('body *')) {
            const b = e.getBoundingClientRect();
            if (b.right > wide + 1 && b.width > 0 && ![...e.children].some(c => c.getBoundingClientRect().right > wide + 1)) found.push(`${e.tagName.toLowerCase()}.${e.getAttribute('class') ?? ''} "${(e.textContent ?? '').trim().slice(0, 40)}" ends at ${b.right.toFixed(0)} of ${wide}`);
          }
          return [`the page is ${document.documentElement.scrollWidth} px wide`, ...found.slice(0, 8)];
        }
        """);

    /// <summary>2.3.3: who asked for less motion gets none.</summary>
    public static Task<string[]> MotionAsync(IPage page) => page.EvaluateAsync<string[]>("""
        () => {
          const found = document.getAnimations().filter(a => a.playState === 'running').map(a => `${a.effect?.target?.tagName} runs ${a.animationName ?? a.transitionProperty ?? 'an animation'}`);
          for (const e of document.querySelectorAll('*')) {
            const s = getComputedStyle(e);
            if (s.transitionDuration.split(', ').some(t => parseFloat(t) > 0) || s.animationName !== 'none' || s.scrollBehavior === 'smooth') found.push(`${e.tagName.toLowerCase()}.${e.getAttribute('class') ?? ''} moves`);
          }
          return [...new Set(found)];
        }
        """);

    /// <summary>2.5.7: what is dragged can be typed, chosen or pressed as well: a slider has a number beside it, and nothing else is to be dragged but the part, which has its buttons.</summary>
    public static Task<string[]> OnlyDraggedAsync(IPage page) => page.EvaluateAsync<string[]>("""
        () => {
          const found = [];
          for (const e of document.querySelectorAll('input[type=range]'))
            if (!e.closest('fieldset, form, section, div')?.querySelector('input[type=number], input[inputmode]')) found.push(`slider "${e.ariaLabel}" has no number beside it`);
          for (const e of document.querySelectorAll('[draggable=true]')) found.push(`${e.tagName.toLowerCase()}.${e.className} is to be dragged`);
          for (const stage of document.querySelectorAll('canvas'))
            for (const way of ['arrow left', 'arrow right', 'arrow up', 'arrow down', 'closer', 'farther'])
              if (!stage.closest('aside, section')?.querySelector(`button[data-do="${way}"]`)) found.push(`the part cannot be moved by a button: ${way}`);
          return found;
        }
        """);
}
