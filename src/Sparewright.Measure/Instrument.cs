using Sparewright.Measure.Quantities;

namespace Sparewright.Measure;

/// <summary>The kinds of instrument that a job may name.</summary>
public enum InstrumentKind { DigitalCaliper, VernierCaliper, DialCaliper, Micrometer, Ruler, TapeMeasure, RadiusGauge, Scale, Protractor, MeasuringCylinder }

/// <summary>
/// An instrument as its owner knows it; lengths in mm, a scale's figures in grams, a protractor's in degrees, a measuring cylinder's in cm³. What is null is taken from the published defaults of its kind.
/// </summary>
/// <param name="Resolution">The smallest step of the display (VIM 4.14).</param>
/// <param name="Mpe">Largest permissible error of an outside reading (VIM 4.26).</param>
/// <param name="ZeroError">What the display shows when the jaws are closed; subtracted from what is read.</param>
/// <param name="InsideJawFlat">Contact chord of the inside jaws across a small hole.</param>
public sealed record Instrument(string Name, InstrumentKind Kind, double? Resolution, double? Mpe, double? ZeroError, double? InsideJawFlat)
{
    /// <summary>A round bore of known size that its inside jaws were tried in; null where they were not.</summary>
    public RingReading? Ring { get; init; }

    /// <summary>An instrument of which only the kind is known.</summary>
    public static Instrument Usual(InstrumentKind kind) => new(kind.Name(), kind, null, null, null, null);
}

/// <summary>What inside jaws showed in a ring or bore of known size: it tells how wide their flats are and how far off their zero is.</summary>
/// <param name="SizeMm">Its diameter.</param>
/// <param name="ReadsMm">As shown, uncorrected.</param>
public sealed record RingReading(double SizeMm, IReadOnlyList<double> ReadsMm)
{
    /// <summary>Half of the range within which the size is what is said of it, mm, rectangular: common practice, no source.</summary>
    public const double SizeHalfWidthMm = 0.005;
}

/// <summary>The names of the instrument kinds as a job spells them.</summary>
public static class InstrumentKinds
{
    public static string Name(this InstrumentKind kind) => kind switch
    {
        InstrumentKind.DigitalCaliper => "digital caliper",
        InstrumentKind.VernierCaliper => "vernier caliper",
        InstrumentKind.DialCaliper => "dial caliper",
        InstrumentKind.Micrometer => "micrometer",
        InstrumentKind.Ruler => "ruler",
        InstrumentKind.TapeMeasure => "tape measure",
        InstrumentKind.RadiusGauge => "radius gauge",
        InstrumentKind.Scale => "scale",
        InstrumentKind.Protractor => "protractor",
        InstrumentKind.MeasuringCylinder => "measuring cylinder",
        _ => throw new ArgumentOutOfRangeException(nameof(kind)),
    };

    /// <summary>What it shows.</summary>
    public static QuantityKind Shows(this InstrumentKind kind) => kind switch
    {
        InstrumentKind.Scale => QuantityKind.Mass,
        InstrumentKind.Protractor => QuantityKind.Angle,
        InstrumentKind.MeasuringCylinder => QuantityKind.Volume,
        _ => QuantityKind.Length,
    };

    public static IEnumerable<string> Names => Enum.GetValues<InstrumentKind>().Select(Name);

    /// <summary>The kind of that name, null for a name that is none.</summary>
    public static InstrumentKind? Named(string name) =>
        Enum.GetValues<InstrumentKind>().Cast<InstrumentKind?>().FirstOrDefault(kind => kind!.Value.Name() == name);

    public static bool IsCaliper(this InstrumentKind kind) =>
        kind is InstrumentKind.DigitalCaliper or InstrumentKind.VernierCaliper or InstrumentKind.DialCaliper;
}
