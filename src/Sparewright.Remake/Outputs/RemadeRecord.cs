using System.Text.Json;
using Sparewright.Reconcile.Readings;

namespace Sparewright.Remake.Outputs;

/// <summary>A file of the last run: what it was made from, and what it then was.</summary>
internal sealed record RecordedFile(string Name, string Input, string Hash);

/// <summary>The volume of the solid that weights were reconciled with.</summary>
/// <param name="Input">Hash of what it was found from.</param>
internal sealed record RecordedVolume(string Input, PartVolume Volume);

/// <summary>
/// <c>remade.json</c> in the output folder: from which inputs each result was made, so that what is up to date is not made again.
/// A record that cannot be read counts as none: everything is made again.
/// </summary>
/// <param name="SolidInput">What the facts of the solid were found from.</param>
internal sealed record RemadeRecord(string SolidInput, SolidFacts? Facts, IReadOnlyList<RecordedFile> Files)
{
    /// <summary>Null where no reading needed it.</summary>
    public RecordedVolume? Volume { get; init; }

    /// <summary>Hash of the recipe whose fitting edges on the bed could not be bevelled; null where they were, or none had to be.</summary>
    public string? Unbevelled { get; init; }

    public const string FileName = "remade.json";

    private const int Version = 1;

    public static readonly RemadeRecord None = new("", null, []);

    public byte[] ToBytes()
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, new JsonWriterOptions { Indented = true }))
        {
            json.WriteStartObject();
            json.WriteNumber("version", Version);
            json.WriteStartObject("solid");
            json.WriteString("input", SolidInput);
            json.WriteStartObject("facts");
            if (Facts is not null) Facts.WriteMembers(json);
            json.WriteEndObject();
            json.WriteEndObject();
            if (Volume is { } volume)
            {
                json.WriteStartObject("volume");
                json.WriteString("input", volume.Input);
                json.WriteNumber("mm3", volume.Volume.Mm3);
                Write(json, "at", volume.Volume.At);
                Write(json, "bySize", volume.Volume.BySize);
                json.WriteEndObject();
            }

            if (Unbevelled is not null) json.WriteString("unbevelled", Unbevelled);
            json.WriteStartArray("files");
            foreach (RecordedFile file in Files)
            {
                json.WriteStartObject();
                json.WriteString("name", file.Name);
                json.WriteString("input", file.Input);
                json.WriteString("sha256", file.Hash);
                json.WriteEndObject();
            }

            json.WriteEndArray();
            json.WriteEndObject();
        }

        return stream.ToArray();
    }

    public static RemadeRecord From(byte[]? bytes)
    {
        if (bytes is null) return None;
        try
        {
            using JsonDocument document = JsonDocument.Parse(bytes);
            JsonElement root = document.RootElement;
            if (root.GetProperty("version").GetInt32() != Version) return None;
            JsonElement solid = root.GetProperty("solid");
            return new RemadeRecord(
                solid.GetProperty("input").GetString()!,
                SolidFacts.From(solid.GetProperty("facts")),
                [.. root.GetProperty("files").EnumerateArray().Select(f => new RecordedFile(f.GetProperty("name").GetString()!, f.GetProperty("input").GetString()!, f.GetProperty("sha256").GetString()!))])
            {
                Unbevelled = root.TryGetProperty("unbevelled", out JsonElement unbevelled) ? unbevelled.GetString() : null,
                Volume = root.TryGetProperty("volume", out JsonElement volume)
                    ? new(volume.GetProperty("input").GetString()!, new PartVolume(Numbers(volume, "at"), volume.GetProperty("mm3").GetDouble(), Numbers(volume, "bySize")))
                    : null,
            };
        }
        catch (Exception e) when (e is JsonException or KeyNotFoundException or InvalidOperationException or FormatException)
        {
            return None;
        }
    }

    private static double[] Numbers(JsonElement of, string name) => [.. of.GetProperty(name).EnumerateArray().Select(n => n.GetDouble())];

    private static void Write(Utf8JsonWriter json, string name, IReadOnlyList<double> numbers)
    {
        json.WriteStartArray(name);
        foreach (double number in numbers) json.WriteNumberValue(number);
        json.WriteEndArray();
    }
}
