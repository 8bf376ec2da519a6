using System.Globalization;

namespace Sparewright.Measure.Numbers;

/// <summary>
/// A number that carries its exact derivatives by the unknown sizes (forward-mode automatic differentiation:
/// A. Griewank and A. Walther, "Evaluating Derivatives", 2nd edition, SIAM 2008, chapter 3; from memory).
/// Angles are radians here; the job file's degrees are turned at its door.
/// </summary>
public readonly struct Dual : IEquatable<Dual>
{
    private readonly Gradient? _gradient;

    public Dual(double value, Gradient gradient) => (Value, _gradient) = (value, gradient);

    /// <summary>The number itself.</summary>
    public double Value { get; }

    /// <summary>Its derivatives.</summary>
    public Gradient Gradient => _gradient ?? Gradient.None;

    /// <summary>True when no unknown moves it.</summary>
    public bool IsConstant => Gradient.Unknowns.IsEmpty;

    /// <summary>The unknown number <paramref name="index"/>, at a value.</summary>
    public static Dual Unknown(int index, double value) => new(value, Gradient.Of(index));

    public static implicit operator Dual(double value) => new(value, Gradient.None);

    public static Dual operator +(Dual a, Dual b) => new(a.Value + b.Value, Gradient.Combine(1, a.Gradient, 1, b.Gradient));

    public static Dual operator -(Dual a, Dual b) => new(a.Value - b.Value, Gradient.Combine(1, a.Gradient, -1, b.Gradient));

    public static Dual operator -(Dual a) => new(-a.Value, a.Gradient.Scaled(-1));

    public static Dual operator *(Dual a, Dual b) => new(a.Value * b.Value, Gradient.Combine(b.Value, a.Gradient, a.Value, b.Gradient));

    public static Dual operator /(Dual a, Dual b) =>
        new(a.Value / b.Value, Gradient.Combine(1 / b.Value, a.Gradient, -a.Value / (b.Value * b.Value), b.Gradient));

    public static bool operator <(Dual a, Dual b) => a.Value < b.Value;

    public static bool operator >(Dual a, Dual b) => a.Value > b.Value;

    public static bool operator <=(Dual a, Dual b) => a.Value <= b.Value;

    public static bool operator >=(Dual a, Dual b) => a.Value >= b.Value;

    public static bool operator ==(Dual a, Dual b) => a.Equals(b);

    public static bool operator !=(Dual a, Dual b) => !a.Equals(b);

    public static Dual Sqrt(Dual a)
    {
        double root = Math.Sqrt(a.Value);
        // At zero the slope is infinite; it is dropped where nothing moves, so that |0| of a constant stays a constant.
        return new(root, a.IsConstant ? Gradient.None : a.Gradient.Scaled(0.5 / root));
    }

    public static Dual Abs(Dual a) => a.Value < 0 ? -a : a;

    public static Dual Min(Dual a, Dual b) => b.Value < a.Value ? b : a;

    public static Dual Max(Dual a, Dual b) => b.Value > a.Value ? b : a;

    public static Dual Exp(Dual a)
    {
        double power = Math.Exp(a.Value);
        return new(power, a.Gradient.Scaled(power));
    }

    /// <summary>Natural logarithm.</summary>
    public static Dual Log(Dual a) => new(Math.Log(a.Value), a.Gradient.Scaled(1 / a.Value));

    public static Dual Sin(Dual radians) => new(Math.Sin(radians.Value), radians.Gradient.Scaled(Math.Cos(radians.Value)));

    public static Dual Cos(Dual radians) => new(Math.Cos(radians.Value), radians.Gradient.Scaled(-Math.Sin(radians.Value)));

    public static Dual Tan(Dual radians)
    {
        double tan = Math.Tan(radians.Value);
        return new(tan, radians.Gradient.Scaled(1 + tan * tan));
    }

    public static Dual Asin(Dual a) => new(Math.Asin(a.Value), a.Gradient.Scaled(1 / Math.Sqrt(1 - a.Value * a.Value)));

    public static Dual Acos(Dual a) => new(Math.Acos(a.Value), a.Gradient.Scaled(-1 / Math.Sqrt(1 - a.Value * a.Value)));

    public static Dual Atan(Dual a) => new(Math.Atan(a.Value), a.Gradient.Scaled(1 / (1 + a.Value * a.Value)));

    public static Dual Atan2(Dual y, Dual x)
    {
        double squared = x.Value * x.Value + y.Value * y.Value;
        return new(Math.Atan2(y.Value, x.Value), Gradient.Combine(x.Value / squared, y.Gradient, -y.Value / squared, x.Gradient));
    }

    /// <summary>a to the power b. Where b is a constant the base may be negative or zero as for real powers.</summary>
    public static Dual Pow(Dual a, Dual b)
    {
        double power = Math.Pow(a.Value, b.Value);
        if (b.IsConstant)
            return new(power, b.Value == 0 ? Gradient.None : a.Gradient.Scaled(b.Value * Math.Pow(a.Value, b.Value - 1)));
        return new(power, Gradient.Combine(b.Value * Math.Pow(a.Value, b.Value - 1), a.Gradient, power * Math.Log(a.Value), b.Gradient));
    }

    public bool Equals(Dual other) =>
        Value.Equals(other.Value) && Gradient.Unknowns.SequenceEqual(other.Gradient.Unknowns)
        && Gradient.Derivatives.SequenceEqual(other.Gradient.Derivatives);

    public override bool Equals(object? obj) => obj is Dual other && Equals(other);

    public override int GetHashCode() => Value.GetHashCode();

    public override string ToString() => Value.ToString("R", CultureInfo.InvariantCulture);
}
