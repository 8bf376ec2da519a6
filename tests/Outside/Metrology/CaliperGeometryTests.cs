using Sparewright.Measure;
using Sparewright.Measure.Numbers;
using Sparewright.Measure.Quantities;
using Sparewright.Measure.Uncertainty;
using Xunit;

namespace Sparewright.Outside.Metrology;

/// <summary>Geometry and limits of calipers.</summary>
public sealed class CaliperGeometryTests
{
    /// <summary>Shortfall of inside jaws with contact chord b in a hole of diameter D: the circle's own geometry, recomputed.</summary>
    [Theory]
    [InlineData(5, 0.3, 0.0090)]
    [InlineData(5, 0.5, 0.0251)]
    [InlineData(5, 0.7, 0.0492)]
    [InlineData(3, 0.5, 0.0420)]
    [InlineData(10, 0.5, 0.0125)]
    public void A_small_hole_reads_low(double diameter, double flat, double shortfall)
    {
        double reads = JawFlat.ReadsMm(diameter, flat);
        Assert.Equal(shortfall, diameter - reads, 5e-5);
        Assert.Equal(diameter, JawFlat.DiameterMm(reads, flat).Value, 1e-12);
    }

    [Fact]
    public void A_5_mm_hole_reads_4_9749() => Assert.Equal(4.9749, JawFlat.ReadsMm(5, 0.5), 5e-5);

    /// <summary>Radius from chord and sagitta, R = c²/(8s) + s/2; c = 40, s = 5, u = 0.03 each: recomputed.</summary>
    [Fact]
    public void Radius_from_chord_and_sagitta()
    {
        double[,] variance = { { 0.0009, 0 }, { 0, 0.0009 } };
        var result = LawOfPropagation.Propagate([x => x[0] * x[0] / (8 * x[1]) + x[1] / 2], [40, 5], variance);
        Assert.Equal(42.5, result.Values[0], 1e-12);
        Assert.Equal(2, result.Sensitivities[0, 0], 1e-12);
        Assert.Equal(-7.5, result.Sensitivities[0, 1], 1e-12);
        Assert.Equal(0.2329, result.StandardUncertainty(0), 5e-5);
    }

    /// <summary>The same radius as the evidence of a reading: the rise over the chord, with the error that a chord of u = 0.03 puts into it; 0.2329 = 7.5 · √(0.03² + (0.03 · 2/7.5)²): recomputed.</summary>
    [Fact]
    public void Radius_from_chord_and_sagitta_as_evidence()
    {
        Assert.Equal(42.5, Sagitta.RadiusMm(40, 5), 1e-12);
        Dual rise = Sagitta.Mm(Dual.Unknown(0, 42.5), 40);
        Assert.Equal(5, rise.Value, 1e-12);
        double u = Math.Sqrt(0.03 * 0.03 + Sagitta.ByChord(40, 5) * 0.03 * Sagitta.ByChord(40, 5) * 0.03) / Math.Abs(rise.Gradient.By(0));
        Assert.Equal(0.2329, u, 5e-5);
    }

    /// <summary>Outside and depth readings grow as 1/cos: 30 mm at 2° by 0.0183 mm, 50 mm at 2° by 0.0305 mm (recomputed).</summary>
    [Theory]
    [InlineData(30, 2, 0.0183)]
    [InlineData(50, 2, 0.0305)]
    public void An_instrument_askew_reads_long(double lengthMm, double degrees, double longerMm) => Assert.Equal(longerMm, Tilt.ReadsMm(lengthMm, degrees) - lengthMm, 5e-5);

    /// <summary>From the outermost and the innermost reading over two holes follow centre distance and mean diameter, unequal holes or not (shop rule, plain algebra).</summary>
    [Fact]
    public void Centre_distance_of_unequal_holes()
    {
        const double d1 = 4.2, d2 = 6.7, distance = 34;
        var result = Solve.It(new(
            [new("d1", 5), new("d2", 5), new("c", 30)],
            [new("over all", distance + (d1 + d2) / 2, 0.03, x => x[2] + (x[0] + x[1]) / 2), new("web", distance - (d1 + d2) / 2, 0.03, x => x[2] - (x[0] + x[1]) / 2)]));
        Assert.True(result.IsDecided(2));
        Assert.Equal(distance, result.Estimates[2], 1e-9);
        Assert.Equal(0.03 / Math.Sqrt(2), result.StandardUncertainty(2), 1e-9);
        Assert.False(result.IsDecided(0));
        var sum = result.Of(x => (x[0] + x[1]) / 2);
        Assert.True(sum.IsDecided);
        Assert.Equal((d1 + d2) / 2, sum.Value, 1e-9);
        Assert.Equal([1, -1, 0], Assert.Single(result.NullSpace.Directions));
    }

