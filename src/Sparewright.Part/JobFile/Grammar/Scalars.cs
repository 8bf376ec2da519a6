using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Sparewright.Measure.Quantities;
using Sparewright.Part.Yaml;

namespace Sparewright.Part.Grammar;

/// <summary>Any text, not empty.</summary>
internal sealed class TextForm(string phrase = "a text") : Form<string>
{
    private const int Longest = 2000;

    public override string Phrase => phrase;

    // A plain text that looks like a number is a number to other programs; here it is text as well.
    public override JsonObject Describe(Definitions definitions) =>
        new() { ["type"] = new JsonArray("string", "number", "boolean"), ["minLength"] = 1, ["maxLength"] = Longest, ["pattern"] = @"\S" };

    public override bool TryRead(YamlNode node, Findings findings, [MaybeNullWhen(false)] out string value)
    {
        value = (node as YamlScalar)?.Text;
        if (node is not YamlScalar scalar || scalar.Text.Trim().Length == 0) return RefuseKind(node, findings);
        if (scalar.Text.Length > Longest)
            return Refuse(node, findings, $"this text has {scalar.Text.Length} characters; {Longest} are the most", "say it more shortly, and keep the rest in a file beside the job");
        value = scalar.Text.Trim();
        return true;
    }
}

/// <summary>A text of a given make, such as a name.</summary>
/// <param name="orNumber">It may look like a whole number, which other programs then take for one.</param>
internal sealed class PatternForm([StringSyntax(StringSyntaxAttribute.Regex)] string pattern, string phrase, string remedy, bool orNumber = false) : Form<string>
{
    // Patterns of ours in which each character has one way to match, over 64 characters at most.
    private readonly Regex _regex = new($@"\A(?:{pattern})\z", RegexOptions.CultureInvariant);

    public override string Phrase => phrase;

    public override JsonObject Describe(Definitions definitions) =>
        new() { ["type"] = orNumber ? new JsonArray("string", "integer") : "string", ["pattern"] = $"^(?:{pattern})$", ["maxLength"] = NameLedger.LongestName };

    public override bool TryRead(YamlNode node, Findings findings, [MaybeNullWhen(false)] out string value)
    {
        value = null;
        if (node is not YamlScalar { IsNothing: false } scalar) return RefuseKind(node, findings);
        if (scalar is { Style: ScalarStyle.Plain, Text: "true" or "false" or "null" })
            return Refuse(node, findings, $"{Show.Name(scalar.Text)} is not {phrase} to every program", "choose another name");
        if (scalar.Text.Length > NameLedger.LongestName || !_regex.IsMatch(scalar.Text))
            return Refuse(node, findings, $"{Show.Name(scalar.Text)} is not {phrase}", remedy);
        value = scalar.Text;
        return true;
    }
}

/// <summary>One of a few words.</summary>
internal sealed class WordForm<T>(string noun, params (string Word, T Value)[] words) : Form<T>
{
    public override string Phrase => Show.List(words.Select(w => $"`{w.Word}`"));

    public override JsonObject Describe(Definitions definitions) => new() { ["enum"] = new JsonArray([.. words.Select(w => JsonValue.Create(w.Word))]) };

    public override bool TryRead(YamlNode node, Findings findings, [MaybeNullWhen(false)] out T value)
    {
        value = default;
        if (node is not YamlScalar { IsNothing: false } scalar)
            return Refuse(node, findings, Found(node), $"write {Phrase}");
        foreach (var (word, meaning) in words)
        {
            if (word != scalar.Text) continue;
            value = meaning!;
            return true;
        }

        string all = $"write {Phrase}";
        return Refuse(node, findings, $"{Show.Name(scalar.Text)} is not {noun}", words.Length > 9 ? findings.DidYouMean(scalar.Text, [.. words.Select(w => w.Word)], all) :
            findings.Nearest(scalar.Text, words.Select(w => w.Word)) is { } nearest ? $"did you mean {Show.Name(nearest)}? The words are {Show.List(words.Select(w => w.Word), "and")}" : all);
    }
}

/// <summary>Yes or no; true and false are taken too, because some programs write them.</summary>
internal sealed class YesNoForm : Form<bool>
{
    public override string Phrase => "`yes` or `no`";

