using System.Globalization;
using Sparewright.Fit.Capability;
using Sparewright.Fit.Coupons;
using Sparewright.Measure;
using Sparewright.Part;
using Sparewright.Part.Record;
using Xunit;

namespace Sparewright.Fit;

public sealed class CouponTests
{
    private static readonly Coupon Coupon = Coupon.For(null);

    private static string Filled(Func<CouponFeature, CouponReading, double?> reads, char between = ',', string point = ".")
    {
        var readings = Coupon.Features.SelectMany(f => f.Readings, (f, r) => (f, r)).ToDictionary(p => p.r.Number, p => reads(p.f, p.r));
        string[] lines = CouponTable.Of(Coupon).TrimEnd('\n').Split('\n');
        return string.Join('\n', lines.Select((line, k) => k == 0 || readings[k] is not { } mm ? line.Replace(',', between) : line[..^3].Replace(',', between) + between + mm.ToString("0.000", CultureInfo.InvariantCulture).Replace(".", point, StringComparison.Ordinal) + between + between));
    }

    [Fact]
    public void Every_kind_of_surface_is_shown_at_sizes_far_enough_apart()
    {
        foreach (CouponFeature feature in Coupon.Features) Assert.Equal(double.Parse(feature.Name.Split('_')[1], CultureInfo.InvariantCulture), feature.DrawnMm, 1e-9);
        foreach (PrintedSurface surface in PrintedSurfaces.All)
        {
            double[] sizes = [.. Coupon.Features.Where(f => f.Surface == surface).Select(f => f.DrawnMm)];
            Assert.True(sizes.Length >= 2 && sizes.Max() >= 2 * sizes.Min(), $"{surface}: {string.Join(' ', sizes)}");
        }
    }

    /// <summary>Printed by a printer whose errors are known and measured exactly, the coupon teaches them: constant, by size, and of small holes.</summary>
    [Fact]
    public void A_known_printer_is_recognised()
    {
        double Error(CouponFeature f) => f.Surface switch
        {
            PrintedSurface.HoleUpright => -0.11 - 0.4 / f.DrawnMm,
            PrintedSurface.Outside => 0.08 + 0.002 * f.DrawnMm,
            PrintedSurface.CentreDistance => 0.002 * f.DrawnMm,
            PrintedSurface.HoleLying => -0.2,
            PrintedSurface.Slot => -0.12,
            PrintedSurface.FirstLayer => 0.3,
            _ => 0.05,
        };
        // A wider hole makes the web thinner and the span longer; what the distance of the centres gains both have.
        Assert.True(CouponTable.TryRead(Coupon, Filled((f, r) => r.DrawnMm + Error(f) + (f.Readings.Count == 1 ? 0 : r.Reading.Way == ReadingWay.Inside ? -0.15 : 0.15)), out IReadOnlyList<MeasuredCoupon> measured, out _));
        MeasuredTrial[] trials = [.. measured.SelectMany(m => Enumerable.Repeat(m, 3)).Select(m => new MeasuredTrial(SurfaceKinds.Of(m.Feature.Surface), m.Feature.DrawnMm, new(2026, 5, 31), m.ReadsMm[0], 0.005))];
        var process = ProcessCapability.Learn(new(ProcessKind.Mex, "p", "ASA", ""), trials);
        Assert.All(SurfaceKinds.All, kind => Assert.Equal(CapabilityStatus.Measured, process[kind].Status));
        foreach (CouponFeature f in Coupon.Features) Assert.Equal(Error(f), process[SurfaceKinds.Of(f.Surface)].Bias(f.DrawnMm).MeanMm, 0.025);
        Assert.Equal(0.002, process[SurfaceKind.Outside].Proportional.MeanMm, 0.0006);
    }

    [Fact]
    public void A_table_that_another_program_kept_with_commas_in_its_numbers_is_read()
    {
        Assert.True(CouponTable.TryRead(Coupon, Filled((_, r) => r.DrawnMm + 0.1, ';', ",").Replace("\n", "\r\n", StringComparison.Ordinal), out IReadOnlyList<MeasuredCoupon> measured, out _));
        Assert.Equal(Coupon.Features.Count, measured.Count);
        Assert.All(measured, m => Assert.Equal(m.Feature.DrawnMm + 0.1, m.ReadsMm[0], 1e-9));
    }

    [Fact]
    public void What_was_not_measured_is_passed_over()
    {
        Assert.True(CouponTable.TryRead(Coupon, Filled((f, r) => f.Name == "hole_8" ? 7.8 : null), out IReadOnlyList<MeasuredCoupon> measured, out _));
        Assert.Equal(("hole_8", 7.8), (Assert.Single(measured).Feature.Name, measured[0].ReadsMm[0]));
    }

    [Theory]
    [InlineData("h\n", "nothing in it was measured yet")]
    [InlineData("h,,,,,\n99,x,,,,8", "there is no reading 99")]
    [InlineData("h,,,,,\n11,peg_4,,,,8.01", "reading 11 is 8.01 mm, where 4.00 mm was drawn")]
    [InlineData("h,,,,,\n11,peg_4,,,,4.x", "reading 11")]
    [InlineData("h,,,,,\n11,peg_4,,,,4.01\n11,peg_4,,,,4.02", "stands in the table twice")]
    [InlineData("h,,,,,\n25,centres_20,,,,7.5", "taken more often than the other")]
    public void What_is_wrong_in_a_table_is_said(string table, string says)
    {
        Assert.False(CouponTable.TryRead(Coupon, table, out _, out Problem? problem));
        Assert.Contains(says, problem.What, StringComparison.Ordinal);
    }
}
