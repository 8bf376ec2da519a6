using System.Collections.Concurrent;
using System.Diagnostics;
using Microsoft.Playwright;
using Xunit;

namespace Sparewright.Journeys.Web;

/// <summary>A browser window on the shop. When it is closed, it fails the test if the page broke its own content policy, threw an error that nobody caught, or asked anybody but the shop for anything.</summary>
internal sealed class Window : IAsyncDisposable
{
    private static readonly TimeSpan LongestWait = TimeSpan.FromSeconds(45);

    /// <summary>What the framework's own script says when it would answer a server that has just been killed.</summary>
    private const string AnswerToNobody = "endInvokeJSFromDotNet";

    private readonly bool _ownsContext;
    private readonly ConcurrentQueue<string> _offences = new();

    public Window(OpenShop shop, IPage page, bool ownsContext)
    {
        (Shop, Page, _ownsContext) = (shop, page, ownsContext);
        page.SetDefaultTimeout(20_000);
        page.Console += (_, message) =>
        {
            if (message.Text.Contains("Content Security Policy", StringComparison.OrdinalIgnoreCase)) _offences.Enqueue(message.Text);
        };
        page.PageError += (_, error) =>
        {
            if (!error.Contains(AnswerToNobody, StringComparison.Ordinal)) _offences.Enqueue($"error in the page: {error}");
        };
        page.Request += (_, request) =>
        {
            if (!request.Url.StartsWith(shop.Origin + "/", StringComparison.Ordinal) && !request.Url.StartsWith("data:", StringComparison.Ordinal) && !request.Url.StartsWith("blob:", StringComparison.Ordinal))
                _offences.Enqueue($"asked for {request.Url}");
        };
        page.WebSocket += (_, line) =>
        {
            if (!line.Url.StartsWith(shop.Origin.Replace("http:", "ws:", StringComparison.Ordinal) + "/", StringComparison.Ordinal)) _offences.Enqueue($"opened a line to {line.Url}");
        };
    }

    public OpenShop Shop { get; }

    public IPage Page { get; }

    /// <summary>The address of the job that this window is for, such as jobs/0123456789ab.</summary>
    public string Job { get; private set; } = "";

    public IKeyboard Keyboard => Page.Keyboard;

    /// <summary>What the page did that it must not do, so far.</summary>
    public IReadOnlyCollection<string> Offences => _offences;

    /// <summary>Goes to a page of the shop, and waits until its line to the server is up and it is drawn.</summary>
    public async Task GoAsync(string path)
    {
        await Page.GotoAsync(Shop.Page(path));
        await DrawnAsync();
    }

    /// <summary>Is for a job from now on.</summary>
    /// <param name="step">Where to go; nowhere yet, when it is null.</param>
    public async Task<Window> TakeAsync(string job, string? step)
    {
        Job = job;
        if (step is not null) await GoToAsync(step);
        return this;
    }

    /// <summary>Goes to a step of the job.</summary>
    public Task GoToAsync(string step) => GoAsync($"{Job}/{step}");

    /// <summary>Waits until the page is drawn: the server draws nothing before the line is up.</summary>
    public Task DrawnAsync() => Page.Locator("h1, h2, [data-ready]").First.WaitForAsync();

    /// <summary>Waits until what the page shows is no longer being worked out: the solid is built and drawn, and nothing is on its way.</summary>
    public async Task SettledAsync()
    {
        await UntilAsync("!document.querySelector('nav.index')?.textContent.match(/being built|being worked out/)");
        await UntilAsync("(part => !part || part.dataset.wanted === part.dataset.drawn)(document.querySelector('aside.part'))");
        await UntilAsync("document.readyState === 'complete' && document.fonts.status === 'loaded' && [...document.images].every(i => i.complete || i.loading === 'lazy')");
        // Two frames: what was asked for is drawn in the next, and seen in the one after it.
        await Page.EvaluateAsync("() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done))))");
    }

