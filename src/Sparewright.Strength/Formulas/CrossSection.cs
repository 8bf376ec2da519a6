using Sparewright.Solid;

namespace Sparewright.Strength.Formulas;

/// <summary>A piece of a cross-section's outline: its middle, and which way is out of the material.</summary>
/// <param name="AlongU">From its beginning to its end, counter-clockwise about the material.</param>
public readonly record struct OutlinePiece(double U, double V, double AlongU, double AlongV, Point3 At, Point3 Outward)
{
    public double LengthMm => Math.Sqrt(AlongU * AlongU + AlongV * AlongV);
}

/// <summary>A part cut square to one of the job's axes, as a beam feels it. U and V are the two axes that follow (x → y, z).</summary>
/// <param name="Axis">0 x, 1 y, 2 z.</param>
/// <param name="Centroid">Of the area, mm, in the job's axes.</param>
/// <param name="Uu">Second moment ∫u² dA about the centroid, mm⁴.</param>
/// <param name="Vv">∫v² dA.</param>
/// <param name="Uv">∫uv dA.</param>
/// <param name="Outline">U and V from the centroid.</param>
public sealed record CrossSection(int Axis, double AreaMm2, Point3 Centroid, double Uu, double Vv, double Uv, IReadOnlyList<OutlinePiece> Outline)
{
    /// <summary>The cut of a closed surface at a coordinate; null where there is nothing.</summary>
    public static CrossSection? Of(Mesh mesh, int axis, double at)
    {
        int u = (axis + 1) % 3, v = (axis + 2) % 3;
        // No corner of the mesh lies just there.
        at += 1.7e-7;
        var pieces = new List<(double U1, double V1, double U2, double V2, Point3 Outward)>();
        Span<double> a = stackalloc double[3], b = stackalloc double[3], ends = stackalloc double[6];
        for (int t = 0; t < mesh.TriangleCount; t++)
        {
            int found = 0;
            for (int c = 0; c < 3 && found < 2; c++)
            {
                Point(mesh.Triangles[3 * t + c], a);
                Point(mesh.Triangles[3 * t + (c + 1) % 3], b);
                if (a[axis] < at == b[axis] < at) continue;
                double share = (at - a[axis]) / (b[axis] - a[axis]);
                (ends[2 * found], ends[2 * found + 1]) = (a[u] + share * (b[u] - a[u]), a[v] + share * (b[v] - a[v]));
                found++;
            }

            if (found < 2) continue;
            Point3 p = PointOf(mesh.Triangles[3 * t]), outward = Point3.Cross(PointOf(mesh.Triangles[3 * t + 1]) - p, PointOf(mesh.Triangles[3 * t + 2]) - p);
            outward *= 1 / Math.Max(outward.Length, 1e-300);
            // Counter-clockwise about the material: out is to the right.
            bool isRight = (ends[3] - ends[1]) * Coordinate(outward, u) - (ends[2] - ends[0]) * Coordinate(outward, v) >= 0;
            pieces.Add(isRight ? (ends[0], ends[1], ends[2], ends[3], outward) : (ends[2], ends[3], ends[0], ends[1], outward));
        }

        double area = 0, su = 0, sv = 0, uu = 0, vv = 0, uv = 0;
        foreach (var (u1, v1, u2, v2, _) in pieces)
        {
            double cross = u1 * v2 - u2 * v1;
            area += cross / 2;
            su += cross * (u1 + u2) / 6;
            sv += cross * (v1 + v2) / 6;
            uu += cross * (u1 * u1 + u1 * u2 + u2 * u2) / 12;
            vv += cross * (v1 * v1 + v1 * v2 + v2 * v2) / 12;
            uv += cross * (u1 * v2 + 2 * u1 * v1 + 2 * u2 * v2 + u2 * v1) / 24;
        }

        if (area <= 1e-9) return null;
        double cu = su / area, cv = sv / area;
        return new(axis, area, At(cu, cv), uu - area * cu * cu, vv - area * cv * cv, uv - area * cu * cv,
            [.. pieces.Select(p => new OutlinePiece((p.U1 + p.U2) / 2 - cu, (p.V1 + p.V2) / 2 - cv, p.U2 - p.U1, p.V2 - p.V1, At((p.U1 + p.U2) / 2, (p.V1 + p.V2) / 2), p.Outward))]);

        Point3 At(double onU, double onV) => axis switch { 0 => new(at, onU, onV), 1 => new(onV, at, onU), _ => new(onU, onV, at) };

        void Point(int number, Span<double> to) => mesh.Points.AsSpan(3 * number, 3).CopyTo(to);

        Point3 PointOf(int number) => new(mesh.Points[3 * number], mesh.Points[3 * number + 1], mesh.Points[3 * number + 2]);
    }

    /// <summary>Stress along the axis at a place from the centroid, MPa, by beam theory: pulled with a force (N) and bent by moments (N·mm) about U and V, which the side at greater coordinates exerts.</summary>
    public double StressMPa(double pullN, double momentU, double momentV, double u, double v)
    {
        // ∫σ u dA = −M_v and ∫σ v dA = M_u, with σ = N/A + a u + b v.
        double determinant = Uu * Vv - Uv * Uv;
        double a = (-momentV * Vv - momentU * Uv) / determinant, b = (momentU * Uu + momentV * Uv) / determinant;
        return pullN / AreaMm2 + a * u + b * v;
    }

    /// <summary>A coordinate by its number.</summary>
    public static double Coordinate(Point3 p, int axis) => axis switch { 0 => p.X, 1 => p.Y, _ => p.Z };
}
