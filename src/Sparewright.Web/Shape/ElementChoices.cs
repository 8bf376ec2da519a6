using Sparewright.Part.Elements;
using Sparewright.Web.Readings;
using Sparewright.Web.Shape.Forms;

namespace Sparewright.Web.Shape;

/// <summary>Something that a slot can name.</summary>
/// <param name="Words">As one says it.</param>
/// <param name="Detail">What it looks like.</param>
public sealed record ElementChoice(string Name, string Words, string Detail);

/// <summary>What stands before a feature, for slots that name elements and features.</summary>
public sealed class ElementChoices
{
    private readonly PlacedShape? _shape;
    private readonly Dictionary<string, int> _features = new(StringComparer.Ordinal);

    /// <param name="shape">The shape as it was last placed; null before that.</param>
    public ElementChoices(ShapeView view, PlacedShape? shape)
    {
        _shape = shape;
        foreach (Sentence sentence in view.Sentences)
            foreach (var slot in sentence.Slots.Where(s => s is { Kind: SlotKind.Name, Written: not null }))
                _features.TryAdd(slot.Written!, sentence.Number);
    }

    /// <summary>What a slot of a feature may name, the latest feature first.</summary>
    /// <param name="before">The feature's number in the list.</param>
    public IReadOnlyList<ElementChoice> For(SlotKind kind, int before) => kind switch
    {
        SlotKind.Feature => Features(before),
        SlotKind.Reach => [new("whole part", ElementPhrase.Of("whole part"), "all that is there so far"), .. Features(before)],
        _ => [.. Elements(before).Where(e => Fits(kind, e)).Select(e => new ElementChoice(e.Name, ElementPhrase.Of(e.Name), ElementWords.Of(e, default)))],
    };

    /// <summary>The first of some names that a slot may name.</summary>
    public string? FirstFitting(IEnumerable<string> names, SlotKind kind, int before)
    {
        IReadOnlyList<ElementChoice> all = For(kind, before);
        bool isFeature = kind is SlotKind.Feature or SlotKind.Reach;
        return names.Select(n => isFeature ? n.Split('.')[0] : n).FirstOrDefault(n => all.Any(c => c.Name == n || (isFeature && c.Name == n.Split('#')[0])));
    }

    /// <summary>The names that belong to a feature on the part.</summary>
    public IReadOnlyList<string> Of(Sentence sentence)
    {
        if (_shape is null) return [];
        string[] own = [.. sentence.Slots.Where(s => s is { Kind: SlotKind.Name, Written: not null }).Select(s => s.Written!)];
        string[] elements = [.. _shape.Elements.Keys.Where(k => own.Contains(FeatureOf(k)) && k.Contains('.', StringComparison.Ordinal))];
        // What it works on bears the other feature's name: the face of a rounded end.
        string[] others = [.. sentence.Slots.Where(s => s.Kind is SlotKind.FlatElement or SlotKind.RoundElement or SlotKind.Element && s.Written is not null).Select(s => s.Written!)];
        return elements.Length == 0 ? others : sentence.Title == "a rounded end" ? [.. elements, .. others] : elements;
    }

    private IEnumerable<Element> Elements(int before) => _shape is null ? []
        : _shape.Elements.Values.Where(e => NumberOf(e.Name) < before).OrderByDescending(e => NumberOf(e.Name)).ThenBy(e => e.Name, StringComparer.Ordinal);

    private IReadOnlyList<ElementChoice> Features(int before) =>
        [.. _features.Where(f => f.Value < before).OrderByDescending(f => f.Value).Select(f => new ElementChoice(f.Key, f.Key, ""))];

    /// <summary>Ground and upright are there from the beginning.</summary>
    private int NumberOf(string element) => element is "ground" or "upright" ? -1 : _features.GetValueOrDefault(FeatureOf(element), int.MaxValue);

    private static string FeatureOf(string element) => element.Split('.', '#')[0];

    private static bool Fits(SlotKind kind, Element element) => kind switch
    {
        SlotKind.FlatElement => element is FlatElement,
        SlotKind.RoundElement => element is RoundElement or ConeElement or AxisElement,
        _ => element is not AxisElement && element.Name.Contains('.', StringComparison.Ordinal),
    };
}
