using CsCheck;
using Sparewright.Fit.Capability;
using Sparewright.Fit.Odds;
using Sparewright.Measure.Uncertainty;
using Xunit;

namespace Sparewright.Fit;

/// <summary>What walls of all kinds have in common: the width of the printer's lines.</summary>
public sealed class WallsTests
{
    private const double Spread = 0.03, Doubt = 0.08;

    /// <summary>Printers of which only the bias is in doubt, half of it by the width of their lines.</summary>
    private static readonly Dictionary<SurfaceKind, KindPrior> Priors = SurfaceKinds.All.ToDictionary(k => k, k => new KindPrior(k, 0, Doubt, 0, 0, 0, 0, Spread, 1e7) { WallShare = k.WallSense() == 0 ? 0 : 0.5 });

    private static readonly ProcessCapability Unshown = ProcessCapability.Learn(Cases.Setting, Priors, []);

    private static MeasuredTrial Came(SurfaceKind kind, double offMm, int day = 0) => new(kind, 10, Cases.Day.AddDays(day), 10 + offMm, 0);

    /// <summary>Two normal variables with correlation −½, of which the first was seen with an error: by the formula for their regression.</summary>
    [Fact]
    public void A_printer_that_is_stout_outside_is_expected_to_be_tight_in_its_holes()
    {
        ProcessCapability shown = Unshown.With(Came(SurfaceKind.Outside, 0.1));
        double gain = 0.5 * Doubt * Doubt / (Doubt * Doubt + Spread * Spread);
        foreach (SurfaceKind hollow in (SurfaceKind[])[SurfaceKind.HoleUpright, SurfaceKind.HoleLying, SurfaceKind.Slot])
        {
            Assert.Equal(-gain * 0.1, shown[hollow].Bias(10).MeanMm, 1e-6);
            Assert.Equal(Doubt * Math.Sqrt(1 - 0.5 * gain), shown[hollow].Bias(10).StandardDeviationMm, 1e-5);
            Assert.Equal(CapabilityStatus.Assumed, shown[hollow].Status);
        }

        Assert.Equal(gain * 0.1, shown[SurfaceKind.FirstLayer].Bias(10).MeanMm, 1e-6);
        foreach (SurfaceKind wallless in (SurfaceKind[])[SurfaceKind.Height, SurfaceKind.CentreDistance])
        {
            Assert.Equal(0, shown[wallless].Bias(10).MeanMm, 1e-12);
            Assert.Equal(Doubt, shown[wallless].Bias(10).StandardDeviationMm, 1e-5);
        }
    }

    /// <summary>Three kinds at once: what comes of passing on what each says of the lines is what the whole joint distribution says (three normal variables, the third by the first two).</summary>
    [Fact]
    public void What_two_kinds_say_of_the_lines_adds_up()
    {
        ProcessCapability shown = Unshown.With(Came(SurfaceKind.Outside, 0.12), Came(SurfaceKind.Slot, -0.02));
        // Covariance of what was seen, and with the hole's bias, in units of Doubt².
        double own = 1 + Spread * Spread / (Doubt * Doubt), det = own * own - 0.25;
        double a = (-0.5 * own + 0.5 * 0.5) / det, b = (0.5 * own - 0.5 * 0.5) / det;
        Assert.Equal(a * 0.12 + b * -0.02, shown[SurfaceKind.HoleUpright].Bias(10).MeanMm, 1e-6);
        Assert.Equal(Doubt * Math.Sqrt(1 - (-0.5 * a + 0.5 * b)), shown[SurfaceKind.HoleUpright].Bias(10).StandardDeviationMm, 1e-5);
    }

