using System.Globalization;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Xunit;

namespace Sparewright.Reconcile.Tests.Nominals;

/// <summary>Round values that shrank together in a mould.</summary>
public class MouldShrinkTests
{
    private static readonly double[] Drawn = [80, 42, 25, 12, 31];

    private static Job Tower(double shrink, Random random, string madeBy = "moulding")
    {
        double[] part = [.. Drawn.Select(d => d * (1 - shrink))];
        string Reads(double mm) => string.Join(", ", Enumerable.Range(0, 3).Select(_ => (mm + 0.012 * Simulated.Normal(random)).ToString("F2", CultureInfo.InvariantCulture)));
        Job job = Jobs.Of("{a: {about: 80}, b: {about: 42}, c: {about: 25}, d: {about: 12}, e: {about: 31}}", """
              - {block: low, long: a, deep: b, tall: d, corner_at: [0, 0, 0]}
              - {block: high, long: c, deep: 10, tall: e, corner_at: [0, 0, 0]}
            """, $$"""
              - {outside: [low.left, low.right], reads: [{{Reads(part[0])}}]}
              - {outside: [low.front, low.back], reads: [{{Reads(part[1])}}]}
              - {outside: [high.left, high.right], reads: [{{Reads(part[2])}}]}
              - {outside: [low.bottom, low.top], reads: [{{Reads(part[3])}}]}
              - {outside: [low.bottom, high.top], reads: [{{Reads(part[4])}}]}
            """);
        return job with { MadeBy = madeBy == "moulding" ? MadeBy.Moulding : MadeBy.Machining };
    }

    [Fact]
    public void A_common_shrink_is_found_and_each_size_called_by_what_the_drawing_said()
    {
        Reconciled found = Jobs.Reconcile(Tower(0.0062, new Random(7)));
        Assert.True(found.Shrink is { Odds: > 0.9 }, $"{found.Shrink}");
        Assert.Equal(0.0062, found.Shrink!.Share, 3 * found.Shrink.StandardUncertainty + 1e-5);
        Assert.InRange(found.Shrink.StandardUncertainty, 1e-5, 6e-4);
        foreach (var (name, drawn) in "abcde".Zip(Drawn))
        {
            var best = found.Size(name.ToString()).Nominal!.Best;
            Assert.Equal(drawn, best.ShrunkFromMm!.Value, 1e-9);
            Assert.Equal(drawn * (1 - 0.0062), best.Value, 0.03);
            Assert.StartsWith($"{drawn:0} mm, shrunk by 0.6", best.Why, StringComparison.Ordinal);
            // What binds is what the part is.
            Assert.Equal(best.Value, double.Parse(best.Written, CultureInfo.InvariantCulture), 5e-4);
        }
    }

    [Fact]
    public void What_was_not_moulded_does_not_shrink()
    {
        Reconciled found = Jobs.Reconcile(Tower(0.0062, new Random(7), "machining"));
        Assert.Null(found.Shrink);
        Assert.All(found.Sizes, s => Assert.Null(s.Nominal?.Best.ShrunkFromMm));
    }

    /// <summary>With a prior of one in ten, an honest "it shrank" at odds p is wrong in 1 − p of the cases; of parts that did not, few may be said to have.</summary>
    [Fact]
    public void Moulded_parts_that_kept_their_values_are_seldom_said_to_have_shrunk()
    {
        var random = new Random(11);
        Reconciled[] kept = [.. Enumerable.Range(0, 100).Select(_ => Jobs.Reconcile(Tower(0, random)))];
        int said = kept.Count(k => k.Shrink is not null), wrong = kept.SelectMany(k => k.Sizes.Select((s, i) => (s.Nominal, Drawn: Drawn[i]))).Count(s => s.Nominal is { Best: { Odds: > 0.9 } best } && Math.Abs(best.Value - s.Drawn) > 1e-6);
        Assert.True(said <= 2 && wrong <= 2, $"{said} said to have shrunk, {wrong} wrong above 90 %");
    }
}
