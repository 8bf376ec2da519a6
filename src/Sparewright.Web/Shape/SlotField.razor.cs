using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;
using Sparewright.Measure.Numbers;
using Sparewright.Part;
using Sparewright.Web.Desk;
using Sparewright.Web.Shape.Forms;

namespace Sparewright.Web.Shape;

public sealed partial class SlotField
{
    private const int MostCompletions = 8;

    private ElementReference _field, _filter;
    private string _typed = "", _shown = "", _find = "";
    private string? _missed, _comesTo, _completedFrom, _handedOn;
    private bool _open, _inHand, _listening, _filterWantsFocus;
    private int _active = -1;
    private SlotCheck? _check;
    private IReadOnlyList<string> _completions = [];

    [Parameter] public required SentencePiece.Slot Slot { get; set; }

    [Parameter] public required Sentence Sentence { get; set; }

    [Parameter] public required ShapeView View { get; set; }

    /// <summary>Which elements and features a slot may name.</summary>
    [Parameter] public required Func<IReadOnlyList<ElementChoice>> Choices { get; set; }

    /// <summary>The first of some picked names that the slot may name.</summary>
    [Parameter] public required Func<IReadOnlyList<string>, string?> Fitting { get; set; }

    /// <summary>The sizes as they stand, for what an expression comes to.</summary>
    [Parameter] public IReadOnlyDictionary<string, Dual>? Sizes { get; set; }

    /// <summary>Told what is to stand in the slot.</summary>
    [Parameter] public EventCallback<string> Filled { get; set; }

    /// <summary>The keyboard came to the slot.</summary>
    [Parameter] public EventCallback Focused { get; set; }

    [CascadingParameter] public required Attention Attention { get; set; }

    internal static string IdOf(string path) => "slot-" + path.Replace('/', '-');

    private string Id => IdOf(Slot.Path);

    private string Label => Sentence.Name.Length > 0 && Slot.Kind != SlotKind.Name ? $"{Slot.Label} of {Sentence.Name}" : Slot.Label;

    private IReadOnlyList<Problem> Problems => View.At(Slot);

    private string? Invalid => Problems.Count > 0 || _check?.Problem is not null ? "true" : null;

    private string? Described => Problems.Count > 0 ? "problem-" + Id : null;

    private bool HasCompletion => Slot.Kind is SlotKind.Length or SlotKind.Angle;

    private int Size => Math.Clamp(_typed.Length, Slot.Kind == SlotKind.Name ? 3 : 1, 60);

    private IReadOnlyList<ElementChoice> Found => [.. Choices().Where(c => c.Name.Contains(_find, StringComparison.OrdinalIgnoreCase) || c.Words.Contains(_find, StringComparison.OrdinalIgnoreCase))];

    /// <summary>Shows again what is kept.</summary>
    public void Restore()
    {
        (_typed, _handedOn) = (Slot.Shown, null);
        _check = null;
        StateHasChanged();
    }

    /// <summary>Puts the keyboard into the slot.</summary>
    public ValueTask FocusFieldAsync() => _field.FocusAsync();

