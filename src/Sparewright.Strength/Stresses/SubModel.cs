using Sparewright.Solid;
using Sparewright.Strength.Grid;
using Sparewright.Strength.Solve;

namespace Sparewright.Strength.Stresses;

/// <summary>
/// A finer grid about one place, moved on its cut faces as the whole part's solution moves there. What happens within depends little on how exactly the cut faces move,
/// if they lie away from the place (Saint-Venant's principle).
/// </summary>
public static class SubModel
{
    /// <summary>A window of the part and its loading by the movements of the cut faces; loads and supports within the window are still to be added.</summary>
    /// <param name="whole">The solved whole part.</param>
    /// <param name="mesh">The part's surface in the job's axes.</param>
    /// <param name="centre">Middle of the window, grid's axes, mm.</param>
    /// <param name="halfMm">Half the window's edge; it grows to a whole number of cells.</param>
    /// <param name="cellMm">Edge of the finer cells.</param>
    public static Loading Around(Solution whole, Mesh mesh, Point3 centre, double halfMm, double cellMm, CancellationToken cancel = default)
    {
        // The window's faces lie in planes of whole cells' corners: there the movements are known best.
        double h = whole.Grid.CellMm;
        Point3 from = whole.Grid.Origin, low = centre - new Point3(halfMm, halfMm, halfMm) - from, high = centre + new Point3(halfMm, halfMm, halfMm) - from;
        Point3 origin = new(Down(low.X), Down(low.Y), Down(low.Z));
        VoxelGrid grid = VoxelGrid.Over(mesh, whole.Grid.Frame, origin + from, cellMm, Cells(high.X - origin.X), Cells(high.Y - origin.Y), Cells(high.Z - origin.Z), cancel);
        var loading = new Loading(grid);
        for (int k = 0; k <= grid.NZ; k++)
            for (int j = 0; j <= grid.NY; j++)
                for (int i = 0; i <= grid.NX; i++)
                {
                    if (!IsCut(i, j, k) || !grid.IsUsed(i, j, k) || whole.MovementAt(grid.PointOf(i, j, k)) is not { } u) continue;
                    int corner = grid.Corner(i, j, k);
                    loading.Fix(corner, 0, u.X);
                    loading.Fix(corner, 1, u.Y);
                    loading.Fix(corner, 2, u.Z);
                }

        return loading;

        // A face of the window cuts the part where there is solid on its other side too; where the part ends there it is free.
        bool IsCut(int i, int j, int k) =>
            i == 0 && GoesOn(i - 0.25, j, k) || j == 0 && GoesOn(i, j - 0.25, k) || k == 0 && GoesOn(i, j, k - 0.25) ||
            i == grid.NX && GoesOn(i + 0.25, j, k) || j == grid.NY && GoesOn(i, j + 0.25, k) || k == grid.NZ && GoesOn(i, j, k + 0.25);

        bool GoesOn(double i, double j, double k)
        {
            Point3 p = (grid.PointOf(i, j, k) - from) * (1 / h);
            // A corner in a plane between cells goes on if any cell about it does.
            for (int c = 0; c < 8; c++)
                if (whole.Grid.Share((int)Math.Floor(p.X + ((c & 1) - 0.5) * 1e-6), (int)Math.Floor(p.Y + ((c >> 1 & 1) - 0.5) * 1e-6), (int)Math.Floor(p.Z + ((c >> 2) - 0.5) * 1e-6)) > 0)
                    return true;
            return false;
        }

        double Down(double x) => Math.Floor(x / h) * h;

        int Cells(double length) => (int)Math.Ceiling(Math.Ceiling(length / h - 1e-9) * h / cellMm - 1e-9);
    }
}
