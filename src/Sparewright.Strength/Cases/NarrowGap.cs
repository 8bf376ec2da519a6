using Sparewright.Solid;

namespace Sparewright.Strength.Cases;

/// <summary>Two faces that look at each other across so little air that cells beyond a size would take them as grown together.</summary>
/// <param name="First">The lower number of the two faces in the solid's table.</param>
/// <param name="At">A point of the first face where they are nearest; job's axes.</param>
/// <param name="Mm">How far they are apart there.</param>
/// <param name="Slant">The sum of the normal's components, all taken above 0: how far a cell reaches across the gap, in its edges.</param>
public readonly record struct NarrowGap(int First, int Second, Point3 At, double Mm, double Slant)
{
    /// <summary>The largest cells that leave it open: two that touch, one cut by each face, must not reach across.</summary>
    public double OpenedByMm => Mm / (2 * Slant);

    /// <summary>So many points of a face at least look at the other: less is a chance meeting.</summary>
    private const int FewPoints = 4;

    /// <summary>Faces look at each other where their normals are turned by no more than 20° from opposite ones, as a cosine: the root of a groove is no gap.</summary>
    private const double Opposite = -0.94;

    /// <summary>The gaps between different faces that cells of a size would close, by their faces. A hole is a face of its own and none.</summary>
    /// <param name="surface">With points no farther apart than two cells.</param>
    public static IReadOnlyList<NarrowGap> ClosedBy(PartSurface surface, double cellMm)
    {
        double narrowerMm = 2 * Math.Sqrt(3) * cellMm;
        var boxes = new Dictionary<(int, int, int), List<int>>();
        for (int n = 0; n < surface.Points.Count; n++)
        {
            var box = BoxOf(surface.Points[n].At);
            if (!boxes.TryGetValue(box, out List<int>? points)) boxes[box] = points = [];
            points.Add(n);
        }

        var found = new SortedDictionary<(int, int), (NarrowGap Narrowest, int Points)>();
        var nearest = new Dictionary<int, double>();
        foreach (SurfacePoint p in surface.Points)
        {
            var (x, y, z) = BoxOf(p.At);
            // The nearest of each other face: a gap is as wide as the air straight out from the point.
            nearest.Clear();
            for (int step = 0; step < 27; step++)
            {
                if (!boxes.TryGetValue((x + step % 3 - 1, y + step / 3 % 3 - 1, z + step / 9 - 1), out List<int>? near) || surface.Points[near[^1]].Face <= p.Face) continue;
                foreach (int n in near)
                {
                    SurfacePoint q = surface.Points[n];
                    if (q.Face <= p.Face || Point3.Dot(p.Outward, q.Outward) > Opposite) continue;
                    Point3 across = q.At - p.At;
                    double mm = Point3.Dot(across, p.Outward);
                    if (!(mm > 0 && mm < narrowerMm) || Point3.Dot(across, q.Outward) > 0 || (across - p.Outward * mm).Length > 2 * cellMm) continue;
                    nearest[q.Face] = Math.Min(mm, nearest.GetValueOrDefault(q.Face, double.MaxValue));
                }
            }

            foreach (var (face, mm) in nearest)
            {
                var (narrowest, points) = found.GetValueOrDefault((p.Face, face), (default(NarrowGap) with { Mm = double.MaxValue }, 0));
                found[(p.Face, face)] = (mm < narrowest.Mm ? new(p.Face, face, p.At, mm, Math.Abs(p.Outward.X) + Math.Abs(p.Outward.Y) + Math.Abs(p.Outward.Z)) : narrowest, points + 1);
            }
        }

        return [.. found.Values.Where(f => f.Points >= FewPoints).Select(f => f.Narrowest).Where(g => g.OpenedByMm < cellMm)];

        (int, int, int) BoxOf(Point3 at) => ((int)Math.Floor(at.X / narrowerMm), (int)Math.Floor(at.Y / narrowerMm), (int)Math.Floor(at.Z / narrowerMm));
    }
}
