using Sparewright.Solid;
using Sparewright.Strength.Grid;
using Sparewright.Strength.Held;
using Sparewright.Strength.Solve;
using Sparewright.Strength.Stresses;

namespace Sparewright.Strength.Loads;

/// <summary>A load case solved, with what pushes back where.</summary>
/// <param name="Rounds">How often it was solved until every support that only pushes did so.</param>
/// <param name="PullingShare">What supports that only push would still have to pull, as a share of all that acts and holds: 0 where that was settled.</param>
/// <param name="SupportsN">The force of each support on the part, N, in the job's axes.</param>
/// <param name="Holds">Which springs of <see cref="GridLoads.Springs"/> hold.</param>
public sealed record ContactSolution(GridLoads Loads, Solution Solution, int Rounds, double PullingShare, IReadOnlyList<Point3> SupportsN, IReadOnlyList<bool> Holds)
{
    /// <summary>What is pressed and what has lifted off, for the same case on another grid.</summary>
    public IReadOnlyList<PressedPlace> Pressed => [.. Loads.Springs.Index().Where(s => s.Item.PushedOnly).Select(s => new PressedPlace(s.Item.Support, Loads.PointInJob(s.Item.Place), Holds[s.Index]))];
}

/// <summary>Whether a support that only pushes does so at a point, in the job's axes.</summary>
public readonly record struct PressedPlace(int Support, Point3 At, bool Presses);

/// <summary>A load case solved, or how the part gets away from what holds it.</summary>
public readonly record struct ContactOutcome(ContactSolution? Solved, IReadOnlyList<FreePiece> Loose);

/// <summary>
/// Supports that only push: solved again with those left out that pulled, and those taken in again that are pressed, until none is wrong. The first rounds are on soft supports, which lift off as a whole;
/// stiff ones would peel off cell by cell. Until it is clear what holds, two digits will do.
/// </summary>
public static class Contact
{
    private static readonly (double Share, int MostRounds)[] FromNothing = [(1e-3, 4), (3e-2, 3), (1, 8)];

    /// <summary>Wrong forces of all springs together below this share of all forces do not change an answer that is good to some percent.</summary>
    private const double Settled = 5e-3;

    /// <summary>On the way there, on soft supports or big cells, this is near enough.</summary>
    private const double NearlySettled = 2e-2;

    /// <summary>Digits enough for stresses that are good to some percent.</summary>
    private static readonly SolveOptions Enough = new(1e-4);

    /// <summary>Digits enough to see what lifts off.</summary>
    private static readonly SolveOptions Roughly = new(1e-2);

    /// <param name="start">What is pressed on another grid: a good guess here.</param>
    /// <param name="near">A solution of the same case on another grid with the same axes, to begin from.</param>
    /// <param name="ready">The grid's solver, if it has been made already; whoever made it disposes of it.</param>
    /// <param name="onlyToSee">Only what lifts off is wanted, to two digits.</param>
    /// <param name="exactly">How exactly it is solved once it is clear what holds; digits enough for stresses that are good to some percent if not said.</param>
    public static ContactOutcome Solve(LayeredStiffness material, GridLoads loads, IReadOnlyList<PressedPlace>? start = null, Solution? near = null, GridSolver? ready = null, bool onlyToSee = false, SolveOptions? exactly = null, CancellationToken cancel = default)
    {
        bool[] holds = Guessed(loads, start ?? []);
        if (GoingAlong(loads, holds) is { Count: > 0 } along) return new(null, along);
        bool canLift = loads.Springs.Any(s => s.PushedOnly);
        (double, int)[] stages = !canLift ? [(1.0, 1)] : start is null ? FromNothing : [(1.0, 5)];
        using GridSolver? own = ready is null ? new(material, loads.Grid, cancel: cancel) : null;
        GridSolver solver = ready ?? own!;
        Solution? solution = near;
        int rounds = 0;
        foreach (var (share, mostRounds) in stages)
        {
            double settled = onlyToSee || share < 1 ? NearlySettled : Settled;
            bool isExact = !canLift && !onlyToSee;
            Loading? loading = null;
            for (int round = 1; ; round++)
            {
                rounds++;
                if (loading is null)
                {
                    Loading next = loading = loads.With(k => holds[k], share);
                    IReadOnlyList<FreePiece> free = RigidMovement.Of(next);
                    if (free.Count > 1 || free.Any(f => f.Movements.Any(m => IsDriven(next, m)))) return new(null, free);
                    if (free.Count == 1) Steady(next, loads, free[0].Movements);
                }

                using (Stages.Of(isExact ? "solve" : "see what lifts off")) solution = solver.Solve(loading, isExact ? exactly ?? Enough : Roughly, solution, keepsGroups: true);
                var (should, pushes, wrong) = Judged(loads, holds, solution, share);
                if (wrong > settled && round < mostRounds)
                {
                    holds = should;
                    loading = null;
                    continue;
                }

                if (share < 1)
                {
                    holds = should;
                    break;
                }

                if (!isExact && !onlyToSee)
                {
                    isExact = true;
                    continue;
                }

                if (GoingAlong(loads, holds) is { Count: > 0 } lifted) return new(null, lifted);
                var supports = new Point3[loads.Case.Supports.Count];
                for (int k = 0; k < holds.Length; k++)
                    if (holds[k]) supports[loads.Springs[k].Support] += solution.Grid.Frame.ToJob(loads.Springs[k].Direction * pushes[k]);
                return new(new(loads, solution, rounds, wrong <= settled ? 0 : wrong, supports, holds), []);
            }
        }

        throw new InvalidOperationException("the last stage of contact did not answer");
    }

