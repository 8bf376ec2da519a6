using System.Globalization;
using Sparewright.Part.Record;

namespace Sparewright.Fit.Windows;

/// <summary>
/// An opening that a snap arm must pass and catch behind: wide enough that arm or arms go in and need not bend further than they bear, narrow enough that enough of each hook holds. Clearance is the opening less what is measured over the arms
/// behind their hooks, in the direction in which they bend.
/// </summary>
public sealed record SnapFit(SnapHook Hook)
{
    /// <summary>Of each hook so much must hold behind the edge. Common practice, no source.</summary>
    public const double HoldingShare = 0.5;

    /// <summary>What most plastics of snap arms bear again and again. Common practice, no source; moulded ones bear 1.5 to 4 % and more once (process notes 3.7, from memory).</summary>
    public const double UsualStrain = 0.02;

    /// <summary>How far one arm may be bent aside, mm: y = ⅔ ε L²/h for a constant section (a maker's handbook of snap fits, process notes 3.4, read); null where its length is not said.</summary>
    public double? BearsMm => Hook is { LongMm: { } longMm, ThickMm: { } thickMm } ? 2.0 / 3 * (Hook.Strain ?? UsualStrain) * longMm * longMm / thickMm : null;

    /// <summary>The clearances at which it passes and catches; the least lies above the greatest where no opening does both.</summary>
    /// <param name="slidesMm">The least clearance at which the arms themselves go in.</param>
    public ClearanceWindow Window(double slidesMm)
    {
        // With an opening wider by c than the arms, each of n hooks stands behind its edge by its height less c/n, and gives way by as much while it passes.
        double catches = Hook.Arms * Hook.OutMm * (1 - HoldingShare), passes = Hook.Arms * (Hook.OutMm - (BearsMm ?? double.PositiveInfinity));
        return new(Math.Max(slidesMm, passes), catches, $"passes and catches: {Words}");
    }

    /// <summary>What must be looked at; null where nothing must.</summary>
    public string? Remark(ClearanceWindow window)
    {
        if (BearsMm is not { } bears)
            return window.LowMm >= window.HighMm ? $"half of a hook of {Mm(Hook.OutMm)} is less than what its arm needs to go in: no opening lets it pass and catch" : "how far its arm can bend is not said: add `arm_length` and `arm_thickness`";
        double least = Hook.OutMm * HoldingShare;
        return window.LowMm < window.HighMm ? null : bears < least
            ? $"to catch by half its hook the arm must give way by {Mm(least)}, and bears {Mm(bears)}: no opening lets it pass and catch. A longer or thinner arm would, or a lower hook"
            : $"half of a hook of {Mm(Hook.OutMm)} is less than what its arm needs to go in: no opening lets it pass and catch";
    }

    private string Words => string.Create(CultureInfo.InvariantCulture,
        $"half of each hook holds (common practice, no source); {(BearsMm is { } bears ? $"an arm bends by at most {Mm(bears)}, ⅔ ε L²/h at {100 * (Hook.Strain ?? UsualStrain):0.#} % {(Hook.Strain is null ? "(common practice, no source)" : "as the job says")}" : "how far it can bend is not said")}");

    private static string Mm(double mm) => string.Create(CultureInfo.InvariantCulture, $"{mm:0.00} mm");
}
