using Sparewright.Solid;
using Sparewright.Strength.Grid;
using Sparewright.Strength.Loads;
using Sparewright.Strength.Margins;
using Sparewright.Strength.Solve;
using Sparewright.Strength.Stresses;

namespace Sparewright.Strength.Cases;

/// <summary>Where a solved part is nearest to going.</summary>
/// <param name="Stress">In the grid's axes, MPa.</param>
/// <param name="SharpCorner">A sharp inner corner where the solver's cells show more, which says nothing but that there is one; null without.</param>
public sealed record WeakestPlace(SurfacePoint Point, Stress Stress, Reserve Reserve, SharpCorner? SharpCorner)
{
    /// <summary>Stress right at a sharp inner corner grows as the cells get smaller; it is read one wall line beside it (a usual nozzle draws 0.45 mm).</summary>
    internal const double LineWidthMm = 0.45;

    /// <summary>The reserve at each of some points of the surface, for looking at; NaN where none is judged: at a support, at a sharp inner corner, away from all cells.</summary>
    /// <param name="supports">What lies near these is not judged.</param>
    /// <param name="judge">The reserve of a stress in the grid's axes.</param>
    internal static IReadOnlyList<double> Reserves(Solution solution, SolidLoadCase @case, PartSurface surface, IReadOnlyList<SurfacePoint> points, Nearness supports, Func<Stress, Reserve> judge)
    {
        var near = new NearPoint(supports, @case, surface, solution.Grid.CellMm, LineWidthMm);
        var reserves = new double[points.Count];
        Parallel.For(0, reserves.Length, k =>
        {
            SurfacePoint p = points[k];
            reserves[k] = near.Support(p.At) || near.SharpCorner(p.At) || StressAt(solution, p, near.Load(p.At)) is not { } stress ? double.NaN : judge(stress).Factor;
        });
        return reserves;
    }

    /// <summary>A point so near a load has traction on it.</summary>
    public static double TouchMm(double cellMm) => 1.5 * cellMm;

    /// <summary>The stress at a point of the surface, grid's axes; without traction where nothing touches it. Null away from all cells.</summary>
    /// <param name="touched">Whether something acts there.</param>
    public static Stress? StressAt(Solution solution, SurfacePoint point, bool touched)
    {
        GridFrame frame = solution.Grid.Frame;
        Point3 outward = frame.ToGrid(point.Outward);
        if (SurfaceStress.At(solution, frame.ToGrid(point.At), outward) is not { } stress) return Beneath(solution, point);
        return touched ? stress : SurfaceStress.WithTraction(stress, outward, default, solution.Material);
    }

    /// <summary>The stress in the cell right beneath a point of the surface.</summary>
    internal static Stress? Beneath(Solution solution, SurfacePoint point)
    {
        VoxelGrid grid = solution.Grid;
        Point3 place = (grid.Frame.ToGrid(point.At) - grid.Origin) * (1 / grid.CellMm), inward = grid.Frame.ToGrid(point.Outward) * -1;
        // A cell that is all solid where there is one, else what there is.
        foreach (float least in (ReadOnlySpan<float>)[0.99f, 0.3f, 1e-6f])
            for (double depth = 0.25; depth < 1.8; depth += 0.25)
            {
                Point3 p = place + inward * depth;
                var (i, j, k) = ((int)Math.Floor(p.X), (int)Math.Floor(p.Y), (int)Math.Floor(p.Z));
                if (grid.Share(i, j, k) >= least) return CellStress.AtCentre(solution, i, j, k);
            }

        return null;
    }
}
