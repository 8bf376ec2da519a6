using Sparewright.Solid;
using Sparewright.Strength.Grid;
using Sparewright.Strength.Solve;

namespace Sparewright.Strength.Tests;

/// <summary>
/// Tractions and supports of published problems on a mesh's true surface, given to the corners of the cells that it passes through: the corner i gets ∫ N_i t dA, which keeps force and moment.
/// </summary>
/// <remarks>Integration over each cut triangle is exact for the trilinear N_i under a constant traction: six points, degree 4 (Dunavant, IJNME 21 (1985), from memory).</remarks>
internal static class Surfaces
{
    /// <summary>A held surface yields like a layer of the part's own material a twentieth of a cell thick.</summary>
    private const double HeldStiffness = 20;

    /// <summary>Points and weights of the rule: two of the three corner weights of each point are the first number.</summary>
    private static readonly (double A, double Weight)[] Rule = [(0.445948490915965, 0.223381589678011), (0.091576213509771, 0.109951743655322)];

    /// <summary>Pushes on triangles.</summary>
    /// <param name="triangles">Which triangles of the mesh.</param>
    /// <param name="tractionMPa">Traction at a point of the surface with its outward normal, all in the grid's axes.</param>
    /// <returns>The force in N that the triangles got.</returns>
    public static Point3 Push(Loading loading, Mesh mesh, Func<int, bool> triangles, Func<Point3, Point3, Point3> tractionMPa)
    {
        Point3 total = default;
        ForEachPoint(loading.Grid, mesh, triangles, (cell, place, normal, areaMm2) =>
        {
            Point3 force = tractionMPa(loading.Grid.PointOf(cell.I + place.X, cell.J + place.Y, cell.K + place.Z), normal) * areaMm2;
            total += force;
            for (int c = 0; c < 8; c++) loading.Push(Corner(loading.Grid, cell, c), force * Weight(place, c));
        });
        return total;
    }

    /// <summary>Holds triangles in all directions.</summary>
    /// <param name="material">What the part is made of; the support is much stiffer.</param>
    /// <returns>The area held in mm².</returns>
    public static double Hold(Loading loading, Mesh mesh, Func<int, bool> triangles, LayeredStiffness material) =>
        Hold(loading, mesh, triangles, (_, _) => [new(1, 0, 0), new(0, 1, 0), new(0, 0, 1)], material);

    /// <summary>Holds triangles along given directions, for example only along the normal.</summary>
    /// <param name="directions">Unit directions held at a corner by the surface, and the surface's outward normal there, all in the grid's axes. For a round surface give the line through its axis: the normals of its flat triangles hinder it from turning.</param>
    public static double Hold(Loading loading, Mesh mesh, Func<int, bool> triangles, Func<Point3, Point3, IReadOnlyList<Point3>> directions, LayeredStiffness material)
    {
        VoxelGrid grid = loading.Grid;
        double stiffness = HeldStiffness * Math.Max(material.InLayerMPa, material.AcrossLayersMPa) / grid.CellMm;
        double area = 0;
        var at = new SortedDictionary<int, (double AreaMm2, Point3 Normal)>();
        ForEachPiece(grid, mesh, triangles, (cell, normal, piece) =>
        {
            double all = 0;
            Point3 middle = default;
            for (int p = 1; p + 1 < piece.Length; p++)
            {
                double part = Point3.Cross(piece[p] - piece[0], piece[p + 1] - piece[0]).Length / 2;
                all += part;
                middle += (piece[0] + piece[p] + piece[p + 1]) * (part / 3);
            }

            if (all < 1e-9) return;
            middle *= 1 / all;
            double areaMm2 = all * grid.CellMm * grid.CellMm;
            area += areaMm2;
            // A spring may not push where it should pull, so the middle is taken within the cell.
            Point3 place = new(Math.Clamp(middle.X - cell.I, 0, 1), Math.Clamp(middle.Y - cell.J, 0, 1), Math.Clamp(middle.Z - cell.K, 0, 1));
            for (int c = 0; c < 8; c++)
            {
                var before = at.GetValueOrDefault(Corner(grid, cell, c));
                if (Weight(place, c) is > 0 and var weight) at[Corner(grid, cell, c)] = (before.AreaMm2 + weight * areaMm2, before.Normal + normal * (weight * areaMm2));
            }
        });
        foreach (var (corner, (areaMm2, normal)) in at)
        {
            var (i, j, k) = grid.CornerAt(corner);
            foreach (Point3 direction in directions(grid.PointOf(i, j, k), normal * (1 / Math.Max(normal.Length, 1e-300)))) loading.Spring(corner, direction, stiffness * areaMm2);
        }

        return area;
    }

