using System.Diagnostics.CodeAnalysis;
using System.Text.Json.Nodes;
using Sparewright.Part.Yaml;

namespace Sparewright.Part.Grammar;

/// <summary>A key of a group of keys; asks an <see cref="Entry"/> for what was read under it.</summary>
internal sealed class Key<T>(int number)
{
    public int Number => number;
}

/// <summary>What was read under the keys of one group.</summary>
internal sealed class Entry(YamlMap map, object?[] values, Findings findings, Dictionary<string, YamlEntry> written)
{
    public Place Place => map.Place;

    public Findings Findings => findings;

    public T Of<T>(Key<T> key) => (T)values[key.Number]!;

    public bool Has(string key) => written.ContainsKey(key);

    public Place PlaceOf(string key) => written.TryGetValue(key, out YamlEntry? entry) ? entry.Key.Place : map.Place;

    public Place ValuePlaceOf(string key) => written.TryGetValue(key, out YamlEntry? entry) ? entry.Value.Place : map.Place;

    /// <summary>Says what is wrong with the keys together; whoever returns this makes no value.</summary>
    public T? Refuse<T>(string key, string what, string remedy) where T : class
    {
        findings.Add(PlaceOf(key), what, remedy);
        return null;
    }
}

/// <summary>Declares the keys of a group, in the order in which the reference shows them.</summary>
internal sealed class KeyList
{
    internal interface ISlot
    {
        string Name { get; }

        string About { get; }

        bool Required { get; }

        Form Form { get; }

        object? Missing { get; }

        bool TryRead(YamlNode node, Findings findings, out object? value);
    }

    private sealed record Slot<T>(string Name, Form<T> OfForm, string About, bool Required, object? Missing) : ISlot
    {
        public Form Form => OfForm;

        public bool TryRead(YamlNode node, Findings findings, out object? value)
        {
            bool good = OfForm.TryRead(node, findings, out T? read);
            value = read;
            return good;
        }
    }

    internal enum Rule { ExactlyOne, AtMostOne, AtLeastOne, AllOrNone }

    private readonly List<ISlot> _slots = [];
    private readonly List<(Rule Rule, string[] Keys)> _rules = [];

    internal IReadOnlyList<ISlot> Slots => _slots;

    internal IReadOnlyList<(Rule Rule, string[] Keys)> Rules => _rules;

    public Key<T> Required<T>(string name, Form<T> form, string about) => Add<T>(new Slot<T>(name, form, about, true, null));

    public Key<T?> Optional<T>(string name, Form<T> form, string about) where T : class => Add<T?>(new Slot<T>(name, form, about, false, null));

    public Key<T?> OptionalValue<T>(string name, Form<T> form, string about) where T : struct => Add<T?>(new Slot<T>(name, form, about, false, null));

    public Key<T> OptionalOr<T>(string name, Form<T> form, T missing, string about) => Add<T>(new Slot<T>(name, form, about, false, missing));

    public void ExactlyOne(params string[] keys) => _rules.Add((Rule.ExactlyOne, keys));

    public void AtMostOne(params string[] keys) => _rules.Add((Rule.AtMostOne, keys));

    public void AtLeastOne(params string[] keys) => _rules.Add((Rule.AtLeastOne, keys));

    public void AllOrNone(params string[] keys) => _rules.Add((Rule.AllOrNone, keys));

    private Key<T> Add<T>(ISlot slot)
    {
        _slots.Add(slot);
        return new Key<T>(_slots.Count - 1);
    }
}

/// <summary>A group of known keys.</summary>
internal sealed class MapForm<T> : Form<T> where T : class
{
    private readonly string _title;
    private readonly string _about;
    private readonly KeyList _keys = new();
    private readonly Func<Entry, T?> _make;

    /// <param name="title">What it is, with its article: "a plate".</param>
    /// <param name="about">A sentence for the reference.</param>
    /// <param name="declare">Declares the keys and returns what makes the value of them; a null value means that it has complained.</param>
    public MapForm(string title, string about, Func<KeyList, Func<Entry, T?>> declare)
    {
        (_title, _about) = (title, about);
        _make = declare(_keys);
    }

    public override string Phrase => _title;

    public IReadOnlyList<string> Names => [.. _keys.Slots.Select(s => s.Name)];

    public override IReadOnlyList<string> KeysOf(YamlMap group) => Names;

    public override Form? Under(YamlNode whole, string step) => _keys.Slots.FirstOrDefault(s => s.Name == step)?.Form;

