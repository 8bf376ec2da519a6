using System.Globalization;
using Sparewright.Part;
using Sparewright.Web.Shape.Forms;

namespace Sparewright.Web.Shape;

/// <summary>Reads a feature of the job's text as a sentence, whether or not it is right: whatever is written has its slot.</summary>
internal sealed class SentenceReader
{
    private readonly Written _root;
    private readonly HashSet<string> _drawn = new(StringComparer.Ordinal);

    private SentenceReader(Written root) => _root = root;

    public static Sentence Read(Written root, int number)
    {
        string path = Under("shape", number);
        var reader = new SentenceReader(root);
        Written feature = root.At(path.Split('/'))!;
        var pieces = new List<SentencePiece>();
        var offers = new List<Offer>();
        SentenceForm? form = reader.FormAt(FeatureSentences.All, path);
        if (form is not null) reader.Read(form.Pieces, path, pieces, offers, "");
        else pieces.Add(new SentencePiece.Words("Something whose kind is not said."));
        reader.AddTheRest(feature, path, pieces, offers);
        string name = form is not null && reader.At(Under(path, form.Key)) is Written.Value value ? value.Text : "";
        return new Sentence(number, name, form?.Title ?? "something", pieces, offers, feature.Start, feature.End);
    }

    private void Read(IEnumerable<FormPiece> forms, string path, List<SentencePiece> pieces, List<Offer> offers, string prefix)
    {
        foreach (FormPiece form in forms) Read(form, path, pieces, offers, prefix);
    }

    private void Read(FormPiece form, string path, List<SentencePiece> pieces, List<Offer> offers, string prefix)
    {
        switch (form)
        {
            case FormPiece.Words words:
                pieces.Add(new SentencePiece.Words(words.Text));
                break;
            case FormPiece.Slot slot:
                pieces.Add(Slot(slot, Under(path, slot.Key)));
                break;
            case FormPiece.Point point:
                ReadPoint(point, Under(path, point.Key), pieces);
                break;
            case FormPiece.Option option:
                string key = Under(path, option.Key);
                if (At(key) is null)
                {
                    offers.Add(new Offer(prefix + option.Add, TextChange.Write(key, option.Start, option.Add)));
                    break;
                }

                Read(option.Pieces, path, pieces, offers, prefix);
                offers.Add(new Offer(prefix + option.Remove, TextChange.Remove(key, option.Remove)));
                break;
            case FormPiece.Choice choice:
                ReadChoice(choice, path, pieces, offers, prefix);
                break;
            case FormPiece.Nested nested:
                ReadNested(nested.Set(), Under(path, nested.Key), pieces, offers, prefix);
                break;
            case FormPiece.Each each:
                ReadEach(each, Under(path, each.Key), pieces, offers, prefix);
                break;
        }
    }

    private SentencePiece.Slot Slot(FormPiece.Slot form, string path)
    {
        Written? there = At(path);
        if (there is Written.Value value)
        {
            _drawn.Add(path);
            return new(path, form.Kind, form.Label, value.Text, form.Otherwise, form.Choices, value.Start, value.End);
        }

        int at = Nearest(path);
        return new(path, form.Kind, form.Label, null, form.Otherwise, form.Choices, at, at);
    }

    private void ReadPoint(FormPiece.Point form, string path, List<SentencePiece> pieces)
    {
        Written? there = At(path);
        if (there is Written.Value)
        {
            pieces.Add(Slot(new FormPiece.Slot("", SlotKind.Other, form.Label), path));
            return;
        }

        int count = Math.Max(form.Count, there is Written.List list ? list.Items.Count : 0);
        string[] names = form.Count == 3 ? ["to the right", "to the back", "upward"] : ["first coordinate", "second coordinate"];
        for (int k = 0; k < count; k++)
        {
            pieces.Add(new SentencePiece.Words(k == 0 ? "(" : ","));
            SentencePiece.Slot slot = Slot(new FormPiece.Slot("", SlotKind.Length, $"{form.Label}, {(k < names.Length ? names[k] : "one too many")}"), Under(path, k));
            pieces.Add(there is null ? slot with { MissingPoint = (path, form.Count) } : slot);
        }

        pieces.Add(new SentencePiece.Words(")"));
    }

