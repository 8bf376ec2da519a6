using Sparewright.Solid;
using Sparewright.Strength.Solve;

namespace Sparewright.Strength.Loads;

/// <summary>A load case solved, with what pushes back where.</summary>
/// <param name="Rounds">How often it was solved until every support that only pushes did so.</param>
/// <param name="PullingShare">What supports that only push would still have to pull, as a share of the load: 0 where that was settled.</param>
/// <param name="SupportsN">The force of each support on the part, N, in the job's axes.</param>
public sealed record ContactSolution(Solution Solution, int Rounds, double PullingShare, IReadOnlyList<Point3> SupportsN);

/// <summary>
/// Supports that only push: solved again with those left out that pulled, and those taken in again that are pressed, until none is wrong. The first rounds are on soft supports, which lift off as a whole;
/// stiff ones would peel off cell by cell.
/// </summary>
public static class Contact
{
    private static readonly (double Share, int MostRounds)[] Stages = [(1e-3, 5), (3e-2, 5), (1, 12)];

    /// <summary>Wrong forces of all springs together below this share of the load do not change an answer that is good to some percent.</summary>
    private const double Settled = 1e-3;

    /// <exception cref="NotConvergedException">The part comes loose, or was not held to begin with.</exception>
    public static ContactSolution Solve(LayeredStiffness material, GridLoads loads, SolveOptions? options = null, IProgress<double>? progress = null, CancellationToken cancel = default)
    {
        bool[] holds = [.. Enumerable.Repeat(true, loads.Springs.Count)];
        bool oneSided = loads.Springs.Any(s => s.PushedOnly);
        int rounds = 0;
        foreach (var (share, mostRounds) in oneSided ? Stages : [(1.0, 1)])
        {
            for (int round = 1; ; round++)
            {
                rounds++;
                Solution solution = Statics.Solve(material, loads.With(k => holds[k], share), options, progress, cancel);
                double[] pushes = [.. loads.Springs.Select(s => (s.PushedOnly ? share : 1) * s.StiffnessNPerMm * (s.RestMm - Point3.Dot(s.Direction, solution.At(s.Corner))))];
                double acting = loads.Springs.Index().Where(s => holds[s.Index]).Sum(s => Math.Abs(pushes[s.Index])), pulled = 0;
                bool[] should = [.. holds.Select((h, k) => !loads.Springs[k].PushedOnly || pushes[k] > 0)];
                for (int k = 0; k < holds.Length; k++)
                    if (should[k] != holds[k]) pulled += Math.Abs(pushes[k]);
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
                return new(solution, rounds, wrong <= Settled ? 0 : wrong, supports);
            }
        }

        throw new InvalidOperationException("the last stage of contact did not answer");
    }
}
