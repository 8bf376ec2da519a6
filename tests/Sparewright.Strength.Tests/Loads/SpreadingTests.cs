using CsCheck;
using Sparewright.Solid;
using Sparewright.Strength.Loads;
using Xunit;

namespace Sparewright.Strength.Tests.Loads;

/// <summary>What is spread over a surface adds up to what was said, as statics demands.</summary>
public class SpreadingTests
{
    private static readonly Gen<Point3> Vectors = Gen.Select(Gen.Double[-100, 100], Gen.Double[-100, 100], Gen.Double[-100, 100]).Select((x, y, z) => new Point3(x, y, z)).Where(v => v.Length > 1);

    /// <summary>The wall of a bore about z, of radius 3 and height 8, or the side of a boss; as much of it as the angle says.</summary>
    private static Patch Round(bool hollow, double fromRadians = 0, double toRadians = 2 * Math.PI, int pieces = 180)
    {
        var points = new List<double>();
        var triangles = new List<int>();
        for (int k = 0; k <= pieces; k++)
        {
            double angle = fromRadians + (toRadians - fromRadians) * k / pieces;
            points.AddRange([3 * Math.Cos(angle), 3 * Math.Sin(angle), 0, 3 * Math.Cos(angle), 3 * Math.Sin(angle), 8]);
            if (k == pieces) continue;
            int a = 2 * k, b = a + 1, c = a + 2, d = a + 3;
            triangles.AddRange(hollow ? [a, b, c, c, b, d] : [a, c, b, c, d, b]);
        }

        return Patch.Of("bore.wall", new Mesh([.. points], [.. triangles], new int[triangles.Count / 3], 0), _ => true, 0.5)!;
    }

    private static Patch Flat() => Patch.Of("lug.right", new Mesh([0, 0, 0, 20, 0, 0, 20, 5, 0, 0, 5, 0], [0, 1, 2, 0, 2, 3], [0, 0], 0), _ => true, 0.3)!;

    private static (Point3 Force, Point3 Moment) Sum(Patch patch, IReadOnlyList<Point3> forces)
    {
        var load = new SurfaceLoad("", patch, forces);
        return (load.TotalN, load.MomentNmm);
    }

    private static void Same(Point3 expected, Point3 found, double tolerance) => Assert.True((expected - found).Length <= tolerance, $"{expected} is not {found}");

    [Fact]
    public void Halving_triangles_changes_neither_area_nor_middle_nor_which_way_is_in()
    {
        Patch flat = Flat();
        Assert.Equal(100, flat.AreaMm2, 1e-9);
        Same(new(10, 2.5, 0), flat.Centroid, 1e-9);
        Assert.All(flat.Samples, s => Same(new(0, 0, -1), s.Inward, 1e-12));
        Assert.True(flat.Samples.Count > 100 / 0.1);
        Assert.Equal(2 * 180 * 3 * Math.Sin(Math.PI / 180) * 8, Round(true).AreaMm2, 1e-9);
        Assert.Null(Patch.Of("nothing", new Mesh([0, 0, 0, 1, 0, 0, 0, 1, 0], [0, 1, 2], [0], 0), _ => false, 1));
    }

    [Fact]
    public void A_force_that_is_spread_evenly_acts_at_the_middle() => Vectors.Sample(force =>
    {
        Patch flat = Flat();
        var (total, moment) = Sum(flat, Spreading.Evenly(flat, force));
        Same(force, total, 1e-9);
        Same(Point3.Cross(flat.Centroid, force), moment, 1e-7);
    });

    [Fact]
    public void A_moment_is_spread_without_a_force() => Gen.Select(Vectors, Gen.Bool).Sample((moment, round) =>
    {
        Patch patch = round ? Round(false) : Flat();
        var (total, sum) = Sum(patch, Spreading.Turning(patch, moment));
        Same(default, total, 1e-9);
        Same(moment, sum, 1e-7);
    });

