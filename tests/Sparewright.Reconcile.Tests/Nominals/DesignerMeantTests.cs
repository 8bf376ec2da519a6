using Sparewright.Measure.Quantities;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Nominals;
using Xunit;

namespace Sparewright.Reconcile.Tests.Nominals;

/// <summary>What the designer meant, for whole parts.</summary>
public class DesignerMeantTests
{
    public static TheoryData<string> Examples => [.. Jobs.ExampleNames];

    /// <summary>The sizes that the examples' readings were made from, and from which unit they came (tests/data/true-sizes.csv).</summary>
    private static Dictionary<string, double> Truth(string example) => File.ReadLines(Path.Combine(Jobs.Root, "tests", "data", "true-sizes.csv"))
        .Where(l => l.StartsWith(example + ",", StringComparison.Ordinal)).Select(l => l.Split(',')).ToDictionary(c => c[1], c => double.Parse(c[2], System.Globalization.CultureInfo.InvariantCulture));

    [Theory]
    [MemberData(nameof(Examples))]
    public void What_is_proposed_as_good_as_certain_is_what_was_meant(string example)
    {
        Dictionary<string, double> truth = Truth(example);
        ReconciledSize[] sure = [.. Jobs.Reconcile(Jobs.Example(example)).Sizes.Where(s => s.Nominal is { Best.Odds: > 0.9 })];
        Assert.True(sure.Length > 8, $"only {sure.Length} proposals");
        Assert.All(sure, s => Assert.Equal(truth[s.Name], s.Nominal!.Best.Value, 1e-6));
    }

    [Fact]
    public void A_part_in_inches_is_told_from_a_metric_one_by_all_sizes_together()
    {
        // By itself it may be 3.2 mm or 1/8 in; beside 9/16, 13/16 and 2 1/4 in it is an eighth of an inch.
        ReconciledSize alone = Jobs.Reconcile(Jobs.Of("{t: {about: 3}}", "  - {plate: p, thickness: t, outline: {disc: [0, 0], radius: 12}}", "  - {outside: [p.top, p.bottom], reads: 3.19}")).Size("t");
        Assert.Equal(3.2, alone.Nominal!.RunnerUp!.Value, 1e-9);
        Assert.InRange(alone.Nominal.Best.Odds, 0.5, 0.9);
        ReconciledSize among = Jobs.Reconcile(Jobs.Of("{t: {about: 3}, d: {about: 57}, h: {about: 14}, e: {about: 20}}", """
              - {plate: p, thickness: t, outline: {disc: [0, 0], radius: d/2}}
              - {boss: b, stands_on: p.top, diameter: e, height: h}
            """, """
              - {outside: [p.top, p.bottom], reads: 3.19}
              - {outside: p.rim, across: right, reads: 57.14}
              - {depth: [b.top, p.top], reads: 14.30}
              - {outside: b.side, reads: 20.64}
            """)).Size("t");
        Assert.Equal("1/8 in", among.Nominal!.Best.Why);
        Assert.True(among.Nominal.Best.Odds > 0.9, $"{among.Nominal.Best.Odds}");
    }

    [Fact]
    public void What_is_too_uncertain_for_any_proposal_has_none()
    {
        ReconciledSize size = Jobs.Reconcile(Jobs.Of("{t: {about: 3}}", "  - {plate: p, thickness: t, outline: {disc: [0, 0], radius: 12}}", "  - {outside: [p.top, p.bottom], reads: [3.11, 3.61, 3.37], across_break: yes}")).Size("t");
        Assert.Null(size.Nominal);
    }

    [Fact]
    public void What_was_ruled_out_is_not_proposed_and_the_next_takes_its_place()
    {
        const string Shape = "  - {plate: p, thickness: t, outline: {disc: [0, 0], radius: 12}}", Readings = "  - {outside: [p.top, p.bottom], reads: 3.19}";
        ReconciledSize Size(string said) => Jobs.Reconcile(Jobs.Of($"{{t: {{{said}}}}}", Shape, Readings)).Size("t");
        Nominal first = Size("about: 3").Nominal!, then = Size($"about: 3, not_nominal: [{Size("about: 3").Nominal!.Best.Written}]").Nominal!;
        Assert.Equal(first.RunnerUp!.Value, then.Best.Value, 1e-9);
        Assert.NotEqual(first.Best.Value, then.RunnerUp?.Value);
        Assert.True(then.NoneOdds > first.NoneOdds);
    }