    private delegate void VisitPiece((int I, int J, int K) cell, Point3 normal, ReadOnlySpan<Point3> piece);

    private static void ForEachPoint(VoxelGrid grid, Mesh mesh, Func<int, bool> triangles, Action<(int I, int J, int K), Point3, Point3, double> visit) =>
        ForEachPiece(grid, mesh, triangles, (cell, normal, piece) =>
        {
            for (int p = 1; p + 1 < piece.Length; p++)
            {
                double area = Point3.Cross(piece[p] - piece[0], piece[p + 1] - piece[0]).Length / 2;
                if (area == 0) continue;
                foreach (var (s, weight) in Rule)
                    for (int corner = 0; corner < 3; corner++)
                    {
                        double w0 = corner == 0 ? 1 - 2 * s : s, w1 = corner == 1 ? 1 - 2 * s : s;
                        Point3 at = piece[0] * w0 + piece[p] * w1 + piece[p + 1] * (1 - w0 - w1);
                        visit(cell, at - new Point3(cell.I, cell.J, cell.K), normal, weight * area * grid.CellMm * grid.CellMm);
                    }
            }
        });

    /// <summary>The triangles cut along the cells, in units of cells, each with the cell that it acts on.</summary>
    private static void ForEachPiece(VoxelGrid grid, Mesh mesh, Func<int, bool> triangles, VisitPiece visit)
    {
        for (int t = 0; t < mesh.TriangleCount; t++)
        {
            if (!triangles(t)) continue;
            Point3 a = InCells(3 * t), b = InCells(3 * t + 1), c = InCells(3 * t + 2);
            Point3 cross = Point3.Cross(b - a, c - a);
            if (cross.Length == 0) continue;
            Point3 normal = cross * (1 / cross.Length);
            SurfacePieces.Of(a, b, c, normal * -1e-3, 0, grid.NY - 1, (i, j, k, piece) =>
            {
                if ((uint)i < (uint)grid.NX && (uint)k < (uint)grid.NZ && SolidCell(grid, i, j, k, normal) is { } cell) visit(cell, normal, piece);
            });
        }

        Point3 InCells(int corner)
        {
            int p = 3 * mesh.Triangles[corner];
            return (grid.Frame.ToGrid(new(mesh.Points[p], mesh.Points[p + 1], mesh.Points[p + 2])) - grid.Origin) * (1 / grid.CellMm);
        }
    }

    /// <summary>The cell itself, or where it was left out the one with most solid about it, on the inner side first.</summary>
    private static (int I, int J, int K)? SolidCell(VoxelGrid grid, int i, int j, int k, Point3 normal)
    {
        if (grid.Share(i, j, k) > 0) return (i, j, k);
        (int, int, int)? best = null;
        double most = double.MinValue;
        for (int dk = -1; dk <= 1; dk++)
            for (int dj = -1; dj <= 1; dj++)
                for (int di = -1; di <= 1; di++)
                {
                    double share = grid.Share(i + di, j + dj, k + dk);
                    if (share == 0) continue;
                    double score = share - Point3.Dot(normal, new(di, dj, dk));
                    if (score > most) (most, best) = (score, (i + di, j + dj, k + dk));
                }

        return best;
    }

    private static int Corner(VoxelGrid grid, (int I, int J, int K) cell, int c) => grid.Corner(cell.I + (c & 1), cell.J + (c >> 1 & 1), cell.K + (c >> 2));

    private static double Weight(Point3 p, int c) => ((c & 1) == 0 ? 1 - p.X : p.X) * ((c & 2) == 0 ? 1 - p.Y : p.Y) * ((c & 4) == 0 ? 1 - p.Z : p.Z);
}
