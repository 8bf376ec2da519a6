using Sparewright.Part.Record;
using Sparewright.Reconcile.Nominals;
using Xunit;

namespace Sparewright.Reconcile.Tests.Nominals;

/// <summary>What screws ask for, told from round numbers and from each other.</summary>
public class StandardHardwareTests
{
    [Theory]
    [InlineData(4.31, 4.3, "M4 clearance hole (ISO 273 fine)")]
    [InlineData(6.58, 6.6, "M6 clearance hole (ISO 273 medium)")]
    [InlineData(8.41, 8.4, "M8 clearance hole (ISO 273 fine)")]
    public void A_clearance_hole_is_called_by_its_screw(double mm, double meant, string why)
    {
        Nominal asHole = DesignerMeant.Alone(mm, 0.02, new HardwareUse(HardwareKind.Hole))!;
        Assert.Equal(meant, asHole.Best.Value, 1e-9);
        Assert.Equal(why, asHole.Best.Why);
        Assert.True(asHole.Best.Odds > (DesignerMeant.Alone(mm, 0.02)?.Best is { } plain && Math.Abs(plain.Value - meant) < 1e-9 ? plain.Odds : 0));
    }

    /// <summary>M4 heads of four standards are 7.5, 8, 8.96 and 9.4 mm wide: a reading to 0.05 mm tells them apart.</summary>
    [Theory]
    [InlineData(7.52, "DIN 965")]
    [InlineData(8.01, "DIN 7991")]
    [InlineData(8.95, "ISO 10642")]
    [InlineData(9.41, "ISO 15065")]
    public void Older_and_newer_heads_are_told_apart(double mm, string standard)
    {
        NominalCandidate best = DesignerMeant.Alone(mm, 0.025, new HardwareUse(HardwareKind.Countersink))!.Best;
        Assert.Contains("M4", best.Why, StringComparison.Ordinal);
        Assert.Contains(standard, best.Why, StringComparison.Ordinal);
    }

    [Fact]
    public void A_value_off_every_grid_needs_the_standard() => Assert.True(DesignerMeant.Alone(13.44, 0.01, new HardwareUse(HardwareKind.Countersink))!.Best.Odds > 0.9 && DesignerMeant.Alone(13.44, 0.01)?.Best.Value != 13.44);

    [Fact]
    public void Only_diameters_of_holes_and_countersinks_are_asked_for_by_screws_also_in_rows()
    {
        Job job = Jobs.Of("{t: {about: 4}, d: {about: 4.5}, wide: {about: 9}, pitch: {about: 20}}", """
              - {plate: p, thickness: t, outline: {rectangle: [40, 20], middle_at: [0, 0]}}
              - row: holes
                count: 2
                pitch: pitch
                along: right
                middle_at: [0, 0]
                of: {hole: h, from: p.top, diameter: d, through: p, countersink: {diameter: wide, angle: 90}}
            """, "  - {outside: [p.top, p.bottom], reads: 4.01}");
        Assert.Equal([("d", HardwareKind.Hole), ("wide", HardwareKind.Countersink)], StandardHardware.In(job.Shape).Select(k => (k.Key, k.Value.Kind)).Order());
    }

    [Fact]
    public void A_hole_of_a_part_in_inches_is_not_made_metric_by_a_screw()
    {
        Nominal meant = Jobs.Reconcile(Jobs.Of("{t: {about: 6}, d: {about: 4}, w: {about: 60}, h: {about: 30}}", """
              - {block: b, long: w, deep: h, tall: t, corner_at: [0, 0, 0]}
              - {hole: eye, from: b.top, at: [10, 10], diameter: d, through: b}
            """, """
              - {outside: [b.top, b.bottom], reads: [6.35, 6.36]}
              - {outside: [b.left, b.right], reads: [60.33, 60.32]}
              - {outside: [b.front, b.back], reads: [30.16, 30.17]}
              - {inside: eye.wall, reads: [4.36, 4.37]}
            """)).Size("d").Nominal!;
        Assert.Equal("11/64 in", meant.Best.Why);
    }

    [Theory]
    [InlineData(21.31, 21.3, "steel tube (ISO 4200)")]
    [InlineData(33.72, 33.7, "steel tube (ISO 4200)")]
    public void A_hole_for_a_tube_is_called_by_it_and_so_is_a_boss_in_place_of_one(double mm, double meant, string why)
    {
        foreach (HardwareKind kind in (HardwareKind[])[HardwareKind.Hole, HardwareKind.Boss])
        {
            Nominal found = DesignerMeant.Alone(mm, 0.02, new HardwareUse(kind))!;
            Assert.Equal(meant, found.Best.Value, 1e-9);
            Assert.Contains(why, found.Best.Why, StringComparison.Ordinal);
            Assert.True(found.Best.Odds > DesignerMeant.Alone(mm, 0.02)!.Best.Odds);
        }
    }

    [Fact]
    public void A_value_on_a_grid_and_of_a_tube_is_called_by_both()
    {
        NominalCandidate best = DesignerMeant.Alone(22.01, 0.02, new HardwareUse(HardwareKind.Hole))!.Best;
        Assert.Equal((22.0, "whole mm, or 22 mm copper tube (EN 1057)"), (best.Value, best.Why));
    }

    /// <summary>The diameter of the head is twice the size: 3.76 is half of the 7.5 mm that DIN 965 asks for M4.</summary>
    [Fact]
    public void A_size_that_is_half_of_a_diameter_is_asked_for_too()
    {
        Job job = Jobs.Of("{t: {about: 4}, r: {about: 3}, wide: {about: 3.7}}", """
              - {plate: p, thickness: t, outline: {rectangle: [40, 20], middle_at: [0, 0]}}
              - {hole: h, from: p.top, diameter: 2*r, through: p, countersink: {diameter: 2*wide + 0.5, angle: 90}}
            """, "  - {outside: [p.top, p.bottom], reads: 4.01}");
        IReadOnlyDictionary<string, HardwareUse> uses = StandardHardware.In(job.Shape);
        Assert.Equal(new HardwareUse(HardwareKind.Hole, 2, 0), uses["r"]);
        Assert.Equal(new HardwareUse(HardwareKind.Countersink, 2, 0.5), uses["wide"]);
        GridPoint point = Assert.Single(new HardwareUse(HardwareKind.Countersink, 2, 0.5).Near(3.51, 0.01), p => p.Words.Contains("M4", StringComparison.Ordinal));
        Assert.Equal(3.5, point.Mm, 1e-12);
    }
}
