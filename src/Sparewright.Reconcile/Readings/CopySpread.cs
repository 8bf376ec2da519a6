using System.Globalization;
using Sparewright.Measure;
using Sparewright.Measure.Uncertainty;
using Sparewright.Part.Record;

namespace Sparewright.Reconcile.Readings;

/// <summary>
/// How copies of one part differ. As soon as a job has readings of more than one, its sizes are those of their mean; each copy as a whole is bigger or smaller by one unknown share, and each place differs a little besides.
/// </summary>
/// <param name="Relative">Standard deviation of the share.</param>
/// <param name="PlaceMm">Standard deviation from place to place, mm.</param>
internal sealed record CopySpread(double Relative, double PlaceMm)
{
    /// <summary>Of a job; null where all its readings are of one copy.</summary>
    public static CopySpread? Of(Job job)
    {
        if (job.Readings.Select(r => r.Copy).Distinct().Count() < 2) return null;
        string[] row = DataTable.Rows(typeof(Instrument), "copy-spread.csv").Single(row => row[0].Equals(job.MadeBy.ToString(), StringComparison.OrdinalIgnoreCase));
        return new(double.Parse(row[1], CultureInfo.InvariantCulture), double.Parse(row[2], CultureInfo.InvariantCulture));
    }

    /// <summary>What it adds to a reading's budget.</summary>
    /// <param name="value">What was read: a length, or what is proportional to one to a power.</param>
    /// <param name="power">1 for a length, 3 for a volume or a weight.</param>
    public IEnumerable<BudgetLine> Lines(double value, int power = 1)
    {
        yield return new("copies differ, as a whole", BudgetKind.B, power * Relative * Math.Abs(value), double.PositiveInfinity, "usual for how it was made; common practice, no source", ErrorReach.SameCopy);
        if (power == 1) yield return new("copies differ, from place to place", BudgetKind.B, PlaceMm, double.PositiveInfinity, "usual for how it was made; common practice, no source");
    }

    /// <summary>How a copy is called.</summary>
    public static string NameOf(Reading reading) => reading.Copy is { } copy ? $"the copy {copy}" : "the old part";
}