    /// <summary>Which springs should hold by what they do now, the push of each, and the forces of those that are wrong as a share of all, loads included.</summary>
    private static (bool[] Should, double[] Pushes, double Wrong) Judged(GridLoads loads, bool[] holds, Solution solution, double share)
    {
        double[] pushes = [.. loads.Springs.Select(s => (s.PushedOnly ? share : 1) * s.StiffnessNPerMm * (s.RestMm - Point3.Dot(s.Direction, solution.At(s.Place))))];
        bool[] should = [.. holds.Select((_, k) => !loads.Springs[k].PushedOnly || pushes[k] > 0)];
        // What presses against itself, as pressure in a bore, leaves what holds next to nothing to do: then that is not to be told to a share of itself.
        double acting = loads.Case.Loads.Sum(l => l.ForcesN.Sum(f => f.Length)), pulled = 0;
        for (int k = 0; k < holds.Length; k++)
        {
            if (holds[k]) acting += Math.Abs(pushes[k]);
            if (should[k] != holds[k]) pulled += Math.Abs(pushes[k]);
        }

        return (should, pushes, acting > 0 ? pulled / acting : 0);
    }

    /// <summary>The case on a finer window about a place of the solved whole, whose cut faces move as the whole does there; null where a piece in it hangs on nothing.</summary>
    public static Solution? InWindow(ContactSolution whole, Mesh mesh, Point3 centre, double halfMm, double cellMm, CancellationToken cancel = default)
    {
        Loading loading = SubModel.Around(whole.Solution, mesh, whole.Solution.Grid.Frame.ToGrid(centre), halfMm, cellMm, cancel);
        var loads = new GridLoads(whole.Loads.Case, loading.Grid, whole.Solution.Material, isWindow: true);
        bool[] holds = Guessed(loads, whole.Pressed);
        loads.AddTo(loading, k => holds[k]);
        if (RigidMovement.Of(loading).Count > 0) return null;
        using (Stages.Of("solve window")) return Statics.Solve(whole.Solution.Material, loading, Enough, whole.Solution, cancel: cancel);
    }

    /// <summary>Each spring holds if the same support presses at the nearest known place; where none is known, it holds.</summary>
    private static bool[] Guessed(GridLoads loads, IReadOnlyList<PressedPlace> start)
    {
        var known = start.GroupBy(p => p.Support).ToDictionary(g => g.Key, g => new NearestPressed([.. g]));
        var holds = new bool[loads.Springs.Count];
        Parallel.For(0, holds.Length, k =>
        {
            SupportSpring spring = loads.Springs[k];
            Point3 at = loads.PointInJob(spring.Place);
            holds[k] = !spring.PushedOnly || !known.TryGetValue(spring.Support, out NearestPressed? near) || near.Presses(at);
        });
        return holds;
    }

    /// <summary>The pieces that only go along with what moves them, because nothing else holds them against it; where several things move a part, they may hold it against each other.</summary>
    private static IReadOnlyList<FreePiece> GoingAlong(GridLoads loads, bool[] holds)
    {
        int[] moving = [.. loads.Case.Supports.Index().Where(s => s.Item is { Way: SupportWay.Along, MovedMm: not 0 }).Select(s => s.Index)];
        if (moving is not [var mover]) return [];
        Loading others = loads.With(k => holds[k] && loads.Springs[k].Support != mover);
        SupportSpring[] pulls = [.. loads.Springs.Where(s => s.Support == mover)];
        return [.. RigidMovement.Of(others).Where(piece => piece.Movements.Any(m => IsDriven(others.Grid, m, pulls.Select(s => (s.Place.In(others.Grid), s.Direction * (s.StiffnessNPerMm * s.RestMm))))))];
    }

    /// <summary>Whether what acts does work on a movement that nothing hinders.</summary>
    private static bool IsDriven(Loading loading, FreeMovement movement) => IsDriven(loading.Grid, movement, loading.Forces.Select(f =>
    {
        var (i, j, k) = loading.Grid.CornerAt(f.Key);
        return (loading.Grid.PointOf(i, j, k), f.Value);
    }));

    private static bool IsDriven(VoxelGrid grid, FreeMovement movement, IEnumerable<(Point3 At, Point3 Force)> acting)
    {
        double work = 0, most = 0;
        foreach (var (at, force) in acting)
        {
            Point3 moves = movement.At(at, grid.Frame);
            work += Point3.Dot(force, moves);
            most += force.Length * moves.Length;
        }

        return Math.Abs(work) > 1e-4 * most;
    }

    private static void Steady(Loading loading, GridLoads loads, IReadOnlyList<FreeMovement> free)
    {
        double stiffness = 1e-3 * loads.Springs.Select(s => s.StiffnessNPerMm).DefaultIfEmpty(1e4).Average();
        Steadying.Add(loading, free, (loads.Springs.Count > 0 ? loads.Springs.Select(s => s.Place.Corner(0)).Select(c => loading.Grid.Corner(c.I, c.J, c.K)) : loading.Forces.Keys).Distinct().Order(), stiffness);
    }
}
