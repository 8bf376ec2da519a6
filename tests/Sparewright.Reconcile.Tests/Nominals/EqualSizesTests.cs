using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Nominals;
using Xunit;

namespace Sparewright.Reconcile.Tests.Nominals;

/// <summary>One explanation for two sizes, and one unit for all.</summary>
public class EqualSizesTests
{
    private static readonly (DesignSystem, double)[] Metric = [(new(NominalGrids.Metric, 0), 1.0)];

    [Fact]
    public void Two_that_agree_off_every_grid_are_one()
    {
        double apart = EqualSizes.Odds(17.34, 17.55, 4e-4, 4e-4, 0, Metric), alike = EqualSizes.Odds(17.34, 17.35, 4e-4, 4e-4, 0, Metric);
        Assert.True(alike > 0.8, $"{alike}");
        Assert.Equal(0, apart);
    }

    [Fact]
    public void Neighbours_on_a_grid_are_two()
    {
        Assert.True(EqualSizes.Odds(12.00, 12.10, 4e-4, 4e-4, 0, Metric) < 0.05);
        Assert.True(EqualSizes.Odds(12.00, 12.01, 9e-4, 9e-4, 0, Metric) > 0.95);
    }

    /// <summary>What is measured through each other is known to differ better than either is known.</summary>
    [Fact]
    public void The_covariance_counts()
    {
        double free = EqualSizes.Odds(12.06, 12.00, 16e-4, 16e-4, 0, Metric), tied = EqualSizes.Odds(12.06, 12.00, 16e-4, 16e-4, 15e-4, Metric);
        Assert.True(tied < 0.2 && free > 0.6, $"{free} {tied}");
    }

    [Fact]
    public void It_is_proposed_for_the_later_one_and_not_again_once_ruled_out()
    {
        const string Shape = """
              - {block: b, long: w, deep: d, tall: t, corner_at: [0, 0, 0]}
            """;
        const string Readings = """
              - {outside: [b.left, b.right], reads: [17.34, 17.33]}
              - {outside: [b.front, b.back], reads: [17.34, 17.35]}
              - {outside: [b.top, b.bottom], reads: [9.00, 9.01]}
            """;
        Reconciled found = Jobs.Reconcile(Jobs.Of("{w: {about: 17}, d: {about: 17}, t: {about: 9}}", Shape, Readings));
        Assert.Null(found.Size("w").SameAs);
        Assert.Equal("w", found.Size("d").SameAs?.Size);
        Assert.Null(Jobs.Reconcile(Jobs.Of("{w: {about: 17}, d: {about: 17, not_nominal: [w]}, t: {about: 9}}", Shape, Readings)).Size("d").SameAs);
        Reconciled bound = Jobs.Reconcile(Jobs.Of("{w: {about: 17}, d: {about: 17, nominal: w}, t: {about: 9}}", Shape, Readings));
        Assert.Equal(bound.Size("w").Estimate, bound.Size("d").Estimate, 1e-12);
        Assert.True(bound.Size("w").StandardUncertainty < 0.99 * found.Size("w").StandardUncertainty);
    }

    [Fact]
    public void A_first_look_finds_the_unit_of_both_examples()
    {
        Assert.EndsWith(" mm", Jobs.Reconcile(Jobs.Example("vent-knuckle")).Unit?.Words, StringComparison.Ordinal);
        Assert.EndsWith(" in", Jobs.Reconcile(Jobs.Example("line-reel-crank")).Unit?.Words, StringComparison.Ordinal);
    }

    /// <summary>A plate of 4.98 mm and a pin hole of 4.97 mm may both be 5 mm; nobody chose one for the other.</summary>
    [Fact]
    public void Sizes_of_different_kinds_are_not_compared()
    {
        Reconciled knuckle = Jobs.Reconcile(Jobs.Example("vent-knuckle"));
        Assert.All(knuckle.Sizes, s => Assert.Null(s.SameAs));
        const string Readings = """
              - {outside: [p.top, p.bottom], reads: [5.34, 5.35]}
              - {inside: one.wall, reads: [5.34, 5.34]}
              - {inside: two.wall, reads: [5.35, 5.34]}
            """;
        Reconciled holes = Jobs.Reconcile(Jobs.Of("{t: {about: 5}, d: {about: 5}, e: {about: 5}}", """
              - {plate: p, thickness: t, outline: {rectangle: [40, 20], middle_at: [0, 0]}}
              - {hole: one, from: p.top, at: [-10, 0], diameter: d, through: p}
              - {hole: two, from: p.top, at: [10, 0], diameter: e, through: p}
            """, Readings));
        Assert.Null(holes.Size("d").SameAs);
        Assert.Equal("d", holes.Size("e").SameAs?.Size);
    }
}
