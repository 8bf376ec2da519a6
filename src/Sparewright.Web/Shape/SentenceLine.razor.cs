using System.Globalization;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Rendering;
using Sparewright.Measure.Numbers;
using Sparewright.Part;
using Sparewright.Part.Sizes;
using Sparewright.Web.Desk;
using Sparewright.Web.Shape.Forms;

namespace Sparewright.Web.Shape;

public sealed partial class SentenceLine
{
    private readonly Dictionary<string, SlotField> _fields = new(StringComparer.Ordinal);
    private ElementReference _answer, _opener;
    private Asking? _asking;
    private bool _answerWantsFocus;

    /// <summary>A question before something is done that reaches further than its sentence.</summary>
    private sealed record Asking(string Question, IReadOnlyList<string> Lines, string Yes, TextChange Change, Offer? Other);

    [Parameter] public required Sentence Sentence { get; set; }

    [Parameter] public required ShapeView View { get; set; }

    [Parameter] public required ElementChoices Choices { get; set; }

    [Parameter] public IReadOnlyDictionary<string, Dual>? Sizes { get; set; }

    [Parameter] public bool IsOpen { get; set; }

    [Parameter] public EventCallback<bool> Opened { get; set; }

    [Parameter] public EventCallback<TextChange> Changed { get; set; }

    [Parameter] public EventCallback AddBelow { get; set; }

    [CascadingParameter] public required Attention Attention { get; set; }

    private IReadOnlyList<(SentencePiece.Slot? Slot, Problem Problem)> Problems =>
        [.. View.At(Sentence).Select(p => ((SentencePiece.Slot?)null, p)), .. Sentence.Slots.SelectMany(s => View.At(s).Select(p => ((SentencePiece.Slot?)s, p)))];

    /// <summary>Puts the keyboard into a slot, or onto the sentence's own button.</summary>
    public ValueTask FocusAsync(string? slot = null) => slot is not null && _fields.TryGetValue(slot, out SlotField? field) ? field.FocusFieldAsync() : _opener.FocusAsync();

