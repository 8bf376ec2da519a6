using Sparewright.Solid;
using Sparewright.Strength.Grid;
using Sparewright.Strength.Solve;

namespace Sparewright.Strength.Held;

/// <summary>Whether what holds a part hinders every movement of it as a rigid whole; what it leaves free is told before anything is solved.</summary>
public static class RigidMovement
{
    /// <summary>A movement counts as free if all supports together resist it less than this share of the one they resist most.</summary>
    private const double Free = 1e-9;

    /// <summary>What is free, piece by piece; nothing if the part is fully held.</summary>
    public static IReadOnlyList<FreePiece> Of(Loading loading)
    {
        VoxelGrid grid = loading.Grid;
        Pieces pieces = grid.Pieces;
        var centre = new Point3[pieces.Count];
        var cells = new int[pieces.Count];
        for (int k = 0; k < grid.NZ; k++)
            for (int j = 0; j < grid.NY; j++)
                for (int i = 0; i < grid.NX; i++)
                    if (pieces.Of(i, j, k) is >= 0 and var piece)
                    {
                        centre[piece] += grid.PointOf(i + 0.5, j + 0.5, k + 0.5);
                        cells[piece]++;
                    }

        var free = new List<FreePiece>();
        for (int piece = 0; piece < pieces.Count; piece++)
        {
            centre[piece] *= 1.0 / cells[piece];
            // Turns are measured by the way they move what is about as far out as the piece is big.
            double reach = grid.CellMm * Math.Cbrt(cells[piece]);
            var gram = new double[6, 6];
            foreach (var (at, direction, holds) in Supports(loading, pieces))
                if (holds(piece))
                {
                    Point3 turn = Point3.Cross((at - centre[piece]) * (1 / reach), direction);
                    ReadOnlySpan<double> row = [direction.X, direction.Y, direction.Z, turn.X, turn.Y, turn.Z];
                    for (int m = 0; m < 6; m++)
                        for (int n = 0; n < 6; n++) gram[m, n] += row[m] * row[n];
                }

            if (MovementsOf(gram, centre[piece], reach, grid.Frame) is { Count: > 0 } movements)
                free.Add(new(pieces.VolumesMm3[piece], grid.Frame.ToJob(centre[piece]), movements));
        }

        return free;
    }

    private static IEnumerable<(Point3 At, Point3 Direction, Func<int, bool> Holds)> Supports(Loading loading, Pieces pieces)
    {
        VoxelGrid grid = loading.Grid;
        foreach (var (corner, axis) in loading.Fixed.Keys)
        {
            var (i, j, k) = grid.CornerAt(corner);
            yield return (grid.PointOf(i, j, k), axis switch { 0 => new(1, 0, 0), 1 => new(0, 1, 0), _ => new(0, 0, 1) }, piece => Touches(grid, pieces, corner, piece));
        }

        foreach (PlaceSpring s in loading.Springs)
        {
            var (i, j, k) = s.Place.Cell;
            yield return (s.Place.In(grid), s.Direction, piece => pieces.Of(i, j, k) == piece);
        }
    }

    private static bool Touches(VoxelGrid grid, Pieces pieces, int corner, int piece)
    {
        var (i, j, k) = grid.CornerAt(corner);
        for (int c = 0; c < 8; c++)
        {
            int ci = i - (c & 1), cj = j - (c >> 1 & 1), ck = k - (c >> 2);
            if (grid.Share(ci, cj, ck) > 0 && pieces.Of(ci, cj, ck) == piece) return true;
        }

        return false;
    }

    private static List<FreeMovement> MovementsOf(double[,] gram, Point3 centre, double reach, GridFrame frame)
    {
        var (values, vectors) = SymmetricEigen.Of(gram);
        double most = Math.Max(values.Max(), double.Epsilon);
        List<double[]> free = [.. Enumerable.Range(0, 6).Where(n => values[n] <= Free * most).Select(n => vectors[n])];
        var movements = new List<FreeMovement>();
        // Turns first, the axes of the grid where they can be; what is then left does not turn.
        foreach (int axis in (ReadOnlySpan<int>)[5, 4, 3, 5, 4, 3])
        {
            if (Most(free, axis) is not { } turn || Length(turn.AsSpan(3)) < 1e-5) continue;
            Remove(free, turn);
            double length = Length(turn.AsSpan(3));
            Point3 about = new(turn[3] / length, turn[4] / length, turn[5] / length);
            Point3 shift = new Point3(turn[0], turn[1], turn[2]) * (reach / length);
            movements.Add(new(true, frame.ToJob(about), frame.ToJob(centre + Point3.Cross(about, shift))));
        }

        foreach (int axis in (ReadOnlySpan<int>)[0, 1, 2])
        {
            if (Most(free, axis) is not { } shift) continue;
            Remove(free, shift);
            Point3 along = new(shift[0], shift[1], shift[2]);
            movements.Add(new(false, frame.ToJob(along * (1 / along.Length)), default));
        }

        // Shifts read first.
        return [.. movements.OrderBy(m => m.IsTurn)];
    }

    /// <summary>The free movement that has most of one coordinate: that axis projected onto what is free.</summary>
    private static double[]? Most(List<double[]> free, int axis)
    {
        var sum = new double[6];
        foreach (double[] v in free)
            for (int n = 0; n < 6; n++) sum[n] += v[axis] * v[n];
        double length = Length(sum);
        if (length < 1e-5) return null;
        for (int n = 0; n < 6; n++) sum[n] /= length;
        return sum;
    }

    private static void Remove(List<double[]> free, double[] movement)
    {
        var rest = new List<double[]>();
        foreach (double[] v in free)
        {
            double along = Dot(v, movement);
            for (int n = 0; n < 6; n++) v[n] -= along * movement[n];
            foreach (double[] before in rest)
            {
                double twice = Dot(v, before);
                for (int n = 0; n < 6; n++) v[n] -= twice * before[n];
            }

            double length = Length(v);
            if (length < 1e-6) continue;
            for (int n = 0; n < 6; n++) v[n] /= length;
            rest.Add(v);
        }

        free.Clear();
        free.AddRange(rest);
    }

    private static double Dot(double[] a, double[] b) => a.Zip(b, (x, y) => x * y).Sum();

    private static double Length(ReadOnlySpan<double> v)
    {
        double sum = 0;
        foreach (double x in v) sum += x * x;
        return Math.Sqrt(sum);
    }
}

/// <summary>A piece of the part that can move: its volume, its centre in the job's axes, and how it can move.</summary>
public sealed record FreePiece(double VolumeMm3, Point3 Centre, IReadOnlyList<FreeMovement> Movements)
{
    public string InWords => string.Join("; ", Movements.Select(m => m.InWords));
}
