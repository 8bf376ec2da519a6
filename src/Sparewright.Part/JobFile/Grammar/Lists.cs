using System.Diagnostics.CodeAnalysis;
using System.Text.Json.Nodes;
using Sparewright.Part.Yaml;

namespace Sparewright.Part.Grammar;

/// <summary>A list of likes.</summary>
internal sealed class ListForm<T>(Form<T> item, string phrase, int least = 0, int most = ListForm<T>.Most, Action<Findings, int>? beforeEach = null) : Form<IReadOnlyList<T>>
{
    private const int Most = 10_000;

    public override string Phrase => phrase;

    public override Form? Under(YamlNode whole, string step) => item;

    public override JsonObject Describe(Definitions definitions)
    {
        var json = new JsonObject { ["type"] = "array", ["items"] = item.Describe(definitions) };
        if (least > 0) json["minItems"] = least;
        if (most < Most) json["maxItems"] = most;
        return json;
    }

    public override bool TryRead(YamlNode node, Findings findings, [MaybeNullWhen(false)] out IReadOnlyList<T> value)
    {
        value = null;
        if (node is not YamlList list) return RefuseKind(node, findings);
        if (FlowSplit.Complain(list.Items, findings)) return false;
        if (list.Items.Count < least || list.Items.Count > most)
            return Refuse(node, findings, list.Items.Count == 1 ? "one value stands in this list" : $"{list.Items.Count} values stand in this list", $"write {phrase}");
        var values = new List<T>(list.Items.Count);
        bool good = true;
        for (int k = 0; k < list.Items.Count; k++)
        {
            beforeEach?.Invoke(findings, k);
            if (item.TryRead(list.Items[k], findings, out T? one)) values.Add(one);
            else good = false;
        }

        value = values;
        return good;
    }
}

/// <summary>One, or a list of them.</summary>
internal sealed class OneOrMoreForm<T>(Form<T> item, string phrase) : Form<IReadOnlyList<T>>
{
    private readonly ListForm<T> _list = new(item, phrase, 1);

    public override string Phrase => phrase;

    public override IReadOnlyList<string> KeysOf(YamlMap group) => item.KeysOf(group);

    public override Form? Under(YamlNode whole, string step) => whole is YamlList ? item : item.Under(whole, step);

    public override JsonObject Describe(Definitions definitions) => new() { ["anyOf"] = new JsonArray(item.Describe(definitions), _list.Describe(definitions)) };

    public override bool TryRead(YamlNode node, Findings findings, [MaybeNullWhen(false)] out IReadOnlyList<T> value)
    {
        if (node is YamlList) return _list.TryRead(node, findings, out value);
        value = null;
        if (node is YamlScalar { IsNothing: true }) return RefuseKind(node, findings);
        if (!item.TryRead(node, findings, out T? one)) return false;
        value = [one];
        return true;
    }
}

/// <summary>Either a single word or value, or a group of keys, or a list.</summary>
internal sealed class EitherForm<T>(string phrase, Form<T>? scalar = null, Form<T>? map = null, Form<T>? list = null) : Form<T>
{
    public override string Phrase => phrase;

    public override IReadOnlyList<string> KeysOf(YamlMap group) => map?.KeysOf(group) ?? [];

    public override Form? Under(YamlNode whole, string step) => For(whole)?.Under(whole, step);

    public override JsonObject Describe(Definitions definitions) =>
        new() { ["anyOf"] = new JsonArray([.. new Form<T>?[] { scalar, map, list }.OfType<Form<T>>().Select(f => f.Describe(definitions))]) };

    public override bool TryRead(YamlNode node, Findings findings, [MaybeNullWhen(false)] out T value)
    {
        value = default;
        return For(node) is { } form ? form.TryRead(node, findings, out value) : RefuseKind(node, findings);
    }

    private Form<T>? For(YamlNode node) => node switch { YamlScalar => scalar, YamlMap => map, YamlList => list, _ => null };
}

/// <summary>
/// A function with a comma, written without quotes inside [ ] or { }, is split by YAML at the comma. The pieces are recognised by their brackets.
/// </summary>
internal static class FlowSplit
{
    public static bool Complain(IReadOnlyList<YamlNode> items, Findings findings)
    {
        for (int k = 0; k < items.Count; k++)
        {
            if (items[k] is not YamlScalar { Style: ScalarStyle.Plain, InFlow: true } first || Opens(first.Text) <= 0) continue;
            int open = Opens(first.Text), end = k;
            string whole = first.Text;
            while (open > 0 && end + 1 < items.Count && items[end + 1] is YamlScalar { Style: ScalarStyle.Plain } next)
            {
                (end, open, whole) = (end + 1, open + Opens(next.Text), whole + ", " + next.Text);
                if (whole.Length > 200) break;
            }

            if (end == k) continue;
            Say(first, whole, open, findings);
            return true;
        }

        return false;
    }

    /// <summary>In a group of keys the second half looks like a key without a value. Returns the first half.</summary>
    public static YamlScalar? Complain(YamlMap map, Findings findings)
    {
        if (!map.IsFlow) return null;
        for (int k = 0; k + 1 < map.Entries.Count; k++)
        {
            if (map.Entries[k].Value is not YamlScalar { Style: ScalarStyle.Plain, InFlow: true } first || Opens(first.Text) <= 0) continue;
            int open = Opens(first.Text), end = k;
            string whole = first.Text;
            while (open > 0 && end + 1 < map.Entries.Count && map.Entries[end + 1] is { Value: YamlScalar { IsNothing: true } } next)
            {
                (end, open, whole) = (end + 1, open + Opens(next.Key.Text), whole + ", " + next.Key.Text);
                if (whole.Length > 200) break;
            }

            if (end == k) continue;
            Say(first, whole, open, findings);
            return first;
        }

        return null;
    }

    private static void Say(YamlScalar first, string whole, int open, Findings findings) => findings.Add(
        first.Place, $"the comma in {Show.Name(whole)} separates two values here", open == 0 ? $"inside [ ] or {{ }} write it in quotes: \"{Show.Clip(whole)}\"" : "inside [ ] or { } write it in quotes");

    private static int Opens(string text) => text.Count(c => c == '(') - text.Count(c => c == ')');
}
