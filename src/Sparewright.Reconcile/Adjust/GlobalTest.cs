namespace Sparewright.Reconcile.Adjust;

/// <summary>Whether the residuals as a whole are as large as the stated uncertainties let expect: T = Σ(v/σ)² against χ².</summary>
/// <param name="DegreesOfFreedom">Observations less what they had to decide. At 0 there is nothing to test.</param>
public readonly record struct GlobalTest(double ChiSquare, int DegreesOfFreedom)
{
    /// <summary>√(T/f): by how much the uncertainties would have to be multiplied to be believed; NaN without degrees of freedom.</summary>
    public double ErrorFactor => DegreesOfFreedom > 0 ? Math.Sqrt(ChiSquare / DegreesOfFreedom) : double.NaN;

    /// <summary>Odds of a T this large or larger when all is well (one-sided); 1 without degrees of freedom.</summary>
    public double P => DegreesOfFreedom > 0 ? Measure.Uncertainty.ChiSquare.UpperTail(ChiSquare, DegreesOfFreedom) : 1;

    /// <summary>Odds of a T this extreme on either side: too large is a contradiction, too small means uncertainties stated too large.</summary>
    public double TwoSidedP => Math.Min(1, 2 * Math.Min(P, 1 - P)) is var p && DegreesOfFreedom > 0 ? p : 1;

    /// <summary>Largest T accepted by a one-sided test of this level.</summary>
    public double Critical(double level) => Measure.Uncertainty.ChiSquare.Quantile(1 - level, DegreesOfFreedom);

    /// <summary>Between which T a two-sided test of this level accepts.</summary>
    public (double Low, double High) Bounds(double level) =>
        (Measure.Uncertainty.ChiSquare.Quantile(level / 2, DegreesOfFreedom), Measure.Uncertainty.ChiSquare.Quantile(1 - level / 2, DegreesOfFreedom));

    /// <summary>True when the observations do not contradict each other at this level (one-sided).</summary>
    public bool Passes(double level) => P >= level;
}
