using System.Globalization;

namespace Sparewright.BlindRemakes.Printing;

/// <summary>What errands of one kind took, by how they were gone about.</summary>
internal static class PrintScore
{
    /// <summary>One row for each way to go about it; costs beside those of one of them.</summary>
    public static IEnumerable<string> Rows(string name, IReadOnlyList<ErrandRecord> errands, string beside)
    {
        if (errands.Count == 0) yield break;
        double Mean(string policy, Func<Outcome, double> of) => errands.Average(e => of(e.Outcomes[policy]));
        double grams = errands.Average(e => e.Part.GramsSpent), hours = errands.Average(e => e.Part.Hours);
        double Share(string policy, Func<Cost, double> of, double keptPart) => 100 * (Mean(policy, o => of(o.Cost)) - keptPart) / (Mean(beside, o => of(o.Cost)) - keptPart);
        foreach (string policy in errands[0].Outcomes.Keys)
        {
            double Within(int prints) => 100.0 * errands.Count(e => e.Outcomes[policy].Prints <= prints) / errands.Count;
            yield return string.Create(CultureInfo.InvariantCulture,
                $"| {name} | {policy} | {errands.Count} | {Within(1):0.0} % | {Within(2):0.0} % | {Mean(policy, o => o.Prints):0.00} | {Mean(policy, o => o.Cost.GramsSpent):0.0} | {Mean(policy, o => o.Cost.Hours):0.00} | {Share(policy, c => c.GramsSpent, 0):0} % | {Share(policy, c => c.Hours, 0):0} % | {100 * grams / Mean(beside, o => o.Cost.GramsSpent):0} % | {Share(policy, c => c.GramsSpent, grams):0} % | {Share(policy, c => c.Hours, hours):0} % |");
        }
    }
}
