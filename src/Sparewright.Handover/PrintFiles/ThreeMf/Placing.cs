namespace Sparewright.Handover.PrintFiles.ThreeMf;

/// <summary>
/// A placing as 3MF writes it: a row vector [x y z 1] times a 4 × 3 matrix given row by row; millimetres once the unit is in it.
/// </summary>
internal readonly record struct Placing(
    double M00, double M01, double M02, double M10, double M11, double M12, double M20, double M21, double M22, double M30, double M31, double M32)
{
    public static readonly Placing Here = Scaled(1);

    public double Determinant => M00 * (M11 * M22 - M12 * M21) - M01 * (M10 * M22 - M12 * M20) + M02 * (M10 * M21 - M11 * M20);

    public static Placing Scaled(double factor) => new(factor, 0, 0, 0, factor, 0, 0, 0, factor, 0, 0, 0);

    public static Placing From(ReadOnlySpan<double> m) => new(m[0], m[1], m[2], m[3], m[4], m[5], m[6], m[7], m[8], m[9], m[10], m[11]);

    public (double X, double Y, double Z) Apply(double x, double y, double z) =>
        (x * M00 + y * M10 + z * M20 + M30, x * M01 + y * M11 + z * M21 + M31, x * M02 + y * M12 + z * M22 + M32);

    /// <summary>First this one, then the other.</summary>
    public Placing Then(Placing next)
    {
        var (ax, ay, az) = next.Turn(M00, M01, M02);
        var (bx, by, bz) = next.Turn(M10, M11, M12);
        var (cx, cy, cz) = next.Turn(M20, M21, M22);
        var (tx, ty, tz) = next.Apply(M30, M31, M32);
        return new(ax, ay, az, bx, by, bz, cx, cy, cz, tx, ty, tz);
    }

    private (double X, double Y, double Z) Turn(double x, double y, double z) =>
        (x * M00 + y * M10 + z * M20, x * M01 + y * M11 + z * M21, x * M02 + y * M12 + z * M22);
}
