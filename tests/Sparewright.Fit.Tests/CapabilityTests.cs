using CsCheck;
using Sparewright.Fit.Capability;
using Sparewright.Measure.Uncertainty;
using Xunit;

namespace Sparewright.Fit;

public sealed class CapabilityTests
{
    private static readonly DateOnly Day = new(2026, 3, 1);
    private static readonly KindPrior Prior = KindPrior.Assumed(ProcessKind.Mex)[SurfaceKind.HoleUpright];
    private static readonly ClearanceWindow Any = new(0, double.PositiveInfinity, "goes");

    private static MeasuredTrial Measured(double drawnMm, double errorMm, double u = 0.02) => new(SurfaceKind.HoleUpright, drawnMm, Day, drawnMm + errorMm, u);

    private static readonly Gen<MeasuredTrial[]> Trials = Gen.Select(Gen.Double[3, 30], Gen.Double[-0.5, 0.2], Gen.Double[0.005, 0.03], (d, e, u) => Measured(d, e, u)).Array[1, 8];

    [Fact]
    public void Every_kind_of_both_processes_has_a_prior_and_is_assumed_until_it_is_measured()
    {
        foreach (ProcessKind process in Enum.GetValues<ProcessKind>())
        {
            var assumed = ProcessCapability.Assumed(new(process, "some printer", "PLA", ""));
            Assert.All(SurfaceKinds.All, kind => Assert.Equal(CapabilityStatus.Assumed, assumed[kind].Status));
            Assert.Null(assumed.On);
            var measured = assumed.With(Measured(8, -0.2));
            Assert.Equal(CapabilityStatus.Measured, measured[SurfaceKind.HoleUpright].Status);
            Assert.Equal(CapabilityStatus.Assumed, measured[SurfaceKind.Outside].Status);
            Assert.Equal(CapabilityStatus.Assumed, measured.Status([SurfaceKind.HoleUpright, SurfaceKind.Outside]));
            Assert.Equal(Day, measured.On);
        }
    }

    /// <summary>Repeatability is published as a root mean square (0.05 mm, Msallem et al. 2020), and what is assumed must be the same one; so must the bias over the holes of a coupon be the starting value.</summary>
    [Fact]
    public void What_is_assumed_of_a_printer_has_the_spread_and_the_bias_of_its_sources()
    {
        KindCapability holes = KindCapability.Learn(Prior, []), outside = KindCapability.Learn(KindPrior.Assumed(ProcessKind.Mex)[SurfaceKind.Outside], []);
        Assert.Equal(0.05, outside.SpreadMm, 0.001);
        Assert.Equal(0.05, holes.SpreadMm, 0.001);
        Assert.Equal(-0.20, ((double[])[4, 8, 10, 15]).Average(d => holes.Bias(d).MeanMm), 0.005);
    }

    /// <summary>
    /// How far printers differ: the starting values' own standard deviations (process notes 1.7), which nobody measured, so that their mean square is taken as twice that. Everything in doubt together makes it up, over the diameters of a coupon.
    /// </summary>
    [Theory]
    [InlineData(ProcessKind.Mex, 0.2, 0.06, 0.08, 0.10, 0.08, 0.06)]
    [InlineData(ProcessKind.Vpp, 0.05, 0.03, 0.03, 0.05, 0.03, 0.05)]
    public void What_is_assumed_of_printers_differs_by_the_same_rule_for_every_kind(ProcessKind process, double layerMm, double outside, double upright, double lying, double slot, double height)
    {
        var priors = KindPrior.Assumed(process);
        foreach (var (kind, starting) in ((SurfaceKind, double)[])[(SurfaceKind.Outside, outside), (SurfaceKind.HoleUpright, upright), (SurfaceKind.HoleLying, lying), (SurfaceKind.Slot, slot), (SurfaceKind.Height, height)])
        {
            KindCapability assumed = KindCapability.Learn(priors[kind], []);
            double rounding = kind.IsAcrossLayers() ? layerMm * layerMm / 12 : 0, all = ((double[])[4, 8, 10, 15]).Average(d => assumed.Bias(d).VarianceMm2) + rounding;
            Assert.Equal(Math.Sqrt(2) * starting, Math.Sqrt(all), 1e-3);
        }
    }