    public override JsonObject Describe(Definitions definitions) => new() { ["enum"] = new JsonArray("yes", "no", true, false) };

    public override bool TryRead(YamlNode node, Findings findings, out bool value)
    {
        value = node is YamlScalar { Text: "yes" or "true" };
        return node is YamlScalar { Text: "yes" or "no" or "true" or "false" }
            || Refuse(node, findings, node is YamlScalar { IsNothing: false } s ? $"{Show.Name(s.Text)} is neither yes nor no" : Found(node), "write yes or no");
    }
}

/// <param name="Name">Which break, where it was said.</param>
internal sealed record BreakSaid(bool Is, string? Name);

/// <summary>Yes, no, or the name of a glued break.</summary>
internal sealed class BreakForm : Form<BreakSaid>
{
    private static readonly YesNoForm YesNo = new();
    private static readonly TextForm Name = new("a break's name");

    public override string Phrase => "`yes`, `no`, or a break's name";

    public override JsonObject Describe(Definitions definitions) => Name.Describe(definitions);

    public override bool TryRead(YamlNode node, Findings findings, [MaybeNullWhen(false)] out BreakSaid value)
    {
        value = null;
        if (node is YamlScalar { Text: "yes" or "no" or "true" or "false" } && YesNo.TryRead(node, findings, out bool is_)) value = new(is_, null);
        else if (node is not YamlScalar { IsNothing: false }) return RefuseKind(node, findings);
        else if (Name.TryRead(node, findings, out string? name)) value = new(true, name);
        return value is not null;
    }
}

/// <summary>A quantity of one kind, between bounds, in the kind's own unit.</summary>
internal sealed class QuantityForm(QuantityKind kind, string phrase, double least = double.NegativeInfinity, double most = double.PositiveInfinity, bool leastExcluded = false) : Form<double>
{
    public override string Phrase => phrase;

    public override JsonObject Describe(Definitions definitions)
    {
        var json = new JsonObject { ["type"] = kind == QuantityKind.Number ? "number" : new JsonArray("number", "string") };
        if (double.IsFinite(least)) json[leastExcluded ? "exclusiveMinimum" : "minimum"] = least;
        if (double.IsFinite(most)) json["maximum"] = most;
        if (kind != QuantityKind.Number) json["pattern"] = Patterns.Quantity(kind);
        return json;
    }

    public override bool TryRead(YamlNode node, Findings findings, out double value)
    {
        value = 0;
        if (node is not YamlScalar { IsNothing: false } scalar) return RefuseKind(node, findings);
        if (kind == QuantityKind.Number && scalar.Style != ScalarStyle.Plain)
            return Refuse(node, findings, $"{Show.Name(scalar.Text)} is in quotes, which make a text of it", "write the number without quotes");
        if (!QuantityText.TryRead(scalar.Text, kind, out var quantity, out var refusal))
            return Refuse(node, findings, Show.Line(refusal.Reason), refusal.Remedy);
        value = quantity.Value;
        if (value > least || (value == least && !leastExcluded) || double.IsNegativeInfinity(least))
        {
            if (value <= most) return true;
        }

        string bounds = double.IsFinite(most) ? $"from {least.ToString(CultureInfo.InvariantCulture)} to {most.ToString(CultureInfo.InvariantCulture)}"
            : leastExcluded ? $"greater than {least.ToString(CultureInfo.InvariantCulture)}" : $"not less than {least.ToString(CultureInfo.InvariantCulture)}";
        return Refuse(node, findings, $"{Show.Name(scalar.Text)} is out of range", phrase.EndsWith(bounds, StringComparison.Ordinal) ? $"write {phrase}" : $"write {phrase} {bounds}");
    }
}

/// <summary>A whole number between bounds.</summary>
internal sealed class CountForm(string phrase, int least, int most) : Form<int>
{
    public override string Phrase => phrase;

    public override JsonObject Describe(Definitions definitions) => new() { ["type"] = "integer", ["minimum"] = least, ["maximum"] = most };

