using System.Globalization;
using Sparewright.Measure;

namespace Sparewright.Reconcile.Nominals;

/// <summary>The clearance holes of a screw thread, mm.</summary>
public sealed record ClearanceHole(string Thread, double DiameterMm, double FineMm, double MediumMm, double CoarseMm);

/// <summary>Clearance holes for screws by ISO 273 (Data/iso273-clearance-holes.csv), the thinnest screw first.</summary>
public static class ClearanceHoles
{
    public static IReadOnlyList<ClearanceHole> All { get; } = [.. DataTable.Rows(typeof(ClearanceHoles), "iso273-clearance-holes.csv").Select(row => new ClearanceHole(row[0], Number(row[1]), Number(row[2]), Number(row[3]), Number(row[4])))];

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
