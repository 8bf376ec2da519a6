using Sparewright.Solid;

namespace Sparewright.Strength.Grid;

/// <summary>A triangle's pieces, one for each cell of a grid that it passes through.</summary>
internal static class SurfacePieces
{
    public delegate void Piece(int i, int j, int k, ReadOnlySpan<Point3> polygon);

    /// <summary>Cuts a triangle (in units of cells, origin at the grid's corner) along the cell planes; rows outside <paramref name="firstJ"/> … <paramref name="lastJ"/> are left out.</summary>
    /// <param name="inside">A tiny step into the solid: a piece that lies in a cell plane belongs to the cell that it steps into.</param>
    public static void Of(Point3 a, Point3 b, Point3 c, Point3 inside, int firstJ, int lastJ, Piece give)
    {
        Span<Point3> rest = stackalloc Point3[Polygon.MostCorners], strip = stackalloc Point3[Polygon.MostCorners], spare = stackalloc Point3[Polygon.MostCorners];
        Span<Point3> slab = stackalloc Point3[Polygon.MostCorners], column = stackalloc Point3[Polygon.MostCorners];
        (rest[0], rest[1], rest[2]) = (a, b, c);
        var (j0, j1) = Reach(rest[..3], 1, inside);
        if (j1 < firstJ || j0 > lastJ) return;
        int restCount = 3;
        for (int j = j0; j <= Math.Min(j1, lastJ) && restCount > 0; j++)
        {
            int stripCount = Lower(rest, ref restCount, 1, j, j1, strip, spare);
            if (stripCount == 0 || j < firstJ) continue;
            var (i0, i1) = Reach(strip[..stripCount], 0, inside);
            for (int i = i0; i <= i1 && stripCount > 0; i++)
            {
                int slabCount = Lower(strip, ref stripCount, 0, i, i1, slab, spare);
                if (slabCount == 0) continue;
                var (k0, k1) = Reach(slab[..slabCount], 2, inside);
                for (int k = k0; k <= k1 && slabCount > 0; k++)
                {
                    int count = Lower(slab, ref slabCount, 2, k, k1, column, spare);
                    if (count > 0) give(i, j, k, column[..count]);
                }
            }
        }
    }

    /// <summary>Takes from a polygon what lies below the upper plane of a cell; the rest stays. In the last cell that is all of it.</summary>
    private static int Lower(Span<Point3> rest, ref int restCount, int axis, int cell, int last, Span<Point3> lower, Span<Point3> spare)
    {
        int count;
        if (cell == last)
        {
            rest[..restCount].CopyTo(lower);
            count = restCount;
            restCount = 0;
            return count;
        }

        Polygon.Cut(rest[..restCount], axis, cell + 1, lower, out count, spare, out restCount);
        spare[..restCount].CopyTo(rest);
        return count;
    }

    private static (int First, int Last) Reach(ReadOnlySpan<Point3> polygon, int axis, Point3 inside)
    {
        double low = double.MaxValue, high = double.MinValue;
        foreach (Point3 p in polygon)
        {
            double at = Polygon.Along(p, axis);
            low = Math.Min(low, at);
            high = Math.Max(high, at);
        }

        double step = Polygon.Along(inside, axis);
        // What lies wholly in one plane belongs to the cell on the solid's side.
        if (high - low < 1e-12) return ((int)Math.Floor(low + step), (int)Math.Floor(low + step));
        int first = (int)Math.Floor(low), last = (int)Math.Ceiling(high) - 1;
        return (first, Math.Max(first, last));
    }
}
