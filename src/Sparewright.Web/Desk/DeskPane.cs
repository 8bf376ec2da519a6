using Microsoft.AspNetCore.Components;
using Sparewright.Remake.Live;

namespace Sparewright.Web.Desk;

/// <summary>A pane of the card that shows a job: it is drawn again whenever the job changes, in this window or another.</summary>
public abstract class DeskPane : ComponentBase, IDisposable
{
    private JobDesk? _following;

    [CascadingParameter]
    public required JobDesk Desk { get; set; }

    [CascadingParameter]
    public required Attention Attention { get; set; }

    protected LiveState Live => Desk.Live;

    protected override void OnParametersSet()
    {
        if (ReferenceEquals(_following, Desk)) return;
        if (_following is not null) _following.Changed -= Follow;
        _following = Desk;
        _following.Changed += Follow;
    }

    /// <summary>The job changed: on the window's own thread, before the pane is drawn again.</summary>
    protected virtual void OnJobChanged()
    {
    }

    public void Dispose()
    {
        Dispose(true);
        GC.SuppressFinalize(this);
    }

    protected virtual void Dispose(bool disposing)
    {
        if (_following is not null) _following.Changed -= Follow;
        _following = null;
    }

    private void Follow() => _ = InvokeAsync(() =>
    {
        OnJobChanged();
        StateHasChanged();
    });
}
