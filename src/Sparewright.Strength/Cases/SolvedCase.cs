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
/// <param name="Next">The weakest place apart from that, judged as closely; null where there is none.</param>
/// <param name="DisplacementMm">The farthest that any corner of the grid moves.</param>
/// <param name="Elements">Cells with solid in them: of the whole part's grid and of the windows.</param>
/// <param name="PullingShare">See <see cref="ContactSolution.PullingShare"/>.</param>
/// <param name="Pressed">See <see cref="ContactSolution.Pressed"/>.</param>
public sealed record SolvedCase(SolidLoadCase Case, JudgedPlace Place, JudgedPlace? Next, double DisplacementMm, int Elements, double CellMm, double PullingShare, IReadOnlyList<PressedPlace> Pressed, double Seconds)
{
    public WeakestPlace Weakest => Place.Weakest;

    /// <summary>The ± of the stress there as a share of it.</summary>
    public double StressPlusMinus => Place.StressPlusMinus;

    /// <summary>Edge of the cells that the weakest place was judged with.</summary>
    public double WindowCellMm => Place.CellMm;

    /// <summary>How well these show the round face there; null where it is flat.</summary>
    public Resolution? Resolution => Place.Resolution;

    /// <summary>The ± of the movement, from the whole part's grid and the next coarser one, mm; how stiff the material is counts as exact.</summary>
    public double DisplacementPlusMinusMm { get; init; }

    /// <summary>Gaps that the cells of the whole part take as grown together.</summary>
    public IReadOnlyList<NarrowGap> Closed { get; init; } = [];

    /// <summary>The reserve at each point that was asked for, NaN where none is judged (<see cref="WeakestPlace.Reserves"/>).</summary>
    public IReadOnlyList<double> Reserves { get; init; } = [];

    /// <summary>See <see cref="JudgedPlace.Handbook"/>.</summary>
    public HandbookPeak? Handbook => Place.Handbook;

    /// <summary>The usual formulas beside the solver, where they were asked for and the shape allows one.</summary>
    public IReadOnlyList<SecondOpinion> Opinions { get; init; } = [];
}

/// <summary>A weak place as a window of fine cells shows it.</summary>
/// <param name="StressPlusMinus">The ± of the stress there as a share of it, from two cell sizes of the window; 1 where there is but one.</param>
/// <param name="CellMm">Edge of the cells that it was judged with.</param>
/// <param name="Resolution">How well these show the round face there; null where it is flat.</param>
/// <param name="Cells">How many of them hold solid.</param>
public sealed record JudgedPlace(WeakestPlace Weakest, double StressPlusMinus, double CellMm, Resolution? Resolution, int Cells)
{
    /// <summary>By which handbook case the stress there was told, because the cells do not resolve it; null where the solver's own counts.</summary>
    public HandbookPeak? Handbook { get; init; }
}

/// <summary>A load case answered, or why not: how the part gets away from what holds it.</summary>
public readonly record struct CaseAnswer(SolvedCase? Solved, IReadOnlyList<FreePiece> Loose);

/// <summary>What solving one load case takes, known before it begins.</summary>
/// <param name="Cells">Cells with solid in them, of the whole part's finest grid.</param>
/// <param name="MostBytes">The most memory that its grid and solver take.</param>
public readonly record struct SolvingNeeds(int Cells, double CellMm, long MostBytes);

/// <summary>A part's load cases: each solved on grids of falling cell size, and once more in fine windows about its two weakest places.</summary>
/// <param name="mesh">Its surface in the job's axes.</param>
/// <param name="cells">How many cells the finest grid of the whole part has where it is all solid.</param>
public sealed class PartUnderLoad(Mesh mesh, IReadOnlyList<SolidFace> faces, double volumeMm3, int cells = PartUnderLoad.UsualCells)
{
    /// <summary>Some million unknowns.</summary>
    public const int UsualCells = 270_000;

    /// <summary>The box about a part has no more cells than this, empty ones too: a wide frame of thin bars would take gigabytes otherwise. For most parts this is far away.</summary>
    public const double MostInBox = 30_000_000;

    /// <summary>What lifts off is found on big cells first and put right on smaller ones.</summary>
    private static readonly ImmutableArray<double> Coarser = [4, 2, 1];

    /// <summary>Half the edge of the window in cells of the whole, and how many of its cells go into one of these.</summary>
    private const double WindowHalf = 6, WindowFiner = 4;

    /// <summary>How much bigger the cells of the second window are, from which the error is judged.</summary>
    private const double CoarserBy = 2;

    /// <summary>Points of the surface are so many cells apart: a window then looks closer.</summary>
    private const double PointsApart = 2;

