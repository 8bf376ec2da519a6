using System.Diagnostics.CodeAnalysis;
using System.Text.Json.Nodes;
using Sparewright.Measure.Quantities;
using Sparewright.Part.Sizes;
using Sparewright.Part.Yaml;
using Quantity = Sparewright.Part.Sizes.Quantity;

namespace Sparewright.Part.Grammar;

/// <summary>A size expression that stands for a length, an angle or a number.</summary>
/// <param name="wanted">Null: its quantity depends on what it defines, and is checked there.</param>
internal sealed class ExpressionForm(Quantity? wanted, string phrase) : Form<SizeExpression>
{
    public override string Phrase => phrase;

    public override JsonObject Describe(Definitions definitions)
    {
        definitions.Define("expression", () => new JsonObject
        {
            ["description"] = "A size expression: numbers (mm, in, deg), size names, + - * / ^ ( ), pi, sqrt abs min max sin cos tan asin acos atan atan2; angles in degrees.",
            ["type"] = new JsonArray("number", "string"),
            ["pattern"] = @"^[-+*/^(), .0-9a-zE_""″°]+$",
            ["maxLength"] = ExpressionParser.LongestText,
        });
        return new JsonObject { ["$ref"] = "#/$defs/expression" };
    }

    public override bool TryRead(YamlNode node, Findings findings, [MaybeNullWhen(false)] out SizeExpression value)
    {
        value = null;
        if (node is not YamlScalar { IsNothing: false } scalar) return RefuseKind(node, findings);
        ExpressionReading reading = ExpressionParser.Read(scalar.Text);
        if (reading.Refusal is { } refusal)
        {
            findings.Add(scalar.PlaceOf(reading.Offset), refusal.Reason, refusal.Remedy);
            return false;
        }

        foreach (var (name, offset) in reading.Names) findings.Sizes.Use(name, scalar.PlaceOf(offset));
        value = reading.Expression!;
        if (wanted is { } quantity) findings.Expect(value, quantity, scalar.Place);
        return true;
    }
}

/// <summary>A value of a size: a length, or an angle where the unit says so or the size's kind.</summary>
internal sealed class SizeValueForm(string phrase) : Form<SizeValue>
{
    public override string Phrase => phrase;

    public override JsonObject Describe(Definitions definitions) => new()
    {
        ["type"] = new JsonArray("number", "string"),
        ["pattern"] = Patterns.Quantity(QuantityKind.Length, QuantityKind.Angle),
    };

    public override bool TryRead(YamlNode node, Findings findings, [MaybeNullWhen(false)] out SizeValue value)
    {
        value = null;
        if (node is not YamlScalar { IsNothing: false } scalar) return RefuseKind(node, findings);
        bool angle = scalar.Text.EndsWith("deg", StringComparison.Ordinal) || scalar.Text.EndsWith('°');
        if (!QuantityText.TryRead(scalar.Text, angle ? QuantityKind.Angle : QuantityKind.Length, out var quantity, out var refusal))
            return Refuse(node, findings, Show.Line(refusal.Reason), refusal.Remedy);
        bool hasUnit = !char.IsAsciiDigit(scalar.Text.TrimEnd()[^1]);
        value = new SizeValue(quantity.Value, angle ? Quantity.Angle : hasUnit ? Quantity.Length : null, scalar.Place);
        return true;
    }
}

/// <param name="Said">The quantity that the unit says; null without a unit.</param>
internal sealed record SizeValue(double Value, Quantity? Said, Place Place);

/// <summary>What stands behind the name of a size.</summary>
internal sealed record SizeSaid(Quantity Quantity, Given Given)
{
    public MeantSaid? Nominal { get; init; }

    public IReadOnlyList<MeantSaid> NotMeant { get; init; } = [];

    public Size Of(string name, Place place) => new(name, Quantity, Nominal switch
    {
        { Value: { } v } => new Given.Fixed(v.Value),
        { SameAs: { } other } => new Given.EqualTo(other),
        _ => Given,
    }, place)
    { Nominal = Nominal?.Meant, Otherwise = Given, NotMeant = [.. NotMeant.Select(m => m.Meant)] };
}

