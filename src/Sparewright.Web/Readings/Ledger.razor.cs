using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;
using Sparewright.Measure.Quantities;
using Sparewright.Part.Record;
using Sparewright.Shop;
using Sparewright.Web.Desk;

namespace Sparewright.Web.Readings;

/// <summary>The ledger: every reading in a row, entered with one hand on the caliper. What happens is decided here; the script beside it moves the keyboard.</summary>
public sealed partial class Ledger : ScriptedPane
{
    /// <summary>Where the keyboard goes: into the field that corrects, which stands in the place of the repeats.</summary>
    private const string Correction = "correction";

    private readonly RowKeys _keys = new();
    private readonly Dictionary<int, RowSay> _says = [];
    private IReadOnlyList<LedgerRow> _rows = [];
    private LengthUnit _unit;
    private ElementReference _grid;
    private UndoBar? _undo;
    private string _said = "";
    private Correcting? _correcting;
    private int? _changing;
    private int? _inHand;

    /// <summary>Repeats of one reading while they are corrected.</summary>
    /// <param name="Shown">The line as it was offered.</param>
    private sealed record Correcting(int Key, SeenReading Seen, string Shown);

    protected override void OnParametersSet()
    {
        base.OnParametersSet();
        Refresh();
    }

    protected override void OnJobChanged() => Refresh();

    protected override Task OnAfterRenderAsync(bool firstRender) =>
        Live.Job is not null ? AttachAsync("Readings/Ledger.razor.js", _grid, Self) : DetachAsync();

    private void Refresh()
    {
        _rows = LedgerRow.All(Live, _unit, _keys);
        if (_inHand is { } key && Row(key) is { } row && row.Reading is CaliperReading reading && !reading.Equals(Attention.Reading)) Attention.To(row.Elements, reading);
    }

    private void ChangeUnit(LengthUnit unit)
    {
        _unit = unit;
        Attention.Show(unit);
        _correcting = null;
        Refresh();
    }

    private void Announce(string said)
    {
        _said = said;
        StateHasChanged();
    }

    private LedgerRow? Row(int key) => _rows.FirstOrDefault(r => r.Key == key);

    private static GridPlace PlaceOf(LedgerRow row, LedgerColumn column) => new(row.Index, column);

    private Going GoTo(GridPlace place, bool taken = false) => Going.To(_rows[place.Row].Key, place.Column, taken);

    /// <summary>Where an arrow, Home, End, PageUp or PageDown leads.</summary>
    [JSInvokable]
    public Going? Move(int key, string column, string pressed, bool ctrl) =>
        Row(key) is { } row && Enum.TryParse(column, out LedgerColumn here) ? GoTo(PlaceOf(row, here).After(pressed, ctrl, _rows.Count)) : null;

    /// <summary>The keyboard came to a row: its reading is in hand.</summary>
    [JSInvokable]
    public void InHand(int key)
    {
        if (Row(key) is not { } row) return;
        _inHand = key;
        Attention.To(row.Elements, row.Reading as CaliperReading);
    }

    /// <summary>A value was typed, and Enter pressed or the cell left.</summary>
    /// <param name="burst">Typed as fast as only an instrument types.</param>
    [JSInvokable]
    public async Task<Going?> Enter(int key, string typed, bool burst)
    {
        if (Row(key) is not { } row) return null;
        var (entered, refusal) = Read(row, typed);
        if (entered is null) return Say(row, new RowSay.Refused(refusal!), Going.To(key, LedgerColumn.Entry));
        if (row.Takes == RowTakes.Lengths && UnitDoubt.Of(entered, row.Reads, row.AdjustedMm) is { } doubt)
            return Say(row, new RowSay.Doubts(doubt, burst), new Going(key, "answer", false));
        return await AppendAsync(row, entered, burst);
    }

    /// <summary>Enter, F2 or a second click on a cell: what it opens.</summary>
    [JSInvokable]
    public Going? Open(int key, string column)
    {
        if (Row(key) is not { } row || !Enum.TryParse(column, out LedgerColumn here)) return null;
        if (here == LedgerColumn.Repeats && row.Takes != RowTakes.Nothing)
        {
            _correcting = new(key, new(row.Index, row.Text), RepeatsLine.Of(row, _unit));
            StateHasChanged();
            return new Going(key, Correction, false);
        }

        if (here == LedgerColumn.Entry && row.Takes != RowTakes.Nothing) return Going.To(key, LedgerColumn.Entry);
        if (!row.IsInForm)
        {
            Announce($"{row.Id} is of a kind that is written in the job's text: step Shape, the text beside the sentences.");
            return null;
        }

        _changing = key;
        StateHasChanged();
        return new Going(key, "form", false);
    }

    /// <summary>The repeats of a reading were corrected; null leaves them as they are.</summary>
    [JSInvokable]
    public async Task<Going?> Correct(int key, string? line)
    {
        if (Row(key) is not { } row || _correcting is not { } correcting || correcting.Key != key) return null;
        if (line is null || line.Trim() == correcting.Shown)
        {
            _correcting = null;
            return Say(row, null, Going.To(key, LedgerColumn.Repeats));
        }

        if (!EntryText.TryReadAll(line, piece => Read(row, piece), out IReadOnlyList<Entered> values, out Refusal? refusal))
            return Say(row, new RowSay.Refused(refusal), new Going(key, Correction, false));
        Kept<JobHead> kept = await new ReadingWriter(Desk).CorrectAsync(correcting.Seen, values, $"{row.Id}: {string.Join("; ", values.Select(v => v.Written))}, corrected");
        return After(row, kept, values, Going.To(key, LedgerColumn.Repeats), () => _correcting = null);
    }

