namespace Sparewright.Measure;

/// <summary>The kinds of instrument that a job may name.</summary>
public enum InstrumentKind { DigitalCaliper, VernierCaliper, DialCaliper, Micrometer, Ruler, RadiusGauge, Scale }

/// <summary>
/// An instrument as its owner knows it; lengths in mm, a scale's figures in grams. What is null is taken from the published defaults of its kind.
/// </summary>
/// <param name="Resolution">The smallest step of the display (VIM 4.14).</param>
/// <param name="Mpe">Largest permissible error of an outside reading (VIM 4.26).</param>
/// <param name="ZeroError">What the display shows when the jaws are closed; subtracted from what is read.</param>
/// <param name="InsideJawFlat">Contact chord of the inside jaws across a small hole.</param>
public sealed record Instrument(string Name, InstrumentKind Kind, double? Resolution, double? Mpe, double? ZeroError, double? InsideJawFlat);
