using Sparewright.Solid;
using Sparewright.Strength.Loads;

namespace Sparewright.Strength.Cases;

/// <summary>What of a load case lies near a point of the surface.</summary>
internal sealed class NearPoint(SolidLoadCase @case, PartSurface surface, double cellMm, double supportMm, double cornerMm)
{
    private readonly Nearness _supports = new(@case.Supports.SelectMany(s => s.Patch.Samples.Select(p => p.At)), supportMm);
    private readonly Nearness _loads = new(@case.Loads.SelectMany(s => s.Patch.Samples.Select(p => p.At)), WeakestPlace.TouchMm(cellMm));
    private readonly Nearness _corners = new(surface.SharpCorners.Select(c => c.At), cornerMm);

    public bool Support(Point3 at) => _supports.Has(at);

    public bool Load(Point3 at) => _loads.Has(at);

    public bool SharpCorner(Point3 at) => _corners.Has(at);

    /// <summary>Which points lie near some others, by boxes as big as near is far.</summary>
    private sealed class Nearness
    {
        private readonly double _mm;
        private readonly Dictionary<(int, int, int), List<Point3>> _boxes = [];

        public Nearness(IEnumerable<Point3> points, double mm)
        {
            _mm = mm;
            foreach (Point3 p in points)
            {
                var box = BoxOf(p);
                if (!_boxes.TryGetValue(box, out List<Point3>? list)) _boxes[box] = list = [];
                list.Add(p);
            }
        }

        public bool Has(Point3 at)
        {
            if (_boxes.Count == 0) return false;
            var (x, y, z) = BoxOf(at);
            for (int k = z - 1; k <= z + 1; k++)
                for (int j = y - 1; j <= y + 1; j++)
                    for (int i = x - 1; i <= x + 1; i++)
                        if (_boxes.TryGetValue((i, j, k), out List<Point3>? list))
                            foreach (Point3 p in list)
                                if ((p - at).Length <= _mm) return true;
            return false;
        }

        private (int, int, int) BoxOf(Point3 p) => ((int)Math.Floor(p.X / _mm), (int)Math.Floor(p.Y / _mm), (int)Math.Floor(p.Z / _mm));
    }
}
