using Sparewright.Solid;

namespace Sparewright.Strength.Formulas;

/// <summary>Measuring a part by looking through it.</summary>
internal static class Ray
{
    /// <summary>How far along a unit direction a closed surface is crossed, mm, nearest first; each crossing once.</summary>
    public static IReadOnlyList<double> Crossings(Mesh mesh, Point3 from, Point3 along)
    {
        // A hair aside, so that no edge between two triangles is met.
        Point3 aside = Math.Abs(along.X) < 0.6 ? new(1, 0, 0) : new Point3(0, 1, 0), across = Point3.Cross(along, aside);
        from += across * 1.3e-5 + Point3.Cross(across, along) * 0.7e-5;
        var found = new List<double>();
        for (int t = 0; t < mesh.TriangleCount; t++)
        {
            // Möller, Trumbore, "Fast, minimum storage ray/triangle intersection", J. Graphics Tools 2 (1997), from memory.
            Point3 a = Point(0), e = Point(1) - a, f = Point(2) - a, p = Point3.Cross(along, f);
            double determinant = Point3.Dot(e, p);
            if (Math.Abs(determinant) < 1e-14) continue;
            Point3 s = from - a, q = Point3.Cross(s, e);
            double u = Point3.Dot(s, p) / determinant, v = Point3.Dot(along, q) / determinant, distance = Point3.Dot(f, q) / determinant;
            if (u >= 0 && v >= 0 && u + v <= 1 && distance > 1e-6) found.Add(distance);

            Point3 Point(int corner)
            {
                int n = 3 * mesh.Triangles[3 * t + corner];
                return new(mesh.Points[n], mesh.Points[n + 1], mesh.Points[n + 2]);
            }
        }

        found.Sort();
        return found;
    }
}