/// <summary>What may have been meant by a size: a value, or the same as another or as what follows from others.</summary>
/// <param name="Text">Of <paramref name="SameAs"/>, as it is written.</param>
internal sealed record MeantSaid(SizeValue? Value, SizeExpression? SameAs, string? Text, Place Place)
{
    public Meant Meant => Value is { } v ? new Meant.Value(v.Value) : new Meant.SameAs(Text!);
}

/// <summary>A value of a size, the name of another, or an expression of others.</summary>
internal sealed class MeantForm : Form<MeantSaid>
{
    private static readonly SizeValueForm Value = new("a length, an angle, or what is the same: another size, or an expression of others");
    private static readonly ExpressionForm Expression = new(null, Value.Phrase);

    public override string Phrase => Value.Phrase;

    public override JsonObject Describe(Definitions definitions) => new() { ["anyOf"] = new JsonArray(Value.Describe(definitions), Expression.Describe(definitions)) };

    public override bool TryRead(YamlNode node, Findings findings, [MaybeNullWhen(false)] out MeantSaid value)
    {
        value = null;
        string text = node is YamlScalar scalar ? scalar.Text.Trim() : "";
        bool isExpression = ExpressionParser.Read(text) is { Names.Count: > 0 };
        if (isExpression && Expression.TryRead(node, findings, out SizeExpression? same)) value = new(null, same, text, node.Place);
        else if (!isExpression && Value.TryRead(node, findings, out SizeValue? one)) value = new(one, null, null, node.Place);
        return value is not null;
    }
}

internal static class SizeForms
{
    public static readonly Form<SizeExpression> Length = new ExpressionForm(Quantity.Length, "a length expression");
    public static readonly Form<SizeExpression> Angle = new ExpressionForm(Quantity.Angle, "an angle expression");

    /// <summary>The name of a size that is defined elsewhere.</summary>
    public static readonly Form<string> Used = new PatternForm("[a-z][a-z0-9_]*", "a size name", "write the name of a size").Noting((name, place, findings) => { findings.Sizes.Use(name, place); return true; });

    public static readonly Form<string> SizeName = new PatternForm("[a-z][a-z0-9_]*", "a size name", "size names have lower-case letters, digits and underscores, and begin with a letter")
        .Where(name => ExpressionParser.ReservedWords.Contains(name) ? ($"`{name}` is a word of the algebra of sizes", $"call the size something else, as {name}_size") : null)
        .Noting((name, place, findings) => findings.Sizes.Introduce(name, place, 0, findings));

    private static readonly MapForm<LikelySaid> LikelyForm = new("a likely value", "Evidence of its own for a size, beside the readings: a data sheet, a habit of the trade.", map =>
    {
        var value = map.Required("value", new SizeValueForm("a length or an angle"), "the likely value");
        var plusMinus = map.Required("plus_minus", new SizeValueForm("a length or an angle"), "its ±, which holds in 95 of 100 cases");
        return entry => entry.Of(plusMinus).Value > 0
            ? new LikelySaid(entry.Of(value), entry.Of(plusMinus))
            : entry.Refuse<LikelySaid>("plus_minus", "a likely value needs a ± greater than 0", "write how sure you are, or use `fixed`");
    });

    private sealed record LikelySaid(SizeValue Value, SizeValue PlusMinus);

