using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Text;
using Sparewright.Measure;
using Sparewright.Measure.Quantities;
using Sparewright.Part;

namespace Sparewright.Fit.Coupons;

/// <summary>A coupon's feature as it was measured.</summary>
/// <param name="ReadsMm">One value for each repeat, in mm, uncorrected; of a feature of two readings their mean.</param>
public sealed record MeasuredCoupon(CouponFeature Feature, IReadOnlyList<double> ReadsMm);

/// <summary>The plan as a table to be filled in, by hand or in any program that knows tables: one row for each reading, repeats in the last columns.</summary>
public static class CouponTable
{
    private const string Heading = "number,feature,way,drawn mm,where,reads,reads again,reads once more";

    private const int FirstRead = 5;

    /// <summary>Readings farther from what was drawn are slips of the pen, not errors of a printer: more than a tenth of the size, and more than this, in mm. Our judgement.</summary>
    private const double FarMm = 1.5;

    public static string Of(Coupon coupon)
    {
        var table = new StringBuilder(Heading).Append('\n');
        foreach (CouponFeature feature in coupon.Features)
            foreach (CouponReading r in feature.Readings)
                table.Append(CultureInfo.InvariantCulture, $"{r.Number},{feature.Name},{(r.Reading.Way == ReadingWay.Inside ? "inside" : "outside")},{r.DrawnMm:0.00},\"{r.How}\",,,\n");
        return table.ToString();
    }

    /// <summary>Reads a table that was filled in; rows without a value are passed over.</summary>
    /// <param name="problem">The first thing that must be put right.</param>
    public static bool TryRead(Coupon coupon, string text, out IReadOnlyList<MeasuredCoupon> measured, [NotNullWhen(false)] out Problem? problem)
    {
        measured = [];
        string[] lines = [.. text.TrimStart('\ufeff').Split('\n').Select(l => l.TrimEnd('\r'))];
        char between = ((char[])[';', '\t', ',']).MaxBy(c => lines[0].Count(there => there == c));
        var reads = new Dictionary<int, double[]>();
        for (int k = 1; k < lines.Length; k++)
        {
            if (lines[k].Trim(between, ' ', '\t').Length == 0) continue;
            string[] cells = Cells(lines[k], between);
            Problem At(string what, string remedy) => new(new Place(k + 1, 1), what, remedy);
            if (!int.TryParse(cells[0], NumberStyles.None, CultureInfo.InvariantCulture, out int number) || coupon.Readings.FirstOrDefault(r => r.Number == number) is not { } planned)
            {
                problem = At($"there is no reading {cells[0]} in the coupon's plan", $"begin each row with its number, 1 to {coupon.Readings.Count()}");
                return false;
            }

            var values = new List<double>();
            foreach (string cell in cells.Skip(FirstRead).Where(c => c.Length > 0))
            {
                string written = between == ',' ? cell : cell.Replace(',', '.');
                if (!QuantityText.TryRead(written, QuantityKind.Length, out Quantity mm, out Refusal? refusal)) problem = At($"reading {number}: {refusal.Reason}", refusal.Remedy);
                else if (Far(planned, [mm.Value]) is { } far) problem = At(far.What, far.Remedy);
                else
                {
                    values.Add(mm.Value);
                    continue;
                }

                return false;
            }

            if (values.Count > 0 && !reads.TryAdd(number, [.. values]))
            {
                problem = At($"reading {number} stands in the table twice", "keep one row, repeats in its last columns");
                return false;
            }
        }

        return TryPair(coupon, reads, out measured, out problem);
    }

    /// <summary>What is said of a value that cannot be of this feature; null where all may be.</summary>
    public static Problem? Far(CouponReading planned, IEnumerable<double> readsMm) =>
        readsMm.Where(mm => Math.Abs(mm - planned.DrawnMm) > Math.Max(FarMm, planned.DrawnMm / 10)).Select(mm =>
            new Problem(Place.None, string.Create(CultureInfo.InvariantCulture, $"reading {planned.Number} is {mm:0.00} mm, where {planned.DrawnMm:0.00} mm was drawn"), "measure it again, and look whether it stands in the right row")).FirstOrDefault();

    /// <summary>Features of the readings that were taken. Of two readings both are needed, equally often.</summary>
    public static bool TryPair(Coupon coupon, IReadOnlyDictionary<int, double[]> reads, out IReadOnlyList<MeasuredCoupon> measured, [NotNullWhen(false)] out Problem? problem)
    {
        var found = new List<MeasuredCoupon>();
        measured = found;
        foreach (CouponFeature feature in coupon.Features)
        {
            double[][] taken = [.. feature.Readings.Select(r => reads.GetValueOrDefault(r.Number) ?? [])];
            if (taken.All(t => t.Length == 0)) continue;
            if (taken.Any(t => t.Length != taken[0].Length))
            {
                problem = new(Place.None, $"{feature.Name} is the mean of readings {string.Join(" and ", feature.Readings.Select(r => r.Number))}, and one was taken more often than the other", "take both equally often, or leave both out");
                return false;
            }

            found.Add(new(feature, [.. Enumerable.Range(0, taken[0].Length).Select(k => Math.Round(taken.Average(t => t[k]), 4))]));
        }

        problem = found.Count > 0 ? null : new(Place.None, "nothing in it was measured yet", "write what the caliper shows into the columns `reads`");
        return problem is null;
    }

    /// <summary>What a trial says of them, as a job writes it.</summary>
    /// <param name="with">The instrument's name, where it must be said.</param>
    public static JobValue Measured(IReadOnlyList<MeasuredCoupon> measured, string? with) => new JobValue.List([.. measured.Select(m => new JobValue.Group(
    [
        ("surface", Part.Record.PrintedSurfaces.Words(m.Feature.Surface)), ("drawn", Number(m.Feature.DrawnMm)), ("reads", m.ReadsMm is [var one] ? Number(one) : new JobValue.List([.. m.ReadsMm.Select(r => (JobValue)Number(r))])),
        .. with is null ? [] : ((string, JobValue)[])[("with", with)],
    ]))]);

    private static string Number(double mm) => mm.ToString("0.####", CultureInfo.InvariantCulture);

    private static string[] Cells(string line, char between)
    {
        string[] quoted = line.Split('"');
        for (int i = 1; i < quoted.Length; i += 2) quoted[i] = quoted[i].Replace(between, '\u001f');
        return [.. string.Concat(quoted).Split(between).Select(cell => cell.Replace('\u001f', between).Trim())];
    }
}
