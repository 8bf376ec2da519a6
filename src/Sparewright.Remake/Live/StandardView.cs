using Sparewright.Solid;

namespace Sparewright.Remake.Live;

/// <summary>A view of the part under its name (ISO 5456-2; the isometric one by ISO 5456-3), standing in front of the part.</summary>
/// <param name="Name">As "front"; also in addresses.</param>
/// <param name="Sight">Unit direction in which the eye looks.</param>
/// <param name="Up">Unit direction that points up the page.</param>
public sealed record StandardView(string Name, Point3 Sight, Point3 Up)
{
    public static IReadOnlyList<StandardView> All { get; } =
    [
        new("front", new(0, 1, 0), new(0, 0, 1)), new("top", new(0, 0, -1), new(0, 1, 0)), new("left", new(1, 0, 0), new(0, 0, 1)), new("right", new(-1, 0, 0), new(0, 0, 1)),
        new("bottom", new(0, 0, 1), new(0, -1, 0)), new("rear", new(0, -1, 0), new(0, 0, 1)),
        new("isometric", new Point3(-1, 1, -1) * (1 / Math.Sqrt(3)), new Point3(-1, 1, 2) * (1 / Math.Sqrt(6))),
    ];
}