    public override bool TryRead(YamlNode node, Findings findings, out int value)
    {
        value = 0;
        if (node is not YamlScalar { IsNothing: false, Style: ScalarStyle.Plain } scalar) return RefuseKind(node, findings);
        string text = scalar.Text;
        bool plain = text.Length is > 0 and < 10 && text.All(char.IsAsciiDigit) && (text[0] != '0' || text.Length == 1);
        if (!plain) return Refuse(node, findings, $"{Show.Name(text)} is not a whole number", $"write {phrase} from {least} to {most}, in digits only");
        value = int.Parse(text, CultureInfo.InvariantCulture);
        return (value >= least && value <= most) || Refuse(node, findings, $"{Show.Name(text)} is out of range", $"write {phrase} from {least} to {most}");
    }
}

/// <summary>A value that must say its own ±: <c>1.05 ± 0.02</c>, also <c>1.05 +/- 0.02</c>.</summary>
internal sealed class PlusMinusForm(QuantityKind kind, string phrase) : Form<(double Value, double PlusMinus)>
{
    public override string Phrase => phrase;

    public override JsonObject Describe(Definitions definitions) => new() { ["type"] = "string", ["pattern"] = Patterns.PlusMinus(kind) };

    public override bool TryRead(YamlNode node, Findings findings, out (double Value, double PlusMinus) value)
    {
        value = default;
        if (node is not YamlScalar { IsNothing: false } scalar) return RefuseKind(node, findings);
        if (!QuantityText.TryReadPlusMinus(scalar.Text, kind, out var read, out var half, out var refusal))
            return Refuse(node, findings, Show.Line(refusal.Reason), refusal.Remedy);
        if (half is not { } plusMinus)
            return Refuse(node, findings, $"{Show.Name(scalar.Text)} does not say how sure it is", $"write {phrase}");
        if (!(read.Value > 0))
            return Refuse(node, findings, $"{Show.Name(scalar.Text)} is out of range", $"write {phrase}, greater than 0");
        value = (read.Value, plusMinus.Value);
        return true;
    }
}

/// <summary>Water displaced, by volume or, with its unit, by weight.</summary>
internal sealed class WaterForm : Form<Quantity>
{
    private const string Written = "a volume in ml, or in g where a scale showed it";

    public override string Phrase => Written;

    public override JsonObject Describe(Definitions definitions) => new() { ["type"] = new JsonArray("number", "string"), ["exclusiveMinimum"] = 0, ["pattern"] = Patterns.Quantity(QuantityKind.Volume, QuantityKind.Mass) };

    public override bool TryRead(YamlNode node, Findings findings, out Quantity value)
    {
        value = default;
        if (node is not YamlScalar { IsNothing: false } scalar) return RefuseKind(node, findings);
        QuantityKind kind = scalar.Text.EndsWith('g') ? QuantityKind.Mass : QuantityKind.Volume;
        if (!QuantityText.TryRead(scalar.Text, kind, out value, out var refusal)) return Refuse(node, findings, Show.Line(refusal.Reason), refusal.Remedy);
        return value.Value > 0 || Refuse(node, findings, $"{Show.Name(scalar.Text)} is out of range", $"write {Written}, greater than 0");
    }
}

/// <summary>Patterns of quantities for the schema. They are a little wider than the reader: a schema cannot divide.</summary>
internal static class Patterns
{
    private const string Number = @"-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][-+]?\d+)?";

    public static string Quantity(params QuantityKind[] kinds) => $"^(?:{string.Join('|', kinds.Select(Bare))})$";

    public static string PlusMinus(QuantityKind kind) => $@"^{Bare(kind)} ?(?:±|\+/?-) ?{Bare(kind)}$";

    private static string Bare(QuantityKind kind) => kind switch
    {
        QuantityKind.Length => $@"(?:{Number} ?(?:mm)?|-?(?:\d+ )?\d+/\d+ ?(?:in|""|″)|{Number} ?(?:in|""|″))",
        QuantityKind.Angle => $@"{Number} ?(?:deg|°)?",
        QuantityKind.Mass => $@"{Number} ?g?",
        QuantityKind.Temperature => $@"{Number} ?(?:degC|°C)?",
        QuantityKind.Force => $@"{Number} ?N?",
        QuantityKind.Density => $@"{Number} ?(?:g/cm3|g/cm³)?",
        QuantityKind.Volume => $@"{Number} ?(?:ml|cm3|cm³)?",
        _ => Number,
    };
}
