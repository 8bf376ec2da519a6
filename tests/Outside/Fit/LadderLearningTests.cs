using Sparewright.Fit;
using Sparewright.Fit.Capability;
using Xunit;

namespace Sparewright.Outside.Fit;

/// <summary>What go and no-go answers teach about a printer, beside maximum likelihood and what is exactly known.</summary>
public sealed class LadderLearningTests
{
    private static readonly ClearanceWindow ByHand = new(0, double.PositiveInfinity, "goes");

    private static KindCapability Learnt(double spreadMm, double degrees, IEnumerable<(double Drawn, bool Goes)> answers) => KindCapability.Learn(
        new KindPrior(SurfaceKind.HoleUpright, 0, 1, 0, 0, 0, 0, spreadMm, degrees),
        answers.Select(a => new TriedTrial(SurfaceKind.HoleUpright, a.Drawn, new DateOnly(2026, 1, 1), "pin", new(5.125, 0), ByHand, a.Goes ? TrialAnswer.Goes : TrialAnswer.TooTight) { FeelMm = 0 }));

    /// <summary>A pin in holes of 5.00 to 5.30 mm, three prints each, goes 0 0 1 2 3 3 3 times: maximum likelihood 5.1250 and 0.03628 (constructed; recomputed for our notes on metrology, section 7).
    /// With next to no prior the mean must be the same; the middle one of the spreads that the data allow is somewhat larger than the likeliest.</summary>
    [Fact]
    public void A_ladder_of_holes()
    {
        int[] went = [0, 0, 1, 2, 3, 3, 3];
        KindCapability kind = Learnt(0.04, 1, went.SelectMany((w, k) => Enumerable.Range(0, 3).Select(i => (5 + 0.05 * k, i < w))));
        Assert.Equal(0, kind.Bias(5.125).MeanMm, 0.003);
        // Spearman–Kärber's standard error of the mean for the same answers: 0.02357 at most (ibid.).
        Assert.InRange(kind.Bias(5.125).StandardDeviationMm, 0.008, 0.02357);
        double below = 0;
        double middle = kind.Cases.First(c => (below += c.Weight) >= 0.5).SpreadMm;
        Assert.InRange(middle, 0.03628, 0.06);
    }

    /// <summary>One print a step and a clean switch between 5.10 and 5.15: all within is alike, u = 0.05/√12 = 0.01443 (our notes on metrology, section 7), once the printer's own spread is next to nothing.
    /// Two hard bounds are where expectation propagation is at its worst: it errs to the careful side, by a fifth at most.</summary>
    [Fact]
    public void A_clean_switch()
    {
        KindCapability kind = Learnt(0.001, 1e7, Enumerable.Range(0, 7).Select(k => (5 + 0.05 * k, k >= 3)));
        Assert.Equal(0, kind.Bias(5.125).MeanMm, 1e-4);
        Assert.InRange(kind.Bias(5.125).StandardDeviationMm, 0.01443, 1.2 * 0.01443);
    }
}
