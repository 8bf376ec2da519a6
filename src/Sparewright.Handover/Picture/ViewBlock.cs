using Sparewright.Solid;

namespace Sparewright.Handover.Picture;

/// <summary>One view with its centre lines, dimension lines and lettering; in mm on the page, y up, the part's origin at (0, 0).</summary>
/// <param name="Marks">Everything drawn.</param>
/// <param name="Outline">The box of the part itself.</param>
/// <param name="Extent">The box of everything.</param>
internal sealed record ViewBlock(ViewName Name, IReadOnlyList<Mark> Marks, Box Outline, Box Extent)
{
    /// <summary>Draws the view at a scale, with the dimensions that belong to it.</summary>
    public static ViewBlock Of(NamedView view, double scale, IReadOnlyList<Dimension> dimensions, IReadOnlyList<CentreLine> centreLines, Lettering lettering)
    {
        var eye = new Projection(view.Drawn, scale);
        var lines = Lines(view, scale).ToList();
        var marks = new List<Mark>(lines);
        var outline = marks.Aggregate(Box.Empty, (box, mark) => box.With(mark.Box));
        if (view.Name != ViewName.Isometric)
        {
            marks.AddRange(CentreMarks.Of(centreLines, eye));
            DistanceLines.Add(marks, dimensions, eye, view.Name, outline, VisiblePieces(lines), lettering);
            Leaders.Add(marks, dimensions, eye, outline, lettering);
        }

        return new(view.Name, marks, outline, marks.Aggregate(Box.Empty, (box, mark) => box.With(mark.Box)));
    }

    public static Piece[] VisiblePieces(IEnumerable<Stroke> lines) => [.. lines.Where(line => line.Style == LineStyle.Visible).SelectMany(line => line.Pieces)];

    /// <summary>The part's own lines at a scale.</summary>
    public static IEnumerable<Stroke> Lines(NamedView view, double scale)
    {
        foreach (var line in view.Drawn.Lines)
        {
            // A pictorial view shows no hidden lines, and smooth edges that lie behind help nobody.
            if (line.Hidden && (view.Name == ViewName.Isometric || line.Kind == LineKind.Smooth))
                continue;
            var style = line.Hidden ? LineStyle.Hidden : line.Kind == LineKind.Smooth ? LineStyle.Smooth : LineStyle.Visible;
            yield return new([.. line.Points.Chunk(2).Select(p => new PagePoint(p[0] * scale, p[1] * scale))], style, style is LineStyle.Visible ? Tone.Ink : Tone.Soft);
        }
    }
}

/// <summary>Takes points of the part to the page of a view.</summary>
internal sealed class Projection(DrawnView view, double scale)
{
    private readonly Point3 _up = new(view.Up[0], view.Up[1], view.Up[2]);
    private readonly Point3 _right = Point3.Cross(new(view.Sight[0], view.Sight[1], view.Sight[2]), new(view.Up[0], view.Up[1], view.Up[2]));

    public Point3 Sight { get; } = new(view.Sight[0], view.Sight[1], view.Sight[2]);

    public double Scale => scale;

    public PagePoint Page(Point3 p) => new(Point3.Dot(p, _right) * scale, Point3.Dot(p, _up) * scale);

    /// <summary>Seen end on.</summary>
    public bool IsEndOn(Point3 direction) => Math.Abs(Point3.Dot(direction, Sight)) > 0.999 * direction.Length;

    /// <summary>Seen in true length.</summary>
    public bool IsTrue(Point3 direction) => Math.Abs(Point3.Dot(direction, Sight)) < 0.02 * direction.Length;

    /// <summary>A distance seen in true length, but neither level nor upright.</summary>
    public bool RunsAslant(LinearDimension linear) => IsTrue(linear.Along) && !IsLevel(Page(linear.Along)) && !IsUpright(Page(linear.Along));

    public static bool IsLevel(PagePoint direction) => Math.Abs(direction.Y) < 0.02 * direction.Length;

    public static bool IsUpright(PagePoint direction) => Math.Abs(direction.X) < 0.02 * direction.Length;
}
