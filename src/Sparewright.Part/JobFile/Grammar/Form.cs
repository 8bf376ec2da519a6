using System.Diagnostics.CodeAnalysis;
using System.Text.Json.Nodes;
using Sparewright.Part.Yaml;

namespace Sparewright.Part.Grammar;

/// <summary>
/// One way of writing something in a job. It reads it, and it describes itself: the published schema and the reference are made from the same words that the reader obeys.
/// </summary>
internal abstract class Form
{
    /// <summary>What is written, in a few words: "a length", "a point [u, v]".</summary>
    public abstract string Phrase { get; }

    /// <summary>The JSON Schema of it; what has a name of its own is put into the definitions.</summary>
    public abstract JsonObject Describe(Definitions definitions);

    /// <summary>The keys that a group written in this form may have, in the order of the reference; none where they are names of the user's own.</summary>
    public virtual IReadOnlyList<string> KeysOf(YamlMap group) => [];

    /// <summary>How that is written which stands under a key of a group, or at a number of a list; null where nothing can.</summary>
    public virtual Form? Under(YamlNode whole, string step) => null;
}

/// <inheritdoc/>
internal abstract class Form<T> : Form
{
    /// <summary>The value, or false and at least one problem found (here or before).</summary>
    public abstract bool TryRead(YamlNode node, Findings findings, [MaybeNullWhen(false)] out T value);

    /// <summary>The same spelling, made into something else.</summary>
    public Form<TResult> Select<TResult>(Func<T, Place, TResult> make) => new Selected<T, TResult>(this, (value, node, _) => (true, make(value, node.Place)));

    /// <summary>The same spelling, with one demand more. The demand says what is wrong and what to do, or null.</summary>
    public Form<T> Where(Func<T, (string What, string Remedy)?> complaint) => new Selected<T, T>(this, (value, node, findings) =>
    {
        if (complaint(value) is not var (what, remedy)) return (true, value);
        findings.Add(node.Place, what, remedy);
        return (false, value);
    });

    /// <summary>The same spelling, noted in the findings.</summary>
    public Form<T> Noting(Func<T, Place, Findings, bool> note) => new Selected<T, T>(this, (value, node, findings) => (note(value, node.Place, findings), value));

    protected static bool Refuse(YamlNode node, Findings findings, string what, string remedy)
    {
        if (node is not YamlRefused) findings.Add(node.Place, what, remedy);
        return false;
    }

    /// <summary>What stands there instead, in a few words.</summary>
    protected static string Found(YamlNode node) => node switch
    {
        YamlScalar { IsNothing: true } => "nothing is written here",
        YamlScalar s => $"{Show.Name(s.Text)} stands here",
        YamlList => "a list stands here",
        YamlMap => "a group of keys stands here",
        _ => "something else stands here",
    };

    protected bool RefuseKind(YamlNode node, Findings findings) => Refuse(node, findings, Found(node), $"write {Phrase}");
}

internal sealed class Selected<T, TResult>(Form<T> inner, Func<T, YamlNode, Findings, (bool, TResult)> make) : Form<TResult>
{
    public override string Phrase => inner.Phrase;

    public override JsonObject Describe(Definitions definitions) => inner.Describe(definitions);

    public override IReadOnlyList<string> KeysOf(YamlMap group) => inner.KeysOf(group);

    public override Form? Under(YamlNode whole, string step) => inner.Under(whole, step);

    public override bool TryRead(YamlNode node, Findings findings, [MaybeNullWhen(false)] out TResult value)
    {
        value = default;
        if (!inner.TryRead(node, findings, out T? read)) return false;
        (bool good, value) = make(read, node, findings);
        return good;
    }
}

/// <summary>A form with a name of its own in the schema; may mention itself.</summary>
internal sealed class Named<T>(string name, string phrase, Func<Form<T>> form) : Form<T>
{
    private readonly Lazy<Form<T>> _form = new(form);

    public override string Phrase => phrase;

    public override JsonObject Describe(Definitions definitions)
    {
        definitions.Define(name, () => _form.Value.Describe(definitions));
        return new JsonObject { ["$ref"] = "#/$defs/" + name };
    }

    public override IReadOnlyList<string> KeysOf(YamlMap group) => _form.Value.KeysOf(group);

    public override Form? Under(YamlNode whole, string step) => _form.Value.Under(whole, step);

    public override bool TryRead(YamlNode node, Findings findings, [MaybeNullWhen(false)] out T value) => _form.Value.TryRead(node, findings, out value);
}

/// <summary>The named pieces of a schema, and every group of keys in the order in which the reference shows them.</summary>
internal sealed class Definitions
{
    private readonly Dictionary<string, JsonObject?> _byName = new(StringComparer.Ordinal);
    private readonly List<string> _order = [];
    private readonly Dictionary<string, KeyGroup> _groups = new(StringComparer.Ordinal);

    public IReadOnlyCollection<KeyGroup> Groups => _groups.Values;

    public void Define(string name, Func<JsonObject> describe)
    {
        if (!_byName.TryAdd(name, null)) return;
        _order.Add(name);
        _byName[name] = describe();
    }

    /// <summary>True the first time.</summary>
    public bool Note(KeyGroup group) => _groups.TryAdd(group.Title, group);

    public JsonObject ToJson()
    {
        var json = new JsonObject();
        foreach (string name in _order) json[name] = _byName[name];
        return json;
    }
}

/// <summary>A group of keys, for the reference.</summary>
internal sealed record KeyGroup(string Title, string About, IReadOnlyList<KeyLine> Keys, IReadOnlyList<string> Rules);

internal sealed record KeyLine(string Name, string Written, bool Required, string About);
