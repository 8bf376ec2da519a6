using System.Globalization;
using Sparewright.Measure;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using Sparewright.Reconcile.Readings;

namespace Sparewright.Fit.Coupons;

/// <summary>A reading that is taken on the coupon.</summary>
/// <param name="Number">From 1, in the order of the plan.</param>
/// <param name="DrawnMm">What it would be if the printer made no error.</param>
/// <param name="How">Where the jaws go, in a few words.</param>
public sealed record CouponReading(int Number, CaliperReading Reading, double DrawnMm, string How);

/// <summary>A feature of the coupon, which shows one kind of surface at one size: by one reading, or by the mean of two.</summary>
public sealed record CouponFeature(string Name, PrintedSurface Surface, IReadOnlyList<CouponReading> Readings)
{
    public double DrawnMm => Readings.Average(r => r.DrawnMm);
}

/// <summary>The capability coupon: a part of our own design, which a printer makes once and which is then measured by a plan.</summary>
/// <param name="Text">Its job file.</param>
/// <param name="Features">The plan, in the order in which it is measured.</param>
public sealed record Coupon(string Text, Job Job, PlacedShape Shape, IReadOnlyList<CouponFeature> Features)
{
    /// <summary>The readings of all features, in the order of the plan.</summary>
    public IEnumerable<CouponReading> Readings => Features.SelectMany(f => f.Readings);

    /// <summary>The coupon that comes with the tool.</summary>
    /// <param name="print">How it is going to be printed; its way up is its own.</param>
    public static Coupon For(PrintPlan? print)
    {
        string text = Written(print);
        Job job = JobFile.Read(text).Job ?? throw new InvalidOperationException("the coupon is no sound job");
        PlacedShape shape = ShapePlacer.Place(job.Shape, job.Sizes.At([]));
        return new(text, job, shape, [.. Planned(shape)]);
    }

    private static IEnumerable<CouponFeature> Planned(PlacedShape shape)
    {
        var surfaces = PrintedSurfaces.All.ToDictionary(s => s.Words());
        var readings = DataTable.Rows(typeof(Coupon), "coupon-plan.csv").Select((row, k) => (Feature: row[0], Surface: surfaces[row[1]], Reading: Reading(k + 1, row, shape))).ToArray();
        return readings.GroupBy(r => r.Feature).Select(f => new CouponFeature(f.Key, f.First().Surface, [.. f.Select(r => r.Reading)]));
    }

    private static CouponReading Reading(int number, string[] row, PlacedShape shape)
    {
        ElementName Element(string name) => new(name, Place.None);
        var reading = new CaliperReading(number.ToString(CultureInfo.InvariantCulture), row[2] == "inside" ? ReadingWay.Inside : ReadingWay.Outside, Element(row[3]), row[4].Length == 0 ? null : Element(row[4]), null, [], false, false, null, null, null, Place.None);
        double drawn = CaliperGeometry.Of(reading, shape) is { Mm: { } mm } ? mm.Value : throw new InvalidOperationException($"no caliper takes reading {number} of the coupon");
        return new(number, reading with { ReadsMm = [drawn] }, drawn, row[5]);
    }

    /// <summary>The job file that comes with the tool, with how it is going to be printed.</summary>
    private static string Written(PrintPlan? print)
    {
        using Stream stream = typeof(Coupon).Assembly.GetManifestResourceStream("Sparewright.Fit.Data.coupon.yaml")!;
        string text = new StreamReader(stream).ReadToEnd();
        foreach (var (key, value) in (IEnumerable<(string, string?)>)[("machine", print?.Machine), ("nozzle", Mm(print?.NozzleMm)), ("layer", Mm(print?.LayerMm)), ("material", print?.Material)])
            if (value is not null) text = JobText.WithValue(text, ["print", key], value).Text!;
        return text;

        static string? Mm(double? mm) => mm?.ToString("0.###", CultureInfo.InvariantCulture);
    }
}
