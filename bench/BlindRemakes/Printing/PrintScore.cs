using System.Globalization;

namespace Sparewright.BlindRemakes.Printing;

/// <summary>What errands of one kind took, by how they were gone about.</summary>
internal sealed class PrintScore
{
    private readonly Dictionary<string, List<Outcome>> _outcomes = [];

    public void Take(string policy, Outcome outcome)
    {
        if (!_outcomes.TryGetValue(policy, out var all)) _outcomes.Add(policy, all = []);
        all.Add(outcome);
    }

    public void Take(PrintScore other)
    {
        foreach (var (policy, outcomes) in other._outcomes)
            foreach (Outcome outcome in outcomes) Take(policy, outcome);
    }

    /// <summary>One row for each way to go about it; costs beside those of the last one.</summary>
    public IEnumerable<string> Rows(string name, string beside)
    {
        double Mean(string policy, Func<Outcome, double> of) => _outcomes[policy].Average(of);
        foreach (var (policy, all) in _outcomes)
        {
            double Within(int prints) => 100.0 * all.Count(o => o.Prints <= prints) / all.Count;
            yield return string.Create(CultureInfo.InvariantCulture,
                $"| {name} | {policy} | {all.Count} | {Within(1):0.0} % | {Within(2):0.0} % | {all.Average(o => o.Prints):0.00} | {Mean(policy, o => o.Cost.GramsSpent):0.0} | {Mean(policy, o => o.Cost.Hours):0.00} | {100 * Mean(policy, o => o.Cost.GramsSpent) / Mean(beside, o => o.Cost.GramsSpent):0} % | {100 * Mean(policy, o => o.Cost.Hours) / Mean(beside, o => o.Cost.Hours):0} % |");
        }
    }
}
