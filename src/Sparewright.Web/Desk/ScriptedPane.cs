using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;

namespace Sparewright.Web.Desk;

/// <summary>
/// A pane with a script of its own in the browser: a module whose <c>attach</c> takes hold of the pane and returns what the pane speaks to, with a <c>detach</c>.
/// What is said to a window that has gone is heard by nobody, and nobody minds.
/// </summary>
public abstract class ScriptedPane : DeskPane, IAsyncDisposable
{
    private DotNetObjectReference<ScriptedPane>? _self;
    private IJSObjectReference? _module, _script;
    private bool _wanted;

    [Inject]
    private IJSRuntime Browser { get; set; } = null!;

    /// <summary>Whether the script listens.</summary>
    protected bool HasScript => _script is not null;

    /// <summary>By which the script calls back.</summary>
    protected DotNetObjectReference<ScriptedPane> Self => _self ??= DotNetObjectReference.Create(this);

    /// <summary>Fetches the script and has it take hold. Asked again while that is on its way, nothing happens: every key would count twice.</summary>
    /// <param name="module">Where the script lies, under the shop's root.</param>
    /// <returns>Whether it has taken hold just now.</returns>
    protected async Task<bool> AttachAsync(string module, params object?[] to)
    {
        if (_wanted) return false;
        _wanted = true;
        try
        {
            _module ??= await Browser.InvokeAsync<IJSObjectReference>("import", "./" + Assets[module]);
            _script = await _module.InvokeAsync<IJSObjectReference>("attach", to);
        }
        catch (JSDisconnectedException)
        {
            return false;
        }

        if (_wanted) return true;
        // What it was to hold has gone meanwhile.
        await LetGoAsync();
        return false;
    }

    /// <summary>Has the script let go, because what it holds is about to go.</summary>
    protected Task DetachAsync()
    {
        _wanted = false;
        return LetGoAsync();
    }

    /// <summary>Tells the script something; nothing while it is not there.</summary>
    protected async Task TellAsync(string what, params object?[] with)
    {
        try
        {
            if (_script is not null) await _script.InvokeVoidAsync(what, with);
        }
        catch (JSDisconnectedException)
        {
            _script = null;
        }
    }

    /// <summary>Asks the script something; nothing comes back while it is not there.</summary>
    protected async Task<T?> AskAsync<T>(string what, params object?[] with)
    {
        try
        {
            if (_script is not null) return await _script.InvokeAsync<T>(what, with);
        }
        catch (JSDisconnectedException)
        {
            _script = null;
        }

        return default;
    }

    public async ValueTask DisposeAsync()
    {
        Dispose();
        await DetachAsync();
        try
        {
            if (_module is not null) await _module.DisposeAsync();
        }
        catch (JSDisconnectedException)
        {
            // It has gone with the window.
        }

        _self?.Dispose();
        GC.SuppressFinalize(this);
    }

    private async Task LetGoAsync()
    {
        if (_script is not { } script) return;
        _script = null;
        try
        {
            await script.InvokeVoidAsync("detach");
            await script.DisposeAsync();
        }
        catch (JSDisconnectedException)
        {
            // It has gone with the window.
        }
    }
}
