using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Nominals;
using Xunit;

namespace Sparewright.Reconcile.Tests.Nominals;

/// <summary>Features that sit in the middle of others.</summary>
public class CentredPlacesTests
{
    private const string Sizes = "{long: {about: 33}, wide: {about: 21}, t: {about: 6}, d: {about: 5}, x: {about: 16SAID}}";

    private static Job Plate(string said, double wallToEdge, string shape = "  - {block: bar, long: long, deep: wide, tall: t, corner_at: [0, 0, 0]}\n  - {hole: eye, from: bar.top, at: [x, wide/2], diameter: d, through: bar}") =>
        Jobs.Of(Sizes.Replace("SAID", said, StringComparison.Ordinal), shape, FormattableString.Invariant($"""
              - outside: [bar.left, bar.right]
                reads: [33.36, 33.37, 33.36]
              - outside: [bar.front, bar.back]
                reads: 21.02
              - outside: [bar.top, bar.bottom]
                reads: 6.01
              - inside: eye.wall
                reads: [5.02, 5.01]
              - outside: [eye.wall, bar.left]
                reads: [{wallToEdge}, {wallToEdge}]
            """));

    [Fact]
    public void A_hole_in_the_middle_of_a_bar_is_proposed_and_binds_on_acceptance()
    {
        Reconciled found = Jobs.Reconcile(Plate("", 14.18));
        CentredPlace centred = found.Size("x").Centred!;
        Assert.Equal(("long/2", "eye in the middle of bar, left to right"), (centred.Written, centred.Words));
        Assert.InRange(centred.Odds, 0.8, 1);
        // Across the bar it is in the middle by construction; nothing else is anywhere.
        Assert.All(found.Sizes.Where(s => s.Name != "x"), s => Assert.Null(s.Centred));

        Reconciled bound = Jobs.Reconcile(Plate(", nominal: long/2", 14.18));
        Assert.Equal(bound.Size("long").Estimate / 2, bound.Size("x").Estimate, 1e-12);
        Assert.True(bound.Size("x").IsSettled);
        Assert.True(bound.Size("x").StandardUncertainty < 0.8 * found.Size("x").StandardUncertainty);
        Assert.Null(Jobs.Reconcile(Plate(", not_nominal: [long/2]", 14.18)).Size("x").Centred);
    }

    [Theory]
    [InlineData(14.50)]
    [InlineData(13.80)]
    public void One_beside_the_middle_is_not(double wallToEdge) => Assert.Null(Jobs.Reconcile(Plate("", wallToEdge)).Size("x").Centred);

    [Fact]
    public void So_is_a_block_on_a_block_by_its_corner_and_a_row_by_its_own_middle()
    {
        Reconciled blocks = Jobs.Reconcile(Jobs.Of("{long: {about: 33}, rib: {about: 9}, x: {about: 12}}", """
              - {block: bar, long: long, deep: 20, tall: 6, corner_at: [0, 0, 0]}
              - {block: top, long: rib, deep: 20, tall: 6, corner_at: [x, 0, 6]}
            """, """
              - {outside: [bar.left, bar.right], reads: [33.36, 33.37, 33.36]}
              - {outside: [top.left, top.right], reads: [9.14, 9.13, 9.14]}
              - {depth: [bar.left, top.left], reads: [12.11, 12.12, 12.10]}
              - {depth: [bar.right, top.right], reads: [12.12, 12.11, 12.11]}
            """));
        Assert.Equal("long/2 - rib/2", blocks.Size("x").Centred?.Written);

        Reconciled row = Jobs.Reconcile(Jobs.Of("{long: {about: 63}, pitch: {about: 31}, x: {about: 31}}", """
              - {block: bar, long: long, deep: 20, tall: 6, corner_at: [0, 0, 0]}
              - row: eyes
                count: 2
                pitch: pitch
                along: right
                middle_at: [x, 10]
                of: {hole: eye, from: bar.top, diameter: 5, through: bar}
            """, """
              - {outside: [bar.left, bar.right], reads: [63.36, 63.37, 63.36]}
              - {outside: [eye#1.wall, eye#2.wall], reads: [26.13, 26.12]}
              - {outside: [eye#1.wall, bar.left], reads: [13.61, 13.62]}
              - {outside: [eye#2.wall, bar.right], reads: [13.62, 13.61]}
            """));
        Assert.Equal("long/2", row.Size("x").Centred?.Written);
    }
}
