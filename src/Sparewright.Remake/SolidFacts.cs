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
    public static IReadOnlyList<ObservedReading> ToRepeat(Reconciled reconciled) =>
        [.. from r in reconciled.Readings where r.Reading is CaliperReading && r.Observed is not null select new ObservedReading((CaliperReading)r.Reading, r.Observed!.Value)];
}