    /// <summary>In a window points are so many of its cells apart.</summary>
    public const double PointsApartInWindow = 1.5;

    /// <summary>What happens within so many cells of a support is the support's doing.</summary>
    private const double CellsFromSupport = 2.5;

    /// <summary>The ± of a stress that only one grid knows.</summary>
    private const double Unknown = 1;

    /// <summary>Between what the ± of a stress away from the weakest place is taken to lie, where a formula is set beside it.</summary>
    private const double LeastError = 0.05, MostError = 0.25;

    /// <summary>Where faces look at each other across little air, there may be so many times as many cells.</summary>
    private const double MoreForGaps = 4;

    private readonly Lazy<(double CellMm, PartSurface Surface, IReadOnlyList<NarrowGap> Closed)> _cut = new(() => CutUp(mesh, faces, volumeMm3, cells));

    /// <summary>Edge of the whole part's cells, mm: smaller than usual where that opens a gap which they would close.</summary>
    public double CellMm => _cut.Value.CellMm;

    private double SupportMm => CellsFromSupport * CellMm;

    private double HalfMm => WindowHalf * CellMm;

    private double FineMm => CellMm / WindowFiner;

    /// <summary>The same for every case; several may be solved side by side.</summary>
    private PartSurface Surface => _cut.Value.Surface;

    private static (double CellMm, PartSurface Surface, IReadOnlyList<NarrowGap> Closed) CutUp(Mesh mesh, IReadOnlyList<SolidFace> faces, double volumeMm3, int cells)
    {
        using var _ = Stages.Of("points of the surface");
        double least = VoxelGrid.BoxMm3(mesh) / MostInBox, usualMm = Math.Cbrt(Math.Max(volumeMm3 / cells, least)), finestMm = Math.Cbrt(Math.Max(volumeMm3 / (MoreForGaps * cells), least));
        PartSurface surface = PartSurface.Of(mesh, faces, PointsApart * usualMm);
        IReadOnlyList<NarrowGap> gaps = NarrowGap.ClosedBy(surface, usualMm);
        double[] opening = [.. gaps.Select(g => g.OpenedByMm).Where(mm => mm >= finestMm)];
        if (opening.Length == 0) return (usualMm, surface, gaps);
        double cellMm = opening.Min();
        return (cellMm, PartSurface.Of(mesh, faces, PointsApart * cellMm), [.. gaps.Where(g => g.OpenedByMm < cellMm)]);
    }

    /// <summary>What solving a case takes on a grid whose z is the way up: that grid's bound, and that of the two windows that are solved side by side afterwards, where they need more.</summary>
    public SolvingNeeds Needs(Point3 up, CancellationToken cancel = default)
    {
        VoxelGrid grid = VoxelGrid.Over(mesh, GridFrame.WithUp(up), CellMm, cancel).WithoutSpecks();
        const int Edge = (int)(2 * WindowHalf * WindowFiner);
        long box = (long)grid.NX * grid.NY * grid.NZ * sizeof(float), windows = 2 * Statics.MostBytes(VoxelGrid.OfShares(Edge, Edge, Edge, FineMm, (_, _, _) => 1));
        return new(grid.Cells, CellMm, box + Math.Max(Statics.MostBytes(grid), windows));
    }