    /// <summary>Puts the keyboard into the first slot behind the name.</summary>
    public ValueTask FocusFirstAsync() => FocusAsync(Sentence.Slots.FirstOrDefault(s => s.Kind != SlotKind.Name)?.Path);

    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (!_answerWantsFocus) return;
        _answerWantsFocus = false;
        await _answer.FocusAsync();
    }

    private void StandOut() => Attention.To(Choices.Of(Sentence));

    private static string Capital(string words) => char.ToUpperInvariant(words[0]) + words[1..];

    private string[] Unknown(SentencePiece.Slot slot) => slot is { Kind: SlotKind.Length or SlotKind.Angle, Written: { } written }
        ? [.. ExpressionParser.Read(written).Names.Select(n => n.Name).Distinct(StringComparer.Ordinal).Except(View.Sizes, StringComparer.Ordinal)]
        : [];

    private async Task FillAsync(SentencePiece.Slot slot, string value)
    {
        if (slot.Kind != SlotKind.Name || slot.Written is not { } old || NamesInUse.OfFeature(View.Text, old) is not { Count: > 0 } uses)
        {
            await Changed.InvokeAsync(slot.Fill(value, Sentence.Name));
            return;
        }

        string path = slot.Path;
        string both = Sentence.Path;
        Ask(new Asking($"{old} is named in {Count(uses.Count, "other place")}. Give it its new name there too?", Where(uses),
            $"Rename it to {value} everywhere", new TextChange(both, $"{old} is renamed {value}", text => NamesInUse.Renamed(text, path, value)),
            new Offer("Rename it here alone", slot.Fill(value, old))));
    }

    private void AskToRemove()
    {
        string name = Sentence.Name.Length > 0 ? Sentence.Name : "this feature";
        string[] names = [.. Sentence.Slots.Where(s => s is { Kind: SlotKind.Name, Written: not null }).Select(s => s.Written!)];
        NameUse[] uses = [.. names.SelectMany(n => NamesInUse.OfFeature(View.Text, n)).Where(u => !(u.Path + "/").StartsWith(Sentence.Path + "/", StringComparison.Ordinal))];
        IReadOnlyList<string> comments = JobText.CommentsOf(View.Text, Sentence.Path);
        TextChange change = TextChange.Remove(Sentence.Path, $"remove {name}");
        Ask(new Asking(
            uses.Length > 0 ? $"Remove {name}? {Count(uses.Length, "place")} that {(uses.Length == 1 ? "names" : "name")} it must be put right afterwards:" : $"Remove {name}? Nothing else names it.",
            [.. Where(uses), .. comments.Select(c => $"the comment “{c.TrimStart('#', ' ')}” goes with it")], $"Remove {name}", change, null));
    }

    private void Ask(Asking asking) => (_asking, _answerWantsFocus) = (asking, true);

    private async Task AnswerAsync(TextChange? change)
    {
        _asking = null;
        if (change is not null) await Changed.InvokeAsync(change);
        else
        {
            foreach (SlotField field in Sentence.Slots.Where(s => s.Kind == SlotKind.Name).Select(s => _fields.GetValueOrDefault(s.Path)).OfType<SlotField>()) field.Restore();
            await _opener.FocusAsync();
        }
    }

    private async Task MoveAsync(int by)
    {
        await Changed.InvokeAsync(TextChange.Move("shape", Sentence.Number, Sentence.Number + by, $"{(Sentence.Name.Length > 0 ? Sentence.Name : "a feature")} comes {(by < 0 ? "earlier" : "later")}"));
    }

    /// <summary>Places that name a feature, as people find them.</summary>
    private IReadOnlyList<string> Where(IReadOnlyList<NameUse> uses) =>
        [.. uses.GroupBy(u => Place(u.Path)).Select(g => $"{g.Key}: {string.Join(", ", g.Select(u => u.Text).Distinct(StringComparer.Ordinal))}").Take(12)];

    private string Place(string path)
    {
        string[] steps = path.Split('/');
        if (steps.Length < 2 || !int.TryParse(steps[1], NumberStyles.None, CultureInfo.InvariantCulture, out int number)) return steps[0];
        return steps[0] switch
        {
            "shape" => View.Sentences.ElementAtOrDefault(number)?.Name ?? "a feature",
            "readings" => $"reading {(number + 1).ToString(CultureInfo.InvariantCulture)}",
            "counterparts" => $"counterpart {(number + 1).ToString(CultureInfo.InvariantCulture)}",
            "loads" => $"load {(number + 1).ToString(CultureInfo.InvariantCulture)}",
            _ => steps[0],
        };
    }

    private static string Count(int n, string word) => n == 1 ? $"1 {word}" : $"{n.ToString(CultureInfo.InvariantCulture)} {word}s";

    /// <summary>Words and slots in their order, with blanks where they belong; no line ends between a slot and its comma or bracket.</summary>
    private RenderFragment Draw(IReadOnlyList<SentencePiece> pieces) => builder =>
    {
        List<SentencePiece> glued = [];
        string before = "";
        foreach (SentencePiece piece in pieces.SelectMany(SingleWords))
        {
            // Behind lines of their own a full stop would stand alone.
            if (piece is SentencePiece.Words { Text: "." } && before == Lined) continue;
            string words = piece switch { SentencePiece.Words w => w.Text, SentencePiece.Lines => Lined, _ => "x" };
            if (before.Length > 0 && (words == Lined || before == Lined || SentencePiece.Parted(before, words)))
            {
                DrawGlued(builder, glued);
                glued = [];
            }

            glued.Add(piece);
            before = words;
        }

        DrawGlued(builder, glued);
    };

    private const string Lined = "\n";

    private static IEnumerable<SentencePiece> SingleWords(SentencePiece piece) =>
        piece is SentencePiece.Words words ? words.Text.Split(' ').Select(w => new SentencePiece.Words(w)) : [piece];

    private void DrawGlued(RenderTreeBuilder builder, List<SentencePiece> glued)
    {
        builder.OpenRegion(40);
        switch (glued)
        {
            case [SentencePiece.Words or SentencePiece.Lines]:
                DrawPiece(builder, glued[0]);
                break;
            default:
                builder.OpenElement(41, "span");
                builder.AddAttribute(42, "class", "glued");
                if (glued.Select(g => g switch { SentencePiece.Slot s => s.Path, SentencePiece.WhichKind k => k.Path, _ => null }).FirstOrDefault(p => p is not null) is { } key) builder.SetKey(key);
                foreach (SentencePiece piece in glued)
                {
                    builder.OpenRegion(43);
                    DrawPiece(builder, piece);
                    builder.CloseRegion();
                }

                builder.CloseElement();
                break;
        }

        builder.AddContent(44, " ");
        builder.CloseRegion();
    }

    private void DrawPiece(RenderTreeBuilder builder, SentencePiece piece)
    {
        switch (piece)
        {
            case SentencePiece.Words words:
                builder.AddContent(1, words.Text);
                break;
            case SentencePiece.Slot slot:
                builder.OpenComponent<SlotField>(2);
                builder.SetKey(slot.Path);
                builder.AddComponentParameter(3, nameof(SlotField.Slot), slot);
                builder.AddComponentParameter(4, nameof(SlotField.Sentence), Sentence);
                builder.AddComponentParameter(5, nameof(SlotField.View), View);
                builder.AddComponentParameter(6, nameof(SlotField.Choices), () => Choices.For(slot.Kind, Sentence.Number));
                builder.AddComponentParameter(7, nameof(SlotField.Fitting), (IReadOnlyList<string> names) => Choices.FirstFitting(names, slot.Kind, Sentence.Number));
                builder.AddComponentParameter(8, nameof(SlotField.Sizes), Sizes);
                builder.AddComponentParameter(9, nameof(SlotField.Filled), EventCallback.Factory.Create<string>(this, value => FillAsync(slot, value)));
                builder.AddComponentParameter(10, nameof(SlotField.Focused), EventCallback.Factory.Create(this, StandOut));
                builder.AddComponentReferenceCapture(11, field => _fields[slot.Path] = (SlotField)field);
                builder.CloseComponent();
                break;
            case SentencePiece.WhichKind kind:
                builder.OpenElement(12, "select");
                builder.AddAttribute(13, "class", "slot kind");
                builder.AddAttribute(14, "aria-label", $"kind of {kind.Noun}");
                builder.AddAttribute(15, "value", kind.Title);
                builder.AddAttribute(16, "onchange", EventCallback.Factory.Create<ChangeEventArgs>(this, e => BecomeAsync(kind, e.Value as string)));
                builder.OpenElement(17, "option");
                builder.AddAttribute(18, "value", kind.Title);
                builder.AddContent(19, kind.Title);
                builder.CloseElement();
                foreach (Offer other in kind.Others)
                {
                    builder.OpenElement(20, "option");
                    builder.AddAttribute(21, "value", other.Words);
                    builder.AddContent(22, other.Words);
                    builder.CloseElement();
                }

                builder.CloseElement();
                break;
            case SentencePiece.Lines lines:
                builder.OpenElement(23, "ul");
                builder.AddAttribute(24, "class", "lines");
                foreach (Line line in lines.All)
                {
                    builder.OpenElement(25, "li");
                    builder.SetKey(line.Path);
                    builder.AddContent(26, Draw(line.Pieces));
                    if (IsOpen) builder.AddContent(27, DrawOffers(line));
                    builder.CloseElement();
                }

                builder.CloseElement();
                break;
        }
    }

    private RenderFragment DrawOffers(Line line) => builder =>
    {
        builder.OpenElement(0, "span");
        builder.AddAttribute(1, "class", "answers small");
        foreach (Offer offer in line.Offers)
        {
            builder.OpenElement(2, "button");
            builder.AddAttribute(3, "type", "button");
            builder.AddAttribute(4, "onclick", EventCallback.Factory.Create(this, () => Changed.InvokeAsync(offer.Change)));
            builder.AddContent(5, offer.Words);
            builder.CloseElement();
        }

        builder.CloseElement();
    };

    /// <summary>Another kind begins anew: what was written of the old one goes, and undo brings it back.</summary>
    private Task BecomeAsync(SentencePiece.WhichKind kind, string? title) =>
        kind.Others.FirstOrDefault(o => o.Words == title) is { } offer ? Changed.InvokeAsync(offer.Change) : Task.CompletedTask;
}
