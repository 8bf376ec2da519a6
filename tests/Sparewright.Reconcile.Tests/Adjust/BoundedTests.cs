using Sparewright.Measure.Uncertainty;
using Sparewright.Reconcile.Adjust;
using Xunit;

namespace Sparewright.Reconcile.Tests.Adjust;

/// <summary>Observations of which only bounds are known, against the posterior integrated point by point.</summary>
public sealed class BoundedTests
{
    private static readonly AdjustmentProblem Seen = new([new("x", 4.9)], [new("seen", 5, 0.03, x => x[0])]);

    private static AdjustmentResult Solve(AdjustmentProblem problem, params Bound[] bounds)
    {
        Assert.True(Bounded.TrySolve(problem, bounds, out AdjustmentResult? result, out AdjustmentFailure? failure), failure?.ToString());
        return result;
    }

    /// <summary>Mean and standard deviation of N(x; 5, 0.03)·(Φ((high − x)/σ) − Φ((low − x)/σ)), by the rectangle rule.</summary>
    private static (double Mean, double Deviation) Integrated(double low, double high, double sigma)
    {
        double sum = 0, first = 0, second = 0;
        for (double x = 4.5; x <= 5.5; x += 1e-5)
        {
            double weight = Normal.Density(x - 5, 0.03) * (Normal.UpperTail((low - x) / sigma) - Normal.UpperTail((high - x) / sigma));
            (sum, first, second) = (sum + weight, first + weight * x, second + weight * x * x);
        }

        double mean = first / sum;
        return (mean, Math.Sqrt(second / sum - mean * mean));
    }

    /// <summary>A narrow bound is not contradicted by one who knows little: that a wide spread seldom falls into it says nothing against it.</summary>
    [Theory]
    [InlineData(2, 10)]
    [InlineData(-0.9, 3.6)]
    [InlineData(0.9, 50)]
    public void A_narrow_bound_holds_beside_what_hardly_knows_better(double seen, double uncertainty)
    {
        AdjustmentResult bounded = Solve(new([new("x", 1)], [new("seen", seen, uncertainty, x => x[0])]), new Bound("leaves", 0.75, 1.0, 0.01, x => x[0]));
        Assert.Equal(0.875, bounded.Estimates[0], 0.01);
        Assert.Equal(0.25 / Math.Sqrt(12), bounded.StandardUncertainty(0), 0.005);
    }

    [Theory]
    [InlineData(5.03, double.PositiveInfinity, 0.02)]
    [InlineData(4.99, double.PositiveInfinity, 0.01)]
    [InlineData(double.NegativeInfinity, 4.97, 0.03)]
    [InlineData(4.99, 5.02, 0.01)]
    [InlineData(4.7, double.PositiveInfinity, 0.05)]
    public void One_bound_gives_mean_and_spread_of_the_true_posterior(double low, double high, double sigma)
    {
        var (mean, deviation) = Integrated(low, high, sigma);
        AdjustmentResult result = Solve(Seen, new Bound("bound", low, high, sigma, x => x[0]));
        Assert.Equal(mean, result.Estimates[0], 1e-6);
        Assert.Equal(deviation, result.StandardUncertainty(0), 1e-6);
    }

    [Fact]
    public void A_bound_that_is_far_away_does_nothing_and_one_that_is_contradicted_is_left_out()
    {
        foreach (double low in (double[])[4, 5.3])
        {
            AdjustmentResult result = Solve(Seen, new Bound("bound", low, double.PositiveInfinity, 0.05, x => x[0]));
            Assert.Equal(5, result.Estimates[0], 1e-12);
            Assert.Equal(0.03, result.StandardUncertainty(0), 1e-12);
            Assert.Single(result.Observations);
        }
    }

    [Fact]
    public void Alone_two_bounds_are_a_rectangle_and_one_bound_is_nothing()
    {
        var open = new AdjustmentProblem([new("x", 0.8)], []);
        AdjustmentResult between = Solve(open, new Bound("leaf", 0.75, 1, 0.05, x => x[0]));
        Assert.Equal(0.875, between.Estimates[0], 1e-9);
        Assert.Equal(Math.Sqrt(0.25 * 0.25 / 12 + 0.05 * 0.05), between.StandardUncertainty(0), 1e-9);
        Assert.False(Solve(open, new Bound("worn", 0.75, double.PositiveInfinity, 0.05, x => x[0])).IsDecided(0));
    }

    [Fact]
    public void Bounds_are_no_suspects()
    {
        AdjustmentResult result = Solve(Seen with { Observations = [.. Seen.Observations, new("again", 5.4, 0.03, x => x[0])] }, new Bound("bound", 5.2, double.PositiveInfinity, 0.02, x => x[0]));
        Assert.Equal(["again", "seen"], Suspects.Find(result).Sets.SelectMany(s => s.Members).Select(m => m.Name).Order());
    }
}
