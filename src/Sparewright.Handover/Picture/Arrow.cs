namespace Sparewright.Handover.Picture;

/// <summary>The arrow head of a dimension line: filled, three times as long as it is wide (ISO 129-1).</summary>
internal static class Arrow
{
    public const double LengthMm = 3;
    private const double WidthMm = 1;

    /// <summary>With its tip at a point, pointing along a unit direction.</summary>
    public static Fill At(PagePoint tip, PagePoint pointing, Tone tone)
    {
        var root = tip - pointing * LengthMm;
        return new([tip, root + pointing.Left * (WidthMm / 2), root - pointing.Left * (WidthMm / 2)], tone);
    }
}
