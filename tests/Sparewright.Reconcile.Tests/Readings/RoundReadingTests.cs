using CsCheck;
using Sparewright.Measure;
using Sparewright.Measure.Numbers;
using Sparewright.Measure.Uncertainty;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Xunit;

namespace Sparewright.Reconcile.Tests.Readings;

/// <summary>Radii by chord and sagitta, pitches of threads over several turns.</summary>
public class RoundReadingTests
{
    private static Job Disc(string readings, string radius = "{about: 40}") => Jobs.Of($"{{r: {radius}, t: {{about: 5}}}}", """
          - plate: disc
            thickness: t
            outline: {disc: [0, 0], radius: r}
        """, $"""
          - {"{outside: [disc.top, disc.bottom], reads: 5.00}"}
        {readings}
        """);

    [Fact]
    public void A_radius_follows_from_chord_and_sagitta()
    {
        Reconciled reconciled = Jobs.Reconcile(Disc("  - {radius: disc.rim, chord: 40.00, sagitta: 5.00}"));
        Assert.Equal(42.5, reconciled.Size("r").Estimate, 1e-6);
        ReconciledReading r2 = reconciled.Reading("r2");
        Assert.Equal(5, r2.Observed!.Value, 1e-9);
        Assert.Contains("a radius of 42.5 mm", r2.Says, StringComparison.Ordinal);

        // u(R) = √((∂R/∂c·u(c))² + (∂R/∂s·u(s))²) with ∂R/∂c = c/4s = 2 and ∂R/∂s = ½ − c²/8s² = −7.5.
        double Of(bool chord) => Math.Sqrt(r2.Measured!.Budget.Lines.Where(l => l.Name.StartsWith("chord: ", StringComparison.Ordinal) == chord).Sum(l => l.StandardUncertaintyMm * l.StandardUncertaintyMm));
        UncertaintyBudget chord = MeasuredLength.From(new(Caliper, ReadingWay.Outside, [40.00])).Budget, rise = MeasuredLength.From(new(Caliper, ReadingWay.Depth, [5.00])).Budget;
        Assert.Equal(rise.StandardUncertaintyMm, Of(false), 1e-12);
        Assert.Equal(chord.StandardUncertaintyMm * 2 / 7.5, Of(true), 1e-12);
        Assert.Equal(7.5 * r2.Measured!.Budget.StandardUncertaintyMm, reconciled.Size("r").StandardUncertainty, 1e-6);
    }

    private static readonly Instrument Caliper = new("caliper", InstrumentKind.DigitalCaliper, 0.01, 0.03, 0, 0);

    [Fact]
    public void A_search_that_starts_where_no_such_chord_is_finds_the_radius()
    {
        Reconciled reconciled = Jobs.Reconcile(Disc("  - {radius: disc.rim, chord: 40.00, sagitta: 5.00}", "{about: 12}"));
        Assert.Equal(42.5, reconciled.Size("r").Estimate, 1e-6);
        Assert.Equal(42.5, Jobs.Reconcile(Disc("  - {radius: disc.rim, chord: 40.00, sagitta: 5.00}", "{}")).Size("r").Estimate, 1e-6);
    }

    [Fact]
    public void Rise_and_radius_are_each_other_s_inverse_and_the_derivatives_are_right() =>
        Gen.Select(Gen.Double[5, 200], Gen.Double[0.05, 0.98]).Sample((radius, part) =>
        {
            double chord = 2 * radius * part;
            Dual rise = Sagitta.Mm(Dual.Unknown(0, radius), chord);
            Assert.Equal(radius, Sagitta.RadiusMm(chord, rise.Value), 1e-7 * radius / part);
            double h = 1e-5 * radius;
            Assert.Equal((Sagitta.Mm(radius + h, chord).Value - Sagitta.Mm(radius - h, chord).Value) / (2 * h), rise.Gradient.By(0), 1e-4 * Math.Abs(rise.Gradient.By(0)) + 1e-9);
            Assert.Equal((Sagitta.Mm(radius, chord + h).Value - Sagitta.Mm(radius, chord - h).Value) / (2 * h), Sagitta.ByChord(chord, rise.Value), 1e-4 * Sagitta.ByChord(chord, rise.Value) + 1e-9);
        }, iter: 2000, threads: 1);

    [Fact]
    public void A_misread_chord_or_sagitta_is_named()
    {
        const string diameter = "  - {outside: disc.rim, across: right, reads: 85.00}\n  - {outside: disc.rim, across: back, reads: 85.01}\n";
        ReconciledReading wrong = Jobs.Reconcile(Disc(diameter + "  - {radius: disc.rim, chord: 45.00, sagitta: 5.00}")).Reading("r4");
        Assert.Equal(ReadingVerdict.SetAside, wrong.Verdict);
        Assert.Contains(wrong.Explanations, e => e.Why.StartsWith("the chord: ", StringComparison.Ordinal) && Math.Abs(e.ShouldHaveReadMm!.Value - 40) < 0.01);
        wrong = Jobs.Reconcile(Disc(diameter + "  - {radius: disc.rim, chord: 40.00, sagitta: 6.00}")).Reading("r4");
        Assert.Equal(ReadingVerdict.SetAside, wrong.Verdict);
        Assert.Contains(wrong.Explanations, e => Math.Abs((e.ShouldHaveReadMm ?? 0) - 5) < 0.02);
    }

    [Theory]
    [InlineData("disc.top", "is not round about one axis")]
    [InlineData("disc.lid", "there is no element `disc.lid`")]
    public void What_has_no_radius_is_refused(string element, string reason) =>
        Assert.Contains(reason, Assert.Single(Jobs.Problems(Disc($"  - {{radius: {element}, chord: 40, sagitta: 5}}\n  - {{outside: disc.rim, across: right, reads: 80}}"))).What, StringComparison.Ordinal);

    [Fact]
    public void A_chord_longer_than_the_disc_is_refused()
    {
        Job job = Disc("  - {radius: disc.rim, chord: 40, sagitta: 5}", "{fixed: 15}");
        Assert.Contains("has no chord of 40 mm", Jobs.Problems(job)[0].What, StringComparison.Ordinal);
    }

    private static Job Thread(string readings) => Jobs.Of("{d: {about: 12}, p: {about: 1.5}, h: {equals: 10*p}}", """
          - boss: stud
            diameter: d
            height: h
        """, readings);

    [Fact]
    public void Ten_turns_make_the_pitch_ten_times_surer()
    {
        Reconciled once = Jobs.Reconcile(Thread("  - {outside: stud.side, reads: 12}\n  - {thread_pitch: p, turns: 1, reads: 1.75}"));
        Reconciled ten = Jobs.Reconcile(Thread("  - {outside: stud.side, reads: 12}\n  - {thread_pitch: p, turns: 10, reads: 17.52}"));
        Assert.Equal(1.752, ten.Size("p").Estimate, 1e-9);
        Assert.Equal(once.Size("p").StandardUncertainty / 10, ten.Size("p").StandardUncertainty, 1e-9);
        Assert.Equal("10 turns of the thread of pitch p", ten.Reading("r2").Says);
    }
}