    /// <summary>What the pieces of one print have in common stays in doubt, however many are measured; another day's print says more than many more pieces.</summary>
    [Fact]
    public void One_day_is_one_print_however_many_pieces_it_has()
    {
        MeasuredTrial[] Pieces(DateOnly on, int pieces) => [.. Enumerable.Range(0, pieces).Select(k => new MeasuredTrial(SurfaceKind.HoleUpright, 8, on, 7.8 + (k % 2 == 0 ? 0.03 : -0.03), 0.001))];
        KindCapability once = KindCapability.Learn(Prior, Pieces(Day, 40)), twice = KindCapability.Learn(Prior, [.. Pieces(Day, 20), .. Pieces(Day.AddDays(1), 20)]);
        double common = Math.Sqrt(Prior.DayShare) * once.SpreadMm;
        Assert.InRange(once.Bias(8).StandardDeviationMm, 0.7 * common, 1.1 * common);
        Assert.InRange(twice.Bias(8).StandardDeviationMm / once.Bias(8).StandardDeviationMm, 0.6, 0.85);
        // One piece of one day is in doubt by all of the scatter, as if there were no days.
        KindCapability one = KindCapability.Learn(Prior, Pieces(Day, 1));
        Assert.True(one.Bias(8).StandardDeviationMm > once.Bias(8).StandardDeviationMm);
    }

    /// <summary>Cut into layers from wherever the first one begins, by counting: the layers whose middle lies inside.</summary>
    [Theory]
    [InlineData(8.0)]
    [InlineData(8.05)]
    [InlineData(8.1)]
    [InlineData(8.17)]
    public void A_size_across_the_layers_comes_in_whole_ones(double drawnMm)
    {
        const double layer = 0.2;
        double[] cut = [.. Enumerable.Range(0, 1000).Select(k => (k + 0.5) / 1000 * layer).Select(from => layer * (Math.Floor((from + drawnMm) / layer + 0.5) - Math.Floor(from / layer + 0.5)))];
        double mean = cut.Average(), variance = cut.Average(c => (c - mean) * (c - mean));
        KindPrior lying = KindPrior.Assumed(ProcessKind.Mex)[SurfaceKind.HoleLying] with { LayerMm = layer };
        Assert.Equal(drawnMm, mean, 1e-3);
        Assert.Equal(variance, lying.SlicedVarianceMm2(drawnMm), 2e-4);
        NormalLength whole = KindCapability.Learn(lying with { LayerMm = 0 }, []).Forecast(drawnMm), sliced = KindCapability.Learn(lying, []).Forecast(drawnMm);
        Assert.Equal(whole.VarianceMm2 + variance, sliced.VarianceMm2, 2e-4);
    }

    [Fact]
    public void Only_what_lies_across_the_layers_comes_in_whole_ones()
    {
        var printer = ProcessCapability.Assumed(new(ProcessKind.Mex, "a printer", "PLA", "") { LayerMm = 0.2 });
        Assert.All(SurfaceKinds.All, k => Assert.Equal(k is SurfaceKind.Height or SurfaceKind.HoleLying ? 0.2 : 0, printer[k].Prior.LayerMm));
    }

    /// <summary>Without doubt about the bias the forecast is Student's t of the prior's degrees of freedom and scale, whatever the way there.</summary>
    [Fact]
    public void With_only_the_spread_in_doubt_the_forecast_is_Students_t()
    {
        var sure = Prior with { BiasUncertaintyMm = 0, ProportionalUncertainty = 0, SmallHoleUncertaintyMm2 = 0, SmallHoleMm2 = 0 };
        KindCapability kind = KindCapability.Learn(sure, []);
        foreach (double t in (double[])[0.5, 1, 2, 3, 5])
            Assert.Equal(1 - StudentT.TwoSidedTail(t, Prior.SpreadDegrees), kind.Between(8, 8 + Prior.BiasMm - t * Prior.SpreadMm, 8 + Prior.BiasMm + t * Prior.SpreadMm), 1e-5);
    }

    /// <summary>The textbook posterior: with no prior knowledge of the bias and n exact readings, t of ν₀ + n degrees of freedom.</summary>
    [Fact]
    public void After_exact_readings_the_forecast_is_the_conjugate_Students_t()
    {
        var open = Prior with { DayShare = 0, BiasUncertaintyMm = 0, ProportionalUncertainty = 0, SmallHoleUncertaintyMm2 = 0, SmallHoleMm2 = 0 };
        double[] errors = [-0.25, -0.11, -0.31, -0.20, -0.16];
        KindCapability kind = KindCapability.Learn(open, errors.Select(e => Measured(8, e, 0)));
        double degrees = Prior.SpreadDegrees + errors.Length, scale = Math.Sqrt((Prior.SpreadDegrees * Prior.SpreadMm * Prior.SpreadMm + errors.Sum(e => (e - Prior.BiasMm) * (e - Prior.BiasMm))) / degrees);
        foreach (double t in (double[])[0.5, 1, 2, 3])
            Assert.Equal(1 - StudentT.TwoSidedTail(t, degrees), kind.Between(8, 8 + Prior.BiasMm - t * scale, 8 + Prior.BiasMm + t * scale), 1e-5);
    }

