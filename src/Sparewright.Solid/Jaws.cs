using System.Text.Json;
using Sparewright.Measure;

namespace Sparewright.Solid;

/// <summary>One reading as the kernel worker is asked for it.</summary>
internal sealed record JawRequest(string Id, ReadingWay Way, IReadOnlyList<string> Of, Point3? Across, Point3? At)
{
    public void WriteTo(Utf8JsonWriter json)
    {
        json.WriteStartObject();
        json.WriteString("id", Id);
        json.WriteString("way", Way switch { ReadingWay.Outside => "outside", ReadingWay.Inside => "inside", ReadingWay.Depth => "depth", _ => "step" });
        json.WriteStartArray("of");
        foreach (string element in Of) json.WriteStringValue(element);
        json.WriteEndArray();
        Across?.WriteTo(json, "across");
        At?.WriteTo(json, "atPoint");
        json.WriteEndObject();
    }
}

/// <summary>What the kernel worker says to one reading.</summary>
internal sealed record JawAnswer(double? Mm, string? WhyNot)
{
    public static JawAnswer From(JsonElement answer) => answer.GetProperty("ok").GetBoolean()
        ? new(answer.GetProperty("mm").GetDouble(), null)
        : new(null, answer.GetProperty("why").GetString());
}
