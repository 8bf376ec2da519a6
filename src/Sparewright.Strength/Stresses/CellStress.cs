using Sparewright.Solid;
using Sparewright.Strength.Solve;

namespace Sparewright.Strength.Stresses;

/// <summary>Stress within the cells of a solved grid, in the grid's axes. It is the stress of the solid: the cell's solid share has scaled its stiffness, not its strain.</summary>
public static class CellStress
{
    /// <summary>Stress at the middle of a cell, where that of a trilinear brick is most accurate (Barlow, IJNME 10 (1976), from memory).</summary>
    public static Stress AtCentre(Solution solution, int i, int j, int k)
    {
        // In the middle every corner has the same slope, a quarter of the edge's.
        Point3 x = default, y = default, z = default;
        for (int c = 0; c < 8; c++)
        {
            Point3 u = solution.At(i + (c & 1), j + (c >> 1 & 1), k + (c >> 2));
            x += (c & 1) == 0 ? u * -1 : u;
            y += (c & 2) == 0 ? u * -1 : u;
            z += (c & 4) == 0 ? u * -1 : u;
        }

        double s = 1 / (4 * solution.Grid.CellMm);
        return solution.Material.StressOf(s * x.X, s * y.Y, s * z.Z, s * (y.Z + z.Y), s * (x.Z + z.X), s * (x.Y + y.X));
    }

    /// <summary>Stress at a place of a cell, 0 … 1 each way.</summary>
    public static Stress Within(Solution solution, int i, int j, int k, double x, double y, double z)
    {
        Span<double> u = stackalloc double[BrickMatrix.Size], strains = stackalloc double[6 * BrickMatrix.Size], e = stackalloc double[6];
        solution.OfCell(i, j, k, u);
        BrickMatrix.StrainsOf(x, y, z, solution.Grid.CellMm, strains);
        for (int s = 0; s < 6; s++)
            for (int n = 0; n < BrickMatrix.Size; n++) e[s] += strains[s * BrickMatrix.Size + n] * u[n];
        return solution.Material.StressOf(e[0], e[1], e[2], e[3], e[4], e[5]);
    }
}
