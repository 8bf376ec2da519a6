using Sparewright.Solid;
using Sparewright.Strength.Solve;

namespace Sparewright.Strength.Held;

/// <summary>
/// What keeps a part in its place that is free to move and not driven: as many springs as there are free movements, so that statics alone says what each takes. Where nothing drives the part that is
/// nothing, however stiff they are; more springs would take a share of every load.
/// </summary>
internal static class Steadying
{
    /// <param name="corners">On which a spring may act.</param>
    /// <param name="stiffnessNPerMm">Of each; it does not change the answer.</param>
    public static void Add(Loading loading, IReadOnlyList<FreeMovement> movements, IEnumerable<int> corners, double stiffnessNPerMm)
    {
        (int Corner, Point3 Axis, double[] Moved)[] places = [.. corners.SelectMany(c => ((ReadOnlySpan<Point3>)[new(1, 0, 0), new(0, 1, 0), new(0, 0, 1)]).ToArray().Select(axis => (c, axis, MovedBy(loading, movements, c, axis))))];
        // A turn moves what is far out most: each is measured by the most that it moves.
        for (int m = 0; m < movements.Count; m++)
        {
            double most = places.Max(p => Math.Abs(p.Moved[m]));
            foreach (var (_, _, moved) in places) moved[m] /= Math.Max(most, double.Epsilon);
        }

        // Each spring where what is still free moves most; then that is no longer free (Gram and Schmidt).
        for (int taken = 0; taken < movements.Count; taken++)
        {
            var (corner, axis, row) = places.MaxBy(p => Squared(p.Moved));
            double length = Math.Sqrt(Squared(row));
            if (length < 1e-6) return;
            loading.Spring(corner, axis, stiffnessNPerMm);
            double[] unit = [.. row.Select(x => x / length)];
            foreach (var (_, _, moved) in places)
            {
                double along = 0;
                for (int m = 0; m < unit.Length; m++) along += moved[m] * unit[m];
                for (int m = 0; m < unit.Length; m++) moved[m] -= along * unit[m];
            }
        }
    }

    private static double[] MovedBy(Loading loading, IReadOnlyList<FreeMovement> movements, int corner, Point3 axis)
    {
        var (i, j, k) = loading.Grid.CornerAt(corner);
        Point3 at = loading.Grid.PointOf(i, j, k);
        return [.. movements.Select(m => Point3.Dot(axis, m.At(at, loading.Grid.Frame)))];
    }

    private static double Squared(double[] row) => row.Sum(x => x * x);
}
