using Sparewright.Handover.Picture;
using Sparewright.Solid;

namespace Sparewright.Handover.Tests;

/// <summary>A slab with a round hole through it from top to bottom, its views drawn by hand; the left-front-bottom corner at the origin, mm.</summary>
internal sealed record HandDrawn(double Long, double Deep, double Tall, double HoleRadius)
{
    private static readonly double Third = 1 / Math.Sqrt(3);

    public Point3 HoleMiddle => new(Long / 2, Deep / 2, Tall);

    public IReadOnlyList<NamedView> Views =>
    [
        View(ViewName.Front, new(0, 1, 0), new(0, 0, 1)),
        View(ViewName.Top, new(0, 0, -1), new(0, 1, 0)),
        View(ViewName.Left, new(1, 0, 0), new(0, 0, 1)),
        View(ViewName.Isometric, new(Third, Third, -Third), new(1 / Math.Sqrt(6), 1 / Math.Sqrt(6), 2 / Math.Sqrt(6))),
    ];

    public IReadOnlyList<CentreLine> CentreLines => [new(HoleMiddle with { Z = 0 }, HoleMiddle, HoleRadius)];

    public IReadOnlyList<Dimension> Dimensions =>
    [
        new LinearDimension("60.0", "±0.05", new(0, 0, Tall), new(Long, 0, Tall), new(1, 0, 0)),
        new LinearDimension("30.0", "±0.04", new(0, 0, Tall), new(0, Deep, Tall), new(0, 1, 0)),
        new LinearDimension("20.00", "±0.02", default, new(0, 0, Tall), new(0, 0, 1)),
        new LinearDimension("30.0", "±0.08", new(0, Deep / 2, Tall), HoleMiddle, new(1, 0, 0)),
        new RoundDimension("⌀12.20", "±0.02", HoleMiddle with { Z = 0 }, HoleMiddle, HoleRadius) { Flag = 1 },
    ];

    public static HandDrawn Usual { get; } = new(60, 30, 20, 6.1);

    public static TitleBlock Title { get; } = new("Slab", "A slab with a hole, drawn by hand for the tests.", "slab-1", new DateOnly(2026, 3, 9), "as measured", "Sparewright 0.1.0");

    public PartPicture Picture => new(Title, Views, Dimensions, CentreLines, [], [new("Look here: the hole was read twice and differs.", 1)], Shapes.Box(Long, Deep, Tall));

    private NamedView View(ViewName name, Point3 sight, Point3 up)
    {
        var right = Point3.Cross(sight, up);
        double[] Page(Point3 p) => [Point3.Dot(p, right), Point3.Dot(p, up)];
        var corners = Enumerable.Range(0, 8).Select(k => new Point3((k & 1) * Long, ((k >> 1) & 1) * Deep, ((k >> 2) & 1) * Tall)).ToList();
        // The corner farthest along the sight is hidden by the slab itself, and so are the edges that end there.
        var hidden = corners.MaxBy(c => Point3.Dot(c, sight));
        var lines = new List<DrawnLine>();
        for (int a = 0; a < 8; a++)
        {
            foreach (int bit in new[] { 1, 2, 4 })
            {
                if ((a & bit) != 0)
                    continue;
                var (from, to) = (corners[a], corners[a | bit]);
                if (Math.Abs(Point3.Dot(to - from, sight)) > 0.99 * (to - from).Length)
                    continue;
                lines.Add(new(LineKind.Edge, name == ViewName.Isometric && (from == hidden || to == hidden), [.. Page(from), .. Page(to)]));
            }
        }

        foreach (double z in new[] { 0, Tall })
        {
            var circle = Enumerable.Range(0, 73).SelectMany(k => Page(HoleMiddle with { Z = z } + new Point3(Math.Cos(k * Math.PI / 36), Math.Sin(k * Math.PI / 36), 0) * HoleRadius)).ToArray();
            if (name == ViewName.Top || z == Tall)
                lines.Add(new(LineKind.Edge, Hidden: false, circle));
        }

        if (name is ViewName.Front or ViewName.Left)
        {
            var side = (name == ViewName.Front ? new Point3(1, 0, 0) : new Point3(0, 1, 0)) * HoleRadius;
            lines.Add(new(LineKind.Outline, Hidden: true, [.. Page(HoleMiddle - side), .. Page(HoleMiddle with { Z = 0 } - side)]));
            lines.Add(new(LineKind.Outline, Hidden: true, [.. Page(HoleMiddle + side), .. Page(HoleMiddle with { Z = 0 } + side)]));
        }

        return new(name, new([sight.X, sight.Y, sight.Z], [up.X, up.Y, up.Z], lines));
    }
}