    /// <summary>1 in = 25.4 mm exactly (1959), so every k/64 in is an exact decimal in mm.</summary>
    [Theory]
    [InlineData("1/64 in", 0.396875)]
    [InlineData("1/32 in", 0.79375)]
    [InlineData("1/8 in", 3.175)]
    [InlineData("3/16 in", 4.7625)]
    [InlineData("15/32 in", 11.90625)]
    [InlineData("63/64 in", 25.003125)]
    public void Inch_fractions_are_exact(string text, double mm)
    {
        Assert.True(QuantityText.TryRead(text, QuantityKind.Length, out var quantity, out _));
        Assert.Equal(mm, quantity.Value);
        Assert.Equal(text, Shown.InchFraction(mm));
    }

    /// <summary>DIN 862 error limits G (read as a flattened table): 20 µm to 100 mm, 30 µm to 300; 20 µm more for inside and depth.</summary>
    [Theory]
    [InlineData(InstrumentKind.DigitalCaliper, null, ReadingWay.Outside, 50, 0.020)]
    [InlineData(InstrumentKind.DigitalCaliper, null, ReadingWay.Outside, 100, 0.020)]
    [InlineData(InstrumentKind.DigitalCaliper, null, ReadingWay.Outside, 100.1, 0.030)]
    [InlineData(InstrumentKind.DigitalCaliper, null, ReadingWay.Outside, 700, 0.040)]
    [InlineData(InstrumentKind.DigitalCaliper, null, ReadingWay.Inside, 12, 0.040)]
    [InlineData(InstrumentKind.DigitalCaliper, null, ReadingWay.Depth, 12, 0.040)]
    [InlineData(InstrumentKind.VernierCaliper, null, ReadingWay.Outside, 12, 0.050)]
    [InlineData(InstrumentKind.VernierCaliper, null, ReadingWay.Outside, 350, 0.060)]
    [InlineData(InstrumentKind.VernierCaliper, 0.02, ReadingWay.Outside, 12, 0.020)]
    [InlineData(InstrumentKind.VernierCaliper, 0.02, ReadingWay.Depth, 1100, 0.070)]
    public void Permissible_errors_of_calipers(InstrumentKind kind, double? resolution, ReadingWay way, double lengthMm, double limitMm) =>
        Assert.Equal(limitMm, InstrumentDefaults.Published.PermissibleError(Instrument.Usual(kind) with { Resolution = resolution }, way, lengthMm).Limit, 1e-12);

    /// <summary>A closing dimension, recomputed: a + b + c against the whole, u = 0.02 each.</summary>
    [Fact]
    public void The_overall_length_is_the_cheapest_check()
    {
        var result = Solve.It(new(
            [new("a", 12), new("b", 20), new("c", 8)],
            [new("a", 12.03, 0.02, x => x[0]), new("b", 20.00, 0.02, x => x[1]), new("c", 7.98, 0.02, x => x[2]), new("all", 40.05, 0.02, x => x[0] + x[1] + x[2])]));
        Assert.Equal(12.04, result.Estimates[0], 1e-9);
        Assert.Equal(20.01, result.Estimates[1], 1e-9);
        Assert.Equal(7.99, result.Estimates[2], 1e-9);
        Assert.Equal(1.0, result.Global.ChiSquare, 1e-9);
        Assert.All(result.Observations, o => Assert.Equal(0.25, o.Redundancy, 1e-9));
        Assert.Equal(0.01732, result.StandardUncertainty(0), 5e-6);
    }

    /// <summary>The example by which ceres-solver's documentation shows a covariance that must be refused: J = [[1, 1], [1, 1.0000001]].</summary>
    [Fact]
    public void A_nearly_singular_pair_counts_as_undecided()
    {
        var result = Solve.It(new([new("x", 0), new("y", 0)], [new("1", 2, 1, x => x[0] + x[1]), new("2", 2, 1, x => x[0] + 1.0000001 * x[1])]));
        Assert.Equal(1, result.Rank);
        Assert.False(result.IsDecided(0));
        Assert.False(result.IsDecided(1));
    }
}
