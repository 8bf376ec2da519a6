using System.Globalization;
using Sparewright.Solid;
using Sparewright.Strength.Grid;

namespace Sparewright.Strength.Held;

/// <summary>A movement that nothing hinders: a shift along a direction, or a turn about an axis through a point. All in the job's axes, mm.</summary>
public sealed record FreeMovement(bool IsTurn, Point3 Along, Point3 Through)
{
    /// <summary>For people: "free to turn about an axis along z through (0, 5, 0)".</summary>
    public string InWords => IsTurn
        ? $"free to turn about an axis {Direction} through {Place(Through)}"
        : $"free to shift {Direction}";

    /// <summary>How it moves a point, both in a grid's axes: a shift by 1 mm, a turn by 1 rad as far as it is small.</summary>
    internal Point3 At(Point3 point, GridFrame frame) => IsTurn ? Point3.Cross(frame.ToGrid(Along), point - frame.ToGrid(Through)) : frame.ToGrid(Along);

    private string Direction => (Math.Abs(Along.X), Math.Abs(Along.Y), Math.Abs(Along.Z)) switch
    {
        ( > 1 - 1e-6, _, _) => "along x",
        (_, > 1 - 1e-6, _) => "along y",
        (_, _, > 1 - 1e-6) => "along z",
        _ => $"along {Place(Along)}",
    };

    private static string Place(Point3 p) => string.Create(CultureInfo.InvariantCulture, $"({Short(p.X)}, {Short(p.Y)}, {Short(p.Z)})");

    private static string Short(double x) => (Math.Round(x, 2) + 0.0).ToString("0.##", CultureInfo.InvariantCulture);
}