    /// <summary>Solves a case on a grid whose z is the way up.</summary>
    /// <param name="judge">The reserve of a stress in that grid's axes.</param>
    /// <param name="shown">Points of the surface at which the reserve is wanted, too.</param>
    /// <param name="compares">Whether formulas are set beside the solver.</param>
    public CaseAnswer Solve(SolidLoadCase @case, Point3 up, LayeredStiffness material, Func<Stress, Reserve> judge, IReadOnlyList<SurfacePoint>? shown = null, bool compares = false, IProgress<double>? progress = null, CancellationToken cancel = default)
    {
        var clock = Stopwatch.StartNew();
        ContactOutcome outcome = default;
        TwoGridValue movedMm = default;
        // The finer grids and the finest one's solver are made ready while the coarser grids are solved, on which much of the work is one thread's.
        Task<GridLoads>[] ready = [.. Coarser.Select(factor => Task.Run(() => GridOf(@case, up, material, factor * CellMm, cancel), cancel))];
        Task<GridSolver> finest = ready[^1].ContinueWith(grid => new GridSolver(material, grid.GetAwaiter().GetResult().Grid, cancel: cancel), cancel, TaskContinuationOptions.None, TaskScheduler.Default);
        foreach (var (n, factor) in Coarser.Index())
        {
            // A coarse grid may lose thin walls: only the finest has a say in what comes loose.
            double? coarserMm = outcome.Solved?.Solution.FarthestMm;
            using GridSolver? solver = factor == 1 ? finest.GetAwaiter().GetResult() : null;
            outcome = Contact.Solve(material, ready[n].GetAwaiter().GetResult(), outcome.Solved?.Pressed, outcome.Solved?.Solution, solver, factor != 1, cancel: cancel);
            if (outcome.Solved is { } on) movedMm = coarserMm is { } mm ? TwoGridValue.Of(on.Solution.FarthestMm, mm, CoarserBy) : new(on.Solution.FarthestMm, on.Solution.FarthestMm);
            if (outcome.Solved is null && factor == 1) return new(null, outcome.Loose);
            progress?.Report(factor == 1 ? 0.6 : 0.3 / factor);
        }

        ContactSolution whole = outcome.Solved!;
        Nearness supports = NearPoint.SupportsOf(@case, SupportMm);
        JudgedSurface judged = JudgedOn(whole, @case, supports, judge);
        WeakestPlace rough = judged.Weakest() ?? throw new InvalidOperationException("no point of the surface could be judged");
        JudgedPlace place = new(rough, 0, CellMm, ResolutionAt(rough, CellMm), 0);
        JudgedPlace? next = null;
        if (double.IsFinite(rough.Reserve.Factor))
        {
            // So far away that the two windows do not overlap, and away from all of any round on which the first may turn out to be weakest.
            Nearness rounds = RoundsNear(rough.Point.At, HalfMm / 2 + PointsApart * CellMm);
            WeakestPlace? other = judged.Weakest(p => (p.At - rough.Point.At).Length > 2 * HalfMm && !rounds.Has(p.At));
            Task<JudgedPlace>? there = other is not null && double.IsFinite(other.Reserve.Factor) ? Task.Run(() => InWindow(whole, @case, other, supports, judge, cancel), cancel) : null;
            place = InWindow(whole, @case, rough, supports, judge, cancel);
            next = there?.GetAwaiter().GetResult();
            if (next is not null && next.Weakest.Reserve.Factor < place.Weakest.Reserve.Factor) (place, next) = (next, place);
        }

        IReadOnlyList<double> reserves = shown is null ? [] : WeakestPlace.Reserves(whole.Solution, @case, Surface, shown, supports, judge);
        return new(new(@case, place, next, whole.Solution.FarthestMm, whole.Solution.Grid.Cells + place.Cells + (next?.Cells ?? 0), CellMm, whole.PullingShare, whole.Pressed, clock.Elapsed.TotalSeconds)
        {
            Reserves = reserves,
            Closed = _cut.Value.Closed,
            DisplacementPlusMinusMm = movedMm.Error,
            Opinions = compares ? new SecondOpinions(mesh, faces, whole, place, Math.Clamp(place.StressPlusMinus, LeastError, MostError)).All() : [],
        }, []);
    }

    /// <summary>
    /// The weakest place by one solution on the grid and one window: enough to tell ways up, shapes or materials from each other. The ± of the stress there is from the whole's cells and the window's,
    /// a quarter as big. Null where the part gets away.
    /// </summary>
    /// <param name="pressed">What is pressed, from the case solved before on this part or one much like it.</param>
    public JudgedPlace? Compared(SolidLoadCase @case, Point3 up, LayeredStiffness material, Func<Stress, Reserve> judge, IReadOnlyList<PressedPlace> pressed, CancellationToken cancel = default)
    {
        Nearness supports = NearPoint.SupportsOf(@case, SupportMm);
        if (Contact.Solve(material, GridOf(@case, up, material, CellMm, cancel), pressed, cancel: cancel).Solved is not { } whole || JudgedOn(whole, @case, supports, judge).Weakest() is not { } rough) return null;
        if (!double.IsFinite(rough.Reserve.Factor)) return new(rough, 0, CellMm, ResolutionAt(rough, CellMm), 0);
        if (Contact.InWindow(whole, mesh, rough.Point.At, HalfMm, FineMm, cancel) is not { } fine) return new(rough, Unknown, CellMm, ResolutionAt(rough, CellMm), 0);
        WeakestPlace weakest = WeakestIn(fine, @case, rough, supports, judge);
        return OfHandbook(whole, weakest, judge) is var (byHandbook, peak)
            ? new(byHandbook, HandbookPeak.PlusMinus, FineMm, ResolutionAt(weakest, FineMm), fine.Grid.Cells) { Handbook = peak }
            : new(weakest, ErrorOf(weakest, whole.Solution, WindowFiner, @case, judge), FineMm, ResolutionAt(weakest, FineMm), fine.Grid.Cells);
    }

