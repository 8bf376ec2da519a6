using System.Globalization;
using Sparewright.Part;
using Sparewright.Reconcile;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Next;

namespace Sparewright.BlindRemakes;

/// <summary>
/// How many readings somebody needs who follows the plan, and after it what the tool says to measure next, until the sizes are known as well as by measuring everything on the family's list, repeats and all:
/// until the ± are no larger in the geometric mean. Each putting on of the caliper counts. Who wants no more than these ± stops as soon as they are reached, in the midst of the plan if need be: the list does not promise that every
/// reading is checked either. Who wants that too takes the whole plan.
/// </summary>
internal sealed class PlanScore
{
    private int _everything, _plan, _needed, _neededChecked, _decided, _sizes, _jobs, _gaveUp;
    private double _logAfterPlan;

    /// <summary>Somebody who needs so many times as many as measuring everything has given up.</summary>
    private const int MostTimes = 2;

    /// <param name="about">Draws starting values; such at which the part could not be are drawn again, as whoever describes it would see.</param>
    public void Take(Case drawn, Random about)
    {
        double[] starts = drawn.Starts(about);
        while (TryReconcile(drawn, starts, []) is null) starts = drawn.Starts(about);
        Reconciled full = Reconcile(drawn, starts, [.. drawn.Family.Naive.Select((m, k) => (m, drawn.Reads[k]))]);
        int everything = drawn.Reads.Sum(r => r.Length);
        string[] sizes = [.. full.Sizes.Where(s => double.IsFinite(s.StandardUncertainty) && s.StandardUncertainty > 0).Select(s => s.Name)];
        double Wider(Reconciled by) => sizes.Average(n => Math.Log(Of(by, n).StandardUncertainty / Of(full, n).StandardUncertainty));

        List<(Measurable What, double[] Reads)> taken = [];
        int? reached = null;
        Reconciled now = Reconcile(drawn, starts, []);
        void Read(string text)
        {
            taken.Add(Once(drawn, text));
            now = Reconcile(drawn, starts, taken);
            if (reached is null && Wider(now) <= 0) reached = taken.Count;
        }

        foreach (PlannedReading planned in now.Plan)
            if (What(drawn, planned.Text).True(drawn.Sizes) >= LeastMm) Read(planned.Text);
        _jobs++;
        _everything += everything;
        _plan += taken.Count;
        _sizes += sizes.Length;
        _decided += sizes.Count(n => Of(now, n).Status is SizeStatus.Decided);
        _logAfterPlan += Wider(now);
        while (reached is null)
        {
            if (taken.Count >= MostTimes * everything || Best(now, drawn) is not { } next)
            {
                _gaveUp++;
                break;
            }

            Read(next.Text);
        }

        _needed += reached ?? taken.Count;
        _neededChecked += taken.Count;
    }

    public void Take(PlanScore other)
    {
        (_everything, _plan, _needed, _neededChecked, _decided, _sizes) = (_everything + other._everything, _plan + other._plan, _needed + other._needed, _neededChecked + other._neededChecked, _decided + other._decided, _sizes + other._sizes);
        (_jobs, _gaveUp, _logAfterPlan) = (_jobs + other._jobs, _gaveUp + other._gaveUp, _logAfterPlan + other._logAfterPlan);
    }

    public string Row(string name) => string.Create(CultureInfo.InvariantCulture,
        $"| {name} | {1.0 * _everything / _jobs:0.0} | {1.0 * _plan / _jobs:0.0} | {100.0 * _plan / _everything:0} % | {100.0 * _decided / _sizes:0.0} % | × {Math.Exp(_logAfterPlan / _jobs):0.00} | {1.0 * _needed / _jobs:0.0} | {100.0 * _needed / _everything:0.0} % | {100.0 * _neededChecked / _everything:0.0} % | {_gaveUp} of {_jobs} |");

    /// <summary>Of what the tool says to measure next, that of which it says that it tells most of all sizes together; where that is not there, what narrows most.</summary>
    private static NextReading? Best(Reconciled now, Case drawn) => now.Next.Where(n => IsThere(drawn, n.Text))
        .MaxBy(n => (n.Why.Contains("all sizes together", StringComparison.Ordinal), n.Narrows.Sum(s => Math.Log(s.From / s.To))));

    /// <summary>Whoever holds the part sees where two faces are flush, or all but: there is nothing to read. What nobody wrote down is passed over too.</summary>
    private static bool IsThere(Case drawn, string text) => drawn.Family.Measurable(text) is { } what && what.True(drawn.Sizes) >= LeastMm;

    private const double LeastMm = 0.3;

    private static (Measurable, double[]) Once(Case drawn, string text) => (What(drawn, text), [drawn.ReadOnce(What(drawn, text))]);

    private static Measurable What(Case drawn, string text) => drawn.Family.Measurable(text) ?? throw new InvalidOperationException($"{drawn.Family.Name}: nobody wrote down what `{text}` would truly read");

    private static ReconciledSize Of(Reconciled reconciled, string size) => reconciled.Sizes.First(s => s.Name == size);

    private static Reconciled Reconcile(Case drawn, double[] starts, IReadOnlyList<(Measurable What, double[] Reads)> readings) =>
        TryReconcile(drawn, starts, readings) ?? throw new InvalidOperationException($"{drawn.Family.Name} is not reconciled:\n{Job(drawn, starts, readings)}");

    private static Reconciled? TryReconcile(Case drawn, double[] starts, IReadOnlyList<(Measurable What, double[] Reads)> readings) =>
        JobFile.Read(Job(drawn, starts, readings)).Job is { } job && Reconciliation.TryReconcile(job, out Reconciled? reconciled, out _) ? reconciled : null;

    private static string Job(Case drawn, double[] starts, IReadOnlyList<(Measurable What, double[] Reads)> readings) => drawn.Job(starts, readings.Select((r, k) => ($"m{k}", r.What.Text, r.Reads)));
}
