namespace Sparewright.Solid;

/// <summary>How far a long piece of work on the solid has come.</summary>
/// <param name="Fraction">0 to 1.</param>
/// <param name="Doing">What is being done, as "building bore".</param>
/// <param name="Feature">The feature being built, where it is one.</param>
public readonly record struct SolidProgress(double Fraction, string Doing, string? Feature);
