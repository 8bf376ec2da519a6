using Microsoft.AspNetCore.Components;
using Sparewright.Measure.Quantities;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Shop;
using Sparewright.Web.Desk;

namespace Sparewright.Web.Readings;

public sealed partial class ReadingForm : DeskPane
{
    private ReadingDraft _draft = new();
    private SeenReading? _seen;
    private string _typed = "", _hint = "";
    private string? _refusal, _problem;
    private UnitDoubt? _doubt;
    private double? _expectedMm;
    private int _fills = 1;
    private ElementReference _first, _value;
    private bool _listening;

    /// <summary>The reading that is changed; null for a new one.</summary>
    [Parameter] public LedgerRow? Of { get; set; }

    [Parameter] public LengthUnit Unit { get; set; }

    /// <summary>Told in words what is kept.</summary>
    [Parameter] public EventCallback<string> Kept { get; set; }

    /// <summary>Left without a change.</summary>
    [Parameter] public EventCallback Closed { get; set; }

    [Inject] public required TimeProvider Clock { get; set; }

    private string ListId => Of is null ? "elements-new" : $"elements-{Of.Key}";

    private PlacedShape? Shape => (Live.Reconciled ?? Live.InView?.Reconciled)?.Shape;

    private IReadOnlyList<(string Name, string Words)> Known => ElementWords.For(_draft.Way, Shape, Unit);

    private bool IsSide => Shape?.Elements.GetValueOrDefault(_draft.First) is SideElement;

    private DraftWay Way
    {
        get => _draft.Way;
        set => _draft = _draft with { Way = value };
    }

    private string FirstLabel => _draft.Way switch
    {
        DraftWay.RadiusGauge => "round",
        DraftWay.Weight => "what was weighed",
        DraftWay.Depth or DraftWay.Step => "from",
        _ => "on",
    };

    protected override void OnParametersSet()
    {
        base.OnParametersSet();
        if (!_listening)
        {
            Attention.Picked += Pick;
            _listening = true;
        }

        if (Of is not null && _seen is null)
        {
            _seen = new(Of.Index, Of.Text);
            if (Written.Read(RepeatsLine.Indented(Of.Text), out _) is { } written) _draft = ReadingDraft.Of(written);
            Check();
        }
    }

    protected override void OnJobChanged() => Check();

    private static string Text(ChangeEventArgs e) => (e.Value as string)?.Trim() ?? "";

    private void Set(ReadingDraft draft)
    {
        _draft = draft;
        Check();
    }

    /// <summary>A face was picked on the part: it goes where the keyboard was, or to the first empty place.</summary>
    private void Pick(IReadOnlyList<string> names)
    {
        if (names.Count == 0) return;
        string? name = names.FirstOrDefault(n => Known.Any(k => k.Name == n)) ?? names[0];
        if (_draft.Way == DraftWay.RadiusGauge && names[0].EndsWith(".face", StringComparison.Ordinal)) name = names[0][..^".face".Length];
        bool second = _draft.IsCaliper && (_draft.First.Length > 0 && (_fills == 2 || _draft.Second.Length == 0));
        Set(second ? _draft with { Second = name } : _draft with { First = name });
        _fills = second ? 1 : 2;
        StateHasChanged();
    }

    /// <summary>Says while it is described what a caliper would show there, or why none can.</summary>
    private void Check()
    {
        (_hint, _refusal, _expectedMm) = ("", null, null);
        if (Shape is not { } shape) return;
        var (mm, why) = _draft.On(shape);
        _expectedMm = mm;
        _refusal = why is null ? null : $"{why.What}: {why.Remedy}";
        _hint = _refusal ?? (mm is { } expected ? $"the part as it stands has {LengthsShown.WithUnit(expected, Unit)} there" : "");
        if (why is null && mm is { } shown && _draft.AtHeight.Length == 0 && _draft.AsReading(null, shown) is { } reading) Attention.To(_draft.Second.Length > 0 ? [_draft.First, _draft.Second] : [_draft.First], reading);
    }

    private async Task KeepAsync()
    {
        _problem = null;
        _doubt = null;
        Check();
        if (_draft.First.Length == 0)
        {
            _problem = "It does not say where: name an element.";
            return;
        }

        if (_draft.NeedsPair && _draft.Second.Length == 0)
        {
            _problem = "It goes between two elements: name the other one too.";
            return;
        }

        if (_refusal is not null)
        {
            _problem = _refusal + ".";
            return;
        }

        if (Of is not null)
        {
            await FinishAsync(await new ReadingWriter(Desk).DescribeAsync(_seen!, _draft, $"{Of.Id} described anew"), Of.Id);
            return;
        }

        if (_draft.Way == DraftWay.RadiusGauge)
        {
            await AddAsync([], "gauge leaves");
            return;
        }

        Entered? entered;
        Refusal? refusal;
        bool read = _draft.Way == DraftWay.Weight ? EntryText.TryReadGrams(_typed, out entered, out refusal) : EntryText.TryRead(_typed, Unit, out entered, out refusal);
        if (!read)
        {
            _problem = $"{refusal!.Reason}: {refusal.Remedy}.";
            await _value.FocusAsync();
            return;
        }

        _doubt = _draft.IsCaliper ? UnitDoubt.Of(entered!, [], _expectedMm) : null;
        if (_doubt is null) await AddAsync([entered!], entered!.Written);
    }

    private Task AnswerAsync(Entered meant)
    {
        _doubt = null;
        return AddAsync([meant], meant.Written);
    }

    /// <summary>Adds a reading. The fields are free for the next one at once: emptied when the answer comes, they would take with them what was typed meanwhile.</summary>
    private async Task AddAsync(IReadOnlyList<Entered> values, string what)
    {
        var (draft, typed) = (_draft, _typed);
        _draft = new ReadingDraft { Way = draft.Way, Instrument = draft.Instrument, Density = draft.Density };
        ReadingDraft next = _draft;
        (_typed, _hint, _fills) = ("", "", 1);
        await _first.FocusAsync();
        Kept<JobHead> kept = await new ReadingWriter(Desk).AddAsync(draft, values, $"a reading added: {what}");
        if (!kept.IsGood && _draft == next && _typed.Length == 0) (_draft, _typed) = (draft, typed);
        await FinishAsync(kept, what);
    }

    private async Task RemoveAsync() => await FinishAsync(await new ReadingWriter(Desk).RemoveAsync(_seen!, $"{Of!.Id} removed"), $"{Of.Id} removed; undo brings it back");

    private async Task FinishAsync(Kept<JobHead> kept, string what)
    {
        if (!kept.IsGood)
        {
            _problem = kept.Problem is { Kind: StoreProblemKind.ChangedMeanwhile }
                ? "Another window changed this reading meanwhile. Leave this as it was, look, and change it again."
                : $"{kept.Problem.What}: {kept.Problem.Remedy}.";
            return;
        }

        await Kept.InvokeAsync($"{what}: kept {Clock.GetLocalNow():HH:mm:ss}");
    }

    protected override void Dispose(bool disposing)
    {
        if (disposing && _listening) Attention.Picked -= Pick;
        base.Dispose(disposing);
    }
}
