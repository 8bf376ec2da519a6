namespace Sparewright.Strength;

/// <summary>A state of stress in MPa, tension positive; z is the build axis wherever layers are spoken of.</summary>
public readonly record struct Stress(double XX, double YY, double ZZ, double YZ, double XZ, double XY)
{
    /// <summary>Equivalent stress of von Mises in MPa, for materials that are alike in all directions.</summary>
    public double VonMises => Math.Sqrt(
        (Square(XX - YY) + Square(YY - ZZ) + Square(ZZ - XX)) / 2 + 3 * (YZ * YZ + XZ * XZ + XY * XY));

    /// <summary>What pulls the layers apart: the tensile stress across them in MPa, 0 where they are pressed together.</summary>
    public double LayerPull => Math.Max(0, ZZ);

    /// <summary>What slides the layers over each other: the shear stress between them in MPa, whatever its direction.</summary>
    public double LayerShear => Math.Sqrt(YZ * YZ + XZ * XZ);

    /// <summary>The principal stresses in MPa, largest first: roots of the characteristic cubic by its trigonometric solution.</summary>
    public (double First, double Second, double Third) Principal
    {
        get
        {
            double mean = (XX + YY + ZZ) / 3;
            double x = XX - mean, y = YY - mean, z = ZZ - mean;
            double p = Math.Sqrt((x * x + y * y + z * z + 2 * (YZ * YZ + XZ * XZ + XY * XY)) / 6);
            if (p == 0) return (mean, mean, mean);
            double det = x * (y * z - YZ * YZ) - XY * (XY * z - YZ * XZ) + XZ * (XY * YZ - y * XZ);
            double angle = Math.Acos(Math.Clamp(det / (2 * p * p * p), -1, 1)) / 3;
            double first = mean + 2 * p * Math.Cos(angle), third = mean + 2 * p * Math.Cos(angle + 2 * Math.PI / 3);
            return (first, 3 * mean - first - third, third);
        }
    }

    public static Stress operator +(Stress a, Stress b) => new(a.XX + b.XX, a.YY + b.YY, a.ZZ + b.ZZ, a.YZ + b.YZ, a.XZ + b.XZ, a.XY + b.XY);

    public static Stress operator -(Stress a, Stress b) => new(a.XX - b.XX, a.YY - b.YY, a.ZZ - b.ZZ, a.YZ - b.YZ, a.XZ - b.XZ, a.XY - b.XY);

    public static Stress operator *(Stress a, double factor) => new(a.XX * factor, a.YY * factor, a.ZZ * factor, a.YZ * factor, a.XZ * factor, a.XY * factor);

    private static double Square(double x) => x * x;
}
