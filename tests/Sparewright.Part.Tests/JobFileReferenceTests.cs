using System.Globalization;
using System.Text.Json.Nodes;
using Json.Schema;
using Sparewright.Part.Yaml;
using Xunit;

namespace Sparewright.Part.Tests;

/// <summary>The published schema and reference. To write them anew after a change of the grammar, run these tests once with SPAREWRIGHT_WRITE_REFERENCE=1.</summary>
public class JobFileReferenceTests
{
    private const string Marker = "<!-- From here on made from the grammar of the reader; a test keeps it true. -->\n";

    private static readonly bool Write = Environment.GetEnvironmentVariable("SPAREWRIGHT_WRITE_REFERENCE") == "1";

    private static string Reference(string name) => Path.Combine(Repository.Root, "docs", "reference", name);

    [Fact]
    public void The_committed_schema_is_the_one_of_the_grammar()
    {
        if (Write) File.WriteAllText(Reference("job.schema.json"), JobSchema.Json());
        Assert.Equal(JobSchema.Json(), File.ReadAllText(Reference("job.schema.json")));
    }

    [Fact]
    public void The_committed_reference_has_the_keys_of_the_grammar()
    {
        string text = File.ReadAllText(Reference("job-file.md"));
        string prose = text[..(text.IndexOf(Marker, StringComparison.Ordinal) + Marker.Length)];
        if (Write) File.WriteAllText(Reference("job-file.md"), prose + "\n" + JobReference.Keys());
        Assert.Equal(prose + "\n" + JobReference.Keys(), File.ReadAllText(Reference("job-file.md")));
    }

    [Theory]
    [MemberData(nameof(JobFileExamplesTests.Examples), MemberType = typeof(JobFileExamplesTests))]
    public void Every_example_is_valid_by_the_schema(string name)
    {
        string text = File.ReadAllText(Path.Combine(Repository.Root, "examples", name, "job.yaml"));
        EvaluationResults results = Evaluate(text);
        Assert.True(results.IsValid, Errors(results));
    }

    /// <summary>Each line changes the example at one place, so that both reader and schema must refuse it.</summary>
    [Theory]
    [InlineData("thickness: foot_t", "thicknes: foot_t")]
    [InlineData("thickness: foot_t", "thickness: {a: 1}")]
    [InlineData("thickness: foot_t", "thickness: foot_t; 2")]
    [InlineData("made_by: moulding", "made_by: knitting")]
    [InlineData("could_injure: no", "could_injure: maybe")]
    [InlineData("could_injure: no", "")]
    [InlineData("sparewright: 1", "sparewright: 2")]
    [InlineData("part: Vent knuckle", "part: \"\"")]
    [InlineData("count: 2", "count: 2.5")]
    [InlineData("count: 2", "count: two")]
    [InlineData("along: back", "along: sideways")]
    [InlineData("- boss: socket", "- bos: socket")]
    [InlineData("- boss: socket", "- boss: Socket!")]
    [InlineData("socket_od:   {about: 17}", "socket_od:   {about: 17, fixed: 17}")]
    [InlineData("socket_od:   {about: 17}", "socket_od:   {about: 17 cm}")]
    [InlineData("socket_od:   {about: 17}", "socket_od:   17")]
    [InlineData("socket_od:   {about: 17}", "Socket_od:   {about: 17}")]
    [InlineData("leaf: [0.75, 1.0]", "leaf: [0.75]")]
    [InlineData("middle_at: [0, 0]", "middle_at: [0, 0, 0]")]
    [InlineData("middle_at: [0, 0]", "middle_at: [0, 0]\n    first_at: [0, 0]")]
    [InlineData("wanted_odds: 0.95", "wanted_odds: 95")]
    [InlineData("hottest: 55 degC", "hottest: 55 mm")]
    [InlineData("density: 1.05 ± 0.02", "density: 1.05")]
    [InlineData("fit: turns", "fit: [turns]")]
    [InlineData("newtons: 120", "newtons: 120 kg")]
    [InlineData("nozzle: 0.4", "nozzle: .nan")]
    public void What_the_schema_refuses_the_reader_refuses(string good, string bad)
    {
        string text = File.ReadAllText(Path.Combine(Repository.Root, "examples", "vent-knuckle", "job.yaml"));
        Assert.Contains(good, text, StringComparison.Ordinal);
        string changed = text.Replace(good, bad, StringComparison.Ordinal);

        Assert.NotEmpty(JobFile.Read(changed).Problems);
        Assert.False(Evaluate(changed).IsValid);
    }

    private static readonly JsonSchema Schema = JsonSchema.FromText(JobSchema.Json());

    private static EvaluationResults Evaluate(string text)
    {
        var findings = new Findings();
        YamlNode? tree = YamlTree.Parse(text, findings);
        Assert.Empty(findings.Problems);
        return Schema.Evaluate(System.Text.Json.JsonSerializer.SerializeToElement(ToJson(tree!)), new EvaluationOptions { OutputFormat = OutputFormat.List });
    }

    private static string Errors(EvaluationResults results) => string.Join('\n', (results.Details ?? []).Where(d => d.Errors is not null)
        .Select(d => $"{d.InstanceLocation} {d.EvaluationPath}: {string.Join("; ", d.Errors!.Values)}").Take(20));

    /// <summary>By the core schema of YAML 1.2, as an editor does it.</summary>
    private static JsonNode? ToJson(YamlNode node) => node switch
    {
        YamlMap map => new JsonObject(map.Entries.Select(e => KeyValuePair.Create(e.Key.Text, ToJson(e.Value)))),
        YamlList list => new JsonArray([.. list.Items.Select(ToJson)]),
        YamlScalar { Style: not ScalarStyle.Plain } quoted => JsonValue.Create(quoted.Text),
        YamlScalar { Text: "" or "~" or "null" } => null,
        YamlScalar { Text: "true" } => JsonValue.Create(true),
        YamlScalar { Text: "false" } => JsonValue.Create(false),
        YamlScalar number when System.Text.RegularExpressions.Regex.IsMatch(number.Text, @"\A[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?\z") =>
            JsonValue.Create(decimal.Parse(number.Text, NumberStyles.Float, CultureInfo.InvariantCulture)),
        YamlScalar text => JsonValue.Create(text.Text),
        _ => throw new InvalidOperationException("not a value"),
    };
}
