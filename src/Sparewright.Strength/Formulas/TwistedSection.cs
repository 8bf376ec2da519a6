using Sparewright.Solid;

namespace Sparewright.Strength.Formulas;

/// <summary>A place on the outline of a section.</summary>
public readonly record struct OutlinePlace(Point3 At, Point3 Outward);

/// <summary>The shear moduli of a section's material, MPa: of stress along the section's U and its V; and the modulus along the axis.</summary>
public readonly record struct SectionModuli(double AlongU, double AlongV, double AlongAxis);

/// <summary>A cross-section as a twist feels it, where it is of a kind that has a formula: round, tube, rectangle, thin walls that are open or close around one hollow.</summary>
/// <param name="Kind">For people.</param>
/// <param name="MPaPerNmm">The greatest shear stress over the twist, MPa for each N·mm.</param>
/// <param name="PlusMinus">What the formula leaves out of such a section, as a share; for thin walls, their corners and their curve.</param>
/// <param name="ThroughMm">Across how much of the material the stress turns over; infinite where it hardly does, as in closed thin walls.</param>
/// <param name="Most">Where that stress is; on opposite sides where the section has such.</param>
/// <param name="WarpingMm">How far the ends are felt because they keep the section from warping: over so many mm this falls to a third. 0 where that is less than the section is deep.</param>
/// <param name="IsDouble">Whether the twist may be taken about the centroid whatever force acts across: the section is alike both ways.</param>
internal sealed record TwistedSection(string Kind, double MPaPerNmm, double PlusMinus, double ThroughMm, IReadOnlyList<OutlinePlace> Most, double WarpingMm, bool IsDouble)
{
    /// <summary>A circle or side is straight to this share; a chord of the mesh lies inside the circle.</summary>
    private const double True = 0.02;

    /// <summary>Walls are thin where they are long over their thickness.</summary>
    private const double ThinOver = 8;

    /// <summary>Of a thin-walled section this share or more must be wall; the rest is corners and ends.</summary>
    private const double LeastWall = 0.75;

    private const string Bar = "a round bar";

    public static TwistedSection? Of(CrossSection cut, SectionModuli moduli) => RoundOf(cut) ?? RectangleOf(cut, moduli) ?? WallsOf(cut, moduli);

    /// <summary>The diameter of a round bar's section, mm; null where it is none.</summary>
    public static double? DiameterOfRoundMm(CrossSection cut) => RoundOf(cut) is { Kind: Bar } ? 2 * cut.Outline.Max(Radius) : null;

    private static TwistedSection? RoundOf(CrossSection cut)
    {
        double[] outer = [.. cut.Outline.Where(p => FacesOut(p)).Select(Radius)], inner = [.. cut.Outline.Where(p => !FacesOut(p)).Select(Radius)];
        if (outer.Length < 12 || !IsOne(outer) || inner.Length > 0 && (inner.Length < 12 || !IsOne(inner) || inner.Max() >= outer.Min())) return null;
        double outside = 2 * outer.Max(), inside = inner.Length > 0 ? 2 * inner.Max() : 0;
        var tube = new TwistedTube(outside, inside);
        double area = Section.Tube(outside, inside).AreaMm2;
        if (Math.Abs(cut.AreaMm2 - area) > 2 * True * area) return null;
        OutlinePiece[] pieces = [.. cut.Outline.Where(p => FacesOut(p))];
        int each = Math.Max(1, pieces.Length / 24);
        return new(inside > 0 ? "a tube" : Bar, tube.OutsideMPa(1), 0, outside, [.. pieces.Where((_, k) => k % each == 0).Select(p => new OutlinePlace(p.At, p.Outward))], 0, IsDouble: true);

        static bool IsOne(double[] radii) => radii.Max() - radii.Min() < True * radii.Max();
    }

    private static TwistedSection? RectangleOf(CrossSection cut, SectionModuli moduli)
    {
        // Its sides lie along the axes: U and V are then those of the material as well.
        if (cut.Outline.Any(p => Math.Max(Math.Abs(p.AlongU), Math.Abs(p.AlongV)) < 0.999 * p.LengthMm)) return null;
        double wide = Extent(p => p.U), high = Extent(p => p.V);
        if (Math.Abs(wide * high - cut.AreaMm2) > True * cut.AreaMm2) return null;
        var (alike, wideTimes, highTimes) = TwistedRectangle.Layered(wide, high, moduli.AlongU, moduli.AlongV);
        double onWide = alike.OnWideSideMPa(1) * wideTimes, onHigh = alike.OnHighSideMPa(1) * highTimes;
        bool isWide = onWide >= onHigh;
        Point3 u = Unit((cut.Axis + 1) % 3), v = Unit((cut.Axis + 2) % 3), out1 = isWide ? v : u;
        double half = (isWide ? high : wide) / 2;
        return new("a rectangular bar", Math.Max(onWide, onHigh), 0, Math.Min(wide, high), [new(cut.Centroid + out1 * half, out1), new(cut.Centroid - out1 * half, out1 * -1)], 0, IsDouble: true);

        double Extent(Func<OutlinePiece, double> of) => cut.Outline.Max(of) - cut.Outline.Min(of);
    }

