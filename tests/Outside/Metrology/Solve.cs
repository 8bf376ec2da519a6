using Sparewright.Measure.Numbers;
using Sparewright.Reconcile.Adjust;
using Xunit;

namespace Sparewright.Outside.Metrology;

internal static class Solve
{
    public static AdjustmentResult It(AdjustmentProblem problem)
    {
        Assert.True(Adjustment.TrySolve(problem, out var result, out var failure), failure?.ToString());
        return result;
    }

    /// <summary>A measured difference of two unknowns; −1 stands for a place whose value is given.</summary>
    public static Observation Difference(string name, int from, int to, double observed, double sigma, double fromValue = 0, double toValue = 0)
    {
        Dual At(ReadOnlySpan<Dual> x, int index, double value) => index < 0 ? value : x[index];
        return new(name, observed, sigma, x => At(x, to, toValue) - At(x, from, fromValue));
    }
}
