using Sparewright.Fit.Capability;
using Sparewright.Fit.Odds;

namespace Sparewright.Fit.Drawn;

/// <summary>How much larger the whole part is to be printed so that it shrinks to size: for what no fit compensates by itself.</summary>
/// <param name="Factor">To multiply all lengths in the plane of the layers with; 1 where nothing is known to shrink.</param>
/// <param name="Uncertainty">Standard deviation of the factor.</param>
/// <param name="Proposed">True only when trial parts show it by more than twice its uncertainty: a guess about printers in general is no reason to scale a part.</param>
public sealed record ShrinkScale(double Factor, double Uncertainty, bool Proposed)
{
    /// <summary>From how the error of centre distances (or, where none were measured, outsides) grows with the size, which the width of a line does not change.</summary>
    public static ShrinkScale Of(ProcessCapability process)
    {
        KindCapability kind = process[SurfaceKind.CentreDistance].Status == CapabilityStatus.Measured ? process[SurfaceKind.CentreDistance] : process[SurfaceKind.Outside];
        NormalLength share = kind.Proportional;
        bool proposed = kind.Status == CapabilityStatus.Measured && Math.Abs(share.MeanMm) > 2 * share.StandardDeviationMm;
        return new(proposed ? 1 / (1 + share.MeanMm) : 1, share.StandardDeviationMm, proposed);
    }

    /// <summary>A fit case of a part that is printed scaled: every size leaves for the printer multiplied, so that nothing is compensated twice.</summary>
    public FitCase Applied(FitCase fit) => fit with
    {
        Conditions =
        [
            .. fit.Conditions.Select(c => c.With([.. c.Lengths.Select(l => l with
            {
                Printed = [.. l.Printed.Select(p => p with { DrawnMm = Factor * p.DrawnMm, PerSize = p.PerSize.ToDictionary(s => s.Key, s => Factor * s.Value) })],
            })])),
        ],
    };
}
