using Sparewright.Solid;

namespace Sparewright.Strength.Grid;

/// <summary>The axes of the grid in the job's axes: three unit vectors at right angles, right-handed; Z is the way up on the printer.</summary>
public readonly record struct GridFrame(Point3 X, Point3 Y, Point3 Z)
{
    /// <summary>The job's own axes.</summary>
    public static GridFrame Job { get; } = new(new(1, 0, 0), new(0, 1, 0), new(0, 0, 1));

    /// <summary>A frame whose z points up; x lies as near to the job's x axis as it can (its y axis if up is along x).</summary>
    /// <exception cref="ArgumentException">The direction has no length.</exception>
    public static GridFrame WithUp(Point3 up)
    {
        if (!(up.Length > 0)) throw new ArgumentException("a direction of no length is no way up", nameof(up));
        Point3 z = up * (1 / up.Length);
        Point3 start = Math.Abs(z.X) < 0.9 ? new(1, 0, 0) : new Point3(0, 1, 0);
        Point3 x = start - z * Point3.Dot(start, z);
        x *= 1 / x.Length;
        return new(x, Point3.Cross(z, x), z);
    }

    /// <summary>A point or direction of the job, told in the grid's axes.</summary>
    public Point3 ToGrid(Point3 p) => new(Point3.Dot(p, X), Point3.Dot(p, Y), Point3.Dot(p, Z));

    /// <summary>A point or direction of the grid, told in the job's axes.</summary>
    public Point3 ToJob(Point3 p) => X * p.X + Y * p.Y + Z * p.Z;
}
