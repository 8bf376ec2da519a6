using Sparewright.Part.Sizes;
using Sparewright.Reconcile.Adjust;
using Quantity = Sparewright.Part.Sizes.Quantity;

namespace Sparewright.Reconcile.Nominals;

/// <summary>A first look at the unit in which the designer thought: the one of which the lengths are multiples, by the quantogram. It has no say in the odds.</summary>
/// <param name="Words">"1/16 in", "0.5 mm".</param>
/// <param name="Phi">How well it fits; at most √(2·<paramref name="Lengths"/>).</param>
/// <param name="Lengths">How many lengths are known well enough to ask.</param>
public sealed record PartUnit(double UnitMm, string Words, double Phi, int Lengths)
{
    /// <summary>So few lengths fit some unit by chance.</summary>
    private const int LeastLengths = 5;

    /// <summary>A length counts when it is known to a sixth of the finest unit, mm.</summary>
    private const double MostU = 0.08;

    /// <summary>φ is about standard normal where there is no unit: of the units tried one comes so high by chance in about one of a hundred parts.</summary>
    private const double LeastPhi = 3;

    private static readonly (double Mm, string Words)[] Units =
        [(5, "5 mm"), (1, "1 mm"), (0.5, "0.5 mm"), (25.4 / 4, "1/4 in"), (25.4 / 8, "1/8 in"), (25.4 / 16, "1/16 in"), (25.4 / 32, "1/32 in")];

    internal static PartUnit? Of(IReadOnlyList<Size> free, AdjustmentResult result)
    {
        double[] lengths = [.. Enumerable.Range(0, free.Count).Where(k => free[k].Quantity == Quantity.Length && result.IsDecided(k) && result.StandardUncertainty(k) <= MostU).Select(k => result.Estimates[k])];
        if (lengths.Length < LeastLengths) return null;
        (double unit, double phi) = Quantogram.Best(lengths, Units.Select(u => u.Mm));
        return phi < LeastPhi ? null : new(unit, Units.First(u => u.Mm == unit).Words, phi, lengths.Length);
    }
}
