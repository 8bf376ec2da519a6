namespace Sparewright.Reconcile.Nominals;

/// <summary>
/// Whether lengths are multiples of one unit: Kendall's cosine quantogram φ(q) = √(2/n) Σ cos(2π xᵢ/q), which is about normal with mean 0 and variance 1 where they are not
/// (D. G. Kendall, Phil. Trans. R. Soc. A 276, 231–266, 1974).
/// </summary>
public static class Quantogram
{
    /// <summary>φ of one unit, between −√(2n) and √(2n).</summary>
    /// <param name="lengthsMm">The lengths.</param>
    /// <param name="unitMm">The unit that is tried.</param>
    public static double Of(IReadOnlyList<double> lengthsMm, double unitMm) => Math.Sqrt(2.0 / lengthsMm.Count) * lengthsMm.Sum(x => Math.Cos(2 * Math.PI * x / unitMm));

    /// <summary>The unit that fits best. Whole parts of a unit fit as well as itself: of those that fit all but as well, the largest is meant.</summary>
    /// <param name="unitsMm">The units that are tried.</param>
    public static (double UnitMm, double Phi) Best(IReadOnlyList<double> lengthsMm, IEnumerable<double> unitsMm)
    {
        (double UnitMm, double Phi)[] tried = [.. unitsMm.Select(q => (q, Of(lengthsMm, q)))];
        double most = tried.Max(t => t.Phi);
        return tried.Where(t => t.Phi >= most - AllButAsWell * Math.Sqrt(2.0 * lengthsMm.Count)).MaxBy(t => t.UnitMm);
    }

    /// <summary>A share of the greatest φ there can be.</summary>
    private const double AllButAsWell = 0.01;
}
