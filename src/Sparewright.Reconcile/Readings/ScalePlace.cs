using System.Globalization;
using Sparewright.Measure.Numbers;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;

namespace Sparewright.Reconcile.Readings;

/// <summary>
/// At which place of its scale an instrument stands: where the shape makes two readings the same whatever its sizes, it is the same one, be it the same thing read again, the same planes by other names, or another hole
/// of one pattern.
/// </summary>
internal static class ScalePlace
{
    private const int Digits = 6;

    public static string Of(Reading reading, PlacedShape shape) =>
        ReadingGeometry.Span(reading, shape) is { HasValue: true } span ? Of(span.Mm, reading.Copy) : ReadingGeometry.What(reading);

    /// <param name="shows">What it would show, with derivatives by the sizes.</param>
    public static string Of(Dual shows, string? onCopy)
    {
        Gradient by = shows.Gradient;
        var parts = Enumerable.Range(0, by.Unknowns.Length).Select(k => (Size: by.Unknowns[k], Slope: Math.Round(by.Derivatives[k], Digits))).Where(p => p.Slope != 0)
            .Select(p => string.Create(CultureInfo.InvariantCulture, $" {p.Slope:+0.######;-0.######}·{p.Size}"));
        return string.Create(CultureInfo.InvariantCulture, $"{Math.Round(shows.Value, Digits):0.######}{string.Concat(parts)}{(onCopy is null ? "" : $" on {onCopy}")}");
    }
}
