using Microsoft.AspNetCore.Components;
using Sparewright.Measure.Quantities;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Readings;
using Sparewright.Shop;
using Sparewright.Web.Desk;

namespace Sparewright.Web.Readings;

public sealed partial class NextReadings : ScriptedPane
{
    private static readonly TimeSpan LongestWait = TimeSpan.FromSeconds(1.5);

    /// <summary>How long the browser has to draw the new picture before anything else is worked out; nobody waits who does not stand in this list.</summary>
    private static readonly TimeSpan ToDraw = TimeSpan.FromSeconds(0.15);

    /// <summary>How often a row was entered: a row that comes again comes with an empty field.</summary>
    private readonly Dictionary<string, int> _entries = new(StringComparer.Ordinal);

    /// <summary>By the row's key: a row that moves up keeps its field.</summary>
    private readonly Dictionary<string, ElementReference> _inputs = new(StringComparer.Ordinal);
    private IReadOnlyList<NextRow>? _rows;
    private bool _isPlan, _goOn;
    private int _adding;
    private string? _inHand;
    private Asks? _asks;
    private Reconciled? _of;
    private Task _finding = Task.CompletedTask;
    private LengthUnit _in;
    private ElementReference _list;

    /// <summary>What is asked or refused at a row.</summary>
    private sealed record Asks(string Of, UnitDoubt? Doubt, string Problem);

    [Parameter] public LengthUnit Unit { get; set; }

    /// <summary>Told in words what is kept.</summary>
    [Parameter] public EventCallback<string> Kept { get; set; }

    protected override void OnParametersSet()
    {
        base.OnParametersSet();
        _ = FindAsync();
    }

    protected override void OnJobChanged() => _ = FindAsync();

    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        // The list comes and goes with the job, and its script with it.
        await (_rows is not null ? AttachAsync("Readings/NextReadings.razor.js", _list) : DetachAsync());
        if (!_goOn || _adding > 0) return;
        _goOn = false;
        if (_asks is null && _rows is [var first, ..])
        {
            await _inputs[first.Key].FocusAsync();
            Take(first);
        }

        await TellAsync("release");
    }

    /// <summary>Finds the rows once the new picture stands, and beside the window's own work: neither it nor the verdict on a reading must wait for them.</summary>
    /// <returns>When the rows of the job as it stands are there, whoever asked for them first.</returns>
    private Task FindAsync()
    {
        if (ReferenceEquals(_of, Live.Reconciled) && _in == Unit) return _finding;
        (_of, _in) = (Live.Reconciled, Unit);
        if (_of is { } reconciled) return _finding = FindAsync(reconciled, Unit);
        _rows = null;
        return _finding = Task.CompletedTask;
    }

    private async Task FindAsync(Reconciled reconciled, LengthUnit unit)
    {
        await Task.WhenAny(Desk.Settled, Task.Delay(LongestWait));
        if (_adding == 0) await Task.Delay(ToDraw);
        if (!ReferenceEquals(_of, reconciled) || _in != unit) return;
        (bool isPlan, IReadOnlyList<NextRow> rows) = await Task.Run(() => (NextRow.IsPlan(reconciled), NextRow.Of(reconciled, unit)));
        if (!ReferenceEquals(_of, reconciled) || _in != unit) return;
        (_isPlan, _rows) = (isPlan, rows);
        if (_asks is { } asks && rows.All(r => r.Key != asks.Of)) _asks = null;
        StateHasChanged();
    }

    private void Take(NextRow row)
    {
        _inHand = row.Key;
        Attention.To(row.Elements, row.OnPart);
    }

    /// <summary>Enter was pressed: when the value is kept, the keyboard goes to what is worth most then.</summary>
    private void GoOn() => _goOn = true;

    private async Task EnterAsync(NextRow row, string? typed)
    {
        _asks = null;
        if (string.IsNullOrWhiteSpace(typed)) return;
        if (!EntryText.TryRead(typed, Unit, out Entered? entered, out Refusal? refusal)) _asks = new(row.Key, null, $"{refusal.Reason}: {refusal.Remedy}.");
        else if (UnitDoubt.Of(entered, [], row.AboutMm) is { } doubt) _asks = new(row.Key, doubt, "");
        else await AddAsync(row, entered);
    }

    private async Task AddAsync(NextRow row, Entered value)
    {
        _asks = null;
        _adding++;
        try
        {
            Kept<JobHead> kept = await new ReadingWriter(Desk).AddAsync(row.Draft, [value], $"a reading added: {value.Written}");
            if (kept.Problem is { } problem)
            {
                _asks = new(row.Key, null, $"{problem.What}: {problem.Remedy}.");
                return;
            }

            _entries[row.Key] = _entries.GetValueOrDefault(row.Key) + 1;
            await FindAsync();
            await Kept.InvokeAsync($"{ReadingWords.Of(row.Reading)} {value.Written}{(value.IsInch ? "" : " mm")}: kept {Clock.GetLocalNow():HH:mm:ss}");
        }
        finally
        {
            _adding--;
        }
    }
}