    [Fact]
    public void Learning_does_not_depend_on_the_order() =>
        Gen.Select(Trials, Gen.Int[1, 7], Gen.Double[7.7, 8.2]).Sample((trials, turn, pinMm) =>
        {
            TrialEvidence[] all = [.. trials, .. Enumerable.Range(0, 4).Select(k => Tried(7.9 + 0.1 * k, pinMm, 0.03, k >= 2))];
            TrialEvidence[] turned = [.. all.Skip(turn % all.Length), .. all.Take(turn % all.Length)];
            KindCapability once = KindCapability.Learn(Prior, all), other = turned.Aggregate(KindCapability.Learn(Prior, []), (k, e) => k.With(e));
            NormalLength a = once.Forecast(8), b = other.Forecast(8);
            Assert.Equal(a.MeanMm, b.MeanMm, 1e-7);
            Assert.Equal(a.StandardDeviationMm, b.StandardDeviationMm, 1e-7);
        }, iter: 40);

    /// <summary>A trial of another print that comes out as forecast conflicts with nothing.</summary>
    [Fact]
    public void Another_trial_without_conflict_never_widens_the_forecast() =>
        Gen.Select(Trials, Gen.Double[3, 30], Gen.Double[3, 30], Gen.Double[-0.3, 0.3]).Sample((trials, at, asked, off) =>
        {
            KindCapability before = KindCapability.Learn(Prior, trials);
            NormalLength forecast = before.Forecast(at);
            KindCapability after = before.With(Measured(at, forecast.MeanMm - at + off * forecast.StandardDeviationMm) with { On = Day.AddDays(1) });
            Assert.True(after.Forecast(asked).StandardDeviationMm <= before.Forecast(asked).StandardDeviationMm * (1 + 1e-6),
                $"{before.Forecast(asked)} → {after.Forecast(asked)}");
        }, iter: 60);

    /// <summary>Nor does an answer that was nearly sure beforehand, or that was as likely as the other one: on average over both answers the bias is known better.</summary>
    [Fact]
    public void Answers_narrow_the_bias_on_average() =>
        Gen.Select(Gen.Double[7.9, 8.6], Gen.Double[0.005, 0.1]).Sample((drawn, pinU) =>
        {
            KindCapability before = KindCapability.Learn(Prior, [Tried(8.0, 8, pinU, false), Tried(8.4, 8, pinU, true)]);
            KindCapability goes = before.With(Tried(drawn, 8, pinU, true)), not = before.With(Tried(drawn, 8, pinU, false));
            double chanceGoes = Math.Exp(goes.LogEvidence - before.LogEvidence), chanceNot = Math.Exp(not.LogEvidence - before.LogEvidence);
            // Expectation propagation through three bounds is an approximation.
            Assert.Equal(1, chanceGoes + chanceNot, 0.02);
            Assert.True(chanceGoes * goes.Bias(8.2).VarianceMm2 + chanceNot * not.Bias(8.2).VarianceMm2 <= before.Bias(8.2).VarianceMm2 * 1.005);
        }, iter: 40);

    [Fact]
    public void A_conflict_widens_it()
    {
        KindCapability before = KindCapability.Learn(Prior, [Measured(8, -0.2), Measured(8, -0.21), Measured(8, -0.19)]);
        Assert.True(before.With(Measured(8, 0.4)).Forecast(8).StandardDeviationMm > before.Forecast(8).StandardDeviationMm);
    }

    [Fact]
    public void Constant_proportional_and_small_hole_part_are_told_apart_by_enough_diameters()
    {
        double Error(double d) => -0.12 + 0.002 * d - 0.5 / d;
        KindCapability kind = KindCapability.Learn(Prior, [.. from d in (double[])[3, 4, 6, 8, 10, 15, 20, 40, 80] from n in (double[])[-0.004, 0.004] select Measured(d, Error(d) + n, 0.003)]);
        foreach (double d in (double[])[3.5, 5, 12, 30, 60]) Assert.Equal(Error(d), kind.Bias(d).MeanMm, 0.012);
    }

