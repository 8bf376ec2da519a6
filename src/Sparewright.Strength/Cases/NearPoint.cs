using Sparewright.Solid;
using Sparewright.Strength.Loads;

namespace Sparewright.Strength.Cases;

/// <summary>What of a load case lies near a point of the surface.</summary>
/// <param name="supports">Where the case is held (<see cref="SupportsOf"/>), the same for every grid.</param>
internal sealed class NearPoint(Nearness supports, SolidLoadCase @case, PartSurface surface, double cellMm, double cornerMm)
{
    private readonly Nearness _loads = new(@case.Loads.SelectMany(s => s.Patch.Samples.Select(p => p.At)), WeakestPlace.TouchMm(cellMm));
    private readonly Nearness _corners = new(surface.SharpCorners.Select(c => c.At), cornerMm);

    public static Nearness SupportsOf(SolidLoadCase @case, double supportMm) => new(@case.Supports.SelectMany(s => s.Patch.Samples.Select(p => p.At)), supportMm);

    public bool Support(Point3 at) => supports.Has(at);

    public bool Load(Point3 at) => _loads.Has(at);

    public bool SharpCorner(Point3 at) => _corners.Has(at);
}
