using Sparewright.Measure.Uncertainty;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Adjust;
using Sparewright.Reconcile.Findings;
using Xunit;

namespace Sparewright.Reconcile.Tests;

/// <summary>How often a wrong reading is found, beside what theory says: w is normal about δ = error·√r/σ, σ being what is its own and r the redundancy, and found where |w| is above the critical value that follows from the number of readings.</summary>
public class PowerTests
{
    private const int Draws = 2_500, Seed = 815;

    /// <summary>Three points, as asked for; the draws alone scatter by one.</summary>
    private const double Within = 0.03;

    private static readonly double[] True = [20, 10, 30, 32, 5];

    private static Job Bush { get; } = Jobs.Of("{od: {about: 20}, bore: {about: 10}, len: {about: 30}, collar_d: {about: 32}, collar_t: {about: 5}}", """
          - {boss: collar, diameter: collar_d, height: collar_t}
          - {boss: tube, stands_on: collar.top, diameter: od, height: len}
          - {hole: bore, from: tube.top, diameter: bore, through: whole part}
        """, """
          - {outside: tube.side, reads: 20}
          - {outside: tube.side, reads: 20}
          - {outside: [tube.side, bore.wall], reads: 5}
          - {inside: bore.wall, reads: 10}
          - {inside: bore.wall, reads: 10}
          - {outside: [collar.bottom, tube.top], reads: 35}
          - {outside: [collar.bottom, tube.top], reads: 35}
          - {outside: [collar.bottom, collar.top], reads: 5}
          - {depth: [tube.top, collar.top], reads: 30}
          - {step: [tube.top, collar.top], reads: 30}
          - {outside: collar.side, reads: 32}
          - {outside: collar.side, reads: 32}
          - {outside: [collar.side, bore.wall], reads: 11}
        """);

    [Theory]
    [InlineData(2, 3.0)]
    [InlineData(10, 3.5)]
    [InlineData(10, 5.0)]
    [InlineData(12, 6.0)]
    public void A_wrong_reading_is_found_as_often_as_theory_says(int wrong, double delta)
    {
        Reconciled exact = Jobs.Reconcile(Simulated.Exactly(Bush, True));
        UncertaintyBudget[] budgets = [.. exact.Readings.Select(r => r.Measured!.Budget)];
        AdjustedObservation tested = exact.Adjustment.Observations.Single(o => o.Name == exact.Readings[wrong].Reading.Id);
        double times = delta * tested.StandardUncertainty / Math.Sqrt(tested.Redundancy) / budgets[wrong].StandardUncertaintyMm, critical = Reliability.CriticalW(Reconciliation.FalseAlarmLevel, budgets.Length);
        double theory = Normal.UpperTail(critical - delta) + Normal.UpperTail(critical + delta);
        var random = new Random(Seed);
        int found = Enumerable.Range(0, Draws).Count(_ => Jobs.Reconcile(Simulated.WithErrors(Bush, True, budgets, random, k => k == wrong ? times : 0)).Contradictions.Any(c => c.Ids.Contains(exact.Readings[wrong].Reading.Id)));
        Assert.Equal(theory, (double)found / Draws, Within);
    }
}
