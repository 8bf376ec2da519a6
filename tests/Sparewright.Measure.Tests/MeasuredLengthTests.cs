using CsCheck;
using Sparewright.Measure.Uncertainty;
using Xunit;

namespace Sparewright.Measure.Tests;

public sealed class MeasuredLengthTests
{
    private static readonly Instrument Digital = Instrument.Usual(InstrumentKind.DigitalCaliper) with { ZeroError = 0 };
    private static readonly Instrument Vernier = Instrument.Usual(InstrumentKind.VernierCaliper) with { ZeroError = 0 };

    private static MeasuredLength Once(Instrument instrument, ReadingWay way, SurfaceState surface = SurfaceState.Sound) =>
        MeasuredLength.From(new(instrument, way, [20], Surface: surface));

    /// <summary>
    /// Without the zero: the repeatability, a step's a/√12, √2/3 of the scale's limit (DIN 862, 0.02 mm; a vernier 0.05 mm) and the rectangle of ± 0.02 mm of faces that do not read outside, each from the tables.
    /// </summary>
    [Fact]
    public void One_reading_has_the_uncertainty_of_its_kind_and_way()
    {
        static double WithoutZero(MeasuredLength length) => new UncertaintyBudget([.. length.Budget.Lines.Where(line => line.Name != "zero error")]).StandardUncertaintyMm;
        static double Whole(double hand, double step, double scale, double faces = 0) => Math.Sqrt(hand * hand + step * step / 12 + 2 * scale * scale / 9 + faces * faces / 3);
        Assert.Equal(Whole(0.01, 0.01, 0.02), WithoutZero(Once(Digital, ReadingWay.Outside)), 1e-12);
        Assert.Equal(Whole(0.02, 0.01, 0.02, 0.02), WithoutZero(Once(Digital, ReadingWay.Inside)), 1e-12);
        Assert.Equal(Whole(0.03, 0.01, 0.02, 0.02), WithoutZero(Once(Digital, ReadingWay.Depth)), 1e-12);
        Assert.Equal(Whole(0.02, 0.01, 0.02, 0.02), WithoutZero(Once(Digital, ReadingWay.Step)), 1e-12);
        Assert.Equal(Whole(0.02, 0.05, 0.05), WithoutZero(Once(Vernier, ReadingWay.Outside)), 1e-12);
        Assert.Equal(Math.Sqrt(Math.Pow(Whole(0.01, 0.01, 0.02), 2) + 0.1 * 0.1), WithoutZero(Once(Digital, ReadingWay.Outside, SurfaceState.BrokenEdge)), 1e-12);
    }

    [Fact]
    public void The_zero_error_is_taken_off()
    {
        var measured = MeasuredLength.From(new(Digital with { ZeroError = 0.03 }, ReadingWay.Outside, [12.05, 12.03]));
        Assert.Equal(12.04, measured.MeanMm, 1e-12);
        Assert.Equal(12.01, measured.ValueMm, 1e-12);
        Assert.Equal(-0.03, Assert.Single(measured.Corrections).Mm);
    }

    [Fact]
    public void A_zero_that_nobody_checked_costs_more()
    {
        double known = Once(Digital, ReadingWay.Outside).Budget.StandardUncertaintyMm;
        double unknown = Once(Digital with { ZeroError = null }, ReadingWay.Outside).Budget.StandardUncertaintyMm;
        Assert.Equal(0.01 * 0.01 / 3 - 0.01 * 0.01 / 12, unknown * unknown - known * known, 1e-12);
    }