    [Fact]
    public void What_was_shown_counts_alike_in_whatever_order_and_portions()
    {
        Gen.Select(Gen.Int[0, 3].Select(k => ((SurfaceKind[])[SurfaceKind.Outside, SurfaceKind.HoleUpright, SurfaceKind.Slot, SurfaceKind.Height])[k]), Gen.Double[-0.3, 0.3], Gen.Int[0, 3], Came).Array[1, 6].Sample(trials =>
        {
            ProcessCapability once = Cases.Assumed.With(trials), other = trials.Reverse().Aggregate(Cases.Assumed, (p, t) => p.With(t));
            foreach (SurfaceKind kind in SurfaceKinds.All)
            {
                Assert.Equal(once[kind].Bias(8).MeanMm, other[kind].Bias(8).MeanMm, 1e-9);
                Assert.Equal(once[kind].Bias(8).StandardDeviationMm, other[kind].Bias(8).StandardDeviationMm, 1e-9);
            }
        }, iter: 30);
    }

    /// <summary>A peg and a hole that are each as likely as not: by Sheppard's formula (W. F. Sheppard, 1899, from memory) both at once have ¼ + asin ρ / 2π.</summary>
    [Fact]
    public void A_tight_hole_and_a_stout_peg_come_together()
    {
        OneClearance hole = new("rod", LengthSum.Around(new(SurfaceKind.HoleUpright, 10, 1), "rod", new(10, 0)), new(0, double.PositiveInfinity, "")),
            peg = new("tube", new(0, [new(SurfaceKind.Outside, 10, -1)], [new("tube", new(10, 0), 1)], []), new(0, double.PositiveInfinity, ""));
        FitOdds odds = FitOdds.Of(new(Unshown, Cases.Nothing, [hole, peg]));
        double rho = 0.5 * Doubt * Doubt / (Doubt * Doubt + Spread * Spread);
        Assert.All(odds.Each, e => Assert.Equal(0.5, e.Odds.Value, 1e-6));
        Assert.Equal(0.25 + Math.Asin(rho) / (2 * Math.PI), odds.AllTogether.Value, 1e-3 + odds.AllTogether.Error95);

        // Both in one clearance, as of a printed rod in a printed hole, the walls add up.
        var between = new OneClearance("both", new(0, [new(SurfaceKind.HoleUpright, 10, 1), new(SurfaceKind.Outside, 10, -1)], [], []), new(0, 0.1, ""));
        double sd = Math.Sqrt(2 * Doubt * Doubt * 1.5 + 2 * Spread * Spread);
        Assert.Equal(Normal.UpperTail(0) - Normal.UpperTail(0.1 / sd), FitOdds.Of(new(Unshown, Cases.Nothing, [between])).AllTogether.Value, 1e-4);
    }

    /// <summary>What walls do goes by the width of a line, so that the table's nozzle changes nothing; heights and centres do not ask.</summary>
    [Fact]
    public void A_wide_nozzle_makes_walls_stand_out_further_and_less_surely()
    {
        ProcessCapability With(double? nozzleMm) => ProcessCapability.Assumed(Cases.Setting with { NozzleMm = nozzleMm });
        foreach (SurfaceKind kind in SurfaceKinds.All)
        {
            NormalLength unsaid = With(null)[kind].Forecast(9), usual = With(0.4)[kind].Forecast(9), wide = With(0.8)[kind].Forecast(9);
            Assert.Equal(unsaid.MeanMm, usual.MeanMm, 1e-12);
            Assert.Equal(unsaid.StandardDeviationMm, usual.StandardDeviationMm, 1e-12);
            Assert.Equal(kind.WallSense(), Math.Sign(Math.Round(wide.MeanMm - usual.MeanMm, 6)));
            if (kind.WallSense() == 0) Assert.Equal(usual.StandardDeviationMm, wide.StandardDeviationMm, 1e-12);
            else Assert.True(wide.StandardDeviationMm > usual.StandardDeviationMm);
        }

        KindPrior outside = With(null)[SurfaceKind.Outside].Prior;
        Assert.Equal(2 * outside.BiasMm, With(0.8)[SurfaceKind.Outside].Prior.BiasMm, 1e-12);
        // Half of the variance is of the lines: twice as wide, it is four times as much.
        Assert.Equal(Math.Sqrt(2.5) * outside.BiasUncertaintyMm, With(0.8)[SurfaceKind.Outside].Prior.BiasUncertaintyMm, 1e-12);
        Assert.Equal(0.8, With(0.8)[SurfaceKind.Outside].Prior.WallShare, 1e-12);
    }
}