    /// <summary>Takes a whole reading out of the list; undo brings it back.</summary>
    [JSInvokable]
    public async Task<Going?> Remove(int key)
    {
        if (Row(key) is not { } row) return null;
        GridPlace next = new(Math.Min(row.Index, _rows.Count - 2), LedgerColumn.What);
        Kept<JobHead> kept = await new ReadingWriter(Desk).RemoveAsync(new(row.Index, row.Text), $"{row.Id} removed");
        if (!kept.IsGood) return Say(row, new RowSay.NotKept(kept.Problem), Going.To(key, LedgerColumn.What));
        Refresh();
        Announce($"{row.Id} is removed; undo brings it back. {KeptAt()}");
        return _rows.Count > 0 ? GoTo(next) : null;
    }

    [JSInvokable]
    public async Task Undo(bool redo)
    {
        if (_undo is null) return;
        await (redo ? _undo.RedoAsync() : _undo.UndoAsync());
    }

    private async Task AnswerAsync(int key, Entered? meant)
    {
        if (Row(key) is not { } row || _says.GetValueOrDefault(key) is not RowSay.Doubts doubts) return;
        Going going = meant is null ? Say(row, null, Going.To(key, LedgerColumn.Entry)) : await AppendAsync(row, meant, doubts.FromInstrument);
        await TellAsync("go", key, going);
    }

    private async Task ChooseAsync(int key, bool mine)
    {
        if (Row(key) is not { } row || _says.GetValueOrDefault(key) is not RowSay.Changed changed) return;
        Going going = Going.To(key, LedgerColumn.Repeats);
        _correcting = null;
        if (mine)
        {
            Kept<JobHead> kept = await new ReadingWriter(Desk).CorrectAsync(new(row.Index, row.Text), changed.Mine, $"{row.Id}: {string.Join("; ", changed.Mine.Select(v => v.Written))}, chosen");
            going = After(row, kept, changed.Mine, going, () => { });
        }
        else
        {
            Say(row, null, going);
        }

        await TellAsync("go", key, going with { Taken = true });
    }

    private async Task CloseFormAsync(string? said)
    {
        int? key = _changing;
        _changing = null;
        if (said is not null) _said = said;
        Refresh();
        StateHasChanged();
        if (key is { } was && Row(was) is not null) await TellAsync("go", was, Going.To(was, LedgerColumn.What));
    }

    private async Task<Going> AppendAsync(LedgerRow row, Entered value, bool fromInstrument)
    {
        string how = fromInstrument ? "from the instrument" : "by hand";
        Kept<JobHead> kept = await new ReadingWriter(Desk).AppendAsync(new(row.Index, row.Text), value, $"{row.Id}: {value.Written} {how}");
        GridPlace next = PlaceOf(row, LedgerColumn.Entry).AfterEntry([.. _rows.Select(r => r.Takes != RowTakes.Nothing)]);
        return After(row, kept, [value], GoTo(next, taken: true), () => { }, how);
    }

    /// <summary>What is said after an entry, and where the keyboard goes: on, once it is kept; nowhere, while it is not.</summary>
    private Going After(LedgerRow row, Kept<JobHead> kept, IReadOnlyList<Entered> values, Going next, Action then, string how = "")
    {
        Going stay = next with { Row = row.Key, Cell = _correcting?.Key == row.Key ? Correction : nameof(LedgerColumn.Entry), Taken = false };
        if (kept.Problem is { Kind: StoreProblemKind.ChangedMeanwhile })
        {
            Refresh();
            LedgerRow? now = Row(row.Key);
            return Say(row, new RowSay.Changed(now?.Repeats, values), new Going(row.Key, "answer", false));
        }

        if (kept.Problem is { } problem) return Say(row, new RowSay.NotKept(problem), stay);
        then();
        Refresh();
        string verdict = Row(row.Key) is { Tone: RowTone.Look } bad ? $" {bad.Verdict[2..]}." : "";
        _said = $"{row.Id}: {string.Join("; ", values.Select(v => v.Written + (row.Takes == RowTakes.Lengths && !v.IsInch ? " mm" : "")))} {KeptAt()}.{verdict}";
        return Say(row, new RowSay.Kept(how, Clock.GetLocalNow()), next);
    }

    private Going Say(LedgerRow row, RowSay? say, Going going)
    {
        if (say is null) _says.Remove(row.Key);
        else _says[row.Key] = say;
        if (say is RowSay.Refused refused) _said = $"not kept: {refused.Why}";
        StateHasChanged();
        return going;
    }

    private string KeptAt() => $"kept {Clock.GetLocalNow():HH:mm:ss}";

    private (Entered?, Refusal?) Read(LedgerRow row, string typed)
    {
        Entered? entered;
        Refusal? refusal;
        _ = row.Takes == RowTakes.Grams ? EntryText.TryReadGrams(typed, out entered, out refusal) : EntryText.TryRead(typed, _unit, out entered, out refusal);
        return (entered, refusal);
    }

    protected override void Dispose(bool disposing)
    {
        base.Dispose(disposing);
        if (disposing) Attention.To([]);
    }
}
