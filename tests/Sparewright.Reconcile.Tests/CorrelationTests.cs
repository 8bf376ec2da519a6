using Sparewright.Measure.Uncertainty;
using Sparewright.Reconcile.Findings;
using Xunit;

namespace Sparewright.Reconcile.Tests;

/// <summary>Sizes whose errors hang together are told where that matters.</summary>
public class CorrelationTests
{
    private static Reconciled Tower(string readings) => Jobs.Reconcile(Jobs.Of("{foot_t: {about: 5}, len: {about: 36}}", """
          - {plate: foot, thickness: foot_t, outline: {disc: [0, 0], radius: 12}}
          - {boss: socket, stands_on: foot.top, diameter: 17, height: len}
        """, readings));

    [Fact]
    public void What_is_known_as_a_difference_hangs_on_what_was_taken_off()
    {
        Reconciled found = Tower("""
              - {outside: [foot.bottom, foot.top], reads: 5.00}
              - {outside: [foot.bottom, socket.top], reads: 41.00}
            """);
        CorrelatedSizes pair = Assert.Single(found.Correlations);
        Assert.Equal(("foot_t", "len"), (pair.First, pair.Second));
        // By hand: foot_t = first, len = second − first; the shift of the caliper cancels in len alone.
        UncertaintyBudget one = found.Reading("r1").Budget!, both = found.Reading("r2").Budget!;
        double own = one.OwnMm * one.OwnMm;
        Assert.Equal(-own / (one.StandardUncertaintyMm * Math.Sqrt(own + both.OwnMm * both.OwnMm)), pair.Correlation, 1e-6);
        Assert.Contains("their sum is surer", pair.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_measured_by_itself_is_not_told() => Assert.Empty(Tower("""
          - {outside: [foot.bottom, foot.top], reads: 5.00}
          - {depth: [socket.top, foot.top], reads: 36.00}
        """).Correlations);
}
