using Sparewright.Measure.Numbers;

namespace Sparewright.Measure;

/// <summary>An arc of radius R rises by the sagitta s over a chord c: R = c²/(8s) + s/2 (plain geometry of the circle), for arcs of at most half a circle.</summary>
public static class Sagitta
{
    /// <summary>Beyond this half chord over radius the rise goes on as a straight line in R, so that a search may pass where no arc is.</summary>
    private const double NearlyHalf = 0.995;

    /// <summary>The radius, mm.</summary>
    public static double RadiusMm(double chordMm, double sagittaMm) => chordMm * chordMm / (8 * sagittaMm) + sagittaMm / 2;

    /// <summary>The rise over a chord, mm.</summary>
    public static Dual Mm(Dual radiusMm, double chordMm)
    {
        double half = chordMm / 2, least = half / NearlyHalf;
        if (radiusMm.Value >= least) return radiusMm - Dual.Sqrt(radiusMm * radiusMm - half * half);
        double across = Math.Sqrt(least * least - half * half);
        return least - across + (1 - least / across) * (radiusMm - least);
    }

    /// <summary>How fast the rise over a chord grows with the chord, on an arc of which both are known: 2cs/(c² − 4s²).</summary>
    public static double ByChord(double chordMm, double sagittaMm) => 2 * chordMm * sagittaMm / (chordMm * chordMm - 4 * sagittaMm * sagittaMm);
}