    [Fact]
    public void Jaw_flats_are_corrected_in_a_round_hole_and_nowhere_else()
    {
        var flat = Digital with { InsideJawFlat = 0.5 };
        var hole = MeasuredLength.From(new(flat, ReadingWay.Inside, [JawFlat.ReadsMm(5, 0.5)], InRoundHole: true));
        Assert.Equal(5, hole.ValueMm, 1e-12);
        // dD/db = b/D, b known to ± 0.1 mm, rectangular.
        Assert.Equal(0.5 / 5 * 0.1 / Math.Sqrt(3), hole.Budget.Lines.Single(line => line.Name == "jaw flats").StandardUncertaintyMm, 1e-12);
        Assert.Equal(20, MeasuredLength.From(new(flat, ReadingWay.Inside, [20])).ValueMm);
        Assert.Equal(20, MeasuredLength.From(new(flat, ReadingWay.Outside, [20], InRoundHole: true)).ValueMm);
        Assert.Equal(20, MeasuredLength.From(new(flat with { InsideJawFlat = 0 }, ReadingWay.Inside, [20], InRoundHole: true)).ValueMm);
    }

    [Fact]
    public void Flats_that_nobody_measured_are_assumed_and_say_so()
    {
        var hole = MeasuredLength.From(new(Digital, ReadingWay.Inside, [4.975], InRoundHole: true));
        Assert.Equal(5, hole.ValueMm, 1e-3);
        Assert.Contains("assumed", Assert.Single(hole.Corrections).How, StringComparison.Ordinal);
        var stated = MeasuredLength.From(new(Digital with { InsideJawFlat = 0.5 }, ReadingWay.Inside, [4.975], InRoundHole: true));
        Assert.True(stated.Budget.StandardUncertaintyMm < hole.Budget.StandardUncertaintyMm);
    }

    [Fact]
    public void Two_equal_repeats_are_not_believed_to_be_perfect()
    {
        var line = MeasuredLength.From(new(Digital, ReadingWay.Outside, [12.00, 12.00])).Budget.Lines.Single(l => l.Name == "repeatability");
        Assert.Equal(0.01 * Math.Sqrt(4.0 / 5) / Math.Sqrt(2), line.StandardUncertaintyMm, 1e-12);
        Assert.Equal(5, line.DegreesOfFreedom);
        Assert.Equal(BudgetKind.A, line.Kind);
    }

    /// <summary>Three repeats have two degrees of freedom over the four of what is assumed, for which the tail of F has the closed form (1 + x/2)⁻².</summary>
    [Fact]
    public void How_likely_a_scatter_is_follows_the_F_distribution()
    {
        double assumed = InstrumentDefaults.Published.Repeatability(Digital, ReadingWay.Outside), s = 3 * assumed;
        Assert.Equal(Math.Pow(1 + 9 / 2.0, -2), MeasuredLength.From(new(Digital, ReadingWay.Outside, [12 - s, 12, 12 + s])).ChanceOfScatter, 1e-12);
        Assert.Equal(1, MeasuredLength.From(new(Digital, ReadingWay.Outside, [12])).ChanceOfScatter);
    }

    [Fact]
    public void Many_repeats_speak_for_themselves()
    {
        double[] repeats = [.. Enumerable.Range(0, 400).Select(i => 12 + 0.05 * (i % 2 == 0 ? 1 : -1))];
        var line = MeasuredLength.From(new(Digital, ReadingWay.Outside, repeats)).Budget.Lines.Single(l => l.Name == "repeatability");
        Assert.Equal(0.05 / 20, line.StandardUncertaintyMm, 0.05 / 20 * 0.02);
    }

    [Fact]
    public void What_is_stated_of_an_instrument_goes_before_what_is_usual()
    {
        var stated = Digital with { Mpe = 0.05, Resolution = 0.02 };
        Assert.Equal(0.05, InstrumentDefaults.Published.PermissibleError(stated, ReadingWay.Outside, 20).Limit);
        Assert.Equal(0.07, InstrumentDefaults.Published.PermissibleError(stated, ReadingWay.Inside, 20).Limit, 1e-12);
        Assert.Equal(0.02, InstrumentDefaults.Published.Resolution(stated));
    }