    public override JsonObject Describe(Definitions definitions)
    {
        bool first = definitions.Note(new KeyGroup(_title, _about,
            [.. _keys.Slots.Select(s => new KeyLine(s.Name, s.Form.Phrase, s.Required, s.About))], [.. _keys.Rules.Select(Say)]));
        var properties = new JsonObject();
        foreach (var slot in _keys.Slots)
        {
            JsonObject described = slot.Form.Describe(definitions);
            described["description"] = slot.About;
            properties[slot.Name] = described;
        }

        var json = new JsonObject { ["type"] = "object", ["description"] = _about, ["properties"] = properties, ["additionalProperties"] = false };
        if (_keys.Slots.Any(s => s.Required))
            json["required"] = new JsonArray([.. _keys.Slots.Where(s => s.Required).Select(s => JsonValue.Create(s.Name))]);
        if (_keys.Rules.Count > 0) json["allOf"] = new JsonArray([.. _keys.Rules.Select(Schema)]);
        return json;
    }

    public override bool TryRead(YamlNode node, Findings findings, [MaybeNullWhen(false)] out T value)
    {
        value = null;
        if (node is not YamlMap map) return Refuse(node, findings, Found(node), $"write the keys of {_title}: {Show.List(Names, "and")}");
        YamlScalar? split = FlowSplit.Complain(map, findings);
        bool good = split is null;
        var written = new Dictionary<string, YamlEntry>(StringComparer.Ordinal);
        foreach (YamlEntry entry in map.Entries) written[entry.Key.Text] = entry;

        var values = new object?[_keys.Slots.Count];
        for (int k = 0; k < values.Length; k++)
        {
            var slot = _keys.Slots[k];
            if (written.TryGetValue(slot.Name, out YamlEntry? entry))
            {
                good &= !ReferenceEquals(entry.Value, split) && slot.TryRead(entry.Value, findings, out values[k]);
            }
            else if (slot.Required)
            {
                findings.Add(map.Place, $"{_title} needs {Show.Name(slot.Name)}, and it is missing", $"add {slot.Name}: {slot.Form.Phrase} ({slot.About})");
                good = false;
            }
            else
            {
                values[k] = slot.Missing;
            }
        }

        foreach (YamlEntry entry in map.Entries)
        {
            if (_keys.Slots.Any(s => s.Name == entry.Key.Text)) continue;
            good = false;
            if (split is not null && entry.Key.Text.Contains(')', StringComparison.Ordinal)) continue;
            findings.Add(entry.Key.Place, $"unknown key {Show.Name(entry.Key.Text)}", findings.DidYouMean(entry.Key.Text, [.. Names], $"the keys of {_title} are {Show.List(Names, "and")}"));
        }

        foreach (var (rule, keys) in _keys.Rules)
        {
            string[] there = [.. keys.Where(written.ContainsKey)];
            bool kept = rule switch
            {
                KeyList.Rule.ExactlyOne => there.Length == 1,
                KeyList.Rule.AtMostOne => there.Length <= 1,
                KeyList.Rule.AtLeastOne => there.Length >= 1,
                _ => there.Length == 0 || there.Length == keys.Length,
            };
            if (kept) continue;
            good = false;
            var names = keys.Select(Show.Name);
            if (there.Length > 1 && rule != KeyList.Rule.AllOrNone)
                findings.Add(written[there[1]].Key.Place, $"{_title} has {Show.List(there.Select(Show.Name), "and")}, of which only one may be there", $"keep one of {Show.List(names, "and")}");
            else if (rule is KeyList.Rule.ExactlyOne or KeyList.Rule.AtLeastOne)
                findings.Add(map.Place, $"{_title} needs one of {Show.List(names, "and")}", $"add {Show.List(names)}");
            else
                findings.Add(written[there[0]].Key.Place, $"{_title} has {Show.List(there.Select(Show.Name), "and")} without {Show.List(keys.Except(there).Select(Show.Name), "and")}", $"write {Show.List(names, "and")} together");
        }

        if (!good) return false;
        value = _make(new Entry(map, values, findings, written));
        return value is not null;
    }

    private static string Say((KeyList.Rule Rule, string[] Keys) rule)
    {
        string names = Show.List(rule.Keys.Select(Show.Name), rule.Rule == KeyList.Rule.AllOrNone ? "and" : "or");
        return rule.Rule switch
        {
            KeyList.Rule.ExactlyOne => $"Exactly one of {names}.",
            KeyList.Rule.AtMostOne => $"At most one of {names}.",
            KeyList.Rule.AtLeastOne => $"At least one of {names}.",
            _ => $"{names} only together.",
        };
    }