    private static TwistedSection? WallsOf(CrossSection cut, SectionModuli moduli)
    {
        OutlineLoop[] loops = [.. OutlineLoop.Of(cut).OrderByDescending(l => l.AreaMm2)];
        if (loops.Length is 0 or > 2) return null;
        var walls = loops[0].Pieces.Select(p => (Piece: p, ThickMm: ThicknessAt(cut, p))).Where(w => double.IsFinite(w.ThickMm)).ToArray();
        bool isClosed = loops.Length == 2;
        double middle = isClosed ? (loops[0].LengthMm + loops[1].LengthMm) / 2 : loops[0].LengthMm / 2;
        // What is farther through than this is seen along a wall, not across it.
        double mean = cut.AreaMm2 / middle;
        walls = [.. walls.Where(w => w.ThickMm < 2.5 * mean)];
        if (walls.Length == 0) return null;
        // Each wall of an open section has two sides; the outer side of a closed one is longer than its middle.
        double share = isClosed ? middle / loops[0].LengthMm : 0.5;
        (OutlinePiece Piece, WallPiece Wall)[] pieces = [.. walls.Select(w => (w.Piece, new WallPiece(share * w.Piece.LengthMm, w.ThickMm, ShearAlong(w.Piece, moduli))))];
        WallPiece[] all = [.. pieces.Select(p => p.Wall)];
        double wall = all.Sum(w => w.LengthMm * w.ThickMm) / cut.AreaMm2, thickest = all.Max(w => w.ThickMm);
        if (wall < LeastWall || wall > 2 - LeastWall || middle < ThinOver * thickest) return null;

        double[] stresses = isClosed ? [.. all.Select(w => TwistedWalls.ClosedMPa(1, w.ThickMm, (loops[0].AreaMm2 + loops[1].AreaMm2) / 2, all))] : [.. all.Select(w => TwistedWalls.OpenMPa(1, w, all))];
        double most = stresses.Max(), longest = pieces.Where((_, k) => stresses[k] > (1 - True) * most).Max(p => p.Piece.LengthMm);
        OutlinePlace[] places = [.. pieces.Where((p, k) => stresses[k] > (1 - True) * most && p.Piece.LengthMm > 0.8 * longest).Select(p => new OutlinePlace(p.Piece.At, p.Piece.Outward))];
        double plusMinus = Math.Abs(1 - wall) + thickest / middle;
        return isClosed ? new("closed thin walls", most, plusMinus, double.PositiveInfinity, places, 0, IsDouble: false)
            : new("open thin walls", most, plusMinus, thickest, places, Math.Sqrt(moduli.AlongAxis * loops[0].WarpingMm6(walls) / TwistedWalls.OpenNmm2(all)), IsDouble: false);
    }

    /// <summary>Through the material behind the middle of a piece, mm; infinite where what lies there does not face the other way.</summary>
    private static double ThicknessAt(CrossSection cut, OutlinePiece piece)
    {
        double nu = -piece.AlongV / piece.LengthMm, nv = piece.AlongU / piece.LengthMm, nearest = double.PositiveInfinity;
        bool faces = false;
        foreach (OutlinePiece other in cut.Outline)
        {
            // From the piece's middle along (nu, nv), inward, to a point of the other between its ends.
            double determinant = nu * -other.AlongV + nv * other.AlongU;
            if (Math.Abs(determinant) < 1e-9 * other.LengthMm) continue;
            double du = other.U - piece.U, dv = other.V - piece.V;
            double away = (du * -other.AlongV + dv * other.AlongU) / determinant, share = (nu * dv - nv * du) / determinant;
            if (away <= 1e-6 || Math.Abs(share) > 0.5 + 1e-9 || away >= nearest) continue;
            (nearest, faces) = (away, piece.AlongU * other.AlongU + piece.AlongV * other.AlongV < -0.9 * piece.LengthMm * other.LengthMm);
        }

        return faces ? nearest : double.PositiveInfinity;
    }

    private static double ShearAlong(OutlinePiece piece, SectionModuli moduli)
    {
        double u = piece.AlongU / piece.LengthMm, v = piece.AlongV / piece.LengthMm;
        return 1 / (u * u / moduli.AlongU + v * v / moduli.AlongV);
    }

    private static bool FacesOut(OutlinePiece piece) => piece.AlongV * piece.U - piece.AlongU * piece.V > 0;

    private static double Radius(OutlinePiece piece) => Math.Sqrt(piece.U * piece.U + piece.V * piece.V);

    private static Point3 Unit(int axis) => axis switch { 0 => new(1, 0, 0), 1 => new(0, 1, 0), _ => new(0, 0, 1) };
}
