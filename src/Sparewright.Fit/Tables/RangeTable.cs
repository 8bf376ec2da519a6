using System.Globalization;
using Sparewright.Measure;

namespace Sparewright.Fit.Tables;

/// <summary>A table of figures by ranges of the nominal size: columns `over` and `upto` in mm, then the figures.</summary>
internal sealed class RangeTable
{
    private readonly IReadOnlyList<(double OverMm, double UpToMm, double[] Figures)> _rows;

    public RangeTable(string name) => _rows =
    [
        .. DataTable.Rows(typeof(RangeTable), name).Select(row => (Number(row[0]), Number(row[1]), row[2..].Select(Number).ToArray())),
    ];

    /// <summary>Where the table ends, mm.</summary>
    public double UpToMm => _rows[^1].UpToMm;

    /// <summary>The figures of the range that holds a size, or null beyond the table.</summary>
    public double[]? At(double mm) => _rows.FirstOrDefault(r => mm > r.OverMm && mm <= r.UpToMm).Figures;

    public static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
