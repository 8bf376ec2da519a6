using Sparewright.Strength.Materials;

namespace Sparewright.Strength.Margins;

/// <summary>
/// How many times what the part is allowed to bear is in what it has to bear: below 1 it is asked too much. With its ±, which holds in 95 of 100 cases as far as stress and strength are known; factors count as exact.
/// </summary>
/// <param name="Value">By the greatest stress; its mode says how it would go.</param>
/// <param name="TsaiWu">The second number, in which all stresses act together.</param>
/// <param name="Hoffman">A check on the second number.</param>
public sealed record Margin(double Value, double PlusMinus, FailureMode Mode, double TsaiWu, double Hoffman)
{
    /// <summary>Two standard deviations, near enough, hold 95 of 100 cases.</summary>
    private const double Coverage = 2;

    /// <param name="stressPlusMinus">The ± of the stress as a share of it, 95 of 100 cases, from the solver's two resolutions.</param>
    public static Margin Of(Stress stress, Allowables allowables, double stressPlusMinus)
    {
        LayeredStrength strength = allowables.Strength;
        Reserve reserve = MaximumStress.Of(stress, strength);
        double spread = Coverage * allowables.SpreadOf(reserve.Mode);
        return new(reserve.Factor, Around(reserve.Factor, stressPlusMinus, spread), reserve.Mode, QuadraticCriterion.TsaiWu(strength).Reserve(stress), QuadraticCriterion.Hoffman(strength).Reserve(stress));
    }

    /// <summary>Whether it stays at 1 or above even where stress and strength are as bad as their ± allows.</summary>
    public bool HoldsWithItsError => Value - PlusMinus >= 1;

    private static double Around(double value, double stress, double strength) => double.IsFinite(value) ? value * Math.Sqrt(stress * stress + strength * strength) : 0;
}
