using CsCheck;
using Sparewright.Fit.Capability;
using Sparewright.Fit.Drawn;
using Sparewright.Fit.Ladder;
using Sparewright.Fit.Odds;
using Sparewright.Measure.Uncertainty;
using Xunit;

namespace Sparewright.Fit;

public sealed class LadderTests
{
    private static CriticalFit Critical(double low = 0.1, double high = 0.45, ProcessCapability? process = null)
    {
        OneClearance rod = Cases.Rod(12.4, 12, 0.03, low, high);
        return new(new(process ?? Cases.Assumed, Cases.Nothing, [rod]), rod, Cases.Day);
    }

    private static GaugeAnswer[] Answers(params (double Drawn, bool Goes)[] given) => [.. given.Select(g => new GaugeAnswer(g.Drawn, g.Goes ? TrialAnswer.Goes : TrialAnswer.TooTight))];

    [Fact]
    public void A_ladder_is_as_long_as_the_wanted_odds_need()
    {
        CriticalFit fit = Critical();
        double now = fit.Best(fit.Case.Process).Odds;
        GaugeLadder little = GaugeLadder.Plan(fit, now + 0.02), more = GaugeLadder.Plan(fit, 0.96), none = GaugeLadder.Plan(fit, now - 0.01);
        Assert.Empty(none.DrawnMm);
        Assert.True(none.Settles);
        Assert.InRange(little.DrawnMm.Count, 1, 2);
        Assert.True(little.Settles);
        Assert.True(more.DrawnMm.Count > little.DrawnMm.Count);
        Assert.True(more.OddsExpected > little.OddsExpected);
        Assert.Equal(more.DrawnMm.Order(), more.DrawnMm);
        Assert.All(more.DrawnMm.Zip(more.DrawnMm.Skip(1)), p => Assert.True(p.Second - p.First >= GaugeLadder.StepMm - 1e-9));
    }

    /// <summary>Two gauges of one number of layers would be the same gauge.</summary>
    [Fact]
    public void Across_the_layers_gauges_stand_whole_ones_apart()
    {
        const double layer = 0.2;
        var rod = new OneClearance("rod", LengthSum.Around(Cases.Hole(8.25, "bore_d", SurfaceKind.HoleLying), "rod", new(8, 0.01)), new(0.05, 0.45, "test"));
        FitCase fit = new(ProcessCapability.Assumed(Cases.Setting with { LayerMm = layer }), Cases.Nothing, [rod]);
        static void OnLayers(double mm) => Assert.Equal(Math.Round(mm / layer), mm / layer, 1e-6);
        GaugeLadder ladder = GaugeLadder.Plan(new(fit, rod, Cases.Day), 0.99);
        Assert.NotEmpty(ladder.DrawnMm);
        Assert.All(ladder.DrawnMm, OnLayers);
        Assert.Equal(ladder.DrawnMm.Distinct(), ladder.DrawnMm);
    }

    /// <summary>Half a layer comes out as one more or one less, print after print alike; better off the middle of the window by a little.</summary>
    [Fact]
    public void Across_the_layers_the_part_is_drawn_on_whole_ones()
    {
        const double layer = 0.2;
        var rod = new OneClearance("rod", LengthSum.Around(Cases.Hole(8.13, "bore_d", SurfaceKind.HoleLying), "rod", new(8, 0.01)), new(0.1, 0.5, "test"));
        var sure = ProcessCapability.Learn(Cases.Setting with { LayerMm = layer }, SurfaceKinds.All.ToDictionary(k => k, k => new KindPrior(k, 0, 0, 0, 0, 0, 0, 0.03, 1e7)), []);
        FitCase fit = new(sure, Cases.Nothing, [rod]);
        var drawn = DrawnSizes.Best(fit);
        double mm = ((OneClearance)drawn.Case.Conditions[0]).Clearance.Printed[0].DrawnMm, alone = new CriticalFit(fit, rod, Cases.Day).Best(fit.Process).DrawnMm;
        Assert.Contains(Math.Round(mm, 6), (double[])[8.2, 8.4]);
        Assert.Contains(Math.Round(alone, 6), (double[])[8.2, 8.4]);
        // 0.3 mm over the rod would be the middle of the window, and half a layer.
        Assert.True(drawn.Odds.AllTogether.Value > FitOdds.Of(fit.Changed(new Dictionary<string, double> { ["bore_d"] = 8.3 - 8.13 })).AllTogether.Value + 0.02);
    }

    [Fact]
    public void What_no_gauge_can_settle_is_said()
    {
        GaugeLadder ladder = GaugeLadder.Plan(Critical(0.2, 0.25), 0.95);
        Assert.False(ladder.Settles);
        Assert.InRange(ladder.OddsExpected, ladder.OddsNow, 0.9);
        Assert.InRange(ladder.DrawnMm.Count, 1, GaugeLadder.Most);
    }

