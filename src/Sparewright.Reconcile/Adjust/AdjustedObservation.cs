namespace Sparewright.Reconcile.Adjust;

/// <summary>An observation after the adjustment.</summary>
/// <param name="Adjusted">What it should have shown.</param>
/// <param name="Redundancy">0: nothing else checks it; 1: the others decide all that it says. The sum over all is the degrees of freedom.</param>
public sealed record AdjustedObservation(string Name, double Observed, double StandardUncertainty, double Adjusted, double Redundancy)
{
    /// <inheritdoc cref="Observation.MayBeWrong"/>
    public bool MayBeWrong { get; init; } = true;

    /// <inheritdoc cref="Observation.IsEvidence"/>
    public bool IsEvidence { get; init; } = true;

    /// <inheritdoc cref="Observation.WholeUncertainty"/>
    public double WholeUncertainty { get; init; } = StandardUncertainty;

    /// <summary>
    /// How well the others check it, by its whole uncertainty u: u² over the variance of the difference from what all others foretell, at most 1; 0 when not checked.
    /// That is the redundancy itself where it shares no error; the smallest detectable error is δ₀u/√ of it.
    /// </summary>
    public double Check => IsChecked ? Math.Min(1, Redundancy * (WholeUncertainty / StandardUncertainty) * (WholeUncertainty / StandardUncertainty)) : 0;

    /// <summary>adjusted − observed.</summary>
    public double Residual => Adjusted - Observed;

    /// <summary>False when an error in it would go into the unknowns unseen.</summary>
    public bool IsChecked => Redundancy >= Reliability.LeastRedundancy;

    /// <summary>Residual over its own standard deviation: standard normal when all is well (Baarda's w); null when not checked.</summary>
    public double? W => IsChecked ? Residual / (StandardUncertainty * Math.Sqrt(Redundancy)) : null;

    /// <summary>How much too large this observation is, if it alone is wrong: −v/r; null when not checked.</summary>
    public double? EstimatedGrossError => IsChecked ? -Residual / Redundancy : null;

    /// <summary>The smallest error that a w-test of this level notices with this power: δ₀σ/√r; infinite when not checked.</summary>
    public double SmallestDetectable(double level, double power) =>
        IsChecked ? Reliability.Shift(level, power) * StandardUncertainty / Math.Sqrt(Redundancy) : double.PositiveInfinity;
}
