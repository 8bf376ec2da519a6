using Sparewright.Fit.Capability;
using Sparewright.Fit.Odds;
using Xunit;

namespace Sparewright.Fit;

public sealed class CopiesTests
{
    /// <summary>A bore of which only the scatter is in doubt.</summary>
    private static FitCase Of(double dayShare, double spreadMm = 0.05, double windowMm = 0.06) => new(
        ProcessCapability.Learn(Cases.Setting, SurfaceKinds.All.ToDictionary(k => k, k => new KindPrior(k, 0, 0, 0, 0, 0, 0, spreadMm, 1e7) { DayShare = dayShare }), []), Cases.Nothing,
        [new OneClearance("rod", LengthSum.Around(Cases.Hole(10) with { Surface = "bore.wall" }, "rod", new(10, 0)), new(-windowMm / 2, windowMm / 2, "test"))]);

    /// <summary>Where copies share nothing, n of them all fail as often as one does to the power of n.</summary>
    [Fact]
    public void Copies_that_share_nothing_fail_together_by_chance_only()
    {
        FitCase fit = Of(0);
        double once = FitOdds.Of(fit).AllTogether.Value;
        Assert.InRange(once, 0.44, 0.46);
        IReadOnlyList<Copies> copies = Copies.Of(fit, once, 0.999);
        Assert.Equal([2, 3, 4], copies.Select(c => c.Number));
        Assert.All(copies, c => Assert.Equal(1 - Math.Pow(1 - once, c.Number), c.Odds, 0.003));
    }

    /// <summary>What a whole print is off by, no number of copies mends.</summary>
    [Fact]
    public void Copies_that_share_everything_bring_nothing()
    {
        FitCase fit = Of(1 - 1e-9);
        Assert.Empty(Copies.Of(fit, FitOdds.Of(fit).AllTogether.Value, 0.9));
    }

    [Fact]
    public void No_more_copies_are_proposed_than_are_needed()
    {
        FitCase fit = Of(0);
        double once = FitOdds.Of(fit).AllTogether.Value;
        Assert.Equal([2], Copies.Of(fit, once, 0.6).Select(c => c.Number));
        Assert.Empty(Copies.Of(fit, once, 0.4));
    }

    /// <summary>Two fits of one copy must both hold: beside plain drawing of printers, counterparts and copies.</summary>
    [Fact]
    public void Odds_of_copies_with_shared_doubts_are_what_drawing_shows()
    {
        FitCase fit = new(ProcessCapability.Learn(Cases.Setting, SurfaceKinds.All.ToDictionary(k => k, k => new KindPrior(k, 0, 0.03, 0, 0, 0, 0, 0.04, 1e7) { DayShare = 0.25 }), []), Cases.Nothing,
            [Cases.Rod(10.25, 10, 0.02, 0.2, 0.3, "rod", "a"), Cases.Rod(6.25, 6, 0.02, 0.2, 0.3, "pin", "b")]);
        double once = FitOdds.Of(fit).AllTogether.Value;
        Copies three = Copies.Of(fit, once, 0.999).Single(c => c.Number == 3);
        var random = new Random(5);
        double Z() => Measure.Uncertainty.Normal.Quantile(random.NextDouble());
        int good = 0;
        const int Times = 200_000;
        for (int i = 0; i < Times; i++)
        {
            double common = 0.03 * Z() + 0.02 * Z(), rod = 0.02 * Z(), pin = 0.02 * Z();
            bool Fits(double own) => Math.Abs(common + Math.Sqrt(0.75) * 0.04 * Z() - own) <= 0.05;
            if (Enumerable.Range(0, 3).Any(_ => Fits(rod) & Fits(pin))) good++;
        }

        Assert.Equal((double)good / Times, three.Odds, 0.006);
    }

    /// <summary>Heating up is there once: 10 minutes, and 2.5 for each gram of 1.2 g/cm³.</summary>
    [Fact]
    public void Copies_in_one_go_heat_up_once()
    {
        PrintEffort takes = new Copies(3, 0.9).Takes(5000);
        Assert.Equal(18, takes.Grams, 1e-9);
        Assert.Equal(55, takes.Minutes, 1e-9);
    }
}
