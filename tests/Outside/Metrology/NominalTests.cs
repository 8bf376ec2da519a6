using Sparewright.Reconcile.Nominals;
using Xunit;

namespace Sparewright.Outside.Metrology;

/// <summary>What the designer meant by a single length: posteriors of a proposed prior (grids 1 mm 0.45, 0.5 mm 0.20, 0.1 mm 0.15, 1/64 in 0.10, none 0.10; each point weight × step/10; recomputed for our notes on metrology, section 5).</summary>
public sealed class NominalTests
{
    [Theory]
    [InlineData(24.98, 0.03, 25.0, 0.924)]
    [InlineData(24.87, 0.06, 25.0, 0.577)]
    [InlineData(12.72, 0.03, 12.7, 0.846)]
    [InlineData(3.18, 0.03, 3.175, 0.662)]
    [InlineData(6.36, 0.05, 6.35, 0.540)]
    public void The_likeliest(double mm, double u, double meant, double odds)
    {
        Nominal nominal = DesignerMeant.Alone(mm, u)!;
        Assert.Equal(meant, nominal.Best.Value, 1e-9);
        Assert.Equal(odds, nominal.Best.Odds, 5e-4);
    }

    [Theory]
    [InlineData(24.98, 0.03, 63 * 25.4 / 64, 0.060)]
    [InlineData(3.18, 0.03, 3.2, 0.203)]
    [InlineData(6.36, 0.05, 6.4, 0.151)]
    public void Its_runner_up(double mm, double u, double meant, double odds)
    {
        NominalCandidate second = DesignerMeant.Alone(mm, u)!.RunnerUp!;
        Assert.Equal(meant, second.Value, 1e-9);
        Assert.Equal(odds, second.Odds, 5e-4);
    }

    [Fact]
    public void No_round_number() => Assert.Equal(0.161, DesignerMeant.Alone(24.87, 0.06)!.NoneOdds, 5e-4);
}
