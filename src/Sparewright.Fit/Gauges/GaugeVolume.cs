using Sparewright.Fit.Counterparts;

namespace Sparewright.Fit.Gauges;

/// <summary>About how much plastic gauges take, before any solid is built: by what surroundings keep around a surface, as if it lay by itself.</summary>
public static class GaugeVolume
{
    /// <summary>One gauge with its share of the bar, in mm³.</summary>
    public static double OfOneMm3(SurfaceKind kind, double sizeMm) => OfMm3(kind, sizeMm, 1, 0, 0);

    /// <summary>One gauge that holds a whole pattern of holes, in mm³.</summary>
    public static double OfPatternMm3(IReadOnlyList<MetSurface> holes)
    {
        double Reach(Func<MetSurface, double> at) => holes.Max(at) - holes.Min(at);
        double[] apart = [.. new[] { Reach(h => h.Middle.X.Value), Reach(h => h.Middle.Y.Value), Reach(h => h.Middle.Z.Value) }.OrderDescending()];
        return OfMm3(holes[0].Kind, holes[0].SizeMm.Value, holes.Count, apart[0], apart[1]);
    }

    private static double OfMm3(SurfaceKind kind, double sizeMm, int surfaces, double longer, double shorter)
    {
        double side = sizeMm + 2 * Surroundings.WallMm, high = Math.Max(Surroundings.ShortestMm, Surroundings.LongestInDiameters * sizeMm);
        double plan = kind.IsHollow() ? (side + longer) * (side + shorter) - surfaces * Math.PI / 4 * sizeMm * sizeMm : sizeMm * sizeMm;
        return plan * high + (side + longer + GaugeStrip.GapMm) * GaugeStrip.LeastBarWidthMm * GaugeStrip.BarHeightMm;
    }
}
