using System.Globalization;
using Sparewright.Measure;
using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;

namespace Sparewright.Reconcile.Nominals;

/// <summary>Where hardware may ask for a size.</summary>
internal enum HardwareKind { Hole, Countersink }

/// <summary>What screws ask for (Data/iso273-clearance-holes.csv, Data/countersinks.csv), as odds: a share of all holes and countersinks is made for screws, spread evenly over the standard values within 5 mm of where one looks.</summary>
internal static class StandardHardware
{
    /// <summary>Of the holes and countersinks of a metric part, how many are made for screws. Our judgement, no source.</summary>
    public const double Share = 0.25;

    private const double StretchMm = 10, FarthestInU = 6;

    private static readonly (double Mm, string Words)[] Holes =
    [
        .. ClearanceHoles.All.SelectMany(h => new[] { (h.FineMm, "fine"), (h.MediumMm, "medium"), (h.CoarseMm, "coarse") }.Select(s => (s.Item1, $"{h.Thread} clearance hole (ISO 273 {s.Item2})"))),
    ];

    private static readonly (double Mm, string Words)[] Countersinks =
        [.. DataTable.Rows(typeof(StandardHardware), "countersinks.csv").Select(row => (double.Parse(row[0], CultureInfo.InvariantCulture), row[1]))];

    /// <summary>Which sizes are themselves the diameter of a hole or a countersink.</summary>
    public static IReadOnlyDictionary<string, HardwareKind> In(IEnumerable<Feature> shape)
    {
        var kinds = new Dictionary<string, HardwareKind>(StringComparer.Ordinal);
        foreach (Hole hole in shape.Select(One).OfType<Hole>())
        {
            if (hole.Diameter is SizeExpression.Name { Size: var size }) kinds.TryAdd(size, HardwareKind.Hole);
            if (hole.Countersink?.Diameter is SizeExpression.Name { Size: var wide }) kinds.TryAdd(wide, HardwareKind.Countersink);
        }

        return kinds;
    }

    /// <summary>The standard values near a diameter that is known with a standard uncertainty, mm; a value that stands for several is called by the first.</summary>
    public static IReadOnlyList<GridPoint> Near(HardwareKind kind, double mm, double u)
    {
        (double Mm, string Words)[] all = kind == HardwareKind.Hole ? Holes : Countersinks;
        int inStretch = all.Count(v => Math.Abs(v.Mm - mm) <= StretchMm / 2);
        return [.. all.Where(v => Math.Abs(v.Mm - mm) <= Math.Min(StretchMm / 2, FarthestInU * u)).GroupBy(v => v.Mm)
            .Select(g => new GridPoint(g.Key, Share * g.Count() / inStretch, string.Join(" or ", g.Select(v => v.Words))))];
    }

    private static Feature One(Feature feature) => feature switch { Row row => One(row.Of), Ring ring => One(ring.Of), _ => feature };
}
