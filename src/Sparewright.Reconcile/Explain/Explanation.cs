namespace Sparewright.Reconcile.Explain;

/// <summary>A way in which a wrong reading may have come about.</summary>
/// <param name="Why">In words: "two digits swapped".</param>
/// <param name="ShouldHaveReadMm">What the display would have said without it, mm; null where that cannot be said.</param>
/// <param name="Odds">That it was this way, given that this reading is wrong; all ways together, "none of these" among them, make one.</param>
public sealed record Explanation(string Why, double? ShouldHaveReadMm, double Odds)
{
    /// <summary>True for the entry that stands for all that was not thought of.</summary>
    public bool IsNoneOfThese { get; init; }
}
