using System.Globalization;
using Sparewright.Measure;

namespace Sparewright.Fit.Odds;

/// <summary>About what a print takes.</summary>
public readonly record struct PrintEffort(double Minutes, double Grams)
{
    /// <summary>Of usual plastics, g/cm³: they lie between 1.04 and 1.27 (process notes 4.1, read in papers).</summary>
    private const double Density = 1.2;

    /// <summary>One print of so much, as if solid.</summary>
    public static PrintEffort Of(double volumeMm3)
    {
        double grams = volumeMm3 / 1000 * Density;
        double[] row = Row("print");
        return new(row[0] + row[1] * grams, grams);
    }

    /// <summary>Minutes at once, minutes for each piece (of a print: each gram), grams for each piece.</summary>
    internal static double[] Row(string of) =>
        [.. DataTable.Rows(typeof(PrintEffort), "cure-costs.csv").Single(r => r[0] == of).Skip(1).Select(v => double.Parse(v, CultureInfo.InvariantCulture))];
}
