using System.Collections.Frozen;
using System.Globalization;
using Sparewright.Measure;
using Sparewright.Part.Shape;

namespace Sparewright.Reconcile.Nominals;

/// <summary>What hardware may ask for: the hole for a screw, tube or rod; a countersink for a head; a boss that stands in for a tube or rod.</summary>
internal enum HardwareKind { Hole, Countersink, Boss }

/// <summary>A size that hardware may ask for: slope · size + offset is the diameter that it asks for.</summary>
internal sealed record HardwareUse(HardwareKind Kind, double Slope = 1, double Offset = 0)
{
    /// <summary>Of such diameters in metric parts, how many are made for hardware.</summary>
    public double Share => StandardHardware.Asked.Where(a => a.By == Kind).Sum(a => a.Share);

    /// <summary>The values of the size near one that is known with a standard uncertainty, mm; a value that stands for several is called by all of them.</summary>
    public IReadOnlyList<GridPoint> Near(double mm, double u) =>
    [
        .. StandardHardware.Near(Kind, Slope * mm + Offset, Math.Abs(Slope) * u).Select(p => Slope == 1 && Offset == 0 ? p : new GridPoint((p.Mm - Offset) / Slope, p.Weight, p.Words)),
    ];
}

/// <summary>Standard diameters (Data/iso273-clearance-holes.csv, Data/countersinks.csv, Data/tubes-and-rods.csv), as odds: a share of all holes, countersinks and bosses is made for each series, spread evenly over its values within 5 mm of where one looks.</summary>
internal static class StandardHardware
{
    /// <summary>Of the diameters of a metric part, how many are made for each series. Our judgement, no source.</summary>
    public static IReadOnlyList<(HardwareKind By, string Series, double Share)> Asked { get; } =
        [(HardwareKind.Hole, "hole", 0.25), (HardwareKind.Hole, "round", 0.05), (HardwareKind.Countersink, "countersink", 0.25), (HardwareKind.Boss, "round", 0.05)];

    private const double StretchMm = 10, FarthestInU = 6;

    private static readonly FrozenDictionary<string, (double Mm, string Words)[]> Values = new Dictionary<string, (double Mm, string Words)[]>
    {
        ["hole"] = [.. ClearanceHoles.All.SelectMany(h => new[] { (h.FineMm, "fine"), (h.MediumMm, "medium"), (h.CoarseMm, "coarse") }.Select(s => (s.Item1, $"{h.Thread} clearance hole (ISO 273 {s.Item2})")))],
        ["countersink"] = Read("countersinks.csv"),
        ["round"] = Read("tubes-and-rods.csv"),
    }.ToFrozenDictionary();

    /// <summary>Which sizes decide the diameter of a hole, a countersink or a boss alone, be it as its half; the first use where there are several.</summary>
    public static IReadOnlyDictionary<string, HardwareUse> In(IEnumerable<Feature> shape)
    {
        var uses = new Dictionary<string, HardwareUse>(StringComparer.Ordinal);
        foreach (SizeUse use in SizeUse.In(shape).OrderByDescending(u => u is { Slope: 1, Offset: 0 }))
            if (use.Kind switch { SizeKind.Hole => HardwareKind.Hole, SizeKind.Countersink => HardwareKind.Countersink, SizeKind.Round => HardwareKind.Boss, _ => (HardwareKind?)null } is { } kind)
                uses.TryAdd(use.Size, new(kind, use.Slope, use.Offset));
        return uses;
    }

    /// <summary>The standard values near a diameter that is known with a standard uncertainty, mm.</summary>
    internal static IReadOnlyList<GridPoint> Near(HardwareKind kind, double mm, double u)
    {
        var near = new List<(double Mm, double Weight, string Words)>();
        foreach (var (_, series, share) in Asked.Where(a => a.By == kind))
        {
            (double Mm, string Words)[] inStretch = [.. Values[series].Where(v => Math.Abs(v.Mm - mm) <= StretchMm / 2)];
            near.AddRange(inStretch.Where(v => Math.Abs(v.Mm - mm) <= FarthestInU * u).Select(v => (v.Mm, share / inStretch.Length, v.Words)));
        }

        return [.. near.GroupBy(v => v.Mm).Select(g => new GridPoint(g.Key, g.Sum(v => v.Weight), string.Join(" or ", g.Select(v => v.Words))))];
    }

    private static (double Mm, string Words)[] Read(string table) => [.. DataTable.Rows(typeof(StandardHardware), table).Select(row => (double.Parse(row[0], CultureInfo.InvariantCulture), row[1]))];
}
