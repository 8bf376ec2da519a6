using CsCheck;
using Xunit;

namespace Sparewright.Solid.Tests;

/// <summary>Volumes, areas, centroids and inertia against closed forms of elementary geometry (from memory, as every handbook of mathematics has them).</summary>
public class VolumeTests(WarmWorker warm)
{
    private static void Close(double expected, double actual) => Assert.InRange(actual / expected - 1, -1e-9, 1e-9);

    /// <summary>A length in mm with two decimals, so that a failing case can be read.</summary>
    private static Gen<double> Length(double low, double high) => Gen.Int[(int)(100 * low), (int)(100 * high)].Select(k => k / 100.0);

    private double Volume(string features, params (string, double)[] sizes) => warm.BuildAsync(features, sizes).GetAwaiter().GetResult().VolumeMm3;

    [Fact]
    public async Task A_block()
    {
        ExactSolid solid = await warm.BuildAsync(Shapes.Block);
        Close(1000, solid.VolumeMm3);
        Close(700, solid.AreaMm2);
        Close(10, solid.Centroid.X);
        Close(5, solid.Centroid.Y);
        Close(2.5, solid.Centroid.Z);
        Close(1000.0 / 12 * (10 * 10 + 5 * 5), solid.Inertia.Xx);
        Close(1000.0 / 12 * (20 * 20 + 5 * 5), solid.Inertia.Yy);
        Close(1000.0 / 12 * (20 * 20 + 10 * 10), solid.Inertia.Zz);
        Assert.Equal(0, solid.Inertia.Xy, 6);
        Assert.Equal(0, solid.Inertia.Yz, 6);
        Assert.Equal(0, solid.Inertia.Zx, 6);
        Assert.Equal(new Point3(0, 0, 0), Rounded(solid.Low));
        Assert.Equal(new Point3(20, 10, 5), Rounded(solid.High));
    }

    private static Point3 Rounded(Point3 p) => new(Math.Round(p.X, 6) + 0.0, Math.Round(p.Y, 6) + 0.0, Math.Round(p.Z, 6) + 0.0);

    [Fact]
    public async Task A_round_boss()
    {
        const double R = 6, H = 20, V = Math.PI * R * R * H;
        ExactSolid solid = await warm.BuildAsync("  - boss: rod\n    diameter: 12\n    height: 20\n    at: [3, -4]");
        Close(V, solid.VolumeMm3);
        Close(2 * Math.PI * R * (R + H), solid.AreaMm2);
        Close(3, solid.Centroid.X);
        Close(-4, solid.Centroid.Y);
        Close(H / 2, solid.Centroid.Z);
        Close(V * R * R / 2, solid.Inertia.Zz);
        Close(V * (3 * R * R + H * H) / 12, solid.Inertia.Xx);
        Close(solid.Inertia.Xx, solid.Inertia.Yy);
    }

    [Fact]
    public async Task Products_of_inertia_have_the_tensors_sign()
    {
        // Two blocks on a diagonal: matter where x and y have the same sign makes the product −∫xy negative.
        ExactSolid solid = await warm.BuildAsync("""
              - block: low
                long: 10
                deep: 10
                tall: 5
                corner_at: [-10, -10, 0]
              - block: high
                long: 11
                deep: 11
                tall: 5
                corner_at: [-1, -1, 0]
            """);
        Assert.True(solid.Inertia.Xy < 0);
    }

    [Fact]
    public void A_tapered_boss() =>
        Gen.Select(Length(2, 20), Length(2, 20), Length(1, 40)).Where(t => t.Item1 != t.Item2).Sample((d, top, h) =>
        {
            ExactSolid solid = warm.BuildAsync("  - boss: cone\n    diameter: d\n    top_diameter: t\n    height: h", ("d", d), ("t", top), ("h", h)).GetAwaiter().GetResult();
            double a = d / 2, b = top / 2, sum = a * a + a * b + b * b;
            Close(Math.PI * h / 3 * sum, solid.VolumeMm3);
            Close(h / 4 * (a * a + 2 * a * b + 3 * b * b) / sum, solid.Centroid.Z);
        }, iter: 20, threads: 1);

    [Theory]
    [InlineData(2)]
    [InlineData(7.3)]
    public async Task A_ball(double r)
    {
        ExactSolid solid = await warm.BuildAsync("  - turned_shape: ball\n    outline: {path: [{start: [0, 0]}, {arc_to: [0, 2*r], through: [r, r]}]}", ("r", r));
        Close(4.0 / 3 * Math.PI * r * r * r, solid.VolumeMm3);
        Close(4 * Math.PI * r * r, solid.AreaMm2);
        SolidFace face = Assert.Single(solid.Faces);
        Assert.Equal(SurfaceKind.Sphere, face.Kind);
        Close(r, face.RadiusMm);
    }

    [Theory]
    [InlineData(10, 3)]
    [InlineData(10, 14)]
    public void A_spherical_cap(double r, double h)
    {
        // A point halfway along the arc, seen from the ball's middle.
        double half = Math.Acos((r - h) / r) / 2;
        Close(Math.PI * h * h * (3 * r - h) / 3, Volume("""
              - turned_shape: cap
                outline: {path: [{start: [0, 0]}, {line_to: ["sqrt(h*(2*r - h))", 0]}, {arc_to: [0, h], through: [x, z]}]}
            """, ("r", r), ("h", h), ("x", r * Math.Sin(half)), ("z", h - r + r * Math.Cos(half))));
    }

