using System.Globalization;
using Sparewright.Handover.Picture;
using Sparewright.Measure.Numbers;
using Sparewright.Measure.Quantities;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Sparewright.Solid;
using Quantity = Sparewright.Part.Sizes.Quantity;

namespace Sparewright.Remake.Outputs;

/// <summary>
/// Chooses for every size of the job one place on the part where it can be shown: a diameter, a radius, or the distance between two faces or axes
/// that is that size and nothing else, which the derivatives tell.
/// </summary>
internal sealed class MainSizes
{
    private const double Tiny = 1e-9, Parallel = 1 - 1e-9;

    private readonly Job _job;
    private readonly PlacedShape _shape;
    private readonly IReadOnlyList<SolidFace> _faces;
    private readonly Point3 _middle;
    private readonly LengthUnit _unit;
    private readonly List<Span> _spans;

    private MainSizes(Job job, Reconciled reconciled, PlacedShape shape, ExactSolid solid, LengthUnit unit)
    {
        (_job, _shape, _faces, _unit) = (job, shape, solid.Faces, unit);
        _middle = (solid.Low + solid.High) * 0.5;
        _spans = [.. SpansOf(reconciled, shape)];
    }

    /// <summary>Two places and how far they are apart, with its derivatives by the sizes.</summary>
    private sealed record Span(Dual Mm, Vector Along, Element From, Element To, bool IsRead);

    /// <summary>One dimension for each size that has a place; what is wrong with it is flagged.</summary>
    /// <param name="shape">As it is drawn: as measured, or otherwise.</param>
    /// <param name="flags">The number of the note that a size's dimension points to.</param>
    /// <param name="unit">In which they are told: mm without the unit behind them, inches with it.</param>
    public static IReadOnlyList<Dimension> Of(Job job, Reconciled reconciled, PlacedShape shape, ExactSolid solid, IReadOnlyDictionary<string, int> flags, LengthUnit unit = default)
    {
        var places = new MainSizes(job, reconciled, shape, solid, unit);
        var shown = new List<Dimension>();
        foreach (ReconciledSize size in reconciled.Sizes)
        {
            if (size.Quantity == Quantity.Length && places.PlaceFor(size) is { } dimension)
                shown.Add(flags.TryGetValue(size.Name, out int flag) ? dimension with { Flag = flag } : dimension);
        }

        return shown;
    }

    /// <summary>The axes of the round faces on the solid, one line for all that share an axis.</summary>
    public static IReadOnlyList<CentreLine> CentreLines(PlacedShape shape, ExactSolid solid)
    {
        var lines = new List<CentreLine>();
        foreach (RoundElement round in shape.Elements.Values.OfType<RoundElement>())
        {
            if (Extent(round, solid.Faces) is not { } own) continue;
            Point3 direction = Point3.Of(round.AxisDirection), at = Point3.Of(round.AxisPoint);
            int same = lines.FindIndex(l => IsSameAxis(l, at, direction));
            CentreLine line = new(At(own.Low), At(own.High), round.Radius.Value);
            if (same < 0) lines.Add(line);
            else lines[same] = Joined(lines[same], line, at, direction);

            Point3 At(double along) => at + direction * along;
        }

        return lines;
    }

    private static bool IsSameAxis(CentreLine line, Point3 at, Point3 direction)
    {
        Point3 own = line.To - line.From, apart = at - line.From;
        return Point3.Cross(own, direction).Length <= 1e-6 * own.Length && (apart - direction * Point3.Dot(apart, direction)).Length < 1e-6;
    }

    private static CentreLine Joined(CentreLine a, CentreLine b, Point3 at, Point3 direction)
    {
        double[] ends = [.. new[] { a.From, a.To, b.From, b.To }.Select(p => Point3.Dot(p - at, direction))];
        return new(at + direction * ends.Min(), at + direction * ends.Max(), Math.Max(a.RadiusMm, b.RadiusMm));
    }

    // ---- one size ------------------------------------------------------------------------------------------------------

    private Dimension? PlaceFor(ReconciledSize size)
    {
        Gradient own = _shape.Sizes[size.Name].Gradient;
        // A fixed size moves nothing, so derivatives cannot tell where it shows.
        if (own.Unknowns.Length == 0) return null;
        return Diameter(size, own, wholeCircles: true) ?? (Dimension?)Distance(size, own) ?? Diameter(size, own, wholeCircles: false) ?? EdgeRadius(size, own);
    }

