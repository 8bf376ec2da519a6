using Sparewright.Measure.Numbers;

namespace Sparewright.Measure;

/// <summary>
/// Inside jaws have flats, and two crossed edges: they touch a round hole at the ends of a chord and read it small.
/// With b the chord across the jaws, a hole of diameter D reads √(D² − b²) (plain geometry of the circle).
/// </summary>
public static class JawFlat
{
    /// <summary>What a caliper of jaw flat b shows in a hole of diameter D, mm. The hole must be wider than the flat.</summary>
    public static double ReadsMm(double diameterMm, double flatMm) => Math.Sqrt(diameterMm * diameterMm - flatMm * flatMm);

    /// <summary>The diameter of the hole in which a caliper of jaw flat b shows R, mm.</summary>
    public static Dual DiameterMm(Dual readsMm, Dual flatMm) => Dual.Sqrt(readsMm * readsMm + flatMm * flatMm);

    /// <summary>
    /// How far short of the wall of a hole of diameter D each jaw of flat b stops, mm: ½(D − √(D² − b²)), half of what a reading across the hole loses.
    /// The hole must be wider than the flat.
    /// </summary>
    public static Dual ShortfallMm(Dual diameterMm, Dual flatMm) => 0.5 * (diameterMm - Dual.Sqrt(diameterMm * diameterMm - flatMm * flatMm));
}