    [Fact]
    public void A_settled_size_is_bound_and_what_is_tied_to_it_becomes_surer()
    {
        const string Shape = "  - {plate: p, thickness: t, outline: {disc: [0, 0], radius: 12}}\n  - {boss: b, stands_on: p.top, diameter: 8, height: h}";
        const string Readings = "  - {outside: [p.top, p.bottom], reads: 5.02}\n  - {outside: [p.bottom, b.top], reads: 15.03}";
        Reconciled Job(string said) => Jobs.Reconcile(Jobs.Of($"{{t: {{{said}}}, h: {{about: 10}}}}", Shape, Readings));
        ReconciledSize Size(string name, string said) => Job(said).Size(name);
        Assert.Equal((5.0, SizeStatus.Fixed, true), (Size("t", "about: 5, nominal: 5").Estimate, Size("t", "about: 5, nominal: 5").Status, Size("t", "about: 5, nominal: 5").IsSettled));
        // Of the 0.02 mm that t reads too much, the shift that both readings share takes its part, S²/(S² + o²), and is known to S²o²/(S² + o²) then.
        var budget = Job("about: 5").Reading("r1").Measured!.Budget;
        double shared = budget.SharedMm * budget.SharedMm, own = budget.OwnMm * budget.OwnMm;
        Assert.Equal(Math.Sqrt(2 * own), Size("h", "about: 5").StandardUncertainty, 1e-9);
        Assert.Equal(Math.Sqrt(own + shared * own / (shared + own)), Size("h", "about: 5, nominal: 5").StandardUncertainty, 1e-9);
        Assert.Equal(10.03 - 0.02 * shared / (shared + own), Size("h", "about: 5, nominal: 5").Estimate, 1e-9);
    }

    [Fact]
    public void All_candidates_and_none_of_them_make_one_at_most()
    {
        foreach (double mm in (double[])[0.2, 1.6, 5.03, 12.7, 99.98])
            foreach (double u in (double[])[0.002, 0.02, 0.2])
                if (DesignerMeant.Alone(mm, u) is { } nominal)
                {
                    Assert.InRange(nominal.Best.Odds + (nominal.RunnerUp?.Odds ?? 0) + nominal.NoneOdds, 0, 1 + 1e-12);
                    Assert.True(nominal.RunnerUp is null || nominal.RunnerUp.Odds <= nominal.Best.Odds);
                }
    }

    /// <summary>A nominal says itself how it is written and read; nobody guesses from its words.</summary>
    [Theory]
    [InlineData(12.5, NominalForm.Millimetres, "12.5", "12.5 mm", "0.492 in")]
    [InlineData(11.90625, NominalForm.InchFraction, "15/32 in", "15/32 in", "15/32 in")]
    [InlineData(7.62, NominalForm.DecimalInches, "0.3 in", "7.62 mm", "0.300 in")]
    public void A_nominal_is_written_and_read_as_the_drawing_said_it(double mm, NominalForm form, string written, string metric, string inches)
    {
        var candidate = new NominalCandidate(mm, "words that end in a unit, as 3 in", 0.9) { Form = form };
        Assert.Equal((written, metric, inches), (candidate.Written, candidate.Text(LengthUnit.Millimetre), candidate.Text(LengthUnit.Inch)));
    }

    [Fact]
    public void The_odds_of_the_systems_come_with_the_nominals_and_know_of_hardware()
    {
        const string Shape = """
              - {block: b, long: w, deep: h, tall: t, corner_at: [0, 0, 0]}
              - {hole: eye, from: b.top, at: [10, 10], diameter: d, through: b}
            """, Readings = """
              - {outside: [b.top, b.bottom], reads: [6.35, 6.36]}
              - {outside: [b.left, b.right], reads: [60.33, 60.32]}
              - {outside: [b.front, b.back], reads: [30.16, 30.17]}
              - {inside: eye.wall, reads: [6.60, 6.61]}
            """;
        var job = Jobs.Of("{t: {about: 6}, d: {about: 6}, w: {about: 60}, h: {about: 30}}", Shape, Readings);
        Reconciled reconciled = Jobs.Reconcile(job);
        double Metric(IReadOnlyDictionary<string, HardwareUse> hardware)
        {
            DesignersChoice choice = DesignerMeant.Of(job.Sizes.Free, hardware, reconciled.Adjustment);
            Assert.Equal(1, choice.Systems.Sum(s => s.Odds), 1e-9);
            return choice.Systems.Where(s => ReferenceEquals(s.System.Grids, NominalGrids.Metric)).Sum(s => s.Odds);
        }

        // 6.6 mm is what M6 asks for: the more a metric part is believed.
        Assert.True(Metric(StandardHardware.In(job.Shape)) > Metric(new Dictionary<string, HardwareUse>()));
    }

    [Fact]
    public void Points_add_up_to_the_evidence()
    {
        foreach (DesignSystem system in (DesignSystem[])[new(NominalGrids.Metric, 0), new(NominalGrids.Inch, 0), new(NominalGrids.Mixed, 0), new(NominalGrids.Metric, 0.011)])
            foreach (double mm in (double[])[0.4, 3.18, 12.7, 101.3])
                foreach (double u in (double[])[0.004, 0.03, 0.3])
                    Assert.Equal(system.Near(mm, u).Sum(p => p.Weight * Sparewright.Measure.Uncertainty.Normal.Density(mm - p.Mm, u)), system.Evidence(mm, u), 1e-9);
    }
}
