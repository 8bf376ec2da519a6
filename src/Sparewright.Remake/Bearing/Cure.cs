namespace Sparewright.Remake.Bearing;

/// <summary>What can be done about a margin.</summary>
public enum CureKind
{
    /// <summary>Print it with its layers another way; costs no material.</summary>
    WayUp,

    /// <summary>A fillet with a bigger radius.</summary>
    BiggerRound,

    /// <summary>A plate, block, rib or boss that is thicker.</summary>
    ThickerWall,

    /// <summary>Print it in another material.</summary>
    Material,
}

/// <summary>A change that was computed: the part built again with it and put under every load.</summary>
/// <param name="What">Which size, round, way up or material.</param>
/// <param name="FromMm">The length as it is, of a round or wall.</param>
/// <param name="ToMm">The length that was tried.</param>
/// <param name="Gain">How many times as much the least margin is, both computed on the coarser grid, and its ±.</param>
/// <param name="Margin">The least margin that is to be expected with it, and its ±.</param>
/// <param name="AddedMm3">How much bigger the solid is, both as built; smaller below 0.</param>
/// <param name="Grams">How much more material it takes, less below 0, and the ± of that, which is the density's.</param>
/// <param name="ThenWeakest">The face at which it would be weakest then.</param>
public sealed record Cure(CureKind Kind, string What, double? FromMm, double? ToMm, (double Times, double PlusMinus) Gain, (double Value, double PlusMinus) Margin, double AddedMm3, (double Value, double PlusMinus) Grams, string ThenWeakest)
{
    /// <summary>A bead of 0.45 × 0.2 mm, laid at 40 to 100 mm/s: common practice, no source.</summary>
    internal const double BeadMm2 = 0.45 * 0.2, SlowMmPerS = 40, FastMmPerS = 100;

    /// <summary>Print time that comes on top, quick and slow, where the shape alone says it; a way up and a material change more than their plastic.</summary>
    public (double Quick, double Slow)? Minutes => Kind is CureKind.BiggerRound or CureKind.ThickerWall ? (AddedMm3 / (60 * BeadMm2 * FastMmPerS), AddedMm3 / (60 * BeadMm2 * SlowMmPerS)) : null;

    /// <summary>Those that bring the margin to 1 first, the one that takes least material at the top and another spool last; then the rest, the greatest gain at the top.</summary>
    public static IReadOnlyList<Cure> BestFirst(IEnumerable<Cure> cures) =>
        [.. cures.OrderBy(c => c.Margin.Value >= 1 ? 0 : 1).ThenBy(c => c.Margin.Value < 1 || c.Kind != CureKind.Material ? 0 : 1).ThenBy(c => c.Margin.Value >= 1 ? c.Grams.Value : -c.Gain.Times)];
}
