using System.Text.Json;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Readings;
using Sparewright.Solid;

namespace Sparewright.Remake;

/// <summary>What the exact solid is found to be, with every reading taken again on it.</summary>
/// <param name="MeshVolumeMm3">Volume of the triangles that go to the printer.</param>
/// <param name="WorstChordMm">How far the triangles lie from the exact surface at most, as found by sampling.</param>
public sealed record SolidFacts(double VolumeMm3, double AreaMm2, Point3 Centroid, Point3 Low, Point3 High, int Faces, int Triangles, double MeshVolumeMm3, double WorstChordMm,
    IReadOnlyList<Remeasured> Remeasured)
{
    /// <summary>Largest difference between a reading computed from the elements and the same reading taken on the solid, mm.</summary>
    public double LargestDifferenceMm => Remeasured.Select(r => Math.Abs(r.DifferenceMm ?? 0)).DefaultIfEmpty(0).Max();

    /// <summary>Readings that the virtual caliper could take.</summary>
    public int Taken => Remeasured.Count(r => r.SolidMm is not null);

    /// <summary>True when every reading was taken again, and the solid agrees with the formulas.</summary>
    public bool Proven => Remeasured.All(r => r.Agrees);

    /// <summary>True when a reading taken again differs from the formulas, which is a bug of ours and must be seen.</summary>
    public bool Differs => Remeasured.Any(r => r.SolidMm is not null && !r.Agrees);

    /// <summary>The part's weight in grams at a density in g/cm³.</summary>
    public double Grams(double density) => VolumeMm3 / 1000 * density;

    /// <summary>The readings that the virtual caliper is to take again: every caliper reading of the job. It has no gauge pins; what they add is taken off.</summary>
    public static IReadOnlyList<ObservedReading> ToRepeat(Reconciled reconciled) =>
    [
        .. from r in reconciled.Readings
           where r is { Reading: CaliperReading, Observed: not null }
           let reading = (CaliperReading)r.Reading
           let walls = reading with { OverPinsMm = [], Drafts = [] }
           // The solid has no pins in it, and its faces stand straight.
           let beside = reading.OverPinsMm.Count == 0 && reading.Drafts.Count == 0 ? 0 : r.Adjusted!.Value - CaliperGeometry.Of(walls, reconciled.Shape).Mm!.Value.Value
           select new ObservedReading(walls, r.Observed!.Value - beside),
    ];

    /// <summary>Writes them as members of one object; lengths in mm.</summary>
    public void WriteMembers(Utf8JsonWriter json)
    {
        // Facts exist only of a solid that passed the guards; any other was refused before.
        json.WriteBoolean("valid", true);
        json.WriteNumber("volumeMm3", VolumeMm3);
        json.WriteNumber("areaMm2", AreaMm2);
        Write(json, "centroidMm", Centroid);
        json.WriteStartArray("boxMm");
        Write(json, null, Low);
        Write(json, null, High);
        json.WriteEndArray();
        json.WriteNumber("faces", Faces);
        json.WriteNumber("triangles", Triangles);
        json.WriteNumber("meshVolumeMm3", MeshVolumeMm3);
        json.WriteNumber("worstChordMm", WorstChordMm);
        json.WriteStartArray("remeasured");
        foreach (Remeasured reading in Remeasured)
        {
            json.WriteStartObject();
            json.WriteString("id", reading.Id);
            json.WriteNumber("observed", reading.ObservedMm);
            Write(json, "drawn", reading.DrawnMm);
            Write(json, "solid", reading.SolidMm);
            Write(json, "difference", reading.DifferenceMm);
            if (reading.WhyNot is not null) json.WriteString("whyNot", reading.WhyNot);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    /// <summary>What <see cref="WriteMembers"/> wrote.</summary>
    internal static SolidFacts From(JsonElement facts) => new(
        facts.GetProperty("volumeMm3").GetDouble(), facts.GetProperty("areaMm2").GetDouble(), Read(facts.GetProperty("centroidMm")),
        Read(facts.GetProperty("boxMm")[0]), Read(facts.GetProperty("boxMm")[1]), facts.GetProperty("faces").GetInt32(), facts.GetProperty("triangles").GetInt32(),
        facts.GetProperty("meshVolumeMm3").GetDouble(), facts.GetProperty("worstChordMm").GetDouble(),
        [
            .. facts.GetProperty("remeasured").EnumerateArray().Select(r => new Remeasured(r.GetProperty("id").GetString()!, r.GetProperty("observed").GetDouble(), OrNull(r.GetProperty("drawn")),
                OrNull(r.GetProperty("solid")), r.TryGetProperty("whyNot", out JsonElement why) ? why.GetString() : null)),
        ]);

    private static double? OrNull(JsonElement number) => number.ValueKind == JsonValueKind.Number ? number.GetDouble() : null;

    private static Point3 Read(JsonElement triple) => new(triple[0].GetDouble(), triple[1].GetDouble(), triple[2].GetDouble());

    private static void Write(Utf8JsonWriter json, string name, double? value)
    {
        if (value is { } number) json.WriteNumber(name, number);
        else json.WriteNull(name);
    }

    private static void Write(Utf8JsonWriter json, string? name, Point3 p)
    {
        if (name is not null) json.WritePropertyName(name);
        json.WriteStartArray();
        json.WriteNumberValue(p.X);
        json.WriteNumberValue(p.Y);
        json.WriteNumberValue(p.Z);
        json.WriteEndArray();
    }
}
