using CsCheck;
using Sparewright.Measure.Numbers;
using Sparewright.Part.Elements;
using Xunit;

namespace Sparewright.Part.Tests.Elements;

/// <summary>Where a point lies to a region, and how far a region reaches, against distances worked out otherwise and against points drawn at random.</summary>
public class ReachTests
{
    private static readonly Gen<Region> Simple = Gen.OneOf(
        Gen.Select(Gen.Double[-5, 5], Gen.Double[-5, 5], Gen.Double[1, 6], (u, v, r) => (Region)new Region.Circle(new(u, v), r, [])),
        Gen.Select(Gen.Double[-5, 5], Gen.Double[-5, 5], Gen.Double[1, 6], Gen.Double[1, 6], (u, v, a, b) => (Region)Box(u, v, a, b)),
        Gen.Select(Gen.Double[-5, 5], Gen.Double[-5, 5], Gen.Double[0.5, 6], Gen.Double[1, 4], Gen.Bool, (u, v, half, r, back) => (Region)Obround(u, v, half, r, back)));

    private static readonly Gen<Region> Any = Gen.OneOf(Simple,
        Simple.Array[2, 3].Select(r => (Region)new Region.Joined(r)), Simple.Array[2, 3].Select(r => (Region)new Region.Overlapped(r)),
        Gen.Select(Simple, Simple.Array[1, 2], (first, others) => (Region)new Region.TakenAway(first, others)));

    [Fact]
    public void A_point_is_inside_an_obround_when_it_is_nearer_than_the_radius_to_its_middle_line() =>
        Gen.Select(Gen.Double[0.5, 6], Gen.Double[1, 4], Gen.Bool, Gen.Double[-12, 12], Gen.Double[-6, 6]).Sample((half, r, back, u, v) =>
        {
            double beyond = Math.Max(0, Math.Abs(u) - half), distance = Math.Sqrt(beyond * beyond + v * v);
            if (Math.Abs(distance - r) < 1e-6) return;
            Assert.Equal(distance < r ? Whereabouts.Inside : Whereabouts.Outside, Inside.Of(Obround(0, 0, half, r, back), new(u, v)));
        });

    [Fact]
    public void The_middle_of_a_half_circle_is_inside_an_obround_although_it_lies_on_the_chord()
    {
        Assert.Equal(Whereabouts.Inside, Inside.Of(Obround(0, 0, 1, 2.629013766323419, false), new(-1, 0)));
        Assert.Equal(Whereabouts.Inside, Inside.Of(Obround(0, 0, 1, 2.629013766323419, true), new(-1, 0)));
        Assert.Equal(Whereabouts.Inside, Inside.Of(Obround(0, 0, 1, 2.629013766323419, false), new(1, 0)));
    }

    [Fact]
    public void A_point_between_arc_and_chord_is_inside_both_of_a_small_and_of_a_large_arc()
    {
        // Three quarters of a circle about the origin and its chord from (0, −5) to (−5, 0).
        Region.Loop most = new([new ArcPiece(new(0, -5), new(-5, 0), new(0, 0), true, []), new StraightPiece(new(-5, 0), new(0, -5), [])]);
        Assert.Equal(Whereabouts.Inside, Inside.Of(most, new(3, 3)));
        Assert.Equal(Whereabouts.Inside, Inside.Of(most, new(0, 0)));
        Assert.Equal(Whereabouts.Outside, Inside.Of(most, new(-3, -3)));
        Region.Loop least = new([new ArcPiece(new(-5, 0), new(0, -5), new(0, 0), true, []), new StraightPiece(new(0, -5), new(-5, 0), [])]);
        Assert.Equal(Whereabouts.Inside, Inside.Of(least, new(-3, -3)));
        Assert.Equal(Whereabouts.Outside, Inside.Of(least, new(-2, -2)));
        Assert.Equal(Whereabouts.OnEdge, Inside.Of(least, new(-2.5, -2.5)));
        Assert.Equal(Whereabouts.OnEdge, Inside.Of(least, new(-3, -4)));
    }

