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
    private string? _mine;
    private JobHead? _theirs;
    private string _state = "";
    private int _basedOn;
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
            if (_paper is null || _basedOn == Desk.Head.Latest.Number) return;
            try
            {
                if (await _paper.InvokeAsync<bool>("isTouched")) _state = "Another window changed the job meanwhile; when you keep yours, you are shown the difference.";
                else await LayAsync();
            }
            catch (JSDisconnectedException)
            {
                // The window has gone.
            }

            StateHasChanged();
        });
    }

    [JSInvokable]
    public async Task Keep()
    {
        await KeepAsync();
        StateHasChanged();
    }

    private async Task LayAsync()
    {
        Revision latest = Desk.Head.Latest;
        (_basedOn, _state, _theirs, _mine) = (latest.Number, $"Kept as revision {latest.Number}.", null, null);
        await _paper!.InvokeVoidAsync("lay", latest.Text);
    }

    private async Task KeepAsync()
    {
        if (_paper is null) return;
        // A message from a browser is small; a text may be large, and comes as a stream.
        IJSStreamReference stream = await _paper.InvokeAsync<IJSStreamReference>("text");
        await using (stream)
        {
            if (stream.Length > JobFile.LargestBytes)
            {
                _state = $"Not kept: the text is larger than {JobFile.LargestBytes / 1_000_000} MB.";
                return;
            }

            await using Stream content = await stream.OpenReadStreamAsync(JobFile.LargestBytes);
            using var reader = new StreamReader(content, new UTF8Encoding(false), detectEncodingFromByteOrderMarks: false);
            _mine = await reader.ReadToEndAsync();
        }

        // A text area speaks of line ends in one way only; the job's own come back.
        string kept = Desk.Head.Latest.Text;
        if (kept.Contains("\r\n", StringComparison.Ordinal)) _mine = _mine.ReplaceLineEndings("\r\n");
        if (_mine == kept && _basedOn == Desk.Head.Latest.Number)
        {
            _state = "Nothing was changed.";
            return;
        }

        await EnterAsync(_basedOn);
    }

    private async Task EnterAsync(int basedOn)
    {
        Kept<JobHead> kept = await Desk.EnterAsync(basedOn, _mine!, "the text");
        if (kept.IsGood)
        {
            await LayAsync();
            _problems = Problems;
            await Said.InvokeAsync($"the text: kept {Clock.GetLocalNow():HH:mm:ss}");
        }
        else if (kept.Problem is { Kind: StoreProblemKind.ChangedMeanwhile, Head: { } head })
        {
            (_theirs, _difference) = (head, LineDiff.Of(head.Latest.Text, _mine!));
            _state = "Not kept yet: another window changed the job meanwhile.";
        }
        else
        {
            _state = $"Not kept: {kept.Problem.What}; {kept.Problem.Remedy}.";
        }
    }

    private Task KeepMineAsync() => EnterAsync(_theirs!.Latest.Number);

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
