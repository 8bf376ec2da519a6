using Sparewright.Solid;

namespace Sparewright.Strength.Cases;

/// <summary>Which points lie near some others, by boxes as big as near is far.</summary>
internal sealed class Nearness
{
    /// <summary>Boxes are numbered within so many each way of the first.</summary>
    private const long Most = 1 << 20;

    private readonly double _mm;
    private readonly Dictionary<long, List<Point3>> _boxes = [];

    public Nearness(IEnumerable<Point3> points, double mm)
    {
        _mm = mm;
        long last = -1;
        List<Point3> list = [];
        foreach (Point3 p in points)
        {
            long box = BoxOf(p, 0, 0, 0);
            // Points come piece by piece of a surface: mostly the next is in the box of the one before.
            if (box != last && !_boxes.TryGetValue(box, out list!)) _boxes[box] = list = [];
            last = box;
            list.Add(p);
        }
    }

    public bool Has(Point3 at)
    {
        if (_boxes.Count == 0) return false;
        for (int k = -1; k <= 1; k++)
            for (int j = -1; j <= 1; j++)
                for (int i = -1; i <= 1; i++)
                    if (_boxes.TryGetValue(BoxOf(at, i, j, k), out List<Point3>? list))
                        foreach (Point3 p in list)
                            if ((p - at).Length <= _mm) return true;
        return false;
    }

    private long BoxOf(Point3 p, int i, int j, int k) => (((long)Math.Floor(p.X / _mm) + i) * 2 * Most + (long)Math.Floor(p.Y / _mm) + j) * 2 * Most + (long)Math.Floor(p.Z / _mm) + k;
}