    [Fact]
    public void Points_are_told_apart_through_joining_taking_away_and_overlapping()
    {
        Region a = new Region.Circle(new(0, 0), 5, []), b = new Region.Circle(new(6, 0), 5, []);
        (double U, Whereabouts Joined, Whereabouts Taken, Whereabouts Overlapped)[] cases =
        [
            (-3, Whereabouts.Inside, Whereabouts.Inside, Whereabouts.Outside), (3, Whereabouts.Inside, Whereabouts.Outside, Whereabouts.Inside),
            (9, Whereabouts.Inside, Whereabouts.Outside, Whereabouts.Outside), (12, Whereabouts.Outside, Whereabouts.Outside, Whereabouts.Outside),
            (1, Whereabouts.Inside, Whereabouts.OnEdge, Whereabouts.OnEdge), (-5, Whereabouts.OnEdge, Whereabouts.OnEdge, Whereabouts.Outside),
        ];
        foreach (var (u, joined, taken, overlapped) in cases)
        {
            PlanePoint p = new(u, 0);
            Assert.Equal((joined, taken, overlapped), (Inside.Of(new Region.Joined([a, b]), p), Inside.Of(new Region.TakenAway(a, [b]), p), Inside.Of(new Region.Overlapped([a, b]), p)));
        }
    }

    [Fact]
    public void No_point_of_a_region_lies_beyond_its_reach_and_an_exact_reach_is_met()
    {
        int exactOnes = 0, bounds = 0;
        Gen.Select(Any, Gen.Double[0, 2 * Math.PI]).Sample((region, angle) =>
        {
            var d = new PlanePoint(Math.Cos(angle), Math.Sin(angle));
            double reach = Support.Of(region, d, out bool exact).Value;
            // The farthest point of a region lies on the outline of one of the simple ones that it is made of.
            double farthest = Outlines(region).Where(p => Inside.Of(region, p) != Whereabouts.Outside).Select(p => PlanePoint.Dot(p, d).Value).DefaultIfEmpty(double.NegativeInfinity).Max();
            Assert.True(farthest <= reach + 1e-9, $"a point at {farthest} lies beyond the reach {reach}");
            if (exact) exactOnes++;
            else bounds++;
            // Points stand at most 0.4 mm apart; on an arc of 1 mm or more the summit is missed by at most 0.2²/2 = 0.02 mm, on a straight side ends are met.
            if (exact) Assert.True(farthest > reach - 0.021, $"nothing lies near the reach {reach}: the farthest point found is at {farthest}");
        }, iter: 150, threads: 1);
        Assert.True(exactOnes > 50 && bounds > 5, $"{exactOnes} exact, {bounds} bounds");
    }

    private static IEnumerable<PlanePoint> Outlines(Region region) => region switch
    {
        Region.Circle circle => Enumerable.Range(0, 100).Select(k => circle.Center + new PlanePoint(Math.Cos(k * Math.PI / 50), Math.Sin(k * Math.PI / 50)) * circle.Radius),
        Region.Loop loop => loop.Pieces.SelectMany(PointsOf),
        Region.Joined joined => joined.Regions.SelectMany(Outlines),
        Region.Overlapped overlapped => overlapped.Regions.SelectMany(Outlines),
        Region.TakenAway taken => taken.Others.Prepend(taken.First).SelectMany(Outlines),
        _ => throw new InvalidOperationException($"unknown region {region}"),
    };

    private static IEnumerable<PlanePoint> PointsOf(Piece piece)
    {
        for (int k = 0; k <= 40; k++)
        {
            if (piece is not ArcPiece arc)
            {
                yield return piece.From + (piece.To - piece.From) * (k / 40.0);
                continue;
            }

            // All arcs of these regions are half turns.
            double turn = (arc.TurningLeft ? 1 : -1) * Math.PI * k / 40;
            PlanePoint from = arc.From - arc.Center;
            yield return arc.Center + from * Math.Cos(turn) + from.Left * Math.Sin(turn);
        }
    }

    private static Region.Loop Box(double u, double v, double a, double b) => new(
    [
        new StraightPiece(new(u - a, v - b), new(u + a, v - b), []), new StraightPiece(new(u + a, v - b), new(u + a, v + b), []),
        new StraightPiece(new(u + a, v + b), new(u - a, v + b), []), new StraightPiece(new(u - a, v + b), new(u - a, v - b), []),
    ]);

    private static Region.Loop Obround(double u, double v, double half, double r, bool backward)
    {
        PlanePoint a = new(u - half, v), b = new(u + half, v), down = new(0, -r), up = new(0, r);
        return backward
            ? new([new StraightPiece(a + up, b + up, []), new ArcPiece(b + up, b + down, b, false, []), new StraightPiece(b + down, a + down, []), new ArcPiece(a + down, a + up, a, false, [])])
            : new([new StraightPiece(a + down, b + down, []), new ArcPiece(b + down, b + up, b, true, []), new StraightPiece(b + up, a + up, []), new ArcPiece(a + up, a + down, a, true, [])]);
    }
}
