namespace Sparewright.Strength.Margins;

/// <summary>What a print bears by direction, in MPa, all greater than 0: alike in all directions within the layers, different across them.</summary>
/// <param name="TensionInLayer">X_t, pulled along the layers.</param>
/// <param name="CompressionInLayer">X_c, pressed along the layers.</param>
/// <param name="TensionAcross">Z_t, the layers pulled apart.</param>
/// <param name="CompressionAcross">Z_c, the layers pressed together.</param>
/// <param name="ShearAcross">S_z, the layers sliding over each other.</param>
/// <param name="ShearInLayer">S_p, sheared within the layer.</param>
public sealed record LayeredStrength(double TensionInLayer, double CompressionInLayer, double TensionAcross, double CompressionAcross, double ShearAcross, double ShearInLayer);
