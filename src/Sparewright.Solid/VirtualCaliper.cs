using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Readings;

namespace Sparewright.Solid;

/// <summary>A caliper reading of the job with what was observed, corrected for the instrument, in mm.</summary>
public sealed record ObservedReading(CaliperReading Reading, double ObservedMm);

/// <summary>A caliper reading beside the same reading taken on the exact solid; all three values are true geometry.</summary>
/// <param name="ObservedMm">What was observed, corrected for the instrument.</param>
/// <param name="DrawnMm">Computed from the elements at the sizes drawn, or null when the formula does not apply there.</param>
/// <param name="SolidMm">Measured on the solid, or null when no caliper could take it there.</param>
/// <param name="WhyNot">Why a value is missing.</param>
public sealed record Remeasured(string Id, double ObservedMm, double? DrawnMm, double? SolidMm, string? WhyNot)
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
    /// <summary>Takes the readings again.</summary>
    /// <param name="shape">The placed shape from which the solid was built.</param>
    /// <returns>One for each reading, in their order.</returns>
    public static async Task<Outcome<IReadOnlyList<Remeasured>>> TakeAsync(ExactSolid solid, PlacedShape shape, IReadOnlyList<ObservedReading> readings, CancellationToken cancel = default)
    {
        if (readings.Count == 0) return Array.Empty<Remeasured>();
        CaliperValue[] drawn = [.. readings.Select(r => CaliperGeometry.Of(r.Reading, shape))];
        Outcome<IReadOnlyList<JawAnswer>> answers = await solid.CaliperAsync([.. readings.Zip(drawn, (r, d) => Request(r.Reading, d))], cancel).ConfigureAwait(false);
        if (!answers.IsGood) return answers.Problem;
        return (Remeasured[])[.. readings.Zip(drawn, answers.Value).Select(t =>
        {
            var (asked, computed, told) = t;
            return new Remeasured(asked.Reading.Id, asked.ObservedMm, computed.Mm?.Value, told.Mm, computed.Refusal?.What ?? told.WhyNot);
        })];
    }

    private static JawRequest Request(CaliperReading reading, CaliperValue drawn)
    {
        string[] elements = reading.Second is { } second ? [reading.First.Text, second.Text] : [reading.First.Text];
        Point3? at = drawn.At is { } point ? Point3.Of(point) : null;
        return new(reading.Id, reading.Way, elements, reading.Across is { } across ? Point3.Of(across.Vector()) : null, at);
    }
}
