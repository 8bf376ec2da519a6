using Sparewright.Measure;
using static Sparewright.Fit.Tables.RangeTable;

namespace Sparewright.Fit.Tables;

/// <summary>A metric screw thread with a coarse pitch: diameters in mm; between what the outside of a real screw lies (6g).</summary>
/// <param name="NutWidthMm">Across the flats of a hexagon nut.</param>
public sealed record MetricThread(string Name, double DiameterMm, double PitchMm, Limits Screw, double NutWidthMm);

/// <summary>Screws, nuts and inserts by the name of their thread (Data/metric-threads.csv, self-tapping-threads.csv, wood-screw-gauges.csv, heat-set-inserts.csv).</summary>
public static class Threads
{
    private const double InchMm = 25.4;

    /// <summary>ASME B18.6.1, from memory.</summary>
    private const double WoodScrewOverInches = 0.004, WoodScrewUnderInches = 0.007;

    /// <summary>Common practice, no source.</summary>
    private const double InsertPlusMinusMm = 0.05;

    public static IReadOnlyList<MetricThread> Metric { get; } =
    [
        .. from row in DataTable.Rows(typeof(Threads), "metric-threads.csv")
           let d = Number(row[1])
           select new MetricThread(row[0], d, Number(row[2]), new(d - (Number(row[3]) + Number(row[4])) / 1000, d - Number(row[3]) / 1000), Number(row[5])),
    ];

    /// <summary>Self-tapping screws: name and limits of the outer diameter.</summary>
    public static IReadOnlyList<(string Name, Limits Screw)> SelfTapping { get; } =
        [.. DataTable.Rows(typeof(Threads), "self-tapping-threads.csv").Select(row => (row[0], new Limits(Number(row[2]), Number(row[1]))))];

    /// <summary>Wood screws of the inch series: gauge and limits of the diameter.</summary>
    public static IReadOnlyList<(int Gauge, Limits Screw)> WoodScrews { get; } =
    [
        .. from row in DataTable.Rows(typeof(Threads), "wood-screw-gauges.csv")
           let inches = Number(row[1])
           select ((int)Number(row[0]), new Limits((inches - WoodScrewUnderInches) * InchMm, (inches + WoodScrewOverInches) * InchMm)),
    ];

    public static IReadOnlyList<HeatSetInsert> Inserts { get; } =
    [
        .. from row in DataTable.Rows(typeof(Threads), "heat-set-inserts.csv")
           let outer = Number(row[1])
           let hole = Number(row[2])
           select new HeatSetInsert(row[0], new(outer - InsertPlusMinusMm, outer + InsertPlusMinusMm), new(hole, hole + Number(row[3]))),
    ];

    /// <summary>The outside of a screw of that thread, M4 or ST3.5; null where no table has it.</summary>
    public static Limits? Screw(string thread) => Metric.FirstOrDefault(t => t.Name == thread)?.Screw ?? (SelfTapping.FirstOrDefault(t => t.Name == thread) is { Name: not null } found ? found.Screw : null);

    /// <summary>The width of a hexagon nut across its flats, of which h13 is left to its maker; null where no table has it.</summary>
    public static Limits? Nut(string thread) => Metric.FirstOrDefault(t => t.Name == thread) is { } found ? new ToleranceClass("h", 13).Of(found.NutWidthMm) : null;
}

/// <summary>A heat-set insert: its own outer diameter, and the hole that it wants, as it should come out of the printer; mm.</summary>
public sealed record HeatSetInsert(string Thread, Limits Outer, Limits Hole);
