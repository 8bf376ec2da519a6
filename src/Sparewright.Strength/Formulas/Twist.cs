namespace Sparewright.Strength.Formulas;

/// <summary>A round bar or tube that is twisted; exact, also where layers lie along it.</summary>
/// <param name="InnerMm">Diameter of its hole, 0 without.</param>
public sealed record TwistedTube(double OuterMm, double InnerMm)
{
    /// <summary>Shear stress at the outside, MPa, under a twist in N·mm: 16 M D/π(D⁴ − d⁴).</summary>
    public double OutsideMPa(double twistNmm) => 16 * twistNmm * OuterMm / (Math.PI * (Math.Pow(OuterMm, 4) - Math.Pow(InnerMm, 4)));
}

/// <summary>A rectangular bar that is twisted (Saint-Venant's series, as in Timoshenko and Goodier, Theory of Elasticity, chapter 10, from memory).</summary>
public sealed record TwistedRectangle(double WideMm, double HighMm)
{
    /// <summary>So many odd terms; the last one of the slowest sum is below 1e-8 of it.</summary>
    private const int Terms = 4000;

    private double Long { get; } = Math.Max(WideMm, HighMm);

    private double Short { get; } = Math.Min(WideMm, HighMm);

    /// <summary>What a twist is divided by, and the shear modulus, for the angle over the length, mm⁴.</summary>
    public double StiffnessMm4 => Long * Math.Pow(Short, 3) / 3 * (1 - 192 * Short / (Math.Pow(Math.PI, 5) * Long) * Sum((n, _) => Math.Tanh(n * Math.PI * Long / (2 * Short)) / Math.Pow(n, 5)));

    /// <summary>Shear stress at the middle of the two longer sides, MPa, under a twist in N·mm: the most.</summary>
    public double OnLongSideMPa(double twistNmm) => twistNmm / StiffnessMm4 * Short * (1 - 8 / (Math.PI * Math.PI) * Sum((n, _) => 1 / (n * n * Math.Cosh(Math.Min(700, n * Math.PI * Long / (2 * Short))))));

    /// <summary>At the middle of the two shorter ones.</summary>
    public double OnShortSideMPa(double twistNmm) => twistNmm / StiffnessMm4 * Short * (8 / (Math.PI * Math.PI)) * Sum((n, sign) => sign * Math.Tanh(n * Math.PI * Long / (2 * Short)) / (n * n));

    /// <summary>At the middle of the two sides that are <see cref="WideMm"/> long.</summary>
    public double OnWideSideMPa(double twistNmm) => WideMm >= HighMm ? OnLongSideMPa(twistNmm) : OnShortSideMPa(twistNmm);

    /// <summary>At the middle of those that are <see cref="HighMm"/> long.</summary>
    public double OnHighSideMPa(double twistNmm) => WideMm >= HighMm ? OnShortSideMPa(twistNmm) : OnLongSideMPa(twistNmm);

    /// <summary>
    /// A bar whose shear moduli differ along its two sides, as one that is alike in all directions: each side is stretched by the root of the other's share, so that the area stays. What that one bears along
    /// a side is borne here times <c>WideTimes</c> and <c>HighTimes</c> (Lekhnitskii, Theory of Elasticity of an Anisotropic Body, from memory; Prandtl's function in stretched coordinates).
    /// </summary>
    /// <param name="alongWideMPa">Shear modulus of stress along the sides that are <see cref="WideMm"/> long.</param>
    public static (TwistedRectangle Alike, double WideTimes, double HighTimes) Layered(double wideMm, double highMm, double alongWideMPa, double alongHighMPa)
    {
        double middle = Math.Sqrt(alongWideMPa * alongHighMPa), wide = Math.Sqrt(alongWideMPa / middle), high = Math.Sqrt(alongHighMPa / middle);
        return (new(wideMm * high, highMm * wide), wide, high);
    }

    private static double Sum(Func<double, int, double> term)
    {
        double sum = 0;
        for (int k = Terms - 1; k >= 0; k--) sum += term(2 * k + 1, k % 2 == 0 ? 1 : -1);
        return sum;
    }
}

/// <summary>A piece of a thin wall as a section cuts it.</summary>
/// <param name="LengthMm">Along its middle line.</param>
/// <param name="ShearMPa">Shear modulus of stress along it.</param>
public readonly record struct WallPiece(double LengthMm, double ThickMm, double ShearMPa = 1);

/// <summary>Thin walls that are twisted (as in Roark's Formulas for Stress and Strain, chapter 10, from memory): open ones bear it by shear that turns over within the wall, closed ones by shear around (Bredt).</summary>
public static class TwistedWalls
{
    /// <summary>Stiffness of open walls, N·mm²: Σ G l t³/3.</summary>
    public static double OpenNmm2(IEnumerable<WallPiece> walls) => walls.Sum(w => w.ShearMPa * w.LengthMm * Math.Pow(w.ThickMm, 3) / 3);

    /// <summary>Shear stress at the surface of one of them, MPa: M G t/Σ(G l t³/3).</summary>
    public static double OpenMPa(double twistNmm, WallPiece at, IEnumerable<WallPiece> walls) => twistNmm * at.ShearMPa * at.ThickMm / OpenNmm2(walls);

    /// <summary>Shear stress at the outer surface of a wall that closes around an area, MPa: M/2At in the middle of the wall, and what turns over within it, M t/J with J = 4A²/Σ(l/t).</summary>
    /// <param name="areaMm2">Within the walls' middle line.</param>
    public static double ClosedMPa(double twistNmm, double thickMm, double areaMm2, IEnumerable<WallPiece> walls)
    {
        double stiffness = 4 * areaMm2 * areaMm2 / walls.Sum(w => w.LengthMm / w.ThickMm);
        return twistNmm / (2 * areaMm2 * thickMm) + twistNmm * thickMm / stiffness;
    }
}
