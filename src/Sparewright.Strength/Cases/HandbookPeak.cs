using Sparewright.Solid;
using Sparewright.Strength.Formulas;
using Sparewright.Strength.Solve;
using Sparewright.Strength.Stresses;

namespace Sparewright.Strength.Cases;

/// <summary>
/// The peak at a hole or inner round that is too small for the cells: what the solver says of the wall behind it, evenly and in bending, times the handbook's factors.
/// </summary>
/// <param name="Of">Which handbook case.</param>
/// <param name="Factor">Times the even stress.</param>
/// <param name="InBending">Times the stress in bending.</param>
/// <param name="WallMm">How thick the wall behind it is.</param>
public sealed record HandbookPeak(string Of, double Factor, double InBending, double WallMm)
{
    /// <summary>The ± of such a peak as a share of it: the factors are for plain strips and steps. Common practice, no source.</summary>
    public const double PlusMinus = 0.2;

    /// <summary>So many places of the wall are asked.</summary>
    private const int Places = 40;

    /// <summary>The peak at a point of a round face, in the grid's axes; null where no handbook case is like it.</summary>
    internal static (HandbookPeak Peak, Stress Stress)? At(Solution whole, Mesh mesh, SolidFace face, SurfacePoint point)
    {
        if (face.Bulges || face.Kind is not (SurfaceKind.Cylinder or SurfaceKind.Torus)) return null;
        // From just outside, so that the surface itself is the first that is crossed.
        if (Ray.Crossings(mesh, point.At + point.Outward * 0.01, point.Outward * -1) is not { Count: >= 2 } crossings) return null;
        double wallMm = crossings[1] - crossings[0];
        if (PeakOf(face, wallMm) is not { } peak || Wall(whole, point, wallMm) is not var (even, bending)) return null;
        return (peak, SurfaceStress.WithoutTraction(even * peak.Factor + bending * peak.InBending, whole.Grid.Frame.ToGrid(point.Outward)));
    }

    private static HandbookPeak? PeakOf(SolidFace face, double wallMm)
    {
        if (face.Kind == SurfaceKind.Cylinder && face.Names.Any(n => n.EndsWith(".wall", StringComparison.Ordinal)))
        {
            double kt = HoleInStrip.KtNet(face.RadiusMm / (face.RadiusMm + wallMm));
            return new("hole in a strip (Roark, table 17.1)", kt, kt, wallMm);
        }

        double radius = face.Kind == SurfaceKind.Torus ? face.MinorRadiusMm : face.RadiusMm;
        var step = new Shoulder(ShoulderShape.FlatBar, 2 * wallMm, wallMm, radius);
        return step.Kt(ShoulderLoad.Tension) is { } tension && step.Kt(ShoulderLoad.Bending) is { } bends
            ? new("step in a flat bar, twice as wide beyond it (Roark, table 17.1)", tension, bends, wallMm) : null;
    }

    /// <summary>The stress across the wall as an even part and one that turns over in the middle, told at the surface.</summary>
    private static (Stress Even, Stress Bending)? Wall(Solution whole, SurfacePoint point, double wallMm)
    {
        Stress even = default, bending = default;
        int asked = 0;
        Point3 inward = whole.Grid.Frame.ToGrid(point.Outward) * -1, start = whole.Grid.Frame.ToGrid(point.At);
        for (int k = 0; k < Places; k++)
        {
            double depth = (k + 0.5) / Places;
            Point3 p = (start + inward * (depth * wallMm) - whole.Grid.Origin) * (1 / whole.Grid.CellMm);
            var (i, j, l) = ((int)Math.Floor(p.X), (int)Math.Floor(p.Y), (int)Math.Floor(p.Z));
            if (whole.Grid.Share(i, j, l) < 0.3) continue;
            Stress stress = CellStress.Within(whole, i, j, l, p.X - i, p.Y - j, p.Z - l);
            even += stress;
            bending += stress * (6 * (1 - 2 * depth) / 2);
            asked++;
        }

        return asked < Places / 2 ? null : (even * (1.0 / asked), bending * (1.0 / asked));
    }
}