    private static JsonObject Schema((KeyList.Rule Rule, string[] Keys) rule)
    {
        JsonObject Has(string key) => new() { ["required"] = new JsonArray(key) };
        JsonArray each = [.. rule.Keys.Select(Has)];
        JsonObject none = new() { ["not"] = new JsonObject { ["anyOf"] = new JsonArray([.. rule.Keys.Select(Has)]) } };
        if (rule.Rule == KeyList.Rule.AllOrNone)
            return new JsonObject { ["anyOf"] = new JsonArray(new JsonObject { ["required"] = new JsonArray([.. rule.Keys.Select(k => JsonValue.Create(k))]) }, none) };
        if (rule.Rule == KeyList.Rule.AtLeastOne) return new JsonObject { ["anyOf"] = each };
        if (rule.Rule == KeyList.Rule.AtMostOne) each.Add(none);
        return new JsonObject { ["oneOf"] = each };
    }
}

/// <summary>One of several groups of keys, told apart by a key that only it has.</summary>
internal sealed class OneOfForm<T>(string phrase, string noun, params (string Key, Form<T> Form)[] kinds) : Form<T> where T : class
{
    private readonly Dictionary<string, Form<T>> _byKey = kinds.ToDictionary(k => k.Key, k => k.Form, StringComparer.Ordinal);

    public override string Phrase => phrase;

    public IEnumerable<string> Keys => kinds.Select(k => k.Key);

    public override IReadOnlyList<string> KeysOf(YamlMap group) => KindOf(group)?.KeysOf(group) ?? [];

    public override Form? Under(YamlNode whole, string step) => KindOf(whole)?.Under(whole, step);

    private Form<T>? KindOf(YamlNode node) => (node as YamlMap)?.Entries.Select(e => _byKey.GetValueOrDefault(e.Key.Text)).FirstOrDefault(f => f is not null);

    public override JsonObject Describe(Definitions definitions) => new()
    {
        ["oneOf"] = new JsonArray([.. kinds.Select(k => k.Form.Describe(definitions))]),
    };

    public override bool TryRead(YamlNode node, Findings findings, [MaybeNullWhen(false)] out T value)
    {
        value = null;
        if (node is not YamlMap map) return Refuse(node, findings, Found(node), $"write {phrase}, beginning with {Show.List(Keys)}");
        YamlEntry[] telling = [.. map.Entries.Where(e => _byKey.ContainsKey(e.Key.Text))];
        if (telling.Length == 1) return _byKey[telling[0].Key.Text].TryRead(node, findings, out value);
        if (telling.Length > 1)
        {
            findings.Add(telling[1].Key.Place, $"{Show.Name(telling[0].Key.Text)} and {Show.Name(telling[1].Key.Text)} cannot be one {noun}", $"make two of it, or remove one of the keys");
            return false;
        }

        foreach (YamlEntry entry in map.Entries)
        {
            if (findings.Nearest(entry.Key.Text, Keys) is not { } nearest) continue;
            findings.Add(entry.Key.Place, $"unknown key {Show.Name(entry.Key.Text)}", $"did you mean {Show.Name(nearest)}?");
            return false;
        }

        findings.Add(map.Place, $"this does not say which kind of {noun} it is", $"add one of the keys {Show.List(Keys)}");
        return false;
    }
}

/// <summary>A group whose keys are names of the user's own, each with the same kind of value.</summary>
internal sealed class EntriesForm<T>(Form<string> name, Form<T> value, string phrase) : Form<IReadOnlyList<(string Name, Place Place, T Value)>>
{
    public override string Phrase => phrase;

    public override Form? Under(YamlNode whole, string step) => value;

    public override JsonObject Describe(Definitions definitions) => new()
    {
        ["type"] = "object",
        ["propertyNames"] = name.Describe(definitions),
        ["additionalProperties"] = value.Describe(definitions),
    };

    public override bool TryRead(YamlNode node, Findings findings, [MaybeNullWhen(false)] out IReadOnlyList<(string Name, Place Place, T Value)> value1)
    {
        value1 = null;
        if (node is not YamlMap map) return RefuseKind(node, findings);
        var entries = new List<(string, Place, T)>(map.Entries.Count);
        bool good = true;
        foreach (YamlEntry entry in map.Entries)
        {
            bool named = name.TryRead(entry.Key, findings, out string? key);
            bool valued = value.TryRead(entry.Value, findings, out T? read);
            if (named && valued) entries.Add((key!, entry.Key.Place, read!));
            else good = false;
        }

        value1 = entries;
        return good;
    }
}
