using Sparewright.Reconcile.Adjust;
using Xunit;

namespace Sparewright.Outside.Metrology;

/// <summary>
/// Brownlee's stack-loss data (K. A. Brownlee, Statistical Theory and Methodology in Science and Engineering, 1965; read at support.sas.com, statug_rreg);
/// Huber's estimate read in the documentation of statsmodels, recomputed with scale and weights.
/// </summary>
public sealed class RobustTests
{
    /// <summary>Air flow, water temperature, acid, loss.</summary>
    private static readonly double[][] StackLoss =
    [
        [80, 27, 89, 42], [80, 27, 88, 37], [75, 25, 90, 37], [62, 24, 87, 28], [62, 22, 87, 18], [62, 23, 87, 18], [62, 24, 93, 19],
        [62, 24, 93, 20], [58, 23, 87, 15], [58, 18, 80, 14], [58, 18, 89, 14], [58, 17, 88, 13], [58, 18, 82, 11], [58, 19, 93, 12],
        [50, 18, 89, 8], [50, 18, 86, 7], [50, 19, 72, 8], [50, 19, 79, 8], [50, 20, 80, 9], [56, 20, 82, 15], [70, 20, 91, 15],
    ];

    private static AdjustmentProblem Problem => new(
        [new("constant", 0), new("air", 0), new("water", 0), new("acid", 0)],
        [.. StackLoss.Select((row, i) => new Observation($"row {i + 1}", row[3], 1, x => x[0] + x[1] * row[0] + x[2] * row[1] + x[3] * row[2]))]);

    [Fact]
    public void Least_squares_for_contrast() => AssertEstimates([-39.919674, 0.715640, 1.295286, -0.152123], Solve.It(Problem));

    [Fact]
    public void Hubers_estimate_and_the_candidates_it_finds()
    {
        var huber = HuberReweighting.Find(Problem)!;
        AssertEstimates([-41.026498, 0.829384, 0.926066, -0.127847], huber.Adjusted);
        Assert.Equal(2.440536, huber.Scale, 1e-5);
        Assert.Equal(0.3681, huber.Weights[20], 1e-4);
        Assert.Equal(0.5049, huber.Weights[3], 1e-4);
        Assert.Equal(0.7858, huber.Weights[2], 1e-4);
        Assert.Equal(3, huber.Weights.Count(weight => weight < 1));
    }

    private static void AssertEstimates(double[] expected, AdjustmentResult result)
    {
        for (int i = 0; i < expected.Length; i++) Assert.Equal(expected[i], result.Estimates[i], 1e-6);
    }
}
