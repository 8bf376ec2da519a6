using System.Globalization;
using Sparewright.Solid;
using Sparewright.Strength.Formulas;
using Sparewright.Strength.Grid;
using Sparewright.Strength.Loads;
using Sparewright.Strength.Stresses;

namespace Sparewright.Strength.Cases;

/// <summary>The usual formula of twisting beside a solved case, where a straight piece between what acts and what holds has a section that has one.</summary>
/// <param name="place">The weakest place: where it is the round of a stepped round bar, the handbook's factor is set beside it.</param>
/// <param name="solverPlusMinus">The ± of the solver's stress away from there as a share of it.</param>
internal sealed class TwistOpinion(Mesh mesh, IReadOnlyList<SolidFace> faces, ContactSolution solved, JudgedPlace place, CutsBetween cuts, double solverPlusMinus)
{
    /// <summary>What the formulas leave out one depth away from ends and steps, as a share. Common practice, no source.</summary>
    private const double OfTwist = 0.1;

    /// <summary>Told where the twist makes at least this share of the stress that pull and bending make; and with a force across, so much of its shear may be in what thin walls show.</summary>
    private const double Least = 0.1;

    /// <summary>So many cells must lie where the stress turns over: the cells nearest to the surface say next to nothing of it otherwise.</summary>
    private const double LeastCells = 3;

    /// <summary>With a ± above this the formula says nothing.</summary>
    private const double MostPlusMinus = 0.4;

    /// <summary>The ± of a handbook's factor on a plain stepped bar. Common practice, no source.</summary>
    private const double OfShoulder = 0.1;

    // What moves a face may twist it as well, and that is not told.
    public IEnumerable<SecondOpinion> All() => solved.Loads.Case.Supports.Any(s => s.MovedMm != 0) ? [] : [.. Straight(), .. Step()];

    private IEnumerable<SecondOpinion> Straight()
    {
        var straight = cuts.Cuts.Where(c => c.Cut is not null).Select(c => (Cut: c.Cut!, StraightMm: cuts.StraightMm(c.At, c.Cut!))).Where(c => c.StraightMm >= DepthMm(c.Cut)).ToArray();
        if (straight.Length == 0) yield break;
        // Where it twists most for its size; of many alike, farthest from their ends.
        double most = straight.Max(c => Rough(c.Cut));
        if (most < 1e-9) yield break;
        var (cut, straightMm) = straight.Where(c => Rough(c.Cut) > 0.9 * most).MaxBy(c => c.StraightMm);
        double twist = cuts.On(cuts.MomentAbout(cut.Centroid)), depth = DepthMm(cut);
        if (Rough(cut) < Least * cut.Outline.Max(p => Math.Abs(Beam(cut, p)))) yield break;
        if (TwistedSection.Of(cut, Moduli()) is not { } section || section.ThroughMm < LeastCells * solved.Solution.Grid.CellMm) yield break;
        double across = (cuts.ForceN - SecondOpinions.Unit(cuts.Axis) * cuts.On(cuts.ForceN)).Length;
        if (!section.IsDouble && across * depth > Least * Math.Abs(twist)) yield break;
        // Kept from warping at both ends, a bar bears so much less of the twist by the shear that is told here: 1/cosh.
        double plusMinus = OfTwist + section.PlusMinus + (section.WarpingMm > 0 ? 2 * Math.Exp(-straightMm / section.WarpingMm) : 0);
        // What turns over within few cells is told to second order only (measured on walls of 3.2 cells: 9 % too little).
        double turnsOver = Math.Pow(solved.Solution.Grid.CellMm / section.ThroughMm, 2);
        double[] shears = [.. section.Most.Select(Around).OfType<double>()];
        if (plusMinus > MostPlusMinus || shears.Length == 0) yield break;
        yield return new(string.Create(CultureInfo.InvariantCulture, $"twist of {section.Kind}, cut at {"xyz"[cuts.Axis]} = {cuts.On(cut.Centroid):0.0}, its shear"), "MPa",
            Math.Abs(twist) * section.MPaPerNmm, plusMinus, cuts.Side * Math.Sign(twist) * shears.Average(), Math.Max(solverPlusMinus, turnsOver));
    }

