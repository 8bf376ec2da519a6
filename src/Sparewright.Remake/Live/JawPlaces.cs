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
    private const double Near = 0.35, FromTheMouth = 0.12;

    public static (Point3 From, Point3 To) On(PartInView part, CaliperReading reading, JawContact contact)
    {
        (Point3 from, Point3 to, Point3 along) = (Point3.Of(contact.First), Point3.Of(contact.Second), Point3.Of(contact.Along));
        Triangle[] first = TrianglesOf(part, reading.First.Text), second = reading.Second is { } other ? TrianglesOf(part, other.Text) : first;
        if (first.Length == 0 || second.Length == 0) return (from, to);
        if (contact.TurnsAbout is { } axis) (from, to) = Turned(from, to, Point3.Of(axis.Point), Point3.Of(axis.Direction), first);
        return contact.Slides.Count switch
        {
            2 => OnFlatFaces(part, from, to, along, first, second),
            1 => AlongAxis(part, from, to, Point3.Of(contact.Slides[0]), first, second),
            _ => (from, to),
        };
    }

    private readonly record struct Triangle(Point3 A, Point3 B, Point3 C)
    {
        public Point3 Middle => (A + B + C) * (1.0 / 3);

        public double Area => Point3.Cross(B - A, C - A).Length / 2;

        /// <summary>Whether a line through the point along the direction goes through it.</summary>
        public bool IsMetBy(Point3 p, Point3 along)
        {
            double a = Side(A, B), b = Side(B, C), c = Side(C, A);
            return (a >= 0 && b >= 0 && c >= 0) || (a <= 0 && b <= 0 && c <= 0);

            double Side(Point3 from, Point3 to) => Point3.Dot(Point3.Cross(to - from, p - from), along);
        }
    }

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

    private static (Point3, Point3) AlongAxis(PartInView part, Point3 from, Point3 to, Point3 axis, Triangle[] first, Triangle[] second)
    {
        (double lowA, double highA) = Reach(first, axis);
        (double lowB, double highB) = Reach(second, axis);
        double low = Math.Max(lowA, lowB), high = Math.Min(highA, highB);
        if (low >= high) return (At(from, Math.Clamp(low, lowA, highA)), At(to, Math.Clamp(low, lowB, highB)));
        // Jaws come in from the side that lies at the outside of the part.
        Point3[] corners = [part.Solid.Low, part.Solid.High];
        double outer = corners.Max(c => Math.Abs(Point3.Dot(c, axis))), share = Math.Abs(high) >= Math.Abs(low) && Math.Abs(high) <= outer + 1 ? 1 - FromTheMouth : FromTheMouth;
        double at = low + share * (high - low);
        return (At(from, at), At(to, at));

        Point3 At(Point3 p, double height) => p + axis * (height - Point3.Dot(p, axis));
    }

    /// <summary>Turned about the axis to where the face has surface on both sides: not every round face goes all round.</summary>
    private static (Point3, Point3) Turned(Point3 from, Point3 to, Point3 at, Point3 axis, Triangle[] face)
    {
        Point3 out_ = to - at;
        out_ -= axis * Point3.Dot(out_, axis);
        Point3 square = Point3.Cross(axis, out_);
        double most = Near * out_.Length;
        foreach (int degrees in new[] { 0, 90, 45, 135, 22, 67, 112, 157 })
        {
            Point3 turned = out_ * Math.Cos(degrees * Math.PI / 180) + square * Math.Sin(degrees * Math.PI / 180);
            if (HasSurface(turned) && HasSurface(turned * -1)) return (from + out_ - turned, to - out_ + turned);
        }

        return (from, to);

        bool HasSurface(Point3 direction) => face.Any(t => Aside(t.A - at - direction, axis) < most);
    }

    private static double Aside(Point3 v, Point3 along) => (v - along * Point3.Dot(v, along)).Length;

    private static (double Low, double High) Reach(Triangle[] face, Point3 axis)
    {
        double[] heights = [.. face.SelectMany(t => new[] { Point3.Dot(t.A, axis), Point3.Dot(t.B, axis), Point3.Dot(t.C, axis) })];
        return (heights.Min(), heights.Max());
    }
}
