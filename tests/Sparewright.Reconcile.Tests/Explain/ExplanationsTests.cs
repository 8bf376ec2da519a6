using Sparewright.Part.Record;
using Sparewright.Reconcile.Explain;
using Sparewright.Reconcile.Findings;
using Xunit;

namespace Sparewright.Reconcile.Tests.Explain;

/// <summary>Readings made wrong in a known way, in jobs whose truth is known.</summary>
public class ExplanationsTests
{
    /// <summary>A bush with a collar and a cross hole: every size is measured twice over, in different ways.</summary>
    private static Job Bush(string wrong = "") => Jobs.Of("{od: {about: 20}, bore: {about: 10}, len: {about: 30}, collar_d: {about: 30}, collar_t: {about: 5}, pin: {about: 4}, up: {about: 17}}", """
          - {boss: collar, diameter: collar_d, height: collar_t}
          - {boss: tube, stands_on: collar.top, diameter: od, height: len}
          - {hole: bore, from: tube.top, diameter: bore, through: whole part}
          - {hole: pin, axis: back, at: [0, 0, up], diameter: pin, through: tube}
        """, $$"""
          - {id: od, outside: tube.side, reads: {{Reads(wrong, "od", "20.01")}}}
          - {id: wall, outside: [tube.side, bore.wall], reads: {{Reads(wrong, "wall", "4.99")}}}
          - {id: bore, inside: bore.wall, reads: {{Reads(wrong, "bore", "10.01")}}}
          - {id: od2, outside: tube.side, reads: 20.00}
          - {id: bore2, inside: bore.wall, reads: 10.00}
          - {id: whole, outside: [collar.bottom, tube.top], reads: {{Reads(wrong, "whole", "34.99")}}}
          - {id: collar, outside: [collar.bottom, collar.top], reads: {{Reads(wrong, "collar", "5.01")}}}
          - {id: len, depth: [tube.top, collar.top], reads: {{Reads(wrong, "len", "30.01")}}}
          - {id: collar_d, outside: collar.side, reads: {{Reads(wrong, "collar_d", "30.01")}}}
          - {id: flange, outside: [collar.side, bore.wall], reads: {{Reads(wrong, "flange", "10.01")}}}
          - {id: pin, inside: pin.wall, reads: {{Reads(wrong, "pin", "4.01")}}}
          - {id: pin2, inside: pin.wall, reads: 4.00}
          - {id: below, outside: [pin.wall, collar.bottom], reads: {{Reads(wrong, "below", "14.99")}}}
          - {id: above, outside: [pin.wall, tube.top], reads: {{Reads(wrong, "above", "16.01")}}}
        """);

    private static string Reads(string wrong, string id, string right) => wrong.StartsWith(id + ":", StringComparison.Ordinal) ? wrong[(id.Length + 1)..] : right;

    [Theory]
    [InlineData("whole:43.99", "whole", "two digits swapped", 34.99)]
    [InlineData("flange:16.01", "flange", "a digit misread for one that looks like it", 10.01)]
    [InlineData("od:0.788", "od", "inches taken for millimetres, or the reverse", 20.0152)]
    [InlineData("od:10.005", "od", "a radius written down for a diameter", 20.01)]
    [InlineData("len:300.1", "len", "the decimal point in the wrong place", 30.01)]
    [InlineData("whole:[43.99, 43.98, 43.99]", "whole", "two digits swapped, each time", 34.99)]
    [InlineData("above:15.51", "above", "off by 0.5 mm, a miscounted division", 16.01)]
    [InlineData("flange:15.01", "flange", "taken at another place: outside: [bore.wall, collar.bottom]", null, false)]
    public void The_way_in_which_it_went_wrong_is_told_first(string wrong, string id, string why, double? should, bool holds = true)
    {
        Assert.Empty(Jobs.Reconcile(Bush()).Contradictions);
        IReadOnlyList<Explanation> told = Jobs.Reconcile(Bush(wrong)).Reading(id).Explanations;
        if (!holds)
        {
            // Nothing of the kind exists: such a place must not be thought up.
            Assert.DoesNotContain(told, e => e.Why == why);
            return;
        }

        Assert.Equal(why, told[0].Why);
        Assert.Equal(should!.Value, told[0].ShouldHaveReadMm!.Value, 0.001);
        Assert.True(told[0].Odds > told.Skip(1).Max(e => e.Odds));
    }

