using SkiaSharp;

namespace Sparewright.Handover.Picture;

/// <summary>The look of our drawings: warm paper, ink-blue lines, one colour that says "look here".</summary>
internal static class Palette
{
    public static readonly SKColor Paper = new(0xfa, 0xf6, 0xec);
    public static readonly SKColor Ink = new(0x1c, 0x33, 0x5c);
    public static readonly SKColor Soft = new(0x6a, 0x80, 0xa3);
    public static readonly SKColor LookHere = new(0xc4, 0x3a, 0x14);

    // Shading, from turned away to facing the light.
    public static readonly SKColor Shade = new(0x8c, 0xa2, 0xbf);
    public static readonly SKColor HalfTone = new(0xcd, 0xd8, 0xe4);
    public static readonly SKColor Light = new(0xff, 0xfd, 0xf7);

    public static SKColor Of(Tone tone) => tone switch { Tone.Ink => Ink, Tone.Soft => Soft, _ => LookHere };

    /// <summary>Line widths in mm: wide to narrow is two to one (ISO 128-2); smooth edges thinner still.</summary>
    public static double WidthMm(LineStyle style) => style switch
    {
        LineStyle.Visible or LineStyle.Frame => 0.5,
        LineStyle.Smooth => 0.13,
        LineStyle.Rule => 0.18,
        _ => 0.25,
    };

    /// <summary>Dashes and gaps in mm; null for a continuous line. ISO 128-2 in widths d: dash 12 d, gap 3 d, long dash 24 d, dot half a d (from memory).</summary>
    public static float[]? Dashes(LineStyle style) => style switch
    {
        LineStyle.Hidden => [12 * 0.25f, 3 * 0.25f],
        LineStyle.Centre => [24 * 0.25f, 3 * 0.25f, 0.125f, 3 * 0.25f],
        _ => null,
    };
}
