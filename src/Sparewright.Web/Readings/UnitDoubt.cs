using Sparewright.Measure.Quantities;

namespace Sparewright.Web.Readings;

/// <summary>A value that would agree with what is known if it was in the other unit: before it is kept somebody must say which.</summary>
/// <param name="AsTyped">As it was understood.</param>
/// <param name="Other">The same digits in the other unit; null where they cannot be (a fraction).</param>
/// <param name="ComparedMm">What it was compared with, mm.</param>
/// <param name="With">What says so, as the beginning of a sentence: "The reading before said".</param>
public sealed record UnitDoubt(Entered AsTyped, Entered? Other, double ComparedMm, string With)
{
    /// <summary>
    /// How far the ratio to what is known may be from 25.4 and still look like a slip of the unit: ratios between 20 and 32 do not come about by measuring
    /// (our judgement; wide, because what is known may be no more than a starting value).
    /// </summary>
    private const double Wide = 1.25;

    /// <summary>Null when there is nothing to ask.</summary>
    /// <param name="repeatsMm">The other repeats of the same reading.</param>
    /// <param name="adjustedMm">What the part as reconciled would show there.</param>
    public static UnitDoubt? Of(Entered entered, IReadOnlyList<double> repeatsMm, double? adjustedMm)
    {
        if (repeatsMm.Count > 0)
        {
            double[] sorted = [.. repeatsMm.Order()];
            double median = sorted[sorted.Length / 2];
            return LooksLike(entered.Value, median) ? new(entered, entered.InOtherUnit(), median, repeatsMm.Count == 1 ? "The reading before said" : "The readings before said") : null;
        }

        return adjustedMm is { } adjusted && LooksLike(entered.Value, adjusted) ? new(entered, entered.InOtherUnit(), adjusted, "The part as it stands has") : null;
    }

    private static bool LooksLike(double value, double known)
    {
        if (!(value > 0) || !(known > 0)) return false;
        double ratio = value > known ? value / known : known / value;
        return ratio > Unit.Inch.Size / Wide && ratio < Unit.Inch.Size * Wide;
    }
}
