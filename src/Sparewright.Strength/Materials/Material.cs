namespace Sparewright.Strength.Materials;

/// <summary>What a material weighs and bears of heat, sun and water, layered or not.</summary>
/// <param name="DensityGPerCm3">g/cm³.</param>
/// <param name="SoftensAtDegC">Where it goes soft.</param>
/// <param name="Sun">The share of its strength that is left outdoors.</param>
/// <param name="Wet">The share of its strength that is left where it gets wet.</param>
public sealed record Habits(Sourced DensityGPerCm3, Sourced SoftensAtDegC, Sourced Sun, Sourced Wet);

/// <summary>A material that is printed in layers, solid inside.</summary>
/// <param name="Strengths">By direction, short-term, MPa.</param>
/// <param name="StrainOnce">How far it may be stretched once, as a share of its length, in a snap arm; bars differ in it as they do in strength.</param>
public sealed record PrintMaterial(string Name, DirectionalStrengths Strengths, LayeredStiffness Stiffness, Habits Habits, Sourced StrainOnce);

/// <summary>Each strength of a print with its source, MPa.</summary>
public sealed record DirectionalStrengths(Sourced TensionInLayer, Sourced CompressionInLayer, Sourced TensionAcross, Sourced CompressionAcross, Sourced ShearAcross, Sourced ShearInLayer);

/// <summary>What the old part may have been moulded of: alike in all directions.</summary>
public sealed record MouldedMaterial(string Name, Sourced StrengthMPa, LayeredStiffness Stiffness, Habits Habits);