    private void ReadChoice(FormPiece.Choice choice, string path, List<SentencePiece> pieces, List<Offer> offers, string prefix)
    {
        Way[] said = [.. choice.Ways.Where(w => At(Under(path, w.Key)) is not null)];
        // Where several are said though only one may be, the others come with the rest.
        if (said.Length > 0) Read(said[0].Pieces, path, pieces, offers, prefix);
        string[] keys = [.. said.SelectMany(w => KeysOf(w.Pieces)).Distinct(StringComparer.Ordinal).Where(k => At(Under(path, k)) is not null)];
        foreach (Way way in choice.Ways.Where(w => said.Length > 1 || !said.Contains(w)))
        {
            // What both ways say stays, unless it begins as something else.
            string[] gone = [.. keys.Where(k => said.Length == 1 || !KeysOf(way.Pieces).Contains(k))];
            IEnumerable<TextChange> steps = [.. gone.Select(k => TextChange.Remove(Under(path, k), way.Offer)), .. way.Start.Entries.Where(e => said.Length <= 1).Select(e => TextChange.Write(Under(path, e.Key), e.Value, way.Offer))];
            offers.Add(new Offer(prefix + way.Offer, TextChange.All(path, way.Offer, steps)));
        }

        if (choice.MayBeNone && said.Length > 0) offers.Add(new Offer(prefix + "leave its place unsaid", TextChange.All(path, "place unsaid", keys.Select(k => TextChange.Remove(Under(path, k), "")))));
    }

    private void ReadNested(FormSet set, string path, List<SentencePiece> pieces, List<Offer> offers, string prefix)
    {
        SentenceForm? form = FormAt(set, path);
        if (set.Noun == "feature")
        {
            if (form is not null) Read(form.Pieces.Where(p => p is not FormPiece.Words { Text: "." }), path, pieces, offers, "each: ");
            pieces.Add(new SentencePiece.Words("."));
            return;
        }

        pieces.Add(new SentencePiece.WhichKind(path, form?.Title ?? "…", set.Noun,
            [.. set.Forms.Where(f => f != form).Select(f => new Offer(f.Title, TextChange.Write(path, f.Start!, $"{set.Noun} becomes {f.Title}")))]));
        if (form is not null) Read(form.Pieces, path, pieces, offers, prefix);
    }

    private void ReadEach(FormPiece.Each each, string path, List<SentencePiece> pieces, List<Offer> offers, string prefix)
    {
        Written? there = At(path);
        string[] items = there switch
        {
            Written.List list => [.. Enumerable.Range(0, list.Items.Count).Select(k => Under(path, k))],
            null => [],
            _ => [path],
        };
        var lines = new List<Line>();
        for (int k = 0; k < items.Length; k++)
        {
            if (!each.InLines)
            {
                if (k > 0) pieces.Add(new SentencePiece.Words(k == items.Length - 1 ? "and" : ","));
                Read(each.Item, items[k], pieces, offers, prefix);
                if (items.Length > each.Least) offers.Add(new Offer($"{prefix}take away {each.Noun} {(k + 1).ToString(CultureInfo.InvariantCulture)}", TextChange.Remove(items[k], $"take away a {each.Noun}")));
                continue;
            }

            var inner = new List<SentencePiece>();
            var innerOffers = new List<Offer>();
            Read(each.Item, items[k], inner, innerOffers, "");
            if (items.Length > each.Least) innerOffers.Add(new Offer("take it away", TextChange.Remove(items[k], $"take away a {each.Noun}")));
            if (there is Written.List)
            {
                if (k > 0) innerOffers.Add(new Offer("move it up", TextChange.Move(path, k, k - 1, $"move a {each.Noun}")));
                if (k < items.Length - 1) innerOffers.Add(new Offer("move it down", TextChange.Move(path, k, k + 1, $"move a {each.Noun}")));
                innerOffers.Add(new Offer($"{each.Add} below", TextChange.Insert(path, k + 1, each.Start, each.Add)));
            }

            lines.Add(new Line(items[k], inner, innerOffers));
        }

        if (lines.Count > 0) pieces.Add(new SentencePiece.Lines(lines));
        if (there is not Written.List && there is not null)
            offers.Add(new Offer(prefix + each.Add, TextChange.Write(path, new JobValue.List([ValueOf(there), each.Start]), each.Add)));
        else if (lines.Count == 0)
            offers.Add(new Offer(prefix + each.Add, TextChange.Write(Under(path, JobText.NewEntry), each.Start, each.Add)));
    }