    private static readonly MapForm<SizeSaid> SizeMap = new("a size",
        "A named linear size or angle that the shape is described with. Without any key, the readings start it and decide it.", map =>
    {
        var about = map.Optional("about", new SizeValueForm("a length or an angle"), "a starting value; no evidence");
        var likely = map.Optional("likely", LikelyForm, "evidence of its own");
        var @fixed = map.Optional("fixed", new SizeValueForm("a length or an angle"), "a value that binds");
        var equals = map.Optional("equals", new ExpressionForm(null, "an expression"), "follows from other sizes by this expression");
        var kind = map.OptionalValue("kind", new WordForm<Quantity>("a kind of size", ("length", Quantity.Length), ("angle", Quantity.Angle)), "`angle` where no value with the unit deg says it; otherwise a length");
        var nominal = map.Optional("nominal", new MeantForm(), "what the designer meant, once that is settled: binds the size, whatever else is said of it");
        var notNominal = map.OptionalOr("not_nominal", new ListForm<MeantSaid>(new MeantForm(), "a list of values"), [], "what was looked at and is not what the designer meant: not proposed again");
        map.AtMostOne("about", "likely", "fixed", "equals");
        map.AtMostOne("nominal", "fixed", "equals");
        return entry =>
        {
            LikelySaid? given = entry.Of(likely);
            MeantSaid? meant = entry.Of(nominal);
            IReadOnlyList<MeantSaid> not = entry.Of(notNominal);
            SizeValue?[] values = [entry.Of(about), entry.Of(@fixed), given?.Value, given?.PlusMinus, meant?.Value, .. not.Select(n => n.Value)];
            Quantity? said = values.FirstOrDefault(v => v?.Said is not null)?.Said;
            Quantity quantity = entry.Of(kind) ?? said ?? Quantity.Length;
            if (values.FirstOrDefault(v => v?.Said is not null && v.Said != quantity) is { } wrong)
            {
                entry.Findings.Add(wrong.Place, $"this is {Dimension.Of(wrong.Said!.Value)}, and the size is {Dimension.Of(quantity)}", "give the value the unit of the size, or correct `kind`");
                return null;
            }

            if (entry.Of(equals) is { } expression) entry.Findings.Expect(expression, quantity, entry.ValuePlaceOf("equals"));
            foreach (MeantSaid same in not.Prepend(meant).OfType<MeantSaid>().Where(m => m.SameAs is not null)) entry.Findings.Expect(same.SameAs!, quantity, same.Place);
            return new SizeSaid(quantity,
                entry.Of(about) is { } a ? new Given.About(a.Value)
                : given is not null ? new Given.Likely(given.Value.Value, given.PlusMinus.Value)
                : entry.Of(@fixed) is { } f ? new Given.Fixed(f.Value)
                : entry.Of(equals) is { } e ? new Given.EqualTo(e)
                : new Given.Nothing())
            { Nominal = meant, NotMeant = not };
        };
    });

    /// <summary>Behind a size's name: its keys, {} or nothing.</summary>
    private sealed class SizeOrNothing : Form<SizeSaid>
    {
        public override string Phrase => "the keys of a size";

        public override JsonObject Describe(Definitions definitions) => new() { ["anyOf"] = new JsonArray(new JsonObject { ["type"] = "null" }, SizeMap.Describe(definitions)) };

        public override IReadOnlyList<string> KeysOf(YamlMap group) => SizeMap.KeysOf(group);

        public override Form? Under(YamlNode whole, string step) => SizeMap.Under(whole, step);

        public override bool TryRead(YamlNode node, Findings findings, [MaybeNullWhen(false)] out SizeSaid value)
        {
            value = new SizeSaid(Quantity.Length, new Given.Nothing());
            if (node is YamlScalar { IsNothing: true }) return true;
            if (node is YamlScalar scalar)
                return Refuse(node, findings, $"{Show.Name(scalar.Text)} does not say what it is to the size", $"write {{about: {Show.Clip(scalar.Text)}}} to start from it, or {{fixed: {Show.Clip(scalar.Text)}}} to hold it");
            return SizeMap.TryRead(node, findings, out value);
        }
    }

    public static readonly Form<IReadOnlyList<Size>> Sizes = new EntriesForm<SizeSaid>(SizeName, new Named<SizeSaid>("size", "a size", () => new SizeOrNothing()), "size names with their keys")
        .Select((entries, _) => (IReadOnlyList<Size>)[.. entries.Select(e => e.Value.Of(e.Name, e.Place))]);
}
