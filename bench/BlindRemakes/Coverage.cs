using System.Globalization;
using Sparewright.Measure.Uncertainty;
using Sparewright.Part;
using Sparewright.Reconcile;
using Sparewright.Reconcile.Findings;

namespace Sparewright.BlindRemakes;

/// <summary>How often the ± hold the truth, beside how often they say they do, of jobs without a mistake.</summary>
/// <param name="Off">Of each family, each size's distance from the truth in its own standard uncertainty.</param>
internal sealed record Coverage(string Caliper, IReadOnlyList<(string Family, double[] Off)> Off)
{
    public static Coverage Of(string name, Caliper caliper, int jobs, int seed) => new(name, [.. Families.All.Select(family =>
    {
        var practitioner = new Practitioner(seed, caliper);
        var about = new Random(seed);
        var off = new List<double>();
        for (int k = 0; k < jobs; k++)
        {
            Case drawn = practitioner.Draw(family, withMistake: false);
            if (JobFile.Read(drawn.Job(about)).Job is not { } job || !Reconciliation.TryReconcile(job, out Reconciled? reconciled, out _)) continue;
            off.AddRange(reconciled.Sizes.Where(s => s.Status is SizeStatus.Decided or SizeStatus.Weak).Select(s => Math.Abs(s.Estimate - drawn.Sizes[s.Name]) / s.StandardUncertainty));
        }

        return (family.Name, off.ToArray());
    })]);

    /// <summary>The share of sizes whose interval of a stated coverage holds the truth, of one family or of all.</summary>
    public double InFact(double stated, int? family = null)
    {
        double[] off = family is { } one ? Off[one].Off : [.. Off.SelectMany(o => o.Off)];
        double within = Normal.TwoSidedCritical(1 - stated);
        return off.Count(o => o <= within) / (double)off.Length;
    }

    public string Row() => string.Create(CultureInfo.InvariantCulture, $"{Caliper}: of 95 % {100 * InFact(0.95):0.0} % of {Off.Sum(o => o.Off.Length)}; {string.Join(", ", Off.Select((o, k) => string.Create(CultureInfo.InvariantCulture, $"{o.Family} {100 * InFact(0.95, k):0.0} %")))}");
}