    [Fact]
    public void A_reading_of_another_place_is_told_by_that_place()
    {
        // The collar's own wall to the bore, written down for the tube's.
        IReadOnlyList<Explanation> told = Jobs.Reconcile(Bush("wall:10.00")).Reading("wall").Explanations;
        Assert.Contains(told, e => e.Why.StartsWith("taken at another place", StringComparison.Ordinal) && e.Why.Contains("collar.side", StringComparison.Ordinal) && e.Odds > 0.3);
    }

    [Fact]
    public void All_ways_together_make_one_and_none_of_these_is_always_among_them()
    {
        foreach (string wrong in (string[])["whole:43.99", "od:19.1", "bore:10.37", "pin:4.77"])
        {
            IReadOnlyList<Explanation> told = Jobs.Reconcile(Bush(wrong)).Reading(wrong.Split(':')[0]).Explanations;
            Assert.True(told[^1].IsNoneOfThese);
            Assert.Equal(told.SkipLast(1).OrderByDescending(e => e.Odds), told.SkipLast(1));
            Assert.InRange(told.Sum(e => e.Odds), 0.8, 1 + 1e-9);
        }
    }

    [Fact]
    public void Wear_that_was_not_marked_is_thought_of_only_on_the_side_that_wear_can_take()
    {
        bool Worn(string wrong) => Jobs.Reconcile(Bush(wrong)).Reading("od").Explanations.Any(e => e.Why.Contains("worn", StringComparison.Ordinal));
        Assert.True(Worn("od:19.63"));
        Assert.False(Worn("od:20.39"));
    }

    private static Job Tower(string whole, string rest = "36.00") => Jobs.Of("{foot_t: {about: 5}, len: {about: 36}}", """
          - {plate: foot, thickness: foot_t, outline: {disc: [0, 0], radius: 12}}
          - {boss: socket, stands_on: foot.top, diameter: 17, height: len}
        """, $$"""
          - {outside: [foot.bottom, foot.top], reads: 5.00}
          - {outside: [foot.bottom, socket.top], reads: {{whole}}}
          - {step: [foot.top, socket.top], reads: {{rest}}}
        """);

    [Fact]
    public void A_slip_that_explains_one_of_several_suspects_tells_it_from_the_others()
    {
        // By the residuals alone each of the three may be the wrong one; only 41.00 is what another is with two digits swapped.
        Reconciled reconciled = Jobs.Reconcile(Tower("14.00"));
        Contradiction contradiction = Assert.Single(reconciled.Contradictions);
        Assert.Equal(["r2"], contradiction.Ids);
        Assert.True(contradiction.SetAside);
        Assert.False(reconciled.ContradictionOpen);
        Assert.Equal(41, reconciled.Reading("r2").Adjusted!.Value, 0.01);
    }

    [Fact]
    public void A_reading_without_which_the_part_still_cannot_exist_is_not_the_wrong_one()
    {
        // A tube of 0.5 mm with a bore of 10 mm: only with the first left out there is a part at all.
        Job job = Jobs.Of("{od: {about: 20}, bore: {about: 10}}", """
              - {boss: tube, diameter: od, height: 30}
              - {hole: bore, from: tube.top, diameter: bore, through: whole part}
            """, """
              - {outside: tube.side, reads: 0.53}
              - {outside: [tube.side, bore.wall], reads: 5.00}
              - {inside: bore.wall, reads: 10.00}
            """);
        Reconciled reconciled = Jobs.Reconcile(job);
        Assert.Equal(["r1"], Assert.Single(reconciled.Contradictions).Ids);
        Assert.Equal(20, reconciled.Size("od").Estimate, 0.01);
    }

