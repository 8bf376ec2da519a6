using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Readings;
using Xunit;

namespace Sparewright.Reconcile.Tests.Readings;

/// <summary>What a caliper gets at.</summary>
public class ReachTests
{
    /// <summary>Of a belt round two discs, the arc of the bigger one goes more than half round, that of the smaller one less: jaws across that one close on the straight sides.</summary>
    [Theory]
    [InlineData("{belt: [{disc: [0, 0], radius: 12}, {disc: [40, 0], radius: 7}]}", 1)]
    [InlineData("{belt: [{disc: [0, 0], radius: 8}, {disc: [40, 0], radius: 8}]}", 2)]
    [InlineData("{disc: [0, 0], radius: 8}", 1)]
    public void An_arc_has_a_diameter_between_jaws_where_it_goes_half_round(string outline, int arcs)
    {
        Job job = Jobs.Of("{t: {about: 5}}", $"  - {{plate: arm, thickness: t, outline: {outline}}}", "  []");
        string[] across = [.. Reach.Readings(ShapePlacer.Place(job.Shape, job.Sizes.At([5.0])), []).Select(r => r.Text).Where(t => t.StartsWith("outside: arm.rim#", StringComparison.Ordinal))];
        Assert.Equal(arcs, across.Length);
        if (arcs == 1) Assert.Equal("outside: arm.rim#1", across[0]);
    }

    /// <summary>Square to a straight side of such a belt the smaller arc does not reach; that of the bigger one does.</summary>
    [Fact]
    public void A_jaw_rests_on_an_arc_only_where_it_goes()
    {
        Job job = Jobs.Of("{t: {about: 5}}", "  - {plate: arm, thickness: t, outline: {belt: [{disc: [0, 0], radius: 12}, {disc: [40, 0], radius: 7}]}}", "  []");
        string[] texts = [.. Reach.Readings(ShapePlacer.Place(job.Shape, job.Sizes.At([5.0])), []).Select(r => r.Text)];
        Assert.Contains("outside: [arm.rim#1, arm.rim#3]", texts);
        Assert.Contains(texts, t => t.StartsWith("outside: [arm.rim#1, arm.rim#", StringComparison.Ordinal) && t != "outside: [arm.rim#1, arm.rim#3]");
        Assert.DoesNotContain("outside: [arm.rim#2, arm.rim#3]", texts);
        Assert.DoesNotContain("outside: [arm.rim#3, arm.rim#4]", texts);
    }
}
