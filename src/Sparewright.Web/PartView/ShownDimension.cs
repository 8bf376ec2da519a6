using Sparewright.Handover.Picture;
using Sparewright.Solid;

namespace Sparewright.Web.PartView;

/// <summary>What stands out on the picture, as the browser takes it.</summary>
/// <param name="Chosen">Numbers of the faces that were picked.</param>
/// <param name="Named">Numbers of those only spoken of.</param>
internal sealed record PictureLook(int[] Chosen, int[] Named, ShownDimension[] Dimensions, MarginOnPart? Margin);

/// <summary>The margin on the surface, as the browser takes it: where it is fetched, and what is written where it is least.</summary>
internal sealed record MarginOnPart(string Address, double[] At, int Face, string Text);

/// <summary>A dimension as the browser's picture takes it.</summary>
/// <param name="InHand">Whether it belongs to the reading in hand.</param>
internal sealed record ShownDimension(string Kind, string Text, double[] From, double[] To, double[]? Along, double? Radius, double[]? On, bool InHand)
{
    public static ShownDimension Of(Dimension dimension, bool inHand)
    {
        string text = dimension.PlusMinus is { } plusMinus ? $"{dimension.Text} {plusMinus}" : dimension.Text;
        return dimension switch
        {
            LinearDimension d => new("distance", text, Triple(d.From), Triple(d.To), Triple(d.Along), null, null, inHand),
            RoundDimension d => new("round", text, Triple(d.From), Triple(d.To), null, d.RadiusMm, d.On is { } on ? Triple(on) : null, inHand),
            _ => throw new InvalidOperationException($"unknown dimension {dimension}"),
        };
    }

    private static double[] Triple(Point3 p) => [p.X, p.Y, p.Z];
}