    [Theory]
    [InlineData(10, 3)]
    [InlineData(4, 3.9)]
    public async Task A_ring_of_round_section(double middle, double r)
    {
        ExactSolid solid = await warm.BuildAsync("  - turned_shape: ring\n    outline: {disc: [m, r], radius: r}", ("m", middle), ("r", r));
        Close(2 * Math.PI * Math.PI * middle * r * r, solid.VolumeMm3);
        Close(4 * Math.PI * Math.PI * middle * r, solid.AreaMm2);
        Assert.All(solid.Faces, face => Assert.Equal(SurfaceKind.Torus, face.Kind));
    }

    [Fact]
    public void A_hole_with_a_flat() =>
        Gen.Select(Length(4, 12), Gen.Double[0.3, 0.95]).Sample((d, share) =>
        {
            double r = d / 2, flat = r * share;
            double segment = r * r * Math.Acos(flat / r) - flat * Math.Sqrt(r * r - flat * flat);
            Close((Math.PI * (100 - r * r) + segment) * 8, Volume("""
                  - boss: knob
                    diameter: 20
                    height: 8
                  - hole: bore
                    from: knob.top
                    diameter: d
                    through: knob
                    flat: {from_axis: f, toward: right}
                """, ("d", d), ("f", flat)));
        }, iter: 20, threads: 1);

    [Fact]
    public void A_blind_hole_with_counterbore_and_cone_end()
    {
        double cone = Math.PI * 2 * 2 * (2 / Math.Tan(59 * Math.PI / 180)) / 3;
        Close(20 * 20 * 20 - Math.PI * (4 * 4 * 3 + 2 * 2 * (12 - 3)) - cone, Volume("""
              - block: cube
                long: 20
                deep: 20
                tall: 20
                corner_at: [0, 0, 0]
              - hole: stepped
                from: cube.top
                at: [10, 10]
                diameter: 4
                depth: 12
                ends: cone
                cone_angle: 118
                counterbore: {diameter: 8, depth: 3}
            """));
    }

    [Fact]
    public void A_belt_about_two_discs() =>
        Gen.Select(Length(2, 9), Length(2, 9), Length(10, 40)).Sample((a, b, apart) =>
        {
            double straight = Math.Sqrt(apart * apart - (a - b) * (a - b)), turn = Math.Asin((a - b) / apart);
            double area = (a + b) * straight + a * a * (Math.PI / 2 + turn) + b * b * (Math.PI / 2 - turn);
            Close(3 * area, Volume("  - plate: foot\n    thickness: 3\n    outline: {belt: [{disc: [0, 0], radius: a}, {disc: [d, 0], radius: b}]}", ("a", a), ("b", b), ("d", apart)));
        }, iter: 20, threads: 1);

    [Fact]
    public void A_hexagon_pocket_and_a_round_ended_slot()
    {
        double hexagon = Math.Sqrt(3) / 2 * 7 * 7 * 2, slot = (6 * 3 + Math.PI * 3 * 3 / 4) * 1.5;
        Close(1000 - hexagon - slot, Volume(Shapes.Block + "\n" + """
              - pocket: nut
                from: slab.top
                outline: {hexagon: [5, 5], across_flats: 7}
                depth: 2
              - slot: guide
                from: slab.top
                between: [[11, 5], [17, 5]]
                width: 3
                depth: 1.5
            """));
    }

    [Fact]
    public void A_block_rounded_on_every_edge()
    {
        const double R = 2.4, A = 20 - 2 * R, B = 10 - 2 * R, C = 5 - 2 * R;
        double expected = A * B * C + 2 * R * (A * B + B * C + C * A) + Math.PI * R * R * (A + B + C) + 4.0 / 3 * Math.PI * R * R * R;
        Close(expected, Volume(Shapes.Block + "\n  - edge_round: all\n    edges_of: slab\n    radius: 2.4"));
    }

    [Fact]
    public void One_edge_rounded_one_filleted_one_bevelled()
    {
        const string Step = Shapes.Block + "\n" + """
              - block: wall
                long: 4
                deep: 10
                tall: 9
                corner_at: [0, 0, 0]
            """;
        double wall = 4 * 10 * 4, corner = (1 - Math.PI / 4) * 1.5 * 1.5 * 10;
        Close(1000 + wall, Volume(Step));
        Close(1000 + wall + corner, Volume(Step + "\n  - fillet: root\n    meeting: [wall.right, slab.top]\n    radius: 1.5"));
        Close(1000 + wall - corner, Volume(Step + "\n  - edge_round: tip\n    meeting: [wall.right, wall.top]\n    radius: 1.5"));
        Close(1000 + wall - 10 * 1.5 * 1.5 * Math.Tan(30 * Math.PI / 180) / 2, Volume(Step + "\n  - chamfer: bevel\n    meeting: [wall.top, wall.right]\n    setback: 1.5\n    angle: 30"));
    }
}
