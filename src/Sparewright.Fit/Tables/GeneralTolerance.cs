namespace Sparewright.Fit.Tables;

/// <summary>What a nominal size may be off where nobody says it: ISO 2768-1, class m (Data/general-tolerances.csv).</summary>
public static class GeneralTolerance
{
    private static readonly RangeTable Table = new("general-tolerances.csv");

    /// <summary>± mm; beyond the table the last one, in proportion.</summary>
    public static double PlusMinusMm(double nominalMm) => Table.At(nominalMm)?[0] ?? Table.At(Table.UpToMm)![0] * nominalMm / Table.UpToMm;
}
