using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using Sparewright.Part.Grammar;

namespace Sparewright.Part;

/// <summary>
/// The published JSON Schema (draft 2020-12) of a job file, made from the grammar that the reader obeys. A schema cannot know whether a name means something or an
/// expression can be computed: what it refuses the reader refuses, not the other way round.
/// </summary>
public static class JobSchema
{
    /// <summary>The schema as indented JSON, with a newline at its end.</summary>
    public static string Json()
    {
        var definitions = new Definitions();
        JsonObject job = JobGrammar.Job.Describe(definitions);
        var schema = new JsonObject
        {
            ["$schema"] = "https://json-schema.org/draft/2020-12/schema",
            ["title"] = $"Sparewright job file, version {JobGrammar.Version}",
        };
        foreach (string key in job.Select(p => p.Key).ToArray())
        {
            JsonNode? part = job[key];
            job.Remove(key);
            schema[key] = part;
        }

        schema["$defs"] = definitions.ToJson();
        return schema.ToJsonString(Indented).ReplaceLineEndings("\n") + "\n";
    }

    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true, IndentSize = 2, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };
}
