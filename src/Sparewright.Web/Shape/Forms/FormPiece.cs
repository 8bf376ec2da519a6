using Sparewright.Part;

namespace Sparewright.Web.Shape.Forms;

/// <summary>A piece of a sentence's form. Keys are paths within what the form describes; an empty one is the thing itself.</summary>
internal abstract record FormPiece
{
    public static implicit operator FormPiece(string words) => new Words(words);

    public sealed record Words(string Text) : FormPiece;

    /// <param name="Label">What the slot is called, where its sentence cannot be heard.</param>
    /// <param name="Otherwise">What is meant where nothing is written; null: something must be.</param>
    /// <param name="Choices">The words of a <see cref="SlotKind.Word"/>.</param>
    public sealed record Slot(string Key, SlotKind Kind, string Label, string? Otherwise = null, IReadOnlyList<string>? Choices = null) : FormPiece;

    /// <summary>Two or three coordinates.</summary>
    public sealed record Point(string Key, int Count, string Label) : FormPiece;

    /// <summary>Something that may be said or not.</summary>
    /// <param name="Add">Offers to say it: "turn it".</param>
    /// <param name="Remove">Offers to say it no more: "do not turn it".</param>
    /// <param name="Start">What it begins with.</param>
    public sealed record Option(string Key, string Add, string Remove, JobValue Start, IReadOnlyList<FormPiece> Pieces) : FormPiece;

    /// <summary>Something that is said in one of several ways.</summary>
    /// <param name="MayBeNone">Whether it may be left unsaid.</param>
    public sealed record Choice(bool MayBeNone, IReadOnlyList<Way> Ways) : FormPiece;

    /// <summary>A sentence within: which one, its own telling key says.</summary>
    public sealed record Nested(string Key, Func<FormSet> Set) : FormPiece;

    /// <summary>A list of likes; where only one is allowed to stand without brackets, that one.</summary>
    /// <param name="Add">Offers one more: "one more corner".</param>
    /// <param name="Least">How many must stay.</param>
    /// <param name="InLines">Whether each has a line of its own.</param>
    public sealed record Each(string Key, string Noun, string Add, JobValue Start, int Least, bool InLines, IReadOnlyList<FormPiece> Item) : FormPiece;
}

/// <summary>One way to say something.</summary>
/// <param name="Key">The key that tells this way.</param>
/// <param name="Offer">Offers it: "through something instead".</param>
/// <param name="Start">The keys that it begins with.</param>
internal sealed record Way(string Key, string Offer, JobValue.Group Start, IReadOnlyList<FormPiece> Pieces);

/// <summary>The forms of sentences of one sort, told apart by a key that only one has.</summary>
internal sealed record FormSet(string Noun, IReadOnlyList<SentenceForm> Forms)
{
    public SentenceForm? Find(IEnumerable<string> keys) => keys.Select(k => Forms.FirstOrDefault(f => f.Key == k)).FirstOrDefault(f => f is not null);
}

/// <summary>How one kind of thing is said.</summary>
/// <param name="Key">The key that tells the kind.</param>
/// <param name="Title">What it is, with its article.</param>
/// <param name="Start">What a new one begins with; null where that depends on what is there already.</param>
internal sealed record SentenceForm(string Key, string Title, JobValue.Group? Start, IReadOnlyList<FormPiece> Pieces);
