using Sparewright.Measure.Uncertainty;
using Sparewright.Part.Record;

namespace Sparewright.Strength.Materials;

/// <summary>What test bars of one's own say of a strength.</summary>
internal static class MeasuredBars
{
    /// <summary>One bar tells nothing of how much they differ; then they are taken to differ as much as printed bars usually do.</summary>
    private const double UsualSpread = 0.10;

    /// <summary>
    /// The mean strength (MPa) of all bars that lay so, or null without any. Its spread has what the next bar may differ by, from the bars themselves (with Student's t for few of them), and the ± of force and cross-section.
    /// </summary>
    public static Sourced? Of(IReadOnlyList<TestBars> bars, BarLay lay)
    {
        TestBars[] such = [.. bars.Where(b => b.Printed == lay)];
        double[] strengths = [.. such.SelectMany(b => b.BrokeAtNewtons.Select(n => n / b.AreaMm2))];
        if (strengths.Length == 0) return null;
        double mean = strengths.Average(), n = strengths.Length;
        double own = n < 2 ? UsualSpread * mean : Math.Sqrt(strengths.Sum(s => (s - mean) * (s - mean)) / (n - 1) * (1 + 1 / n));
        // The margin counts two standard deviations for 95 of 100 cases; few bars need more.
        double few = n < 2 ? 1 : Coverage.Factor(0.95, n - 1) / Coverage.Factor(0.95, double.PositiveInfinity);
        double area = such.Max(b => b.AreaPlusMinusMm2 / b.AreaMm2) / 2, force = such.Max(b => b.PlusMinusNewtons / b.BrokeAtNewtons.Min()) / 2;
        double spread = Math.Sqrt(few * own / mean * (few * own / mean) + area * area + force * force);
        return new(mean, spread, Status.Measured, n == 1 ? "a test bar of your own" : FormattableString.Invariant($"{n} test bars of your own"));
    }
}
