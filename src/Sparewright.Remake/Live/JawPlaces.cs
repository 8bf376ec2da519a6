using Sparewright.Part.Record;
using Sparewright.Reconcile.Readings;
using Sparewright.Solid;

namespace Sparewright.Remake.Live;

/// <summary>
/// Slides the jaws of a reading, which elements allow anywhere along them, to where the faces really are: together where both faces lie opposite each other,
/// else each to its own face. What the caliper shows stays the same.
/// </summary>
internal static class JawPlaces
{
    /// <summary>When they lie nearer than this to the display mesh, both together, jaws are on their faces, mm.</summary>
    private const double OnFaceMm = 0.08;

    /// <summary>Where along the room that there is, tried in this order: near one end, where jaws come in from, then anywhere.</summary>
    private static readonly double[] Shares = [0.88, 0.12, 0.5, 0.75, 0.25, 0.65, 0.35, 0.97, 0.03, 0.82, 0.18, 0.58, 0.42];

    private static readonly double[] TurnsDegrees = [0, 90, 45, 135, 22.5, 67.5, 112.5, 157.5, 10, 80, 100, 170, 35, 55, 125, 145];

    /// <returns>Both places, and the direction from the one to the other in which the value is meant.</returns>
    public static (Point3 From, Point3 To, Point3 Along) On(PartInView part, CaliperReading reading, JawContact contact)
    {
        (Point3 from, Point3 to, Point3 along) = (Point3.Of(contact.First), Point3.Of(contact.Second), Point3.Of(contact.Along));
        Triangle[] first = TrianglesOf(part, reading.First.Text), second = reading.Second is { } other ? TrianglesOf(part, other.Text) : first;
        if (first.Length == 0 || second.Length == 0) return (from, to, along);
        if (contact.Slides.Count == 2)
        {
            (Point3 a, Point3 b) = OnFlatFaces(part, from, to, along, first, second);
            return (a, b, along);
        }

        (Point3 From, Point3 To, Point3 Along) best = (from, to, along);
        double least = double.PositiveInfinity;
        foreach (var tried in Tries(contact, first, second))
        {
            double away = Away(tried.From, first) + Away(tried.To, second);
            if (away >= least) continue;
            (best, least) = (tried, away);
            if (away <= OnFaceMm) break;
        }

        return best;
    }

    /// <summary>The pair of places slid and turned in every way that is tried, the likeliest first.</summary>
    private static IEnumerable<(Point3 From, Point3 To, Point3 Along)> Tries(JawContact contact, Triangle[] first, Triangle[] second)
    {
        (Point3 from, Point3 to, Point3 along) = (Point3.Of(contact.First), Point3.Of(contact.Second), Point3.Of(contact.Along));
        double[] turns = contact.TurnsAbout is null ? [0] : TurnsDegrees;
        foreach ((double firstShift, double secondShift) in Shifts(contact, first, second))
        {
            Point3 slide = contact.Slides is [var only] ? Point3.Of(only) : default;
            foreach (double degrees in turns)
            {
                Point3 turnedFrom = Turned(from, degrees), turnedTo = Turned(to, degrees);
                yield return (turnedFrom + slide * firstShift, turnedTo + slide * secondShift, degrees == 0 ? along : (turnedTo - turnedFrom) * (1 / (turnedTo - turnedFrom).Length));
            }
        }

        Point3 Turned(Point3 p, double degrees)
        {
            if (degrees == 0 || contact.TurnsAbout is not { } about) return p;
            Point3 at = Point3.Of(about.Point), axis = Point3.Of(about.Direction), out_ = p - at;
            double height = Point3.Dot(out_, axis), radians = degrees * Math.PI / 180;
            out_ -= axis * height;
            return at + axis * height + out_ * Math.Cos(radians) + Point3.Cross(axis, out_) * Math.Sin(radians);
        }
    }

    /// <summary>How far each jaw slides: both to the same height where the faces share one, else each to the nearest of its own.</summary>
    private static IEnumerable<(double First, double Second)> Shifts(JawContact contact, Triangle[] first, Triangle[] second)
    {
        if (contact.Slides is not [var only])
        {
            yield return (0, 0);
            yield break;
        }

        Point3 slide = Point3.Of(only);
        double from = Point3.Dot(Point3.Of(contact.First), slide), to = Point3.Dot(Point3.Of(contact.Second), slide);
        (double lowA, double highA) = Reach(first, slide);
        (double lowB, double highB) = Reach(second, slide);
        double low = Math.Max(lowA, lowB), high = Math.Min(highA, highB);
        foreach (double share in Shares)
        {
            double at = low + share * (high - low);
            yield return low < high ? (at - from, at - to) : (Math.Clamp(at, lowA, highA) - from, Math.Clamp(at, lowB, highB) - to);
        }
    }

