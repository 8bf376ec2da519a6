using Sparewright.Part;

namespace Sparewright.Web.Shape;

/// <summary>The shape of a job's text as sentences, with every problem at its slot, at its feature, or apart.</summary>
public sealed class ShapeView
{
    private readonly Dictionary<string, List<Problem>> _atSlots = new(StringComparer.Ordinal);
    private readonly Dictionary<int, List<Problem>> _atSentences = [];

    private ShapeView(string text, IReadOnlyList<Sentence> sentences, IReadOnlyList<string> sizes, Problem? unreadable) => (Text, Sentences, Sizes, Unreadable) = (text, sentences, sizes, unreadable);

    public string Text { get; }

    public IReadOnlyList<Sentence> Sentences { get; }

    /// <summary>The names of all sizes, in their order.</summary>
    public IReadOnlyList<string> Sizes { get; }

    /// <summary>Why the text cannot be read at all.</summary>
    public Problem? Unreadable { get; }

    /// <summary>Problems outside the shape.</summary>
    public IReadOnlyList<Problem> Elsewhere { get; private set; } = [];

    public IReadOnlyList<Problem> At(SentencePiece.Slot slot) => _atSlots.GetValueOrDefault(slot.Path) ?? [];

    /// <summary>Problems of a feature that belong to none of its slots.</summary>
    public IReadOnlyList<Problem> At(Sentence sentence) => _atSentences.GetValueOrDefault(sentence.Number) ?? [];

    /// <summary>Every problem of the shape, with the sentence and the slot that it belongs to, in the order of the list.</summary>
    public IEnumerable<(Sentence Sentence, SentencePiece.Slot? Slot, Problem Problem)> InShape => Sentences.SelectMany(s =>
        At(s).Select(p => (s, (SentencePiece.Slot?)null, p)).Concat(s.Slots.SelectMany(slot => At(slot).Select(p => (s, (SentencePiece.Slot?)slot, p)))));

    public static ShapeView Of(string text, IReadOnlyList<Problem> problems)
    {
        if (Written.Read(text, out Problem? unreadable) is not { } root) return new ShapeView(text, [], [], unreadable);
        int count = root.At("shape") is Written.List list ? list.Items.Count : 0;
        var view = new ShapeView(text, [.. Enumerable.Range(0, count).Select(k => SentenceReader.Read(root, k))],
            root.At("sizes") is Written.Group sizes ? [.. sizes.Entries.Select(e => e.Key)] : [], null);
        view.Place(problems);
        return view;
    }

    private void Place(IReadOnlyList<Problem> problems)
    {
        var lines = new Lines(Text);
        var elsewhere = new List<Problem>();
        foreach (Problem problem in problems)
        {
            int at = lines.OffsetOf(problem.Place);
            Sentence? sentence = problem.Place.Line == 0 ? null : Sentences.FirstOrDefault(s => s.Start <= at && at <= s.End);
            if (sentence is null)
            {
                elsewhere.Add(problem);
                continue;
            }

            SentencePiece.Slot? slot = sentence.Slots.Where(s => s.Written is not null && s.Start <= at && at <= s.End).MinBy(s => s.End - s.Start)
                ?? sentence.Slots.FirstOrDefault(s => s.Written is null && problem.What.Contains($"`{s.Path[(s.Path.LastIndexOf('/') + 1)..]}`", StringComparison.Ordinal));
            if (slot is not null) Add(_atSlots, slot.Path, problem);
            else Add(_atSentences, sentence.Number, problem);
        }

        Elsewhere = elsewhere;
    }

    private static void Add<TKey>(Dictionary<TKey, List<Problem>> to, TKey key, Problem problem) where TKey : notnull
    {
        if (!to.TryGetValue(key, out List<Problem>? list)) to[key] = list = [];
        list.Add(problem);
    }
}
