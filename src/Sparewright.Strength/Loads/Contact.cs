using Sparewright.Solid;
using Sparewright.Strength.Held;
using Sparewright.Strength.Solve;
using Sparewright.Strength.Stresses;

namespace Sparewright.Strength.Loads;

/// <summary>A load case solved, with what pushes back where.</summary>
/// <param name="Rounds">How often it was solved until every support that only pushes did so.</param>
/// <param name="PullingShare">What supports that only push would still have to pull, as a share of all that holds: 0 where that was settled.</param>
/// <param name="SupportsN">The force of each support on the part, N, in the job's axes.</param>
/// <param name="Holds">Which springs of <see cref="GridLoads.Springs"/> hold.</param>
public sealed record ContactSolution(GridLoads Loads, Solution Solution, int Rounds, double PullingShare, IReadOnlyList<Point3> SupportsN, IReadOnlyList<bool> Holds);

/// <summary>A load case solved, or how the part gets away from what holds it.</summary>
public readonly record struct ContactOutcome(ContactSolution? Solved, IReadOnlyList<FreePiece> Loose);

/// <summary>
/// Supports that only push: solved again with those left out that pulled, and those taken in again that are pressed, until none is wrong. The first rounds are on soft supports, which lift off as a whole;
/// stiff ones would peel off cell by cell.
/// </summary>
public static class Contact
{
    private static readonly (double Share, int MostRounds)[] Stages = [(1e-3, 5), (3e-2, 5), (1, 12)];

    /// <summary>Wrong forces of all springs together below this share of all forces do not change an answer that is good to some percent.</summary>
    private const double Settled = 1e-3;

    /// <summary>Digits enough for stresses that are good to some percent.</summary>
    private static readonly SolveOptions Enough = new(1e-6);

    /// <summary>What holds where nothing does and nothing acts: so soft that it takes no part in any answer.</summary>
    private const double Steadying = 1e-4;

    /// <param name="start">The same case on a coarser grid: what holds there is a good guess here.</param>
    public static ContactOutcome Solve(LayeredStiffness material, GridLoads loads, ContactSolution? start = null, CancellationToken cancel = default)
    {
        bool[] holds = start is null ? [.. Enumerable.Repeat(true, loads.Springs.Count)] : Guessed(loads, start);
        (double, int)[] stages = !loads.Springs.Any(s => s.PushedOnly) ? [(1.0, 1)] : start is null ? Stages : [(1.0, 4)];
        int rounds = 0;
        foreach (var (share, mostRounds) in stages)
        {
            for (int round = 1; ; round++)
            {
                rounds++;
                Loading loading = loads.With(k => holds[k], share);
                IReadOnlyList<FreePiece> free = RigidMovement.Of(loading);
                if (free.Count > 1 || free.Any(f => f.Movements.Any(m => IsDriven(loading, m)))) return new(null, free);
                if (free.Count == 1) Steady(loading, loads);
                Solution solution = Statics.Solve(material, loading, Enough, cancel: cancel);
                double[] pushes = [.. loads.Springs.Select(s => (s.PushedOnly ? share : 1) * s.StiffnessNPerMm * (s.RestMm - Point3.Dot(s.Direction, solution.At(s.Corner))))];
                double acting = 0, pulled = 0;
                bool[] should = [.. holds.Select((_, k) => !loads.Springs[k].PushedOnly || pushes[k] > 0)];
                for (int k = 0; k < holds.Length; k++)
                {
                    if (holds[k]) acting += Math.Abs(pushes[k]);
                    if (should[k] != holds[k]) pulled += Math.Abs(pushes[k]);
                }

                double wrong = acting > 0 ? pulled / acting : 0;
                if (wrong > Settled && round < mostRounds)
                {
                    holds = should;
                    continue;
                }

                if (share < 1)
                {
                    holds = should;
                    break;
                }

                var supports = new Point3[loads.Case.Supports.Count];
                for (int k = 0; k < holds.Length; k++)
                    if (holds[k]) supports[loads.Springs[k].Support] += solution.Grid.Frame.ToJob(loads.Springs[k].Direction * pushes[k]);
                return new(new(loads, solution, rounds, wrong <= Settled ? 0 : wrong, supports, holds), []);
            }
        }

        throw new InvalidOperationException("the last stage of contact did not answer");
    }

    /// <summary>The case on a finer window about a place of the solved whole, whose cut faces move as the whole does there; null where a piece in it hangs on nothing.</summary>
    public static Solution? InWindow(ContactSolution whole, Mesh mesh, Point3 centre, double halfMm, double cellMm, CancellationToken cancel = default)
    {
        Loading loading = SubModel.Around(whole.Solution, mesh, whole.Solution.Grid.Frame.ToGrid(centre), halfMm, cellMm, cancel);
        var loads = new GridLoads(whole.Loads.Case, loading.Grid, whole.Solution.Material, isWindow: true);
        bool[] holds = Guessed(loads, whole);
        loads.AddTo(loading, k => holds[k]);
        if (RigidMovement.Of(loading).Count > 0) return null;
        return Statics.Solve(whole.Solution.Material, loading, Enough, cancel: cancel);
    }

    /// <summary>Each spring holds if the nearest one of the same support held on the coarser grid.</summary>
    private static bool[] Guessed(GridLoads loads, ContactSolution start)
    {
        var before = start.Loads.Springs.Index().Where(s => s.Item.PushedOnly).GroupBy(s => s.Item.Support).ToDictionary(g => g.Key, g => g.Select(s => (At: start.Loads.PointOf(s.Item.Corner), Held: start.Holds[s.Index])).ToArray());
        return [.. loads.Springs.Select(s => !s.PushedOnly || !before.TryGetValue(s.Support, out var near) || near.MinBy(n => (n.At - loads.PointOf(s.Corner)).Length).Held)];
    }

    /// <summary>Whether what acts does work on a movement that nothing hinders.</summary>
    private static bool IsDriven(Loading loading, FreeMovement movement)
    {
        double work = 0, most = 0;
        Point3 along = loading.Grid.Frame.ToGrid(movement.Along), through = loading.Grid.Frame.ToGrid(movement.Through);
        foreach (var (corner, force) in loading.Forces)
        {
            var (i, j, k) = loading.Grid.CornerAt(corner);
            Point3 moves = movement.IsTurn ? Point3.Cross(along, loading.Grid.PointOf(i, j, k) - through) : along;
            work += Point3.Dot(force, moves);
            most += force.Length * moves.Length;
        }

        return Math.Abs(work) > 1e-4 * most;
    }

    private static void Steady(Loading loading, GridLoads loads)
    {
        double stiffness = Steadying * loads.Springs.Select(s => s.StiffnessNPerMm).DefaultIfEmpty(1e4).Average();
        foreach (int corner in (loads.Springs.Count > 0 ? loads.Springs.Select(s => s.Corner) : loading.Forces.Keys).Distinct().Order())
            foreach (Point3 axis in (ReadOnlySpan<Point3>)[new(1, 0, 0), new(0, 1, 0), new(0, 0, 1)]) loading.Spring(corner, axis, stiffness);
    }
}