    /// <summary>What no form had a place for is said at the end, as it is written.</summary>
    private void AddTheRest(Written feature, string path, List<SentencePiece> pieces, List<Offer> offers)
    {
        foreach (string rest in Undrawn(feature, path))
        {
            pieces.Add(new SentencePiece.Words($"Also written, {rest[(path.Length + (rest.Length > path.Length ? 1 : 0))..].Replace('/', ' ')}:"));
            foreach (string leaf in Leaves(At(rest)!, rest)) pieces.Add(Slot(new FormPiece.Slot("", SlotKind.Other, leaf[(leaf.LastIndexOf('/') + 1)..]), leaf));
            pieces.Add(new SentencePiece.Words("."));
            if (rest != path) offers.Add(new Offer($"take away what is written under {rest[(rest.LastIndexOf('/') + 1)..]}", TextChange.Remove(rest, "take away what has no meaning")));
        }
    }

    /// <summary>The topmost places nothing of which is drawn, though something is written there.</summary>
    private IEnumerable<string> Undrawn(Written node, string path)
    {
        string[] leaves = [.. Leaves(node, path)];
        if (leaves.All(_drawn.Contains)) return [];
        if (!leaves.Any(_drawn.Contains) && path.Count(c => c == '/') > 1) return [path];
        return node switch
        {
            Written.Group group => group.Entries.SelectMany(e => Undrawn(e.Value, Under(path, e.Key))),
            Written.List list => list.Items.SelectMany((item, k) => Undrawn(item, Under(path, k))),
            _ => [path],
        };
    }

    internal static IEnumerable<string> Leaves(Written node, string path) => node switch
    {
        Written.Group group => group.Entries.SelectMany(e => Leaves(e.Value, Under(path, e.Key))),
        Written.List list => list.Items.SelectMany((item, k) => Leaves(item, Under(path, k))),
        _ => [path],
    };

    private static JobValue ValueOf(Written written) => written switch
    {
        Written.Group group => new JobValue.Group([.. group.Entries.Select(e => (e.Key, ValueOf(e.Value)))]),
        Written.List list => new JobValue.List([.. list.Items.Select(ValueOf)]),
        Written.Value value => value.Text,
        _ => "",
    };

    private static IEnumerable<string> KeysOf(IEnumerable<FormPiece> pieces) => pieces.SelectMany(piece => piece switch
    {
        FormPiece.Slot slot => [First(slot.Key)],
        FormPiece.Point point => [First(point.Key)],
        FormPiece.Option option => [option.Key],
        FormPiece.Choice choice => choice.Ways.SelectMany(w => KeysOf(w.Pieces)),
        FormPiece.Each each => [First(each.Key)],
        FormPiece.Nested nested => [First(nested.Key)],
        _ => Enumerable.Empty<string>(),
    });

    private static string First(string key) => key.Split('/')[0];

    private SentenceForm? FormAt(FormSet set, string path) => At(path) is Written.Group group ? set.Find(group.Entries.Select(e => e.Key)) : null;

    private Written? At(string path) => _root.At(path.Split('/'));

    /// <summary>Where the nearest thing begins that a missing place would stand in.</summary>
    private int Nearest(string path)
    {
        string[] steps = path.Split('/');
        for (int n = steps.Length - 1; n > 0; n--)
            if (_root.At(steps.Take(n)) is { } there) return there.Start;
        return 0;
    }

    private static string Under(string path, string key) => key.Length == 0 ? path : $"{path}/{key}";

    private static string Under(string path, int number) => $"{path}/{number.ToString(CultureInfo.InvariantCulture)}";
}
