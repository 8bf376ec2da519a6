namespace Sparewright.Fit.Odds;

/// <summary>What it would be worth to know one thing.</summary>
/// <param name="OddsIfKnown">All together, with that thing known and found to be as expected.</param>
/// <param name="Costs">By how much the odds are lower because it is not; 0 where knowing it would not help.</param>
public sealed record DoubtCost(Doubt Doubt, double OddsIfKnown, double Costs);

/// <summary>Which of the things that are not known cost the most odds.</summary>
public static class Sensitivity
{
    /// <summary>Every doubt that has a say, the costliest first.</summary>
    /// <param name="odds">Of the case as it stands.</param>
    public static IReadOnlyList<DoubtCost> Of(FitCase fit, FitOdds odds) =>
    [
        .. Doubts(fit).Select(d =>
        {
            double known = FitOdds.Of(fit, known: other => other == d).AllTogether.Value;
            return new DoubtCost(d, known, Math.Max(0, known - odds.AllTogether.Value));
        }).OrderByDescending(d => d.Costs),
    ];

    internal static IEnumerable<Doubt> Doubts(FitCase fit)
    {
        LengthSum[] lengths = [.. fit.Conditions.SelectMany(c => c.Lengths)];
        foreach (SurfaceKind kind in fit.Kinds)
        {
            yield return new Doubt.OfBias(kind);
            yield return new Doubt.OfSpread(kind);
        }

        foreach (string counterpart in lengths.SelectMany(l => l.Counterparts).Where(c => c.Length.StandardDeviationMm > 0).Select(c => c.Name).Distinct())
            yield return new Doubt.OfCounterpart(counterpart);
        foreach (string size in lengths.SelectMany(l => l.Read).Select(r => r.Name).Distinct())
            yield return new Doubt.OfReading(size);
    }
}