    /// <summary>Waits until the ledger's script, and not only its rows, is there: it gives the grid its one place for the Tab key.</summary>
    public Task LedgerListensAsync() => Page.Locator(".ledger [data-cell][tabindex='0']").First.WaitForAsync(new() { State = WaitForSelectorState.Attached });

    /// <summary>From the next page on, everything that the server says comes late, in its order: as from a busy machine.</summary>
    /// <param name="by">How late, asked for each message.</param>
    public Task ServerIsSlowAsync(Func<TimeSpan> by) => Page.RouteWebSocketAsync("**/_blazor**", line =>
    {
        IWebSocketRoute server = line.ConnectToServer();
        Task said = Task.CompletedTask;
        server.OnMessage(message =>
        {
            Task before = said, late = Task.Delay(by());
            said = SendAsync();

            async Task SendAsync()
            {
                await Task.WhenAll(before, late);
                if (message.Binary is { } bytes) line.Send(bytes);
                else line.Send(message.Text!);
            }
        });
    });

    /// <summary>Has a pane's script wait on its way to the browser, as from a busy machine, until it is let go.</summary>
    public async Task<HeldScript> HoldScriptAsync(string pane)
    {
        var held = new HeldScript();
        // What is published has a digest in its name.
        await Page.RouteAsync($"**/{pane}*.razor.js", async route =>
        {
            held.Asked.TrySetResult();
            await held.Free.Task;
            await route.ContinueAsync();
        });
        return held;
    }

    /// <summary>Waits until the part as the job's text now describes it is built and drawn; the key of it, which is the same for the same solid only.</summary>
    public async Task<string> PartDrawnAsync()
    {
        ILocator part = Page.Locator("aside.part");
        await UntilAsync("(part => part?.dataset.wanted && part.dataset.wanted === part.dataset.drawn && part.querySelector('.standing').textContent.startsWith('Drawn from'))(document.querySelector('aside.part'))");
        return (await part.GetAttributeAsync("data-drawn"))!;
    }

    /// <summary>A second window of the same browser.</summary>
    public async Task<Window> AnotherAsync(string path)
    {
        var window = new Window(Shop, await Page.Context.NewPageAsync(), ownsContext: false) { Job = Job };
        await window.GoAsync(path);
        return window;
    }

    /// <summary>Waits until something holds in the page. It is asked from here: a page with our content policy does not evaluate texts by itself.</summary>
    /// <param name="condition">A JavaScript expression.</param>
    /// <exception cref="TimeoutException">It does not hold within 45 s.</exception>
    public async Task UntilAsync(string condition)
    {
        for (var waited = Stopwatch.StartNew(); !await Page.EvaluateAsync<bool>($"() => !!({condition})"); await Task.Delay(20))
            if (waited.Elapsed > LongestWait) throw new TimeoutException($"this never held: {condition}");
    }

    /// <summary>The jobs in the shop, by the list on its first page: part names and their addresses.</summary>
    public async Task<IReadOnlyDictionary<string, string>> JobsAsync()
    {
        var jobs = new Dictionary<string, string>();
        foreach (var (part, job) in await AllJobsAsync()) jobs[part] = job;
        return jobs;
    }

    /// <summary>The same, where parts may have the same name.</summary>
    public async Task<IReadOnlyList<(string Part, string Job)>> AllJobsAsync()
    {
        const string Jobs = "a[href^='jobs/'][href$='/readings']";
        await GoAsync("");
        await Page.Locator(Jobs).Or(Page.GetByText("There is no job yet")).First.WaitForAsync();
        string[][] links = await Page.Locator(Jobs).EvaluateAllAsync<string[][]>("links => links.map(a => [a.innerText.trim(), a.getAttribute('href')])");
        return [.. links.Select(l => (l[0], string.Join('/', l[1].Split('/').Take(2))))];
    }

    public async ValueTask DisposeAsync()
    {
        if (_ownsContext) await Page.Context.DisposeAsync();
        else await Page.CloseAsync();
        Assert.True(_offences.IsEmpty, string.Join('\n', _offences));
    }
}
