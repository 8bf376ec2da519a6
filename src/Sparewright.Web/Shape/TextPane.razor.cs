using System.Text;
using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;
using Sparewright.Part;
using Sparewright.Shop;
using Sparewright.Web.Desk;

namespace Sparewright.Web.Shape;

public sealed partial class TextPane : ScriptedPane
{
    private ElementReference _area, _numbers;
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
        if (await AttachAsync("Shape/TextPane.razor.js", _area, _numbers, Self))
        {
            await LayAsync();
            StateHasChanged();
        }

        if (!HasScript || Goto is not { } place || _went == place) return;
        _went = place;
        await GoToAsync(place);
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
        if (!HasScript || _keeping || _theirs is not null || _basedOn == Desk.Head.Latest.Number) return;
        if (await AskAsync<bool>("isTouched")) _state = "Another window changed the job meanwhile; when you keep yours, you are shown the difference.";
        else await LayAsync();
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
        await TellAsync("lay", Desk.Head.Latest.Text);
    }

    private void StandOn(Revision kept) => (_basedOn, _state, _theirs) = (kept.Number, $"Kept as revision {kept.Number}.", null);

    private Task KeepAsync() => KeepAsync(_basedOn);

    /// <summary>Keeps the text as it stands in the browser now; what is written meanwhile stays there.</summary>
    private async Task KeepAsync(int basedOn)
    {
        if (!HasScript || _keeping) return;
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

    /// <summary>The text as it is to be kept; null when it is too large, or the window has gone.</summary>
    private async Task<string?> MineAsync()
    {
        // A message from a browser is small; a text may be large, and comes as a stream.
        await using IJSStreamReference? stream = await AskAsync<IJSStreamReference>("text");
        if (stream is null) return null;
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
            await TellAsync("kept");
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

    private Task TakeTheirsAsync() => HasScript ? LayAsync() : Task.CompletedTask;

    private Task GoToAsync(Place place) => place.Line > 0 ? TellAsync("goTo", place.Line, place.Column) : Task.CompletedTask;
}
