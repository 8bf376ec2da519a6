using System.Text;
using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;
using Sparewright.Part;
using Sparewright.Shop;
using Sparewright.Web.Desk;

namespace Sparewright.Web.Shape;

public sealed partial class TextPane : DeskPane, IAsyncDisposable
{
    private ElementReference _area, _numbers;
    private IJSObjectReference? _module, _paper;
    private DotNetObjectReference<TextPane>? _self;
    private IReadOnlyList<Problem> _problems = [];
    private IReadOnlyList<DiffLine> _difference = [];
    private JobHead? _theirs;
    private string _state = "";
    private int _basedOn;
    private bool _keeping;
    private Place? _went;

    /// <summary>A place to go to.</summary>
    [Parameter] public Place? Goto { get; set; }

    [Parameter] public EventCallback<string> Said { get; set; }

    protected override void OnParametersSet()
    {
        base.OnParametersSet();
        _problems = Problems;
    }

    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        try
        {
            if (firstRender)
            {
                _self = DotNetObjectReference.Create(this);
                _module = await Js.InvokeAsync<IJSObjectReference>("import", "./" + Assets["Shape/TextPane.razor.js"]);
                _paper = await _module.InvokeAsync<IJSObjectReference>("open", _area, _numbers, _self);
                await LayAsync();
                StateHasChanged();
            }

            if (_paper is null || Goto is not { } place || _went == place) return;
            _went = place;
            await GoToAsync(place);
        }
        catch (JSDisconnectedException)
        {
            // The window has gone.
        }
    }

    private IReadOnlyList<Problem> Problems => Live.SolidProblem is { } solid ? [.. Live.Problems, solid] : Live.Problems;

    /// <summary>Another text is kept: it is shown here, unless something of one's own is being written.</summary>
    protected override void OnJobChanged()
    {
        _problems = Problems;
        _ = InvokeAsync(async () =>
        {
            await FollowAsync();
            StateHasChanged();
        });
    }

    private async Task FollowAsync()
    {
        if (_paper is null || _keeping || _theirs is not null || _basedOn == Desk.Head.Latest.Number) return;
        try
        {
            if (await _paper.InvokeAsync<bool>("isTouched")) _state = "Another window changed the job meanwhile; when you keep yours, you are shown the difference.";
            else await LayAsync();
        }
        catch (JSDisconnectedException)
        {
            // The window has gone.
        }
    }

    [JSInvokable]
    public async Task Keep()
    {
        await KeepAsync();
        StateHasChanged();
    }

    private async Task LayAsync()
    {
        StandOn(Desk.Head.Latest);
        await _paper!.InvokeVoidAsync("lay", Desk.Head.Latest.Text);
    }

    private void StandOn(Revision kept) => (_basedOn, _state, _theirs) = (kept.Number, $"Kept as revision {kept.Number}.", null);

    private Task KeepAsync() => KeepAsync(_basedOn);

    /// <summary>Keeps the text as it stands in the browser now; what is written meanwhile stays there.</summary>
    private async Task KeepAsync(int basedOn)
    {
        if (_paper is null || _keeping) return;
        _keeping = true;
        try
        {
            if (await MineAsync() is { } mine) await EnterAsync(basedOn, mine);
        }
        finally
        {
            _keeping = false;
        }

        // What others did in between was not looked at.
        await FollowAsync();
    }

    /// <summary>The text as it is to be kept; null when it is too large.</summary>
    private async Task<string?> MineAsync()
    {
        // A message from a browser is small; a text may be large, and comes as a stream.
        await using IJSStreamReference stream = await _paper!.InvokeAsync<IJSStreamReference>("text");
        if (stream.Length > JobFile.LargestBytes)
        {
            _state = $"Not kept: the text is larger than {JobFile.LargestBytes / 1_000_000} MB.";
            return null;
        }

        await using Stream content = await stream.OpenReadStreamAsync(JobFile.LargestBytes);
        using var reader = new StreamReader(content, new UTF8Encoding(false), detectEncodingFromByteOrderMarks: false);
        string mine = await reader.ReadToEndAsync();
        // A text area speaks of line ends in one way only; the job's own come back.
        return Desk.Head.Latest.Text.Contains("\r\n", StringComparison.Ordinal) ? mine.ReplaceLineEndings("\r\n") : mine;
    }

    private async Task EnterAsync(int basedOn, string mine)
    {
        if (mine == Desk.Head.Latest.Text && basedOn == Desk.Head.Latest.Number)
        {
            StandOn(Desk.Head.Latest);
            _state = "Nothing was changed.";
            return;
        }

        Kept<JobHead> kept = await Desk.EnterAsync(basedOn, mine, "the text");
        if (kept.IsGood)
        {
            StandOn(kept.Value.Latest);
            await _paper!.InvokeVoidAsync("kept");
            _problems = Problems;
            await Said.InvokeAsync($"the text: kept {Clock.GetLocalNow():HH:mm:ss}");
        }
        else if (kept.Problem is { Kind: StoreProblemKind.ChangedMeanwhile, Head: { } head })
        {
            (_theirs, _difference) = (head, LineDiff.Of(head.Latest.Text, mine));
            _state = "Not kept yet: another window changed the job meanwhile.";
        }
        else
        {
            _state = $"Not kept: {kept.Problem.What}; {kept.Problem.Remedy}.";
        }
    }

    private Task KeepMineAsync() => KeepAsync(_theirs!.Latest.Number);

    private async Task TakeTheirsAsync()
    {
        if (_paper is not null) await LayAsync();
    }

    private async Task GoToAsync(Place place)
    {
        if (_paper is not null && place.Line > 0) await _paper.InvokeVoidAsync("goTo", place.Line, place.Column);
    }

    public async ValueTask DisposeAsync()
    {
        Dispose();
        try
        {
            if (_paper is not null) await _paper.DisposeAsync();
            if (_module is not null) await _module.DisposeAsync();
        }
        catch (JSDisconnectedException)
        {
            // The window has gone, and the text with it.
        }

        _self?.Dispose();
    }
}
