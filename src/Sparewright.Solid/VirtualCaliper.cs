using System.Text.Json;
using Sparewright.Measure;

namespace Sparewright.Solid;

/// <summary>A caliper reading that is to be taken again on the solid.</summary>
/// <param name="Of">The one or two elements, by whole name.</param>
/// <param name="Across">The direction in which a side's extent is measured, where it is.</param>
/// <param name="At">A point of the plane square to a cone's axis in which its diameter is measured.</param>
/// <param name="ObservedMm">What was observed, corrected for the instrument: true geometry, like the other two.</param>
/// <param name="DrawnMm">The value computed from the elements at the sizes drawn.</param>
public sealed record ReadingToRepeat(string Id, ReadingWay Way, IReadOnlyList<string> Of, Point3? Across, Point3? At, double ObservedMm, double DrawnMm);

/// <summary>A caliper reading beside the same reading taken on the exact solid.</summary>
/// <param name="SolidMm">What the solid measures, or null when no caliper could take it there.</param>
/// <param name="WhyNot">Why it could not be taken.</param>
public sealed record Remeasured(string Id, double ObservedMm, double DrawnMm, double? SolidMm, string? WhyNot)
{
    /// <summary>More than this between formula and solid is our own bug, mm.</summary>
    public const double AllowedMm = 1e-3;

    /// <summary>Solid − drawn, mm.</summary>
    public double? DifferenceMm => SolidMm - DrawnMm;

    /// <summary>Whether formula and solid agree.</summary>
    public bool Agrees => DifferenceMm is { } difference && Math.Abs(difference) <= AllowedMm;
}

/// <summary>
/// The proof that the solid is the part: every caliper reading taken again, on the exact surfaces of the faces that bear the names; not on the mesh, not by the formulas.
/// </summary>
public static class VirtualCaliper
{
    public static async Task<Outcome<IReadOnlyList<Remeasured>>> TakeAsync(ExactSolid solid, IReadOnlyList<ReadingToRepeat> readings, CancellationToken cancel = default)
    {
        Outcome<IReadOnlyList<JawAnswer>> answers = await solid.CaliperAsync([.. readings.Select(r => new JawRequest(r.Id, r.Way, r.Of, r.Across, r.At))], cancel).ConfigureAwait(false);
        if (!answers.IsGood) return answers.Problem;
        return (Remeasured[])[.. readings.Zip(answers.Value, (asked, told) => new Remeasured(asked.Id, asked.ObservedMm, asked.DrawnMm, told.Mm, told.WhyNot))];
    }
}

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
internal sealed record JawAnswer(string Id, double? Mm, string? WhyNot)
{
    public static JawAnswer From(JsonElement answer) => answer.GetProperty("ok").GetBoolean()
        ? new(answer.GetProperty("id").GetString()!, answer.GetProperty("mm").GetDouble(), null)
        : new(answer.GetProperty("id").GetString()!, null, answer.GetProperty("why").GetString());
}