    [Fact]
    public void A_caliper_that_may_be_off_leaves_the_bias_as_uncertain_as_itself()
    {
        var shifted = Enumerable.Range(0, 40).Select(_ => Measured(8, -0.2, 0.005) with { Instrument = "caliper", InstrumentShiftMm = 0.03 });
        var sound = Enumerable.Range(0, 40).Select(_ => Measured(8, -0.2, 0.005));
        KindPrior dayless = Prior with { DayShare = 0 };
        Assert.InRange(KindCapability.Learn(dayless, shifted).Bias(8).StandardDeviationMm, 0.027, 0.032);
        Assert.InRange(KindCapability.Learn(dayless, sound).Bias(8).StandardDeviationMm, 0, 0.012);
    }

    private static TriedTrial Tried(double drawnMm, double pinMm, double pinU, bool goes) =>
        new(SurfaceKind.HoleUpright, drawnMm, Day, "pin", new(pinMm, pinU), Any, goes ? TrialAnswer.Goes : TrialAnswer.TooTight);

    /// <summary>By drawing: bias and pin from their priors, kept when all four answers come out.</summary>
    [Fact]
    public void Go_and_no_go_teach_what_drawing_shows()
    {
        var fixedSpread = Prior with { SpreadDegrees = 1e6, SpreadMm = 0.03, ProportionalUncertainty = 0, SmallHoleUncertaintyMm2 = 0, SmallHoleMm2 = 0 };
        (double Drawn, bool Goes)[] answers = [(8.0, false), (8.1, false), (8.2, true), (8.3, true)];
        KindCapability kind = KindCapability.Learn(fixedSpread, answers.Select(a => Tried(a.Drawn, 8, 0.05, a.Goes)));
        var random = new Random(7);
        double Draw() => Normal.Quantile(random.NextDouble());
        double feel = Math.Sqrt(0.03 * 0.03 + 0.01 * 0.01), sum = 0, squares = 0, weights = 0;
        for (int i = 0; i < 400_000; i++)
        {
            double bias = Prior.BiasMm + Prior.BiasUncertaintyMm * Draw(), pin = 8 + 0.05 * Draw(), weight = 1;
            foreach (var (drawn, goes) in answers) weight *= Normal.UpperTail((goes ? -1 : 1) * (drawn + bias - pin) / feel);
            (sum, squares, weights) = (sum + weight * bias, squares + weight * bias * bias, weights + weight);
        }

        double mean = sum / weights, sd = Math.Sqrt(squares / weights - mean * mean);
        Assert.Equal(mean, kind.Bias(8).MeanMm, 0.002);
        Assert.Equal(sd, kind.Bias(8).StandardDeviationMm, 0.002);
    }

    /// <summary>A pin that goes from one gauge on settles the clearance far better than bias and pin by themselves.</summary>
    [Fact]
    public void The_tried_counterpart_and_the_bias_are_learnt_together()
    {
        KindCapability kind = KindCapability.Learn(Prior, Enumerable.Range(0, 6).Select(k => Tried(7.9 + 0.1 * k, 8, 0.1, k >= 3)));
        Assert.Equal(["pin"], kind.Counterparts);
        Assert.Equal(4, kind.IndexOf("pin"));
        Assert.Equal(-1, kind.IndexOf("rod"));
        double[] clearance = kind.Sum(8.15);
        clearance[4] = -1;
        var with = new double[clearance.Length];
        double variance = kind.Cases.Sum(c => c.Weight * c.Belief.VarianceOf(clearance, with));
        Assert.InRange(Math.Sqrt(variance), 0.02, 0.065);
        Assert.True(kind.Bias(8.15).StandardDeviationMm > 0.07);
    }

    [Fact]
    public void Drift_shows_on_the_day_it_comes()
    {
        MeasuredTrial On(int day, double error) => new(SurfaceKind.Outside, 20, new DateOnly(2026, 1, day), 20 + error, 0.01);
        MeasuredTrial[] steady = [.. Enumerable.Range(1, 6).SelectMany(day => (MeasuredTrial[])[On(day, 0.08), On(day, 0.06), On(day, 0.07)])];
        var capability = ProcessCapability.Learn(new(ProcessKind.Mex, "p", "PLA", ""), steady);
        Assert.All(Drift.Of(capability), d => Assert.False(d.StandsOut, $"{d}"));
        Drift after = Drift.Of(capability.With(On(20, 0.33), On(20, 0.31), On(20, 0.30)))[^1];
        Assert.True(after.StandsOut);
        Assert.Equal(0.243, after.Shift.MeanMm, 0.02);
    }
}
