using System.Collections.Immutable;
using System.Diagnostics;
using Sparewright.Solid;
using Sparewright.Strength.Formulas;
using Sparewright.Strength.Grid;
using Sparewright.Strength.Held;
using Sparewright.Strength.Loads;
using Sparewright.Strength.Margins;
using Sparewright.Strength.Solve;
using Sparewright.Strength.Stresses;

namespace Sparewright.Strength.Cases;

/// <summary>A load case answered: where it is weakest, and how sure that is.</summary>
/// <param name="StressPlusMinus">The ± of the stress there as a share of it, from two cell sizes of the window about it.</param>
/// <param name="DisplacementMm">The farthest that any corner of the grid moves.</param>
/// <param name="Elements">Cells with solid in them: of the whole part's grid and of the window.</param>
/// <param name="WindowCellMm">Edge of the cells that the weakest place was judged with.</param>
/// <param name="Resolution">How well these show the round face there; null where it is flat.</param>
/// <param name="PullingShare">See <see cref="ContactSolution.PullingShare"/>.</param>
public sealed record SolvedCase(SolidLoadCase Case, WeakestPlace Weakest, double StressPlusMinus, double DisplacementMm, int Elements, double CellMm, double WindowCellMm, Resolution? Resolution, double PullingShare, double Seconds)
{
    /// <summary>The reserve at each point that was asked for, NaN where none is judged (<see cref="WeakestPlace.Reserves"/>).</summary>
    public IReadOnlyList<double> Reserves { get; init; } = [];

    /// <summary>By which handbook case the stress at the weakest place was told, because the cells do not resolve it; null where the solver's own counts.</summary>
    public HandbookPeak? Handbook { get; init; }

    /// <summary>The usual formulas beside the solver, where they were asked for and the shape allows one.</summary>
    public IReadOnlyList<SecondOpinion> Opinions { get; init; } = [];
}

/// <summary>A load case answered, or why not: how the part gets away from what holds it.</summary>
public readonly record struct CaseAnswer(SolvedCase? Solved, IReadOnlyList<FreePiece> Loose);

/// <summary>A part's load cases: each solved on grids of falling cell size, and once more in a fine window about its weakest place.</summary>
/// <param name="mesh">Its surface in the job's axes.</param>
/// <param name="cells">How many cells the finest grid of the whole part has where it is all solid.</param>
public sealed class PartUnderLoad(Mesh mesh, IReadOnlyList<SolidFace> faces, double volumeMm3, int cells = PartUnderLoad.UsualCells)
{
    /// <summary>Some 400 thousand unknowns.</summary>
    public const int UsualCells = 100_000;

    /// <summary>What lifts off is found on big cells first and put right on smaller ones.</summary>
    private static readonly ImmutableArray<double> Coarser = [4, 2, 1];

    /// <summary>Half the edge of the window in cells of the whole, and how many of its cells go into one of these.</summary>
    private const double WindowHalf = 6, WindowFiner = 4;

    /// <summary>How much bigger the cells of the second window are, from which the error is judged.</summary>
    private const double CoarserBy = 1.5;

    /// <summary>What happens within so many cells of a support is the support's doing.</summary>
    private const double CellsFromSupport = 2.5;

    /// <summary>The ± of a stress that only one grid knows.</summary>
    private const double Unknown = 1;

    /// <summary>Between what the ± of a stress away from the weakest place is taken to lie, where a formula is set beside it.</summary>
    private const double LeastError = 0.05, MostError = 0.25;

    private PartSurface? _surface;

    /// <summary>Edge of the whole part's cells, mm.</summary>
    public double CellMm { get; } = Math.Cbrt(volumeMm3 / cells);

