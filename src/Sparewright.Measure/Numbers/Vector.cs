namespace Sparewright.Measure.Numbers;

/// <summary>A point or direction in space whose coordinates carry derivatives; lengths in mm.</summary>
public readonly record struct Vector(Dual X, Dual Y, Dual Z)
{
    public static readonly Vector Zero = new(0, 0, 0);

    public Dual Length => Dual.Sqrt(Dot(this, this));

    public static Vector operator +(Vector a, Vector b) => new(a.X + b.X, a.Y + b.Y, a.Z + b.Z);

    public static Vector operator -(Vector a, Vector b) => new(a.X - b.X, a.Y - b.Y, a.Z - b.Z);

    public static Vector operator -(Vector a) => new(-a.X, -a.Y, -a.Z);

    public static Vector operator *(Vector a, Dual factor) => new(a.X * factor, a.Y * factor, a.Z * factor);

    public static Vector operator *(Dual factor, Vector a) => a * factor;

    public static Dual Dot(Vector a, Vector b) => a.X * b.X + a.Y * b.Y + a.Z * b.Z;

    public static Vector Cross(Vector a, Vector b) =>
        new(a.Y * b.Z - a.Z * b.Y, a.Z * b.X - a.X * b.Z, a.X * b.Y - a.Y * b.X);

    /// <summary>Same direction, length one. The length must not be zero.</summary>
    public Vector Unit() => this * (1 / Length);

    /// <summary>Turned about an axis direction (unit) through the origin, by the right-hand rule.</summary>
    public Vector Turned(Vector axis, Dual radians)
    {
        Dual cos = Dual.Cos(radians), sin = Dual.Sin(radians);
        return this * cos + Cross(axis, this) * sin + axis * (Dot(axis, this) * (1 - cos));
    }
}

/// <summary>A point on a flat face or in a turned shape's half-plane; lengths in mm.</summary>
public readonly record struct PlanePoint(Dual U, Dual V)
{
    public static PlanePoint operator +(PlanePoint a, PlanePoint b) => new(a.U + b.U, a.V + b.V);

    public static PlanePoint operator -(PlanePoint a, PlanePoint b) => new(a.U - b.U, a.V - b.V);

    public static PlanePoint operator *(PlanePoint a, Dual factor) => new(a.U * factor, a.V * factor);

    public static Dual Dot(PlanePoint a, PlanePoint b) => a.U * b.U + a.V * b.V;

    /// <summary>u₁v₂ − v₁u₂: positive when b is to the left of a.</summary>
    public static Dual Cross(PlanePoint a, PlanePoint b) => a.U * b.V - a.V * b.U;

    public Dual Length => Dual.Sqrt(Dot(this, this));

    /// <summary>Turned a quarter to the left.</summary>
    public PlanePoint Left => new(-V, U);

    /// <summary>Same direction, length one. The length must not be zero.</summary>
    public PlanePoint Unit() => this * (1 / Length);
}
