namespace Sparewright.Measure.Quantities;

/// <summary>What a quantity is a quantity of. Each kind is kept in one unit inside: see <see cref="Unit.Of"/>.</summary>
public enum QuantityKind
{
    /// <summary>A bare number: a count, a ratio, odds.</summary>
    Number,

    /// <summary>Kept in mm.</summary>
    Length,

    /// <summary>Kept in degrees.</summary>
    Angle,

    /// <summary>Kept in g.</summary>
    Mass,

    /// <summary>Kept in degC.</summary>
    Temperature,

    /// <summary>Kept in N.</summary>
    Force,

    /// <summary>Kept in g/cm3.</summary>
    Density,

    /// <summary>Kept in cm3.</summary>
    Volume,
}

/// <summary>A unit that a job may be written in.</summary>
/// <param name="Symbol">As written in the job file.</param>
/// <param name="Kind">What it measures.</param>
/// <param name="Size">How many of the kind's own unit make one of this. An inch is 25.4 mm exactly (international yard and pound agreement, 1959).</param>
public sealed record Unit(string Symbol, QuantityKind Kind, double Size)
{
    public static readonly Unit One = new("", QuantityKind.Number, 1);
    public static readonly Unit Millimetre = new("mm", QuantityKind.Length, 1);
    public static readonly Unit Inch = new("in", QuantityKind.Length, 25.4);
    public static readonly Unit Degree = new("deg", QuantityKind.Angle, 1);
    public static readonly Unit Gram = new("g", QuantityKind.Mass, 1);
    public static readonly Unit Celsius = new("degC", QuantityKind.Temperature, 1);
    public static readonly Unit Newton = new("N", QuantityKind.Force, 1);
    public static readonly Unit GramPerCubicCentimetre = new("g/cm3", QuantityKind.Density, 1);

    public static readonly Unit CubicCentimetre = new("cm3", QuantityKind.Volume, 1);

    private static readonly Unit[] Own = [One, Millimetre, Degree, Gram, Celsius, Newton, GramPerCubicCentimetre, CubicCentimetre];

    /// <summary>All spellings that are taken, the preferred one of each unit first.</summary>
    internal static readonly IReadOnlyList<(string Spelling, Unit Unit)> Spellings =
    [
        ("mm", Millimetre), ("in", Inch), ("\"", Inch), ("″", Inch), ("deg", Degree), ("°", Degree), ("g", Gram),
        ("degC", Celsius), ("°C", Celsius), ("N", Newton), ("g/cm3", GramPerCubicCentimetre), ("g/cm³", GramPerCubicCentimetre),
        ("ml", CubicCentimetre), ("cm3", CubicCentimetre), ("cm³", CubicCentimetre),
    ];

    /// <summary>Units that people write but a job does not take, each with what it is in a unit that is taken: value·factor + offset.</summary>
    internal static readonly IReadOnlyList<(string Spelling, Unit Instead, double Factor, double Offset)> Foreign =
    [
        ("cm", Millimetre, 10, 0), ("m", Millimetre, 1000, 0), ("um", Millimetre, 0.001, 0), ("µm", Millimetre, 0.001, 0), ("μm", Millimetre, 0.001, 0),
        ("inch", Inch, 1, 0), ("inches", Inch, 1, 0), ("''", Inch, 1, 0), ("”", Inch, 1, 0), ("mil", Inch, 0.001, 0), ("thou", Inch, 0.001, 0),
        ("ft", Inch, 12, 0), ("'", Inch, 12, 0), ("rad", Degree, 180 / Math.PI, 0), ("degree", Degree, 1, 0), ("degrees", Degree, 1, 0),
        ("kg", Gram, 1000, 0), ("mg", Gram, 0.001, 0), ("oz", Gram, 28.349523125, 0), ("lb", Gram, 453.59237, 0),
        ("C", Celsius, 1, 0), ("degF", Celsius, 5.0 / 9, -160.0 / 9), ("°F", Celsius, 5.0 / 9, -160.0 / 9), ("F", Celsius, 5.0 / 9, -160.0 / 9), ("K", Celsius, 1, -273.15),
        ("kN", Newton, 1000, 0), ("kgf", Newton, 9.80665, 0), ("lbf", Newton, 4.4482216152605, 0), ("kg/m3", GramPerCubicCentimetre, 0.001, 0),
        ("l", CubicCentimetre, 1000, 0), ("cl", CubicCentimetre, 10, 0), ("mm3", CubicCentimetre, 0.001, 0), ("cc", CubicCentimetre, 1, 0),
    ];

    /// <summary>From this unit to the kind's own. Decimal, so that 63/64 in is 25.003125 mm and not its neighbour.</summary>
    internal double ToOwn(double value) => Size == 1 ? value
        : Math.Abs(value) < 1e12 ? (double)((decimal)value * (decimal)Size)
        : value * Size;

    /// <summary>The unit in which a kind is kept, and which is meant when none is written.</summary>
    public static Unit Of(QuantityKind kind) => Own[(int)kind];
}

/// <summary>A value with its unit.</summary>
/// <param name="Value">In the kind's own unit (mm, degrees, g, degC, N, g/cm3).</param>
/// <param name="Written">The unit it was written in.</param>
public readonly record struct Quantity(double Value, Unit Written)
{
    public QuantityKind Kind => Written.Kind;

    /// <summary>The value in the unit it was written in.</summary>
    public double AsWritten => Value / Written.Size;
}
