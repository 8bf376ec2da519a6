using Sparewright.Fit;
using Sparewright.Fit.Capability;
using Sparewright.Fit.Odds;
using Xunit;

namespace Sparewright.Outside.Fit;

/// <summary>Odds that a clearance lies where it is wanted, beside closed forms and the formulas of the standards.</summary>
public sealed class ClearanceOddsTests
{
    private const double Infinite = double.PositiveInfinity;

    /// <summary>A printer of which everything is known.</summary>
    private static FitCase With(double spreadMm, params IReadOnlyList<FitCondition> conditions) => new(
        ProcessCapability.Learn(new(ProcessKind.Mex, "exactly known", "PLA", ""), SurfaceKinds.All.ToDictionary(k => k, k => new KindPrior(k, 0, 0, 0, 0, 0, 0, spreadMm, 1e8)), []),
        NormalLengths.Exactly([], []), conditions);

    /// <summary>Mean clearance 0.25 mm, standard deviations 0.08 (hole) and 0.05 (pin): P(c > 0) = 0.9960, P(0.1 &lt; c &lt; 0.4) = 0.888 (computed for our process notes, 3.2).</summary>
    [Theory]
    [InlineData(0.0, Infinite, 0.9960, 5e-5)]
    [InlineData(0.1, 0.4, 0.888, 5e-4)]
    public void A_pin_in_a_hole(double low, double high, double odds, double within)
    {
        var pin = new OneClearance("pin", LengthSum.Around(new(SurfaceKind.HoleUpright, 5.25, 1), "pin", new(5, 0.05)), new(low, high, "the notes' example"));
        ConditionOdds one = FitOdds.Of(With(0.08, pin)).Each[0];
        Assert.Equal(odds, one.Odds.Value, within);
        Assert.Equal(0.25, one.Clearance.MeanMm, 1e-9);
        Assert.Equal(0.0943, one.Clearance.StandardDeviationMm, 5e-5);
    }

    /// <summary>
    /// ASME Y14.5M-1994, appendix B, as quoted by textbooks: fasteners of 6 mm, holes of 6.44 mm. Floating (clearance holes in both parts): positional tolerance T = H − F = 0.44 for each part;
    /// fixed (one part holds the fastener): T = (H − F)/2 = 0.22 for each. A tolerance zone of diameter T lets a hole be off by T/2; two parts of two holes each, all at the ends of their zones
    /// along the row, against each other: the worst case. It must just go, and not go by a hair more.
    /// </summary>
    [Theory]
    [InlineData(true, 0.44)]
    [InlineData(false, 0.22)]
    public void The_fastener_formulas_at_the_worst_case(bool floating, double positionalToleranceMm)
    {
        const double hole = 6.44, fastener = 6;
        double room = (floating ? 2 : 1) * 0.5 * (hole - fastener);
        // Both holes of both parts off by T/2, outwards in one part, inwards in the other: the pitches differ by 2 T.
        double Odds(double hair) => FitOdds.Of(With(1e-6, new FastenersInLine(
            "bolts", [new LengthSum(2 * positionalToleranceMm + hair, [], [], [])],
            [new LengthSum(room, [], [], []), new LengthSum(room, [], [], [])], new(0, Infinite, "worst case")))).Each[0].Odds.Value;

        Assert.Equal(1, Odds(-1e-6), 1e-9);
        Assert.Equal(0, Odds(1e-6), 1e-9);
    }

    /// <summary>The upper 5 % point of the studentized range of n normal variables of known deviation: 2.772 (2), 3.314 (3), 3.633 (4), 3.858 (5) (any table; from memory).</summary>
    [Theory]
    [InlineData(2, 2.772)]
    [InlineData(3, 3.314)]
    [InlineData(4, 3.633)]
    [InlineData(5, 3.858)]
    public void A_row_of_holes_by_the_table_of_the_range(int holes, double q)
    {
        const double s = 0.07;
        LengthSum Off(int hole) => new(0, [], [new("place 0", new(0, s), -1), new($"place {hole}", new(0, s), 1)], []);
        var row = new FastenersInLine("row", [.. Enumerable.Range(1, holes - 1).Select(Off)], [.. Enumerable.Repeat(new LengthSum(0.5 * q * s, [], [], []), holes)], new(0, Infinite, "table"));
        Estimate odds = FitOdds.Of(With(0.01, row)).Each[0].Odds;
        Assert.Equal(0.95, odds.Value, 0.0015 + odds.Error95);
    }

    /// <summary>
    /// The chance that m normal variables, each two correlated by one half, are all positive is 1/(m + 1) (C. W. Dunnett and M. Sobel, Biometrika 42, 1955; from memory):
    /// m clearances that share half their variance.
    /// </summary>
    [Theory]
    [InlineData(2)]
    [InlineData(5)]
    [InlineData(10)]
    public void Clearances_that_share_half_their_variance(int m)
    {
        double half = 0.1 * Math.Sqrt(0.5);
        FitCondition[] all = [.. Enumerable.Range(0, m).Select(i => new OneClearance($"c{i}", new LengthSum(0, [], [new("shared", new(0, half), 1), new($"own {i}", new(0, half), 1)], []), new(0, Infinite, "orthant")))];
        Estimate together = FitOdds.Of(With(0.01, all)).AllTogether;
        Assert.Equal(1.0 / (m + 1), together.Value, 0.001 + together.Error95);
    }
}
