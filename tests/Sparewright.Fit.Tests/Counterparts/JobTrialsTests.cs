using Sparewright.Fit.Capability;
using Sparewright.Fit.Counterparts;
using Sparewright.Part.Record;
using Xunit;

namespace Sparewright.Fit.Tests.Counterparts;

/// <summary>A job's own trials as evidence about its printer.</summary>
public sealed class JobTrialsTests
{
    private const string Stay = "{rod: stay, reads: [11.95, 11.97], goes_into: bore, changes: bore_d, fit: slides}\n{screw: bolt, thread: M4, through: screws, changes: screw_d}";

    private static JobTrials Of(string trials)
    {
        Job job = Jobs.With(Stay, $"{{machine: bench, material: ASA, nozzle: 0.4, way_up: up}}\ntrials: [{trials}]");
        return JobTrials.Of(job, Jobs.Fits(job));
    }

    [Fact]
    public void The_words_of_the_job_are_the_kinds_of_surface() =>
        Assert.Equal(SurfaceKinds.All, PrintedSurfaces.All.Select(SurfaceKinds.Of));

    [Fact]
    public void Gauges_bound_the_clearance_at_their_drawn_sizes()
    {
        JobTrials trials = Of("{on: 2026-05-31, gauges: [{for: stay, goes: 12.3, too_tight: 12.1, too_loose: 12.9}]}");
        Assert.Empty(trials.Unused);
        Assert.Equal([(12.1, TrialAnswer.TooTight), (12.3, TrialAnswer.Goes), (12.9, TrialAnswer.TooLoose)], trials.OfGauges.Select(g => (Math.Round(g.DrawnMm, 9), g.Answer)));
        Assert.All(trials.OfGauges, g => Assert.Equal((SurfaceKind.HoleUpright, "stay", new DateOnly(2026, 5, 31)), (g.Kind, g.Counterpart, g.On)));
        // It goes by hand from no clearance on; too loose begins where the window of the fit ends.
        Assert.Equal((double.NegativeInfinity, 0), trials.OfGauges[0].Bounds);
        Assert.Equal((0, double.PositiveInfinity), trials.OfGauges[1].Bounds);
        Assert.InRange(trials.OfGauges[2].Bounds.LowMm, 0.5, 0.6);
    }

    [Fact]
    public void A_measured_feature_is_corrected_and_keeps_the_shift_of_its_instrument_apart()
    {
        MeasuredTrial one = Assert.Single(Of("{on: 2026-05-31, measured: [{surface: slot, drawn: 8, reads: [7.81, 7.79]}]}").Measured);
        Assert.Equal((SurfaceKind.Slot, 8.0, "caliper"), (one.Kind, one.DrawnMm, one.Instrument));
        Assert.Equal(7.8, one.PrintedMm, 1e-9);
        Assert.True(one.UncertaintyMm > 0 && one.InstrumentShiftMm > 0);
    }

    [Theory]
    [InlineData("material: PLA", "printed in PLA; the part will be otherwise")]
    [InlineData("machine: the other", "printed on the other; the part will be otherwise")]
    [InlineData("nozzle: 0.6", "printed with nozzle 0.6 mm; the part will be otherwise")]
    public void Another_process_teaches_nothing_of_this_one(string other, string why)
    {
        JobTrials trials = Of($"{{on: 2026-05-31, {other}, measured: [{{surface: slot, drawn: 8, reads: 7.8}}]}}");
        Assert.Empty(trials.Evidence);
        Assert.Equal((why, null), (Assert.Single(trials.Unused).Why, trials.Unused[0].Remedy));
        Assert.Single(Of($"{{on: 2026-05-31, {other.Replace("PLA", "asa", StringComparison.Ordinal).Replace("the other", "bench", StringComparison.Ordinal).Replace("0.6", "0.4", StringComparison.Ordinal)}, measured: [{{surface: slot, drawn: 8, reads: 7.8}}]}}").Measured);
    }

    [Theory]
    [InlineData("gauges: [{for: bolt, goes: 4.6}]", "it meets a pattern of holes, where the distances have a say as well")]
    [InlineData("gauges: [{for: stay, surface: outside, goes: 12.3}]", "outside is not what stay meets, which is hole upright")]
    [InlineData("part: {fits: stay}", "nothing says how bore_d was drawn")]
    public void What_tells_nothing_is_named_with_its_reason(string trial, string why)
    {
        JobTrials trials = Of($"{{on: 2026-05-31, {trial}}}");
        Assert.Empty(trials.Evidence);
        Assert.Equal(why, Assert.Single(trials.Unused).Why);
    }

    [Fact]
    public void A_part_that_fits_lies_within_the_window()
    {
        TriedTrial one = Assert.Single(Of("{on: 2026-05-31, part: {fits: stay, drawn: {bore_d: 12.5}}}").OfParts);
        Assert.Equal((12.5, TrialAnswer.Right), (Math.Round(one.DrawnMm, 9), one.Answer));
        Assert.InRange(one.Bounds.HighMm - one.Bounds.LowMm, 0.3, 0.5);
    }

    /// <summary>However the trials stand in the file, they teach the same.</summary>
    [Fact]
    public void The_order_of_the_trials_does_not_matter()
    {
        string[] all = ["{on: 2026-05-31, gauges: [{for: stay, goes: 12.3, too_tight: 12.1}]}", "{on: 2026-06-01, measured: [{surface: hole upright, drawn: 8, reads: [7.81, 7.79]}]}", "{on: 2026-06-02, part: {fits: stay, drawn: {bore_d: 12.5}}}"];
        NormalLength[] learnt = [.. ((int[][])[[0, 1, 2], [2, 1, 0], [1, 2, 0]]).Select(order => Jobs.AssumedMex.With(Of(string.Join(", ", order.Select(k => all[k]))).Evidence)[SurfaceKind.HoleUpright].Bias(12))];
        Assert.All(learnt, l => Assert.Equal((learnt[0].MeanMm, learnt[0].StandardDeviationMm), (l.MeanMm, l.StandardDeviationMm), (a, b) => Math.Abs(a.MeanMm - b.MeanMm) < 1e-8 && Math.Abs(a.StandardDeviationMm - b.StandardDeviationMm) < 1e-8));
    }
}
