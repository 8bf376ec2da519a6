using Sparewright.Measure.Quantities;
using Sparewright.Part.Sizes;
using Quantity = Sparewright.Part.Sizes.Quantity;

namespace Sparewright.Part;

/// <summary>What one reading of a job file has found so far: problems, the names that it introduces, and the names that it uses.</summary>
internal sealed class Findings
{
    /// <summary>Nobody reads more; and a hostile file must not cost more.</summary>
    public const int MostProblems = 100;

    private readonly List<(SizeExpression Expression, Quantity Wanted, Place Place)> _quantities = [];

    public List<Problem> Problems { get; } = [];

    public NameLedger Sizes { get; } = new("size");

    public NameLedger Features { get; } = new("feature");

    public NameLedger Instruments { get; } = new("instrument");

    public NameLedger ReadingIds { get; } = new("reading");

    public NameLedger Counterparts { get; } = new("counterpart");

    /// <summary>Counterparts that trials name.</summary>
    public NameLedger Tried { get; } = new("counterpart");

    public NameLedger Loads { get; } = new("load");

    /// <summary>Words for a fit, the user's own ones introduced.</summary>
    public NameLedger FitWords { get; } = new("word for a fit");

    /// <summary>The number of the feature that is being read; outside the shape, after all of them.</summary>
    public int FeatureNumber { get; set; } = int.MaxValue;

    /// <summary>A feature has no name that could be read: what uses it is not to blame.</summary>
    public bool HasNamelessFeature { get; set; }

    /// <summary>Expressions whose quantity can be judged once all sizes are known.</summary>
    public IReadOnlyList<(SizeExpression Expression, Quantity Wanted, Place Place)> Quantities => _quantities;

    public void Add(Place place, string what, string remedy)
    {
        if (Problems.Count < MostProblems) Problems.Add(new Problem(place, what, remedy));
    }

    public void Expect(SizeExpression expression, Quantity wanted, Place place) => _quantities.Add((expression, wanted, place));

    /// <summary>The known name that was probably meant, or null.</summary>
    public string? Nearest(string word, IEnumerable<string> known) =>
        Problems.Count >= MostProblems || word.Length > NameLedger.LongestName ? null : Spelling.Nearest(word, known);

    /// <summary><c>did you mean `x`?</c>, or what else to do.</summary>
    public string DidYouMean(string word, IReadOnlyCollection<string> known, string otherwise) =>
        Nearest(word, known) is { } nearest ? $"did you mean {Show.Name(nearest)}?" : otherwise;
}

/// <summary>Names of one kind: where each is introduced, and where it is used.</summary>
internal sealed class NameLedger(string noun)
{
    public const int LongestName = 64;

    private readonly Dictionary<string, (Place Place, int Order)> _introduced = new(StringComparer.Ordinal);
    private readonly List<(string Name, Place Place, int Order)> _used = [];

    public string Noun => noun;

    public IReadOnlyCollection<string> Names => _introduced.Keys;

    public IReadOnlyList<(string Name, Place Place, int Order)> Used => _used;

    /// <summary>False when the name is taken already.</summary>
    public bool Introduce(string name, Place place, int order, Findings findings)
    {
        if (_introduced.TryAdd(name, (place, order))) return true;
        findings.Add(place, $"there is another {noun} {Show.Name(name)} in line {_introduced[name].Place.Line}", "give one of them another name");
        return false;
    }

    public void Use(string name, Place place, int order = int.MaxValue) => _used.Add((name, place, order));

    public bool HasAny(int order) => _introduced.Values.Any(i => i.Order == order);

    public (Place Place, int Order)? Find(string name) => _introduced.TryGetValue(name, out var found) ? found : null;
}

/// <summary>How pieces of the user's text are shown in a message.</summary>
internal static class Show
{
    public static string Name(string text) => $"`{Clip(text)}`";

    /// <summary>At most forty characters, on one line.</summary>
    public static string Clip(string text)
    {
        string line = text.ReplaceLineEndings(" ");
        if (line.Length <= 40) return line;
        int end = char.IsHighSurrogate(line[38]) ? 38 : 39;
        return line[..end] + "…";
    }

    /// <summary>On one line.</summary>
    public static string Line(string text) => text.ReplaceLineEndings(" ");

    public static string List(IEnumerable<string> names, string last = "or")
    {
        string[] all = [.. names];
        return all.Length < 2 ? string.Concat(all) : $"{string.Join(", ", all[..^1])} {last} {all[^1]}";
    }
}
