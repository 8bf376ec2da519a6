using Sparewright.Measure;
using static Sparewright.Fit.Tables.RangeTable;

namespace Sparewright.Fit.Tables;

/// <summary>Rolling bearings by the number on them, whatever letters stand behind it (Data/bearings.csv, Data/bearing-tolerances.csv).</summary>
public static class Bearings
{
    private static readonly RangeTable Tolerances = new("bearing-tolerances.csv");

    public static IReadOnlyList<(string Designation, double BoreMm, double OuterMm)> All { get; } =
        [.. DataTable.Rows(typeof(Bearings), "bearings.csv").Select(row => (row[0], Number(row[1]), Number(row[2])))];

    /// <summary>Between what its bore and its outer diameter lie; null where no table has it.</summary>
    public static (Limits Bore, Limits Outer)? Of(string designation)
    {
        string number = string.Concat(designation.TakeWhile(char.IsAsciiDigit));
        return All.FirstOrDefault(b => b.Designation == number) is { Designation: not null } b
            ? (new(b.BoreMm - Tolerances.At(b.BoreMm)![0] / 1000, b.BoreMm), new(b.OuterMm - Tolerances.At(b.OuterMm)![1] / 1000, b.OuterMm))
            : null;
    }
}
