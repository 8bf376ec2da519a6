using System.Globalization;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Next;
using Xunit;

namespace Sparewright.Reconcile.Tests.Next;

/// <summary>Plans followed to the letter: every size decided, every reading checked.</summary>
public class MeasuringPlanTests
{
    public static TheoryData<string> Examples => [.. Jobs.ExampleNames];

    [Theory]
    [MemberData(nameof(Examples))]
    public void Who_follows_the_plan_has_every_size_decided_and_every_reading_checked(string example)
    {
        Job job = Jobs.Example(example);
        string[] undecidable = [.. Jobs.Reconcile(job with { Readings = [.. job.Readings.OfType<CaliperReading>()] }).Sizes.Where(s => s.Status == SizeStatus.Undecided).Select(s => s.Name)];
        Reconciled before = Jobs.Reconcile(job with { Readings = [] });
        IReadOnlyList<PlannedReading> plan = before.Plan;
        int decidable = job.Sizes.Free.Count - undecidable.Length;
        Assert.InRange(plan.Count, decidable + 1, 2 * decidable);

        CaliperReading[] taken = [.. plan.Select((p, k) => p.Reading with { Id = $"p{k}", With = With(job), ReadsMm = [p.AboutMm] })];
        Reconciled after = Jobs.Reconcile(job with { Readings = taken });
        Assert.All(after.Sizes.Where(s => !undecidable.Contains(s.Name)), s => Assert.True(s.Status is SizeStatus.Decided or SizeStatus.Fixed or SizeStatus.Weak && s.StandardUncertainty < 0.25, $"{s.Name} {s.Status} {s.StandardUncertainty}"));
        Assert.All(after.Readings, r => Assert.True(r.Redundancy > 0.15, $"{r.Reading.Id} {r.Says}: {r.Redundancy}"));
        Assert.Empty(after.Plan);
    }

    private static string? With(Job job) => job.Instruments.Values.Count(i => Measure.InstrumentKinds.IsCaliper(i.Kind)) > 1 ? job.Instruments.Values.First(i => Measure.InstrumentKinds.IsCaliper(i.Kind)).Name : null;

    [Fact]
    public void What_has_been_read_already_is_not_planned_again()
    {
        string shape = """
              - {plate: foot, thickness: foot_t, outline: {disc: [0, 0], radius: 12}}
              - {boss: socket, stands_on: foot.top, diameter: 17, height: len}
            """;
        IReadOnlyList<PlannedReading> all = Jobs.Reconcile(Jobs.Of("{foot_t: {about: 5}, len: {about: 36}}", shape, "  []")).Plan;
        IReadOnlyList<PlannedReading> rest = Jobs.Reconcile(Jobs.Of("{foot_t: {about: 5}, len: {about: 36}}", shape, "  - {outside: [foot.bottom, foot.top], reads: 5.02}")).Plan;
        Assert.InRange(all.Count, 3, 4);
        Assert.Equal(all.Count - 1, rest.Count);
        Assert.Contains(rest, p => p.Why.StartsWith("for ", StringComparison.Ordinal) && p.Why.Contains("len", StringComparison.Ordinal));
        Assert.Contains(rest, p => p.Why.Contains("checks", StringComparison.Ordinal) && p.Why.Contains("r1", StringComparison.Ordinal));
    }

    [Fact]
    public void A_cone_is_measured_at_two_heights_and_a_round_by_gauge_leaves()
    {
        Job knob = Jobs.Of("{foot_d: {about: 26}, grip_d: {about: 22}, high: {about: 16}, edge_r: {about: 1.5}}", """
              - {boss: grip, diameter: foot_d, top_diameter: grip_d, height: high}
              - {edge_round: upper_edge, meeting: [grip.side, grip.top], radius: edge_r}
            """, "  []");
        Reconciled before = Jobs.Reconcile(knob);
        Assert.Equal(["outside: grip.side, at_height: 2", "outside: grip.side, at_height: 12"], before.Plan.Select(p => p.Text).Where(t => t.Contains("at_height", StringComparison.Ordinal)).Distinct().OrderBy(t => t.Length));
        Assert.All(before.Plan, p => Assert.Equal(p.Text.Contains("at_height", StringComparison.Ordinal), p.Reading.AtHeight is not null));
        Assert.Equal(["radius_gauge: upper_edge"], Assert.Single(before.Undecided, u => u.Sizes.Contains("edge_r")).Measure);

        Reconciled after = Jobs.Reconcile(knob with { Readings = [.. before.Plan.Select((p, k) => p.Reading with { Id = $"p{k}", ReadsMm = [p.AboutMm] })] });
        Assert.All(after.Sizes.Where(s => s.Name != "edge_r"), s => Assert.NotEqual(SizeStatus.Undecided, s.Status));
    }

    [Fact]
    public void The_plan_does_not_hang_on_the_culture()
    {
        CultureInfo before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("de-DE");
            Assert.Equal(Jobs.Reconcile(Jobs.Example("vent-knuckle") with { Readings = [] }).Plan.Select(p => p.Text), PlanInInvariant());
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    private static string[] PlanInInvariant()
    {
        CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
        return [.. Jobs.Reconcile(Jobs.Example("vent-knuckle") with { Readings = [] }).Plan.Select(p => p.Text)];
    }
}