    /// <summary>Solves a case on a grid whose z is the way up.</summary>
    /// <param name="judge">The reserve of a stress in that grid's axes.</param>
    /// <param name="shown">Points of the surface at which the reserve is wanted, too.</param>
    /// <param name="compares">Whether formulas are set beside the solver.</param>
    public CaseAnswer Solve(SolidLoadCase @case, Point3 up, LayeredStiffness material, Func<Stress, Reserve> judge, IReadOnlyList<SurfacePoint>? shown = null, bool compares = false, IProgress<double>? progress = null, CancellationToken cancel = default)
    {
        var clock = Stopwatch.StartNew();
        GridFrame frame = GridFrame.WithUp(up);
        ContactOutcome outcome = default;
        foreach (double factor in Coarser)
        {
            VoxelGrid grid = VoxelGrid.Over(mesh, frame, factor * CellMm, cancel).WithoutSpecks();
            // A coarse grid may lose thin walls: only the finest has a say in what comes loose.
            outcome = Contact.Solve(material, new GridLoads(@case, grid, material), outcome.Solved, cancel);
            if (outcome.Solved is null && factor == 1) return new(null, outcome.Loose);
            progress?.Report(factor == 1 ? 0.6 : 0.3 / factor);
        }

        ContactSolution whole = outcome.Solved!;
        double supportMm = CellsFromSupport * CellMm;
        _surface ??= PartSurface.Of(mesh, faces, CellMm);
        WeakestPlace rough = WeakestPlace.Find(whole.Solution, @case, _surface, supportMm, judge) ?? throw new InvalidOperationException("no point of the surface could be judged");
        if (!double.IsFinite(rough.Reserve.Factor)) return new(Answer(rough, 0, whole, CellMm, 0), []);

        // Within half the window the cut faces are far enough away.
        double halfMm = WindowHalf * CellMm, fineMm = CellMm / WindowFiner;
        Solution? fine = Contact.InWindow(whole, mesh, rough.Point.At, halfMm, fineMm, cancel);
        progress?.Report(0.85);
        Solution? coarse = Contact.InWindow(whole, mesh, rough.Point.At, halfMm, fineMm * CoarserBy, cancel);
        if (fine is null || coarse is null) return new(Answer(rough, Unknown, whole, CellMm, 0), []);
        PartSurface near = PartSurface.Of(mesh, faces, fineMm * 1.5, rough.Point.At, halfMm / 2);
        WeakestPlace weakest = WeakestPlace.Find(fine, @case, near, supportMm, judge) ?? rough;
        if (ResolutionAt(faces[weakest.Point.Face], fineMm) == Resolution.NotResolved
            && HandbookPeak.At(whole.Solution, mesh, faces[weakest.Point.Face], weakest.Point) is var (peak, stress) && judge(stress) is var reserve && reserve.Factor < weakest.Reserve.Factor)
            return new(Answer(weakest with { Stress = stress, Reserve = reserve }, HandbookPeak.PlusMinus, whole, fineMm, fine.Grid.Cells) with { Handbook = peak }, []);
        return new(Answer(weakest, ErrorOf(weakest, coarse), whole, fineMm, fine.Grid.Cells), []);

        double ErrorOf(WeakestPlace place, Solution before)
        {
            double touchMm = WeakestPlace.TouchMm(before.Grid.CellMm), used = 1 / place.Reserve.Factor;
            bool touched = @case.Loads.Any(l => l.Patch.Samples.Any(s => (s.At - place.Point.At).Length < touchMm));
            return WeakestPlace.StressAt(before, place.Point, touched) is { } stress && used > 0 ? TwoGridValue.Of(used, 1 / judge(stress).Factor, CoarserBy).Error / used : Unknown;
        }

        SolvedCase Answer(WeakestPlace place, double plusMinus, ContactSolution solved, double cellMm, int more) => new(@case, place, plusMinus, Farthest(solved), solved.Solution.Grid.Cells + more,
            CellMm, cellMm, ResolutionAt(faces[place.Point.Face], cellMm), solved.PullingShare, clock.Elapsed.TotalSeconds)
        { Reserves = shown is null ? [] : WeakestPlace.Reserves(whole.Solution, @case, _surface!, shown, supportMm, judge), Opinions = compares ? new SecondOpinions(mesh, faces, solved, Math.Clamp(plusMinus, LeastError, MostError)).All() : [] };
    }

    private static Resolution? ResolutionAt(SolidFace face, double cellMm) => face.Kind switch
    {
        SurfaceKind.Cylinder or SurfaceKind.Sphere => Resolutions.Of(2 * face.RadiusMm, cellMm),
        SurfaceKind.Torus => Resolutions.Of(2 * face.MinorRadiusMm, cellMm),
        _ => null,
    };

    private static double Farthest(ContactSolution solved)
    {
        VoxelGrid grid = solved.Solution.Grid;
        double most = 0;
        for (int k = 0; k <= grid.NZ; k++)
            for (int j = 0; j <= grid.NY; j++)
                for (int i = 0; i <= grid.NX; i++) most = Math.Max(most, solved.Solution.At(i, j, k).Length);
        return most;
    }
}
