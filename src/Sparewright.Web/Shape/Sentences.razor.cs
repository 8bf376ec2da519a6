using Microsoft.AspNetCore.Components;
using Sparewright.Measure.Numbers;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Shop;
using Sparewright.Web.Desk;

namespace Sparewright.Web.Shape;

/// <summary>The shape, described in sentences: a view of the job's text, which stands whether or not the text is right.</summary>
public sealed partial class Sentences : DeskPane
{
    private readonly Dictionary<string, SentenceLine> _lines = new(StringComparer.Ordinal);
    private ShapeView _view = ShapeView.Of("shape: []", []);
    private ElementChoices _choices = null!;
    private string _said = "";
    private string? _open, _focus, _focusFirst;
    private bool _asText;
    private Place? _goto;
    private int? _addAt;
    private Conflict? _conflict;

    /// <param name="Now">What stands at the place that both changed.</param>
    private sealed record Conflict(TextChange Change, Sentence? Of, string? Now);

    [Inject] public required TimeProvider Clock { get; set; }

    private SentenceLine Line
    {
        set => _lines[KeyOf(value.Sentence)] = value;
    }

    private PlacedShape? Placed => (Live.Reconciled ?? Live.InView?.Reconciled)?.Shape;

    private IReadOnlyDictionary<string, Dual>? Sizes => Live.Reconciled?.Shape.Sizes;

    /// <summary>Every problem of the text in words, with what leads to it. That of the solid comes later, while somebody may be clicking: it stands at its feature, and nothing moves for it up here.</summary>
    private IReadOnlyList<(string Words, Func<Task> Go)> Listed =>
    [
        .. _view.InShape.Where(p => p.Problem != Live.SolidProblem).Select(p => ($"{(p.Sentence.Name.Length > 0 ? p.Sentence.Name : p.Sentence.Title)}{(p.Slot is null ? "" : $", {p.Slot.Label}")}: {p.Problem.What}", (Func<Task>)(() => GoToAsync(p.Sentence, p.Slot?.Path)))),
        .. _view.Elsewhere.Select(p => ($"{(p.Place.Line > 0 ? $"Line {p.Place.Line} of the text: " : "")}{p.What}; {p.Remedy}", (Func<Task>)(() => { ShowText(p.Place); return Task.CompletedTask; }))),
    ];

    protected override void OnParametersSet()
    {
        base.OnParametersSet();
        Refresh();
    }

    protected override void OnJobChanged() => Refresh();

    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (_focusFirst is { } added && _lines.TryGetValue(added, out SentenceLine? line))
        {
            _focusFirst = null;
            await line.FocusFirstAsync();
        }
        else if (_focus is { } moved && _lines.TryGetValue(moved, out line))
        {
            _focus = null;
            await line.FocusAsync();
        }
    }

    /// <summary>Features keep their line while they have their name; those without one go by their place.</summary>
    private static string KeyOf(Sentence sentence) => sentence.Name.Length > 0 ? sentence.Name : sentence.Path;

    private void Refresh()
    {
        IReadOnlyList<Problem> problems = Live.SolidProblem is { } solid ? [.. Live.Problems, solid] : Live.Problems;
        _view = ShapeView.Of(Live.Text, problems);
        _choices = new ElementChoices(_view, Placed);
        if (_addAt > _view.Sentences.Count) _addAt = null;
        string[] keys = [.. _view.Sentences.Select(KeyOf)];
        foreach (string gone in _lines.Keys.Except(keys).ToArray()) _lines.Remove(gone);
    }

    private void Announce(string said) => _said = said;

    private void ShowText(Place? place) => (_asText, _goto) = (true, place);

    private async Task GoToAsync(Sentence sentence, string? slot)
    {
        if (_lines.TryGetValue(KeyOf(sentence), out SentenceLine? line)) await line.FocusAsync(slot);
    }

    private void AddAt(int number) => _addAt = number;

    private async Task AddAsync(string kind)
    {
        if (_addAt is not { } number) return;
        var (change, name) = new NewFeatures(_view, Placed).Add(kind, number);
        _addAt = null;
        if (await ChangeAsync(change, null)) (_open, _focusFirst) = (name, name);
    }

    private async Task<bool> ChangeAsync(TextChange change, Sentence? of)
    {
        _conflict = null;
        string? seen = JobDesk.TextAt(_view.Text, change.Place);
        int count = _view.Sentences.Count;
        return Tell(await Desk.ChangeAsync(change.Place, seen, text => Holds(text, of) ? change.Make(text) : Moved, change.What), change, of, count);
    }

    private async Task ResolveAsync(bool mine)
    {
        Conflict conflict = _conflict!;
        _conflict = null;
        if (!mine) return;
        Tell(await Desk.ChangeAsync(conflict.Change.Place, Desk.TextAt(conflict.Change.Place), text => Holds(text, conflict.Of) ? conflict.Change.Make(text) : Moved, conflict.Change.What), conflict.Change, conflict.Of, _view.Sentences.Count);
    }

    private static readonly JobEdit Moved = new(null, new Problem(Place.None, "the list of features changed meanwhile", "look where the feature stands now, and do it again"));

    /// <summary>Whether the feature still stands where the sentence was read.</summary>
    private static bool Holds(string text, Sentence? sentence) =>
        sentence is null || sentence.Name.Length == 0 || (Written.Read(text, out _)?.At(sentence.Path.Split('/')) as Written.Group)?.Entries.Any(e => (e.Value as Written.Value)?.Text == sentence.Name) == true;

    private bool Tell(Kept<JobHead> kept, TextChange change, Sentence? of, int count)
    {
        if (kept.IsGood)
        {
            _said = $"{change.What}: kept {Clock.GetLocalNow():HH:mm:ss}";
            Refresh();
            if (of is null) return true;
            if (change.Place == "shape") _focus = KeyOf(of);
            else if (_view.Sentences.ElementAtOrDefault(of.Number) is { } now && KeyOf(now) != KeyOf(of))
            {
                // Renamed, it stays as it was; taken away, the keyboard goes on to the next.
                bool isRenamed = _view.Sentences.Count == count;
                (_focus, _open) = (KeyOf(now), isRenamed && _open == of.Name ? now.Name : null);
            }

            return true;
        }

        if (kept.Problem is { Kind: StoreProblemKind.ChangedMeanwhile }) _conflict = new Conflict(change, of, Desk.TextAt(change.Place));
        _said = $"Not kept: {kept.Problem.What}; {kept.Problem.Remedy}.";
        return false;
    }
}
