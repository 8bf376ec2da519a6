using System.Globalization;
using Sparewright.Measure;

namespace Sparewright.Reconcile.Nominals;

/// <summary>A basic series of preferred numbers (ISO 3; Data/iso3-preferred-numbers.csv), from a tenth to a thousand.</summary>
internal sealed class PreferredNumbers
{
    private static readonly string[] Columns = ["R40", "R20", "R10", "R5"];

    private readonly double[] _numbers;

    private PreferredNumbers(double[] ofOneDecade) => _numbers = [.. new[] { 0.1, 1, 10, 100 }.SelectMany(power => ofOneDecade.Select(n => Math.Round(n * power, 3))), 1000];

    /// <summary>R5, R10, R20 or R40.</summary>
    public static PreferredNumbers Named(string series)
    {
        int column = Array.IndexOf(Columns, series);
        return new([.. DataTable.Rows(typeof(PreferredNumbers), "iso3-preferred-numbers.csv").Where(row => column == 0 || row[column] == "1").Select(row => double.Parse(row[0], CultureInfo.InvariantCulture))]);
    }

    /// <summary>Those between two values, each with the half of the way to either neighbour.</summary>
    public IEnumerable<(double At, double Spacing)> Between(double low, double high)
    {
        int first = Array.BinarySearch(_numbers, low);
        for (int k = Math.Max(1, first < 0 ? ~first : first); k < _numbers.Length - 1 && _numbers[k] <= high; k++) yield return (_numbers[k], (_numbers[k + 1] - _numbers[k - 1]) / 2);
    }
}
