namespace Sparewright.Strength.Stresses;

/// <summary>How well a grid shows a hole or round, by the cells across its diameter.</summary>
public enum Resolution
{
    /// <summary>Fewer than 12 cells: no peak is told, the handbook's factor is used.</summary>
    NotResolved,

    /// <summary>12 to 24 cells: a peak is told with its error, which is some 10 %.</summary>
    Coarse,

    /// <summary>24 cells and more: 5 % and better.</summary>
    Resolved,
}

/// <summary>A value found at two cell sizes: the finer one's, and how far off it may be.</summary>
/// <param name="Value">From the finer grid.</param>
/// <param name="Error">
/// What the next halving of the cells would still change and all after it, if errors shrink with the cell size as they did between the two grids at first order:
/// |fine − coarse| / (ratio − 1). Errors near a surface cut through cells shrink at least at first order, so the true error is expected within it.
/// </param>
public readonly record struct TwoGridValue(double Value, double Error)
{
    /// <param name="ratio">Cell size of the coarser grid over that of the finer, above 1.</param>
    public static TwoGridValue Of(double fine, double coarse, double ratio) =>
        ratio > 1 ? new(fine, Math.Abs(fine - coarse) / (ratio - 1)) : throw new ArgumentException("the grids must differ in cell size", nameof(ratio));
}

/// <summary>The rules by which results are called resolved (collected checks, strength.md 1.3: -15 %, -6 %, -0.2 % at 12, 24, 48 cells across, measured there).</summary>
public static class Resolutions
{
    public const int CellsForAny = 12;

    public const int CellsForGood = 24;

    public static Resolution Of(double diameterMm, double cellMm) => (diameterMm / cellMm) switch
    {
        // A hair's breadth below counts as there.
        < CellsForAny - 1e-6 => Resolution.NotResolved,
        < CellsForGood - 1e-6 => Resolution.Coarse,
        _ => Resolution.Resolved,
    };
}