    /// <summary>A twist about the normal drags the face round; a bend about a direction in it pulls one side and pushes the other.</summary>
    [Fact]
    public void A_flat_face_is_dragged_round_by_a_twist_and_tilted_by_a_bend()
    {
        Patch flat = Flat();
        Assert.All(Spreading.Turning(flat, new(0, 0, 500)), f => Assert.Equal(0, f.Z, 1e-12));
        Assert.All(Spreading.Turning(flat, new(0, 500, 0)), f => Assert.Equal((0.0, 0.0), (Math.Round(f.X, 12), Math.Round(f.Y, 12))));
        Point3[] bent = Spreading.Turning(flat, new(0, 500, 0));
        Assert.All(flat.Samples.Index(), s => Assert.Equal(Math.Sign(10 - s.Item.At.X), Math.Sign(Math.Round(bent[s.Index].Z, 12))));
    }

    [Fact]
    public void What_a_pin_presses_adds_up_to_its_force_and_acts_through_its_axis() => Gen.Select(Vectors, Gen.Bool).Sample((force, hollow) =>
    {
        Patch wall = Round(hollow);
        Point3[] forces = Assert.IsType<Point3[]>(Spreading.AgainstRound(wall, new(0, 0, 1), force));
        var (total, moment) = Sum(wall, forces);
        Same(force, total, 1e-9 * force.Length);
        Same(Point3.Cross(new(0, 0, 4), force), moment, 1e-6 * force.Length);
    });

    /// <summary>By hand: the cosine on half a wall of radius r and height h makes p₀ r h π/2, so 100 N on r 3 and h 8 are 2.6526 MPa at the middle; nothing on the other half.</summary>
    [Fact]
    public void A_pin_presses_most_where_it_is_pushed_to_and_not_behind()
    {
        Patch wall = Round(true);
        Point3[] forces = Spreading.AgainstRound(wall, new(0, 0, 1), new(100, 0, 0))!;
        double most = 0;
        foreach (var (k, s) in wall.Samples.Index())
        {
            // A bore's wall is pushed outward: into the material.
            double pressure = Point3.Dot(forces[k], s.Inward) / s.AreaMm2;
            Assert.True(pressure > -1e-9);
            Assert.Equal(Math.Max(0, 100 / (3 * 8 * Math.PI / 2) * s.Inward.X), pressure, 0.003);
            most = Math.Max(most, pressure);
        }

        Assert.Equal(2.6526, most, 0.003);
    }

    [Fact]
    public void Around_a_boss_it_is_the_other_half_that_is_pressed()
    {
        Patch side = Round(false);
        Point3[] forces = Spreading.AgainstRound(side, new(0, 0, 1), new(100, 0, 0))!;
        Assert.All(side.Samples.Index().Where(s => s.Item.At.X > 0.1), s => Assert.True(forces[s.Index].Length < 1e-9));
    }

    /// <summary>A wall of which a part is gone carries the same force, pressed where there is wall.</summary>
    [Fact]
    public void On_part_of_a_wall_the_pressure_still_adds_up()
    {
        Patch wall = Round(true, -0.7, 2.2);
        Point3[] forces = Spreading.AgainstRound(wall, new(0, 0, 1), new(100, 20, 7))!;
        Same(new(100, 20, 7), Sum(wall, forces).Force, 1e-9);
    }

    [Fact]
    public void Where_there_is_no_wall_to_press_nothing_is_made_up() => Assert.Null(Spreading.AgainstRound(Round(true, -0.7, 0.7), new(0, 0, 1), new(-100, 0, 0)));

    [Fact]
    public void Pressure_inside_a_whole_bore_has_no_net_force()
    {
        Patch wall = Round(true);
        Same(default, Sum(wall, Spreading.Pressure(wall, 2)).Force, 1e-9);
        Patch flat = Flat();
        Same(new(0, 0, -200), Sum(flat, Spreading.Pressure(flat, 2)).Force, 1e-9);
    }
}
