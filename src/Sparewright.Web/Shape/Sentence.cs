using System.Text;
using Sparewright.Part;
using Sparewright.Web.Shape.Forms;

namespace Sparewright.Web.Shape;

/// <summary>A feature of the job's text as a sentence.</summary>
/// <param name="Number">Its place in the list, from 0.</param>
/// <param name="Name">Empty where none is written.</param>
/// <param name="Title">What it is: "a round boss".</param>
/// <param name="Offers">What else can be said of it.</param>
/// <param name="Start">Its first character in the text.</param>
/// <param name="End">Behind its last.</param>
public sealed record Sentence(int Number, string Name, string Title, IReadOnlyList<SentencePiece> Pieces, IReadOnlyList<Offer> Offers, int Start, int End)
{
    public string Path => $"shape/{Number.ToString(System.Globalization.CultureInfo.InvariantCulture)}";

    /// <summary>All slots, also those of the sentences within.</summary>
    public IEnumerable<SentencePiece.Slot> Slots => SentencePiece.SlotsOf(Pieces);

    /// <summary>As it is read aloud.</summary>
    public override string ToString()
    {
        var text = new StringBuilder();
        SentencePiece.Write(Pieces, text);
        return text.ToString();
    }
}

/// <summary>A piece of a sentence.</summary>
public abstract record SentencePiece
{
    public sealed record Words(string Text) : SentencePiece;

    /// <param name="Path">Where it is written in the text.</param>
    /// <param name="Written">What stands there; null where nothing does.</param>
    /// <param name="Otherwise">What is meant where nothing is written; null: something must be.</param>
    /// <param name="Start">Of what stands there, in the text; with nothing there, of what it would stand in.</param>
    public sealed record Slot(string Path, SlotKind Kind, string Label, string? Written, string? Otherwise, IReadOnlyList<string>? Choices, int Start, int End) : SentencePiece
    {
        /// <summary>The list that this is a coordinate of, where that is not written yet.</summary>
        internal (string Path, int Count)? MissingPoint { get; init; }

        public string Shown => Written ?? Otherwise ?? "";

        /// <summary>As one says it.</summary>
        public string Spoken => IsName ? ElementPhrase.Of(Shown) : Shown;

        /// <summary>Whether it names an element or a feature.</summary>
        public bool IsName => Kind is SlotKind.FlatElement or SlotKind.RoundElement or SlotKind.Element or SlotKind.Feature or SlotKind.Reach;

        /// <summary>Fills the slot.</summary>
        public TextChange Fill(string value, string owner)
        {
            string what = owner.Length > 0 ? $"{Label} of {owner}" : Label;
            if (MissingPoint is not { } point) return TextChange.Write(Path, value, what);
            int own = Path[^1] - '0';
            return TextChange.Write(point.Path, new JobValue.List([.. Enumerable.Range(0, point.Count).Select(k => (JobValue)(k == own ? value : "0"))]), what);
        }
    }

    /// <summary>Which kind of outline or piece it is.</summary>
    public sealed record WhichKind(string Path, string Title, string Noun, IReadOnlyList<Offer> Others) : SentencePiece;

    /// <summary>Sentences within, each on a line of its own.</summary>
    public sealed record Lines(IReadOnlyList<Line> All) : SentencePiece;

    public static IEnumerable<Slot> SlotsOf(IEnumerable<SentencePiece> pieces) => pieces.SelectMany(piece => piece switch
    {
        Slot slot => [slot],
        Lines lines => lines.All.SelectMany(line => SlotsOf(line.Pieces)),
        _ => Enumerable.Empty<Slot>(),
    });

    /// <summary>Whether a blank stands between what is written so far and a word.</summary>
    public static bool Parted(string before, string after) => before.Length > 0 && after.Length > 0 && before[^1] is not '(' and not '\n' && after[0] is not (',' or '.' or ':' or ')');

    internal static void Write(IEnumerable<SentencePiece> pieces, StringBuilder text)
    {
        foreach (SentencePiece piece in pieces)
        {
            if (piece is Lines lines)
            {
                foreach (Line line in lines.All)
                {
                    text.Append("\n  ");
                    var inner = new StringBuilder();
                    Write(line.Pieces, inner);
                    text.Append(inner.Replace("\n", "\n  "));
                }

                continue;
            }

            string words = piece switch { Words w => w.Text, Slot s => s.Shown.Length > 0 ? s.Spoken : "…", WhichKind k => k.Title, _ => "" };
            if (Parted(text.Length > 0 ? text[^1].ToString() : "", words)) text.Append(' ');
            text.Append(words);
        }
    }
}

/// <summary>A sentence within a sentence: a corner, a piece of a path, an outline among others.</summary>
public sealed record Line(string Path, IReadOnlyList<SentencePiece> Pieces, IReadOnlyList<Offer> Offers);