    [Fact]
    public void Readings_that_agree_need_no_explanation() =>
        Assert.All(Jobs.Reconcile(Bush("whole:43.99")).Readings.Where(r => r.Reading.Id != "whole"), r => Assert.Empty(r.Explanations));

    /// <summary>Three blocks on each other: any two of b, c and ab, wrong together, leave no contradiction (as in the search for suspects, by residuals alone).</summary>
    private static Job Stack(string ab, string c) => Jobs.Of("{a: {about: 12}, b: {about: 20}, c: {about: 8}}", """
          - {block: low, long: 30, deep: 30, tall: a, corner_at: [0, 0, 0]}
          - {block: mid, long: 28, deep: 28, tall: b, corner_at: [0, 0, a]}
          - {block: high, long: 26, deep: 26, tall: c, corner_at: [0, 0, a + b]}
        """, $$"""
          - {id: a, outside: [low.bottom, low.top], reads: 12.01}
          - {id: b, step: [low.top, mid.top], reads: 19.99}
          - {id: c, step: [mid.top, high.top], reads: {{c}}}
          - {id: ab, outside: [low.bottom, mid.top], reads: {{ab}}}
          - {id: bc, step: [low.top, high.top], reads: 27.99}
          - {id: abc, outside: [low.bottom, high.top], reads: 39.99}
          - {id: abc2, outside: [low.bottom, high.top], reads: 40.01}
        """);

    [Fact]
    public void Two_that_are_wrong_together_are_told_from_their_rivals_by_how_it_came_about()
    {
        Assert.Empty(Jobs.Reconcile(Stack("32.01", "8.01")).Contradictions);
        Reconciled found = Jobs.Reconcile(Stack("23.01", "3.01"));
        Assert.Equal(["ab", "c"], found.Contradictions.Select(k => Assert.Single(k.Ids)).Order());
        Assert.All(found.Contradictions, k => Assert.True(k.SetAside && k.Odds >= Reconciliation.OddsToSetAside));
        Assert.Equal(("two digits swapped", 32.01), (found.Reading("ab").Explanations[0].Why, found.Reading("ab").Explanations[0].ShouldHaveReadMm));
        Assert.Equal(("a digit misread for one that looks like it", 8.01), (found.Reading("c").Explanations[0].Why, found.Reading("c").Explanations[0].ShouldHaveReadMm));
        Assert.Equal(20, found.Size("b").Estimate, 0.05);
    }

    [Fact]
    public void Two_odd_errors_that_could_be_two_others_stay_open()
    {
        Reconciled found = Jobs.Reconcile(Stack("32.37", "7.24"));
        Contradiction open = Assert.Single(found.Contradictions);
        Assert.Equal((2, false, true), (open.HowManyWrong, open.SetAside, found.ContradictionOpen));
        Assert.Contains("ab", open.Ids);
        Assert.InRange(open.Odds, 2.0 / open.Ids.Count - 1e-9, 1);
    }

    /// <summary>More than two at once are hardly one slip each, and that is said before they are told one by one.</summary>
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void That_more_than_two_seem_wrong_is_said_plainly(int wrong)
    {
        (string Id, double Mm)[] errors = [("collar_d", 0.7), ("above", -0.9), ("len", 1.3)];
        Job job = Bush();
        job = job with { Readings = [.. job.Readings.Cast<CaliperReading>().Select(r => errors.Take(wrong).FirstOrDefault(e => e.Id == r.Id) is { Mm: not 0 } error ? r with { ReadsMm = [r.ReadsMm[0] + error.Mm] } : r)] };
        Reconciled reconciled = Jobs.Reconcile(job);
        Assert.Equal(wrong, reconciled.HowManyWrong);
        if (wrong > 2) Assert.Contains("3 readings seem to be wrong at once", reconciled.TooManyWrong, StringComparison.Ordinal);
        else Assert.Null(reconciled.TooManyWrong);
    }
}
