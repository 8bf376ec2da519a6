using Sparewright.Fit.Drawn;
using Sparewright.Measure.Numbers;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Solid;

namespace Sparewright.Fit.Gauges;

/// <summary>What a gauge keeps of the part: a box, in the job's axes, round the faces that a counterpart meets.</summary>
/// <param name="Low">Its lower corner, mm.</param>
/// <param name="High">Its upper corner, mm.</param>
/// <param name="Met">The faces' own box.</param>
public sealed record Surroundings(Point3 Low, Point3 High, (Point3 Low, Point3 High) Met)
{
    /// <summary>How much material is kept beside the faces, mm: five lines of a usual nozzle, more than a print of the part has before its filling begins (common practice, no source).</summary>
    public const double WallMm = 2;

    /// <summary>How much of a long face is kept: so many diameters or widths, and never less than this many mm (common practice, no source: a guide shorter than its diameter jams).</summary>
    public const double LongestInDiameters = 1, ShortestMm = 5;

    /// <summary>Faces where the part was cut bear names that begin so; no job can write one.</summary>
    private const string Cut = "cut for the gauge.";

    /// <summary>What lies this near to the bed, in mm, lies on it.</summary>
    private const double OnItMm = 1e-6;

    /// <summary>The surroundings of the faces that bear one of the names.</summary>
    /// <returns>Null when no face bears one.</returns>
    public static Surroundings? Around(ExactSolid part, IReadOnlyCollection<string> elements)
    {
        SolidFace[] faces = [.. part.Faces.Where(f => elements.Any(f.Bears))];
        if (faces.Length == 0) return null;
        Point3 low = faces.Select(f => f.Low).Aggregate(Lower), high = faces.Select(f => f.High).Aggregate(Higher);
        var met = (low, high);
        Point3? freeEnd = null;
        if (LongAxis(faces[0], low, high) is var (axis, acrossMm))
        {
            // Of a long face the end is kept where the counterpart comes in: the one nearer to the outside of the part.
            double longest = Math.Max(ShortestMm, LongestInDiameters * acrossMm), excess = At(high, axis) - At(low, axis) - longest;
            bool fromHigh = At(part.High, axis) - At(high, axis) <= At(low, axis) - At(part.Low, axis);
            if (excess > 0 && fromHigh) low = With(low, axis, At(low, axis) + excess + WallMm);
            else if (excess > 0) high = With(high, axis, At(high, axis) - excess - WallMm);
            if (faces[0].Kind == Solid.SurfaceKind.Plane) freeEnd = With(default, axis, fromHigh ? 1 : -1);
        }

        var wall = new Point3(WallMm, WallMm, WallMm);
        return new(low - wall, high + wall, met) { FreeEnd = freeEnd };
    }

    /// <summary>Towards the end over which something slides that goes over two flat faces: it may be longer than a gauge, so that nothing must lie there. Null for all else.</summary>
    public Point3? FreeEnd { get; private init; }

    /// <summary>Along which axis met faces may be long, and how wide they are across: a round one's own; of two flat ones that something goes over the longer of the two in their plane. Null for what is tilted, and for what goes between flat ones: all of it must find room.</summary>
    private static (int Axis, double AcrossMm)? LongAxis(SolidFace face, Point3 low, Point3 high)
    {
        if (face.Kind == Solid.SurfaceKind.Cylinder) return AxisOf(face.Direction) is { } along ? (along, 2 * face.RadiusMm) : null;
        if (face.Kind != Solid.SurfaceKind.Plane || AxisOf(face.Direction) is not { } across || At(face.Direction, across) * (2 * At(face.Low, across) - At(low, across) - At(high, across)) <= 0) return null;
        int[] others = [.. new[] { 0, 1, 2 }.Where(a => a != across)];
        return (others.MaxBy(a => At(high, a) - At(low, a)), At(high, across) - At(low, across));
    }

