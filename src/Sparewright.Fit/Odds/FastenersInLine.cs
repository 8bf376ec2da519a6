namespace Sparewright.Fit.Odds;

/// <summary>
/// Fasteners in a row: the part may be pushed along the row until all go through. Each hole may be off by its room, the half of its clearance; in a floating pair
/// (clearance holes on both sides) both sides' rooms add up, in a fixed pair (one side holds the fastener) there is only one (ASME Y14.5M-1994 appendix B, H = F + T₁ + T₂; ISO 5458 for the patterns).
/// All go through exactly when every two of them do (intervals that meet two by two have a point in common).
/// </summary>
/// <param name="Offsets">By how much the second and each further hole lies off its fastener when the first sits in the middle of its own, along the row.</param>
/// <param name="Rooms">Of each hole: half its clearance, both sides' for a floating pair.</param>
/// <param name="Window">Of every hole's clearance, i.e. twice its room.</param>
public sealed record FastenersInLine(string Name, IReadOnlyList<LengthSum> Offsets, IReadOnlyList<LengthSum> Rooms, ClearanceWindow Window)
    : FitCondition(Name, [.. Offsets, .. Rooms])
{
    public override int Shown => Offsets.Count;

    internal override (double LowMm, double HighMm) Bounds(int length, ReadOnlySpan<double> earlierMm)
    {
        if (length < Offsets.Count) return (double.NegativeInfinity, double.PositiveInfinity);
        double low = 0.5 * Window.LowMm, high = 0.5 * Window.HighMm;
        if (length < Lengths.Count - 1) return (low, high);

        // Where along the row the part may be so that all but the last go through.
        double from = double.NegativeInfinity, to = double.PositiveInfinity;
        for (int hole = 0; hole < Offsets.Count; hole++)
        {
            double offset = hole == 0 ? 0 : earlierMm[hole - 1], room = earlierMm[Offsets.Count + hole];
            (from, to) = (Math.Max(from, offset - room), Math.Min(to, offset + room));
        }

        if (from > to) return (double.PositiveInfinity, double.NegativeInfinity);
        double last = Offsets.Count == 0 ? 0 : earlierMm[Offsets.Count - 1];
        return (Math.Max(low, Math.Max(from - last, last - to)), high);
    }

    public override FitCondition With(IReadOnlyList<LengthSum> lengths) =>
        this with { Offsets = [.. lengths.Take(Offsets.Count)], Rooms = [.. lengths.Skip(Offsets.Count)], Lengths = lengths };
}