    protected override void OnParametersSet()
    {
        if (_shown == Slot.Shown && _typed.Length > 0) return;
        // What is being typed is not overwritten by what another window does elsewhere.
        if (!_inHand || _typed == _shown || Slot.Shown != _shown) _typed = Slot.Shown;
        (_shown, _handedOn) = (Slot.Shown, null);
    }

    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (!_filterWantsFocus) return;
        _filterWantsFocus = false;
        await _filter.FocusAsync();
    }

    private static string Text(ChangeEventArgs e) => e.Value as string ?? "";

    private async Task FocusAsync()
    {
        _inHand = true;
        Look();
        await Focused.InvokeAsync();
    }

    private async Task BlurAsync()
    {
        await HandOnAsync();
        (_inHand, _active, _completions, _comesTo) = (false, -1, [], null);
        _check = null;
    }

    private void Typed(ChangeEventArgs e)
    {
        _typed = Text(e);
        _active = -1;
        Look();
    }

    /// <summary>Judges what is typed, and looks for the size that the last word may become.</summary>
    private void Look()
    {
        bool changed = _typed != Slot.Shown;
        _check = changed ? SlotCheck.Of(View.Text, Slot, _typed.Trim()) : null;
        _comesTo = HasCompletion ? SlotCheck.ComesTo(_typed, Sizes, Slot.Kind == SlotKind.Angle) : null;
        string word = HasCompletion && changed ? LastWord().Match(_typed).Value : "";
        _completions = word.Length == 0 || View.Sizes.Contains(word) ? []
            : [.. View.Sizes.Where(s => s.Contains(word, StringComparison.Ordinal)).OrderByDescending(s => s.StartsWith(word, StringComparison.Ordinal)).Take(MostCompletions)];
    }

    private async Task KeyAsync(KeyboardEventArgs e)
    {
        switch (e.Key)
        {
            case "ArrowDown" when _completions.Count > 0: _active = (_active + 1) % _completions.Count; break;
            case "ArrowUp" when _completions.Count > 0: _active = (_active <= 0 ? _completions.Count : _active) - 1; break;
            case "Enter" when _active >= 0: Complete(_completions[_active]); break;
            case "Enter": await HandOnAsync(); break;
            case "Escape":
                _typed = Slot.Shown;
                Look();
                await _field.FocusAsync();
                break;
        }
    }

    private void Complete(string name)
    {
        _completedFrom = _typed;
        _typed = LastWord().Replace(_typed, name, 1);
        _active = -1;
        Look();
        _completions = [];
    }

    private async Task KeepAsync(ChangeEventArgs e)
    {
        string typed = Text(e);
        // The Enter that took a name from the list also says that the field changed, to what it was before.
        bool isGhost = typed == _completedFrom && _typed != typed;
        _completedFrom = null;
        if (isGhost) return;
        _typed = typed;
        await HandOnAsync();
        Look();
    }

    /// <summary>Hands on what is to stand in the slot, once: a browser does not say that a field changed when a name was taken from the list.</summary>
    private async Task HandOnAsync()
    {
        string typed = _typed.Trim();
        if (typed == Slot.Shown || typed == _handedOn) return;
        _handedOn = typed;
        await Filled.InvokeAsync(typed);
    }

    private Task Choose(ChangeEventArgs e) => Text(e) != Slot.Shown ? Filled.InvokeAsync(Text(e)) : Task.CompletedTask;

    private void TogglePicker()
    {
        _open = !_open;
        (_find, _missed, _filterWantsFocus) = ("", null, _open);
        Listen(_open);
    }

    private void Listen(bool on)
    {
        if (on == _listening) return;
        if (on) Attention.Picked += FacePicked;
        else Attention.Picked -= FacePicked;
        _listening = on;
    }

    private void FacePicked(IReadOnlyList<string> names) => _ = InvokeAsync(async () =>
    {
        if (!_open || names.Count == 0) return;
        if (Fitting(names) is { } name) await PickAsync(name);
        else _missed = $"{ElementPhrase.Of(names[0])} does not fit here: it is of another kind, or is built only later.";
        StateHasChanged();
    });

    private async Task PickAsync(string name)
    {
        await CloseAsync();
        if (name != Slot.Written) await Filled.InvokeAsync(name);
    }

    private async Task CloseAsync()
    {
        _open = false;
        Listen(false);
        await _field.FocusAsync();
    }

    private Task PickerKey(KeyboardEventArgs e) => e.Key == "Escape" ? CloseAsync() : Task.CompletedTask;

    private void ShowOnPart(ElementChoice choice) => Attention.To([choice.Name]);

    public void Dispose() => Listen(false);

    [GeneratedRegex("[a-z][a-z0-9_]*$")]
    private static partial Regex LastWord();
}
