using Sparewright.Solid;

namespace Sparewright.Strength.Loads;

/// <summary>How a total is spread over a patch: a force in N on each of its samples. The forces add up to the total.</summary>
public static class Spreading
{
    private const int MostRounds = 60;

    /// <summary>Alike everywhere.</summary>
    public static Point3[] Evenly(Patch patch, Point3 forceN) => [.. patch.Samples.Select(s => forceN * (s.AreaMm2 / patch.AreaMm2))];

    /// <summary>Square to the surface everywhere, into the material, MPa.</summary>
    public static Point3[] Pressure(Patch patch, double pressureMPa) => [.. patch.Samples.Select(s => s.Inward * (pressureMPa * s.AreaMm2))];

    /// <summary>A moment in N·mm about the patch's middle, each piece pushed as it would move if the patch were turned rigidly: a flat face is dragged round, or pulled on one side and pushed on the other. No net force.</summary>
    public static Point3[] Turning(Patch patch, Point3 momentNmm)
    {
        // ∫ρ × (ω × ρ) dA = M is J ω = M with J = ∫(ρ² 1 − ρ ρᵀ) dA.
        Point3 c = patch.Centroid;
        double xx = 0, yy = 0, zz = 0, yz = 0, xz = 0, xy = 0;
        foreach (SurfaceSample s in patch.Samples)
        {
            Point3 r = s.At - c;
            xx += s.AreaMm2 * (r.Y * r.Y + r.Z * r.Z);
            yy += s.AreaMm2 * (r.X * r.X + r.Z * r.Z);
            zz += s.AreaMm2 * (r.X * r.X + r.Y * r.Y);
            yz -= s.AreaMm2 * r.Y * r.Z;
            xz -= s.AreaMm2 * r.X * r.Z;
            xy -= s.AreaMm2 * r.X * r.Y;
        }

        Point3 first = new(xx, xy, xz), second = new(xy, yy, yz), third = new(xz, yz, zz);
        double determinant = Point3.Dot(first, Point3.Cross(second, third));
        Point3 turn = (Point3.Cross(second, third) * momentNmm.X + Point3.Cross(third, first) * momentNmm.Y + Point3.Cross(first, second) * momentNmm.Z) * (1 / determinant);
        return [.. patch.Samples.Select(s => Point3.Cross(turn, s.At - c) * s.AreaMm2)];
    }

    /// <summary>
    /// As a round counterpart presses on a round face: pressure ⟨n·q⟩ by the cosine of the angle to where it is pushed, nothing on the side that it leaves; what goes along the axis is spread evenly.
    /// The cosine is common practice for pins in bores (handbooks of machine elements, from memory).
    /// </summary>
    /// <param name="axis">Unit.</param>
    /// <returns>Null where the face has no side that could be pressed that way.</returns>
    public static Point3[]? AgainstRound(Patch patch, Point3 axis, Point3 forceN)
    {
        Point3 along = axis * Point3.Dot(forceN, axis), across = forceN - along;
        Point3[] forces = Evenly(patch, along);
        if (across.Length <= 1e-12 * forceN.Length) return forces;
        Point3 u = across * (1 / across.Length), v = Point3.Cross(axis, u), q = u;

        // The pressed half follows from q and q from the pressed half; on a whole bore the first guess is right already.
        for (int round = 0; round < MostRounds; round++)
        {
            double uu = 0, uv = 0, vv = 0;
            foreach (SurfaceSample s in patch.Samples)
            {
                if (Point3.Dot(s.Inward, q) <= 0) continue;
                double a = Point3.Dot(s.Inward, u), b = Point3.Dot(s.Inward, v);
                uu += s.AreaMm2 * a * a;
                uv += s.AreaMm2 * a * b;
                vv += s.AreaMm2 * b * b;
            }

            double determinant = uu * vv - uv * uv;
            if (determinant <= 1e-6 * patch.AreaMm2 * patch.AreaMm2) return null;
            Point3 next = u * (across.Length * vv / determinant) - v * (across.Length * uv / determinant);
            bool settled = (next - q).Length <= 1e-12 * next.Length;
            q = next;
            if (settled) break;
        }

        Point3 missing = across;
        for (int k = 0; k < forces.Length; k++)
        {
            SurfaceSample s = patch.Samples[k];
            Point3 push = s.Inward * (Math.Max(0, Point3.Dot(s.Inward, q)) * s.AreaMm2);
            forces[k] += push;
            missing -= push;
        }

        // Should the rounds not have settled, or the wall not be quite straight, the little that is missing is spread evenly.
        if (missing.Length > 0.05 * across.Length) return null;
        Point3[] rest = Evenly(patch, missing);
        for (int k = 0; k < forces.Length; k++) forces[k] += rest[k];
        return forces;
    }
}