    [Fact]
    public void Every_kind_has_defaults_for_every_way()
    {
        foreach (var kind in Enum.GetValues<InstrumentKind>())
            foreach (var way in Enum.GetValues<ReadingWay>())
            {
                var measured = Once(Instrument.Usual(kind), way);
                Assert.InRange(measured.Budget.StandardUncertaintyMm, 1e-3, 1);
                Assert.All(measured.Budget.Lines, line => Assert.NotEqual("", line.How));
                Assert.Equal(kind, InstrumentKinds.Named(kind.Name()));
            }

        Assert.Null(InstrumentKinds.Named("laser"));
    }

    [Fact]
    public void Surfaces_add_up_and_shared_and_own_parts_make_the_whole()
    {
        var budget = Once(Digital, ReadingWay.Outside, SurfaceState.Soft | SurfaceState.AcrossBreak).Budget;
        Assert.Equal(["repeatability", "resolution", "permissible error, as a shift", "permissible error, from place to place", "zero error", "soft surface", "across a glued break"], budget.Lines.Select(line => line.Name));
        Assert.Equal(budget.StandardUncertaintyMm, Math.Sqrt(budget.OwnMm * budget.OwnMm + budget.SharedMm * budget.SharedMm), 1e-12);
    }

    /// <summary>The scale errs by up to b from place to place and shifts by up to what b leaves of the limit, every b as likely as another: the variances, found here by trying one b after the other.</summary>
    [Fact]
    public void Shift_and_what_differs_from_place_to_place_keep_one_limit_together()
    {
        var budget = Once(Digital with { Mpe = 0.03 }, ReadingWay.Inside).Budget;
        double Of(string name) => budget.Lines.Single(line => line.Name == name).StandardUncertaintyMm;
        const int Steps = 10_000;
        double[] ranges = [.. Enumerable.Range(0, Steps).Select(k => 0.03 * (k + 0.5) / Steps)];
        double places = ranges.Average(b => b * b / 3), shifts = ranges.Average(b => (0.03 - b) * (0.03 - b) / 3);

        double here = Of("permissible error, from place to place");
        Assert.Equal(Math.Sqrt(places), here, 1e-6);
        // Beside the scale's, ± 0.02 of the inside faces: DIN 862.
        Assert.Equal(Math.Sqrt(shifts + 0.02 * 0.02 / 3), Of("permissible error, as a shift"), 1e-6);
        // The zero was read with the resolution of the display: 0.005/√3, and is in every reading of this way.
        double shared = budget.ReachingMm(ErrorReach.SameInstrumentAndWay);
        Assert.Equal(shifts + 0.02 * 0.02 / 3 + 0.005 * 0.005 / 3, shared * shared, 1e-8);
        Assert.Equal(Math.Sqrt(0.02 * 0.02 + here * here + 0.005 * 0.005 / 3), budget.OwnMm, 1e-12);
    }

    [Fact]
    public void A_limit_beyond_the_table_goes_on_growing() =>
        Gen.Select(Gen.Double[0, 3000], Gen.Double[0, 3000]).Sample((a, b) =>
        {
            foreach (var instrument in new[] { Digital, Vernier, Vernier with { Resolution = 0.02 }, Instrument.Usual(InstrumentKind.Ruler) })
            {
                double shorter = InstrumentDefaults.Published.PermissibleError(instrument, ReadingWay.Outside, Math.Min(a, b)).Limit;
                double longer = InstrumentDefaults.Published.PermissibleError(instrument, ReadingWay.Outside, Math.Max(a, b)).Limit;
                Assert.True(shorter <= longer + 1e-12);
            }
        });

    [Fact]
    public void Nothing_read_is_our_own_mistake()
    {
        Assert.Throws<ArgumentException>(() => MeasuredLength.From(new(Digital, ReadingWay.Outside, [])));
        Assert.Throws<ArgumentException>(() => MeasuredLength.From(new(Digital, ReadingWay.Outside, [double.NaN])));
    }
}