    private IEnumerable<SecondOpinion> Step()
    {
        SolidFace round = faces[place.Weakest.Point.Face];
        if (round is not { Kind: SurfaceKind.Torus, Bulges: false } || place.Handbook is not null || place.Resolution is null or Resolution.NotResolved || Math.Abs(cuts.On(round.Direction)) < 0.999) yield break;
        double small = 2 * (round.RadiusMm - round.MinorRadiusMm), middle = cuts.On(round.Origin), beside = 1.25 * round.MinorRadiusMm;
        if (middle - beside < cuts.FromMm || middle + beside > cuts.ToMm || CrossSection.Of(mesh, cuts.Axis, middle - beside) is not { } one || CrossSection.Of(mesh, cuts.Axis, middle + beside) is not { } two) yield break;
        if (one.AreaMm2 > two.AreaMm2) (one, two) = (two, one);
        if (TwistedSection.DiameterOfRoundMm(one) is not { } narrow || TwistedSection.DiameterOfRoundMm(two) is not { } large || Math.Abs(narrow - small) > 0.02 * small) yield break;
        double nominal = Math.Abs(new TwistedTube(small, 0).OutsideMPa(cuts.On(cuts.MomentAbout(one.Centroid))));
        if (one.Outline.Max(p => Math.Abs(Beam(one, p))) > Least * nominal || new Shoulder(ShoulderShape.RoundBar, large, small, round.MinorRadiusMm).Kt(ShoulderLoad.Torsion) is not { } factor) yield break;
        var (first, _, third) = place.Weakest.Stress.Principal;
        yield return new(string.Create(CultureInfo.InvariantCulture, $"step of a round bar that is twisted, {large:0.0} to {small:0.0} mm over a round of {round.MinorRadiusMm:0.0#} mm (factor {factor:0.00}), its shear"), "MPa", factor * nominal, OfShoulder, (first - third) / 2, place.StressPlusMinus);
    }

    /// <summary>The size of the stress by which a section is twisted, MPa.</summary>
    private double Rough(CrossSection cut) => Math.Abs(cuts.On(cuts.MomentAbout(cut.Centroid))) / (cut.AreaMm2 * DepthMm(cut));

    private double Beam(CrossSection cut, OutlinePiece piece)
    {
        Point3 moment = cuts.MomentAbout(cut.Centroid);
        return cut.StressMPa(cuts.On(cuts.ForceN), CrossSection.Coordinate(moment, (cuts.Axis + 1) % 3), CrossSection.Coordinate(moment, (cuts.Axis + 2) % 3), piece.U, piece.V);
    }

    private static double DepthMm(CrossSection cut) =>
        Math.Max(cut.Outline.Max(p => p.U) - cut.Outline.Min(p => p.U), cut.Outline.Max(p => p.V) - cut.Outline.Min(p => p.V));

    /// <summary>The solver's shear stress around the axis at a place, MPa; what a force across makes there stands with the other sign opposite.</summary>
    private double? Around(OutlinePlace place)
    {
        if (WeakestPlace.StressAt(solved.Solution, new(0, place.At, place.Outward), touched: false) is not { } stress) return null;
        GridFrame frame = solved.Solution.Grid.Frame;
        Point3 axis = frame.ToGrid(SecondOpinions.Unit(cuts.Axis)), around = Point3.Cross(axis, frame.ToGrid(place.Outward));
        Point3 onAxis = new(stress.XX * axis.X + stress.XY * axis.Y + stress.XZ * axis.Z, stress.XY * axis.X + stress.YY * axis.Y + stress.YZ * axis.Z, stress.XZ * axis.X + stress.YZ * axis.Y + stress.ZZ * axis.Z);
        return Point3.Dot(onAxis, around) / Math.Max(around.Length, 1e-12);
    }

    private SectionModuli Moduli()
    {
        LayeredStiffness material = solved.Solution.Material;
        double axis = AcrossShare(cuts.Axis), u = AcrossShare((cuts.Axis + 1) % 3), v = AcrossShare((cuts.Axis + 2) % 3);
        return new(Shear(axis + u), Shear(axis + v), 1 / (axis / material.AcrossLayersMPa + (1 - axis) / material.InLayerMPa));

        double AcrossShare(int along) => Math.Pow(solved.Solution.Grid.Frame.ToGrid(SecondOpinions.Unit(along)).Z, 2);
        double Shear(double across) => 1 / (across / material.ShearAcrossMPa + (1 - across) / material.ShearInLayerMPa);
    }
}
