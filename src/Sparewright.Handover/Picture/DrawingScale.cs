using System.Globalization;

namespace Sparewright.Handover.Picture;

/// <summary>A scale of ISO 5455: full size, an enlargement or a reduction.</summary>
public readonly record struct DrawingScale(int OnPaper, int OnPart)
{
    /// <summary>The recommended scales, largest first.</summary>
    public static IReadOnlyList<DrawingScale> Recommended { get; } =
    [
        new(50, 1), new(20, 1), new(10, 1), new(5, 1), new(2, 1), new(1, 1),
        new(1, 2), new(1, 5), new(1, 10), new(1, 20), new(1, 50), new(1, 100), new(1, 200), new(1, 500), new(1, 1000),
    ];

    public double Factor => (double)OnPaper / OnPart;

    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{OnPaper}:{OnPart}");
}