    private readonly record struct Triangle(Point3 A, Point3 B, Point3 C)
    {
        public Point3 Middle => (A + B + C) * (1.0 / 3);

        public double Area => Point3.Cross(B - A, C - A).Length / 2;

        /// <summary>How far a point lies from it, mm.</summary>
        public double Away(Point3 p)
        {
            Point3 normal = Point3.Cross(B - A, C - A);
            double length = normal.Length;
            if (length > 1e-12)
            {
                normal *= 1 / length;
                if (IsMetBy(p, normal)) return Math.Abs(Point3.Dot(p - A, normal));
            }

            return Math.Min(FromEdge(A, B), Math.Min(FromEdge(B, C), FromEdge(C, A)));

            double FromEdge(Point3 from, Point3 to)
            {
                Point3 edge = to - from;
                double square = Point3.Dot(edge, edge), share = square < 1e-18 ? 0 : Math.Clamp(Point3.Dot(p - from, edge) / square, 0, 1);
                return (p - from - edge * share).Length;
            }
        }

        /// <summary>Whether a line through the point along the direction goes through it.</summary>
        public bool IsMetBy(Point3 p, Point3 along)
        {
            double a = Side(A, B), b = Side(B, C), c = Side(C, A);
            return (a >= 0 && b >= 0 && c >= 0) || (a <= 0 && b <= 0 && c <= 0);

            double Side(Point3 from, Point3 to) => Point3.Dot(Point3.Cross(to - from, p - from), along);
        }
    }

    private static double Away(Point3 p, Triangle[] face) => face.Min(t => t.Away(p));

    private static Triangle[] TrianglesOf(PartInView part, string name)
    {
        HashSet<int> faces = [.. part.Solid.Faces.Index().Where(f => f.Item.Bears(name)).Select(f => f.Index)];
        Mesh mesh = part.Mesh;
        return [.. Enumerable.Range(0, mesh.TriangleCount).Where(t => faces.Contains(mesh.FaceOfTriangle[t])).Select(t => new Triangle(Corner(3 * t), Corner(3 * t + 1), Corner(3 * t + 2)))];

        Point3 Corner(int k) => new(mesh.Points[3 * mesh.Triangles[k]], mesh.Points[3 * mesh.Triangles[k] + 1], mesh.Points[3 * mesh.Triangles[k] + 2]);
    }

    private static (Point3, Point3) OnFlatFaces(PartInView part, Point3 from, Point3 to, Point3 along, Triangle[] first, Triangle[] second)
    {
        Point3 middle = (part.Solid.Low + part.Solid.High) * 0.5;
        double apart = Point3.Dot(to - from, along);
        // Slivers are no place for a jaw.
        Triangle[] broad = [.. first.OrderByDescending(t => t.Area).Take(200)], opposite = [.. second.OrderByDescending(t => t.Area).Take(200)];
        Point3[] shared = [.. broad.Select(t => t.Middle).Where(p => opposite.Any(o => o.IsMetBy(p, along))), .. opposite.Select(t => t.Middle - along * apart).Where(p => broad.Any(o => o.IsMetBy(p, along)))];
        if (shared.Length > 0)
        {
            Point3 at = shared.MaxBy(p => Aside(p - middle, along));
            return (at, at + along * apart);
        }

        var (a, b) = broad.Take(60).SelectMany(t => opposite.Take(60), (t, o) => (t.Middle, o.Middle)).MinBy(pair => Aside(pair.Item2 - pair.Item1, along));
        return (a, b);
    }

    private static double Aside(Point3 v, Point3 along) => (v - along * Point3.Dot(v, along)).Length;

    private static (double Low, double High) Reach(Triangle[] face, Point3 axis)
    {
        double[] heights = [.. face.SelectMany(t => new[] { Point3.Dot(t.A, axis), Point3.Dot(t.B, axis), Point3.Dot(t.C, axis) })];
        return (heights.Min(), heights.Max());
    }
}
