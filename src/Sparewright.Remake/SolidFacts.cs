using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
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

    /// <summary>False when the formulas and the solid disagree, which is a bug of ours and must be seen.</summary>
    public bool Proven => Remeasured.All(r => r.Agrees);

    /// <summary>The part's weight in grams at a density in g/cm³.</summary>
    public double Grams(double density) => VolumeMm3 / 1000 * density;

    /// <summary>The readings that the virtual caliper is to take again: every caliper reading of the job.</summary>
    public static IReadOnlyList<ReadingToRepeat> ToRepeat(Reconciled reconciled) =>
    [
        .. from r in reconciled.Readings
           where r.Reading is CaliperReading && r.Adjusted is not null
           let reading = (CaliperReading)r.Reading
           select new ReadingToRepeat(reading.Id, reading.Way, reading.Second is { } second ? [reading.First.Text, second.Text] : [reading.First.Text],
               reading.Across is { } across ? Point3.Of(across.Vector()) : null, AtHeight(reading, reconciled.Shape), r.Observed!.Value, r.Adjusted!.Value),
    ];

    private static Point3? AtHeight(CaliperReading reading, PlacedShape shape) =>
        reading.AtHeight is { } height && shape.Elements.GetValueOrDefault(reading.First.Text) is ConeElement cone
            ? Point3.Of(cone.BasePoint + cone.AxisDirection * height.At(shape.Sizes)) : (Point3?)null;
}