    /// <summary>The shape with everything outside the surroundings cut away.</summary>
    /// <param name="part">A solid of the shape: it says how far there is anything to cut.</param>
    public PlacedShape Of(PlacedShape shape, ExactSolid part)
    {
        const double beyondMm = 1;
        Point3 beyond = new(beyondMm, beyondMm, beyondMm), low = Lower(part.Low, Low) - beyond, high = Higher(part.High, High) + beyond;
        List<Part.Elements.Tool> tools = [];
        if (part.Low.X < Low.X || part.Low.Y < Low.Y || part.High.X > High.X || part.High.Y > High.Y)
            tools.Add(Slab(new Region.TakenAway(Rectangle(low, high), [Rectangle(Low, High, [[Cut + "front"], [Cut + "right"], [Cut + "back"], [Cut + "left"]])]), low.Z, high.Z));
        if (part.Low.Z < Low.Z) tools.Add(Slab(Rectangle(low, high), low.Z, Low.Z) with { ToNames = [Cut + "bottom"] });
        if (part.High.Z > High.Z) tools.Add(Slab(Rectangle(low, high), High.Z, high.Z) with { FromNames = [Cut + "top"] });
        return tools.Count == 0 ? shape : shape with { Features = [.. shape.Features, new Combination("away from the gauge", Joins: false, tools, Place.None)] };
    }

    /// <summary>The met faces' edges on the bed, bevelled as those of the part are: what lies down there is often a cut, which the part has not.</summary>
    /// <param name="gauge">A gauge, nothing bevelled.</param>
    /// <param name="met">The elements that the counterpart meets.</param>
    /// <param name="up">Away from the bed.</param>
    /// <param name="legMm">Of the chamfer.</param>
    public static IReadOnlyList<EdgeTreatment> Bevels(ExactSolid gauge, IReadOnlyCollection<string> met, Point3 up, double legMm)
    {
        double Lowest(Point3 a, Point3 b) => Math.Min(Point3.Dot(a, up), Point3.Dot(b, up));
        double bedAt = Lowest(gauge.Low, gauge.High);
        bool OnBed(SolidFace face) => Lowest(face.Low, face.High) < bedAt + OnItMm;
        SolidFace[] bed = [.. gauge.Faces.Where(f => f.Kind == Solid.SurfaceKind.Plane && f.Names.Count > 0 && OnBed(f) && Math.Abs(Point3.Dot(f.High - f.Low, up)) < OnItMm)];
        var bevels = new List<EdgeTreatment>();
        foreach (SolidFace wall in legMm > 0 ? gauge.Faces.Where(f => OnBed(f) && !bed.Contains(f)) : [])
            if (wall.Names.FirstOrDefault(n => met.Any(m => n == m || n.StartsWith(m + "#", StringComparison.Ordinal))) is { } name && bevels.TrueForAll(b => b.Name != RelievedEdge.Prefix + name) && bed.FirstOrDefault(b => Touch(b, wall)) is { } under)
                bevels.Add(new(RelievedEdge.Prefix + name, EdgeTreatmentKind.Chamfer, new PlacedEdges.Meeting(under.Names[0], name, null), legMm, 45, Place.None));
        return bevels;
    }

    private static bool Touch(SolidFace a, SolidFace b)
    {
        Point3 low = Higher(a.Low, b.Low), high = Lower(a.High, b.High);
        return high.X > low.X - OnItMm && high.Y > low.Y - OnItMm && high.Z > low.Z - OnItMm;
    }

    internal static Point3 Lower(Point3 a, Point3 b) => new(Math.Min(a.X, b.X), Math.Min(a.Y, b.Y), Math.Min(a.Z, b.Z));

    internal static Point3 Higher(Point3 a, Point3 b) => new(Math.Max(a.X, b.X), Math.Max(a.Y, b.Y), Math.Max(a.Z, b.Z));

    internal static PrismTool Slab(Region region, double from, double to) => new(Frame.Job, region, from, to, [], []);

    /// <param name="names">Of the sides at the front, right, back and left; null for none.</param>
    internal static Region Rectangle(Point3 low, Point3 high, string[][]? names = null)
    {
        PlanePoint a = new(low.X, low.Y), b = new(high.X, low.Y), c = new(high.X, high.Y), d = new(low.X, high.Y);
        return new Region.Loop([new StraightPiece(a, b, names?[0] ?? []), new StraightPiece(b, c, names?[1] ?? []), new StraightPiece(c, d, names?[2] ?? []), new StraightPiece(d, a, names?[3] ?? [])]);
    }

    /// <summary>0, 1 or 2 for a direction along x, y or z; null for one that is tilted.</summary>
    private static int? AxisOf(Point3 direction)
    {
        for (int axis = 0; axis < 3; axis++)
            if (Math.Abs(Math.Abs(At(direction, axis)) - 1) < 1e-9) return axis;
        return null;
    }

    private static double At(Point3 p, int axis) => axis switch { 0 => p.X, 1 => p.Y, _ => p.Z };

    private static Point3 With(Point3 p, int axis, double value) => axis switch { 0 => p with { X = value }, 1 => p with { Y = value }, _ => p with { Z = value } };
}