    private RoundDimension? Diameter(ReconciledSize size, Gradient own, bool wholeCircles)
    {
        foreach (RoundElement round in _shape.Elements.Values.OfType<RoundElement>())
        {
            bool isDiameter = IsSame(round.Radius * 2, size, own), isRadius = !isDiameter && IsSame(round.Radius, size, own);
            if (!(isDiameter || isRadius) || Extent(round, _faces) is not { } ends || IsWholeCircle(round) != wholeCircles) continue;
            Point3 at = Point3.Of(round.AxisPoint), direction = Point3.Of(round.AxisDirection);
            string text = (isDiameter ? "⌀" : "R") + Text(size);
            return new RoundDimension(text, PlusMinus(size), at + direction * ends.Low, at + direction * ends.High, round.Radius.Value);
        }

        return null;
    }

    private LinearDimension? Distance(ReconciledSize size, Gradient own)
    {
        foreach (Span span in _spans.Where(s => IsSame(s.Mm, size, own)).OrderByDescending(s => s.IsRead).ThenByDescending(s => Rank(s.From) + Rank(s.To)))
        {
            if (Ends(span) is { } ends)
                return new LinearDimension(Text(size), PlusMinus(size), ends.From, ends.To, Point3.Of(span.Along));
        }

        return null;

        // Axes and whole faces say more than pieces of an outline.
        static int Rank(Element e) => e is FlatElement && !e.Name.Contains('#') ? 1 : 0;
    }

    private RoundDimension? EdgeRadius(ReconciledSize size, Gradient own)
    {
        foreach (EdgeFaceElement edge in _shape.Elements.Values.OfType<EdgeFaceElement>().Where(e => IsSame(e.Radius, size, own)))
        {
            SolidFace? face = _faces.Where(f => f.Kind == SurfaceKind.Cylinder && f.Names.Contains(edge.Name)).MaxBy(f => f.AreaMm2);
            if (face is null) continue;
            Point3 half = face.Direction * (Reach(face, face.Direction) / 2);
            Point3 beside = face.Origin + face.Direction * Point3.Dot(face.At - face.Origin, face.Direction);
            return new RoundDimension("R" + Text(size), PlusMinus(size), beside - half, beside + half, face.RadiusMm) { On = face.At };
        }

        return null;
    }

    /// <summary>True when the value is that size at any sizes, not only at these: it has the same derivatives.</summary>
    private bool IsSame(Dual value, ReconciledSize size, Gradient own)
    {
        if (Math.Abs(value.Value - Drawn(size)) > 1e-6) return false;
        foreach (int k in value.Gradient.Unknowns)
        {
            if (Math.Abs(value.Gradient.By(k) - own.By(k)) > Tiny) return false;
        }

        foreach (int k in own.Unknowns)
        {
            if (Math.Abs(value.Gradient.By(k) - own.By(k)) > Tiny) return false;
        }

        return true;
    }

    // ---- words ---------------------------------------------------------------------------------------------------------

    private double Drawn(ReconciledSize size) => _shape.Sizes[size.Name].Value;

    private string Text(ReconciledSize size) => _unit == LengthUnit.Inch ? Shown.Inches(Drawn(size)) : Drawn(size).ToString(size.Status == SizeStatus.Undecided ? "0.##" : "0.00", CultureInfo.InvariantCulture);

    /// <summary>What is drawn otherwise than measured is chosen, and has no ±.</summary>
    private string? PlusMinus(ReconciledSize size) => size.Status is SizeStatus.Undecided or SizeStatus.Fixed || Math.Abs(Drawn(size) - size.Estimate) > 1e-9 ? null : SizeText.PlusMinus(size, _unit);

    // ---- distances -----------------------------------------------------------------------------------------------------

    private static IEnumerable<Span> SpansOf(Reconciled reconciled, PlacedShape shape)
    {
        var read = reconciled.Readings.Select(r => r.Reading).OfType<CaliperReading>().Where(r => r.Second is not null)
            .SelectMany(r => new[] { (r.First.Text, r.Second!.Text), (r.Second.Text, r.First.Text) }).ToHashSet();
        Element[] elements = [.. shape.Elements.Values.Where(e => e is FlatElement or RoundElement)];
        for (int a = 0; a < elements.Length; a++)
            for (int b = a + 1; b < elements.Length; b++)
            {
                if (Between(elements[a], elements[b]) is { } span)
                    yield return span with { IsRead = read.Contains((elements[a].Name, elements[b].Name)) };
            }
    }