    /// <summary>What lies near elements with curved faces that come so near a point.</summary>
    private Nearness RoundsNear(Point3 at, double mm)
    {
        HashSet<string> names = [.. Surface.Points.Where(p => faces[p.Face].Kind != SurfaceKind.Plane && (p.At - at).Length <= mm).Select(p => p.Face).Distinct().SelectMany(f => faces[f].Names)];
        bool[] isOne = [.. faces.Select(f => f.Kind != SurfaceKind.Plane && f.Names.Any(names.Contains))];
        return new(Surface.Points.Where(p => isOne[p.Face]).Select(p => p.At), HalfMm);
    }

    private GridLoads GridOf(SolidLoadCase @case, Point3 up, LayeredStiffness material, double cellMm, CancellationToken cancel)
    {
        using var _ = Stages.Of("grid and loads");
        return new(@case, VoxelGrid.Over(mesh, GridFrame.WithUp(up), cellMm, cancel).WithoutSpecks(), material);
    }

    private JudgedSurface JudgedOn(ContactSolution whole, SolidLoadCase @case, Nearness supports, Func<Stress, Reserve> judge)
    {
        using var _ = Stages.Of("judge the surface");
        return new(whole.Solution, @case, Surface, supports, judge);
    }

    private JudgedPlace InWindow(ContactSolution whole, SolidLoadCase @case, WeakestPlace rough, Nearness supports, Func<Stress, Reserve> judge, CancellationToken cancel)
    {
        using var _ = Stages.Of("window");
        Solution? fine = Contact.InWindow(whole, mesh, rough.Point.At, HalfMm, FineMm, cancel), coarse = Contact.InWindow(whole, mesh, rough.Point.At, HalfMm, FineMm * CoarserBy, cancel);
        if (fine is null || coarse is null) return new(rough, Unknown, CellMm, ResolutionAt(rough, CellMm), 0);
        WeakestPlace weakest = WeakestIn(fine, @case, rough, supports, judge);
        if (OfHandbook(whole, weakest, judge) is var (byHandbook, peak)) return new(byHandbook, HandbookPeak.PlusMinus, FineMm, ResolutionAt(weakest, FineMm), fine.Grid.Cells) { Handbook = peak };
        return new(weakest, ErrorOf(weakest, coarse, CoarserBy, @case, judge), FineMm, ResolutionAt(weakest, FineMm), fine.Grid.Cells);
    }

    /// <summary>The ± of the stress at a place as a share of it, by a solution with cells so many times as big.</summary>
    private static double ErrorOf(WeakestPlace weakest, Solution coarse, double ratio, SolidLoadCase @case, Func<Stress, Reserve> judge)
    {
        double touchMm = WeakestPlace.TouchMm(coarse.Grid.CellMm), used = 1 / weakest.Reserve.Factor;
        bool touched = @case.Loads.Any(l => l.Patch.Samples.Any(s => (s.At - weakest.Point.At).Length < touchMm));
        return WeakestPlace.StressAt(coarse, weakest.Point, touched) is { } stress && used > 0 ? TwoGridValue.Of(used, 1 / judge(stress).Factor, ratio).Error / used : Unknown;
    }

    /// <summary>The place with the handbook's stress where the window's cells do not resolve it and the handbook tells more; null otherwise.</summary>
    private (WeakestPlace Place, HandbookPeak Peak)? OfHandbook(ContactSolution whole, WeakestPlace weakest, Func<Stress, Reserve> judge) =>
        ResolutionAt(weakest, FineMm) == Resolution.NotResolved && HandbookPeak.At(whole.Solution, mesh, faces[weakest.Point.Face], weakest.Point) is var (peak, stress)
        && judge(stress) is var reserve && reserve.Factor < weakest.Reserve.Factor ? (weakest with { Stress = stress, Reserve = reserve }, peak) : null;

    private WeakestPlace WeakestIn(Solution window, SolidLoadCase @case, WeakestPlace rough, Nearness supports, Func<Stress, Reserve> judge)
    {
        // Within half the window the cut faces are far enough away.
        PartSurface near = PartSurface.Of(mesh, faces, FineMm * PointsApartInWindow, rough.Point.At, HalfMm / 2);
        return new JudgedSurface(window, @case, near, supports, judge).Weakest() ?? rough;
    }

    private Resolution? ResolutionAt(WeakestPlace place, double cellMm) => ResolutionAt(faces[place.Point.Face], cellMm);

    private static Resolution? ResolutionAt(SolidFace face, double cellMm) => face.Kind switch
    {
        SurfaceKind.Cylinder or SurfaceKind.Sphere => Resolutions.Of(2 * face.RadiusMm, cellMm),
        SurfaceKind.Torus => Resolutions.Of(2 * face.MinorRadiusMm, cellMm),
        _ => null,
    };
}