    /// <summary>Hidden printers, drawn from what is assumed of them; each prints the ladder, the pin is tried, the part drawn by the answers. What fits must be what was promised.</summary>
    [Fact]
    public void The_odds_that_a_ladder_promises_come_true()
    {
        CriticalFit fit = Critical();
        GaugeLadder ladder = GaugeLadder.Plan(fit, 0.9);
        KindPrior prior = fit.Case.Process[SurfaceKind.HoleUpright].Prior;
        var random = new Random(3);
        double Z() => Normal.Quantile(random.NextDouble());
        Dictionary<string, (double Drawn, double Odds)> told = [];
        double fits = 0, stated = 0;
        const int jobs = 1500;
        for (int i = 0; i < jobs; i++)
        {
            double pin = 12 + 0.03 * Z(), bias = prior.BiasMm + prior.BiasUncertaintyMm * Z(), share = prior.ProportionalUncertainty * Z(), small = prior.SmallHoleMm2 + prior.SmallHoleUncertaintyMm2 * Z();
            double spread = prior.SpreadMm * Math.Sqrt(prior.SpreadDegrees / Enumerable.Range(0, (int)prior.SpreadDegrees).Sum(_ => Math.Pow(Z(), 2)));
            double Clearance(double drawn) => drawn + bias + share * drawn + small / drawn + spread * Z() - pin;
            bool[] goes = [.. ladder.DrawnMm.Select(d => Clearance(d) + 0.01 * Z() > 0)];
            string key = string.Concat(goes.Select(g => g ? '1' : '0'));
            if (!told.TryGetValue(key, out var draw))
            {
                LadderResult result = LadderResult.Of(fit, [.. ladder.DrawnMm.Zip(goes, (d, g) => new GaugeAnswer(d, g ? TrialAnswer.Goes : TrialAnswer.TooTight))], 0);
                told[key] = draw = (result.DrawnMm, result.Odds);
            }

            stated += draw.Odds / jobs;
            if (fit.Fit.Window.Holds(Clearance(draw.Drawn))) fits += 1.0 / jobs;
        }

        Assert.Equal(stated, fits, 0.03);
        Assert.Equal(ladder.OddsExpected, stated, 0.03);
    }

    [Fact]
    public void After_the_answers_the_part_is_printed_or_one_more_gauge_is()
    {
        CriticalFit fit = Critical();
        GaugeAnswer[] answers = Answers((12.0, false), (12.1, false), (12.2, true), (12.3, true));
        LadderResult enough = LadderResult.Of(fit, answers, 0.8);
        Assert.Equal(LadderStep.PrintThePart, enough.Next);
        Assert.Empty(enough.OutOfOrder);
        // Goes from about 12.15 on: with 0.1 to 0.45 of clearance wanted.
        Assert.InRange(enough.DrawnMm, 12.36, 12.48);
        Assert.True(enough.Odds > fit.Best(fit.Case.Process).Odds + 0.05);

        LadderResult wide = LadderResult.Of(fit, Answers((11.8, false), (12.6, true)), 0.9);
        Assert.Equal(LadderStep.OneMoreGauge, wide.Next);
        Assert.Equal((1, 2), wide.NextLiesBetween);
        Assert.True(wide.OddsAfterNext > wide.Odds);
        LadderResult one = LadderResult.Of(fit, Answers((11.8, false)), 0.95);
        Assert.Equal((1, null), one.NextLiesBetween);

        Assert.Equal(LadderStep.ScatterIsLeft, LadderResult.Of(Critical(0.2, 0.25), Answers([.. Enumerable.Range(0, 17).Select(k => (12.0 + 0.025 * k, k > 7))]), 0.99).Next);
    }

    [Fact]
    public void Answers_out_of_order_are_shown_and_widen_the_scatter()
    {
        CriticalFit fit = Critical();
        LadderResult clean = LadderResult.Of(fit, Answers((12.0, false), (12.1, false), (12.2, true), (12.3, true)), 0.9);
        LadderResult odd = LadderResult.Of(fit, Answers((12.0, false), (12.1, true), (12.2, false), (12.3, true)), 0.9);
        Assert.Equal([new OutOfOrder(2, 3)], odd.OutOfOrder);
        Assert.True(odd.Odds < clean.Odds);
        Assert.True(odd.Process[SurfaceKind.HoleUpright].SpreadMm > clean.Process[SurfaceKind.HoleUpright].SpreadMm);
    }

    [Fact]
    public void Pegs_are_settled_like_holes_with_the_sense_turned()
    {
        var peg = new OneClearance("socket", new LengthSum(0, [new(SurfaceKind.Outside, 15, -1)], [new("socket", new(15.3, 0.03), 1)], []), new(0.1, 0.45, "test"));
        Assert.Null(CriticalFit.WhyNot(peg));
        var fit = new CriticalFit(new(Cases.Assumed, Cases.Nothing, [peg]), peg, Cases.Day);
        GaugeLadder ladder = GaugeLadder.Plan(fit, 0.9);
        // The tightest first: the thickest peg.
        Assert.Equal(ladder.DrawnMm.OrderDescending(), ladder.DrawnMm);
        LadderResult result = LadderResult.Of(fit, Answers((15.4, false), (15.3, false), (15.2, true), (15.1, true)), 0.8);
        Assert.Empty(result.OutOfOrder);
        Assert.InRange(result.DrawnMm, 14.9, 15.05);
    }

    [Fact]
    public void What_cannot_be_tried_by_hand_is_refused()
    {
        Assert.Contains("no counterpart", CriticalFit.WhyNot(new("x", new LengthSum(0, [Cases.Hole(12)], [], []), new(0, 1, "")))!, StringComparison.Ordinal);
        Assert.Contains("more than one", CriticalFit.WhyNot(new("x", new LengthSum(0, [Cases.Hole(12), Cases.Hole(13)], [new("r", new(12, 0.1), -1)], []), new(0, 1, "")))!, StringComparison.Ordinal);
        Assert.Null(CriticalFit.WhyNot(Cases.Rod(12, 12, 0.1)));
    }
}