    /// <summary>The distance of two parallel planes, of an axis and a plane along it, or of two axes: beside each other or crossing.</summary>
    private static Span? Between(Element a, Element b)
    {
        switch (a, b)
        {
            case (FlatElement p, FlatElement q) when Math.Abs(Vector.Dot(p.Normal, q.Normal).Value) > Parallel:
                return Along(p.Normal, Vector.Dot(q.Point - p.Point, p.Normal));
            case (FlatElement p, RoundElement q) when Math.Abs(Vector.Dot(p.Normal, q.AxisDirection).Value) < Tiny:
                return Along(p.Normal, Vector.Dot(q.AxisPoint - p.Point, p.Normal));
            case (RoundElement, FlatElement):
                return Between(b, a);
            case (RoundElement p, RoundElement q) when Math.Abs(Vector.Dot(p.AxisDirection, q.AxisDirection).Value) > Parallel:
                Vector apart = q.AxisPoint - p.AxisPoint;
                apart -= p.AxisDirection * Vector.Dot(apart, p.AxisDirection);
                return apart.Length.Value < 1e-6 ? null : Along(apart.Unit(), apart.Length);
            case (RoundElement p, RoundElement q):
                Vector square = Vector.Cross(p.AxisDirection, q.AxisDirection).Unit();
                return Along(square, Vector.Dot(q.AxisPoint - p.AxisPoint, square));
            default:
                return null;
        }

        Span? Along(Vector direction, Dual mm) => Math.Abs(mm.Value) < 1e-6 ? null : new(Dual.Abs(mm), direction, a, b, false);
    }

    /// <summary>The two places from which extension lines start: corners of the faces, on the side of the part where both come nearest to its outside.</summary>
    private (Point3 From, Point3 To)? Ends(Span span)
    {
        Point3 along = Point3.Of(span.Along);
        if (On(span.From) is not { Count: > 0 } from || On(span.To) is not { Count: > 0 } to) return null;
        return (Outermost(from, along), Outermost(to, along));
    }

    private List<Point3>? On(Element element)
    {
        if (element is RoundElement round)
        {
            if (Extent(round, _faces) is not { } ends) return null;
            Point3 at = Point3.Of(round.AxisPoint), direction = Point3.Of(round.AxisDirection);
            return [at + direction * ends.Low, at + direction * ends.High];
        }

        return [.. _faces.Where(f => f.Kind == SurfaceKind.Plane && f.Names.Contains(element.Name)).SelectMany(Corners)];
    }

    private Point3 Outermost(List<Point3> points, Point3 along) => points.MaxBy(p =>
    {
        Point3 out_ = p - _middle;
        out_ -= along * Point3.Dot(out_, along);
        // A slight preference keeps the choice the same on parts with two equal sides.
        return out_.Length + 1e-3 * (out_.X - out_.Y + out_.Z);
    });

    /// <summary>How far a round element's faces reach along its axis, from its axis point; null when none are left on the solid.</summary>
    private static (double Low, double High)? Extent(RoundElement round, IReadOnlyList<SolidFace> faces)
    {
        Point3 at = Point3.Of(round.AxisPoint), direction = Point3.Of(round.AxisDirection);
        double[] along = [.. faces.Where(f => f.Kind == SurfaceKind.Cylinder && f.Names.Contains(round.Name)).SelectMany(Corners).Select(p => Point3.Dot(p - at, direction))];
        return along.Length == 0 ? null : (along.Min(), along.Max());
    }

    /// <summary>Whether its faces go all round: then they reach a whole diameter in both directions square to the axis. A half round reaches it in one.</summary>
    private bool IsWholeCircle(RoundElement round)
    {
        Point3 axis = Point3.Of(round.AxisDirection);
        double[] reach = [.. new Point3[] { new(1, 0, 0), new(0, 1, 0), new(0, 0, 1) }.Where(d => Math.Abs(Point3.Dot(d, axis)) < 0.5).Select(Across)];
        return reach.All(r => r > 2 * round.Radius.Value - 1e-6);

        double Across(Point3 direction)
        {
            double[] along = [.. _faces.Where(f => f.Kind == SurfaceKind.Cylinder && f.Names.Contains(round.Name)).SelectMany(Corners).Select(p => Point3.Dot(p, direction))];
            return along.Length == 0 ? 0 : along.Max() - along.Min();
        }
    }

    private static IEnumerable<Point3> Corners(SolidFace face)
    {
        for (int k = 0; k < 8; k++)
            yield return new((k & 1) == 0 ? face.Low.X : face.High.X, (k & 2) == 0 ? face.Low.Y : face.High.Y, (k & 4) == 0 ? face.Low.Z : face.High.Z);
    }

    private static double Reach(SolidFace face, Point3 direction)
    {
        double[] along = [.. Corners(face).Select(p => Point3.Dot(p, direction))];
        return along.Max() - along.Min();
    }
}
