using System.Globalization;
using Sparewright.Measure;

namespace Sparewright.Strength.Formulas;

public enum ShoulderShape { FlatBar, RoundBar }

public enum ShoulderLoad { Tension, Bending, Torsion }

/// <summary>A bar that steps from one width to a smaller one with a round between: how much more than in the small one the stress at the round is (Data/shoulder-fits.csv).</summary>
/// <param name="LargeMm">Width or diameter of the larger end.</param>
/// <param name="SmallMm">Of the smaller end.</param>
public sealed record Shoulder(ShoulderShape Shape, double LargeMm, double SmallMm, double RadiusMm)
{
    private static readonly IReadOnlyList<ShoulderFit> Fits = [.. DataTable.Rows(typeof(Shoulder), "shoulder-fits.csv").Select(ShoulderFit.Read)];

    /// <summary>Every fit, for whoever checks them against each other.</summary>
    internal static IReadOnlyList<ShoulderFit> AllFits => Fits;

    /// <summary>How high the step is over the round's radius.</summary>
    public double Steepness => (LargeMm - SmallMm) / 2 / RadiusMm;

    /// <summary>The factor, or null outside the range of the fits: rounds too small for their step, or no step to speak of.</summary>
    public double? Kt(ShoulderLoad load) => Fits.FirstOrDefault(f => f.Shape == Shape && f.Load == load && Steepness >= f.From && Steepness <= f.To)?.At(Steepness, (LargeMm - SmallMm) / LargeMm);
}

/// <summary>Kt = C1 + C2 y + C3 y² + C4 y³ with y = 2h/D and C = a + b √(h/r) + c h/r, in a range of h/r.</summary>
internal sealed record ShoulderFit(ShoulderShape Shape, ShoulderLoad Load, double From, double To, IReadOnlyList<(double A, double B, double C)> Coefficients)
{
    public double At(double steepness, double y) => Coefficients.Select((_, k) => C(k, steepness) * Math.Pow(y, k)).Sum();

    /// <summary>C1 … C4 at a steepness h/r; the number counts from 0.</summary>
    public double C(int number, double steepness)
    {
        var (a, b, c) = Coefficients[number];
        return a + b * Math.Sqrt(steepness) + c * steepness;
    }

    public static ShoulderFit Read(string[] row)
    {
        double[] n = [.. row.Skip(2).Take(14).Select(x => double.Parse(x, CultureInfo.InvariantCulture))];
        return new(row[0] == "flat" ? ShoulderShape.FlatBar : ShoulderShape.RoundBar,
            row[1] switch { "tension" => ShoulderLoad.Tension, "bending" => ShoulderLoad.Bending, _ => ShoulderLoad.Torsion },
            n[0], n[1], [.. Enumerable.Range(0, 4).Select(k => (n[2 + 3 * k], n[3 + 3 * k], n[4 + 3 * k]))]);
    }
}
