using Sparewright.Fit.Capability;

namespace Sparewright.Fit.Drawn;

/// <summary>A chamfer of 45° on fitting edges that lie on the bed, so that the first layers' flare stays within the part.</summary>
/// <param name="LegMm">Of the chamfer, in mm; 0 where none is needed.</param>
/// <param name="FlareMm">By how much each side of the first layers stands out further than the layers above, in mm.</param>
public sealed record FlareRelief(double LegMm, NormalLength FlareMm, CapabilityStatus Status)
{
    /// <summary>Legs are drawn to this, in mm.</summary>
    private const double GridMm = 0.1;

    /// <summary>A leg that clears the flare of 19 prints in 20; never more than 0.8 mm (common practice is 0.4 to 0.5 mm; from memory).</summary>
    public static FlareRelief Of(ProcessCapability process, double sizeMm)
    {
        NormalLength first = process[SurfaceKind.FirstLayer].Forecast(sizeMm), above = process[SurfaceKind.Outside].Forecast(sizeMm);
        var flare = new NormalLength(0.5 * (first.MeanMm - above.MeanMm), 0.5 * Math.Sqrt(first.VarianceMm2 + above.VarianceMm2));
        // 1.645: one-sided 95 %.
        double needed = flare.MeanMm + 1.645 * flare.StandardDeviationMm;
        double leg = needed < 0.5 * GridMm ? 0 : Math.Min(0.8, Math.Round(Math.Ceiling(needed / GridMm - 1e-9) * GridMm, 9));
        return new(leg, flare, process[SurfaceKind.FirstLayer].Status);
    }
}
