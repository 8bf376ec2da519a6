using System.Diagnostics;
using System.Globalization;
using Sparewright.Solid;

namespace Sparewright.Bench;

/// <summary>One size of the example changed, with a warm worker that holds the part as it was: how long until there is a new solid and a mesh to show.</summary>
internal static class ChangeBench
{
    private const double ChordMm = 0.05, FirstGoalMs = 300, LateGoalMs = 120;

    /// <summary>The sizes that the goals are for: the first feature hangs on the one, only late features on the other.</summary>
    private const string First = "foot_t", Late = "screw_d";

    public static async Task WriteAsync(int runs)
    {
        var knuckle = new VentKnuckle();
        Recipe asItWas = knuckle.RecipeAt(knuckle.Free);
        await using var worker = new KernelWorker(KernelProgram.Find().OrThrow());
        var rows = new List<string[]>();
        for (int k = 0; k < knuckle.Free.Length; k++)
        {
            string name = knuckle.Job.Sizes.Free[k].Name;
            Paper.UnderWay($"change: {name}");
            Times place = new(), solid = new(), guards = new(), mesh = new(), whole = new();
            Recipe changed = asItWas;
            for (int run = -1; run < runs; run++)
            {
                (await worker.BuildAsync(asItWas)).OrThrow();
                double[] free = [.. knuckle.Free];
                free[k] += 0.01 * (run + 2);
                Times[] kept = run < 0 ? [new(), new(), new(), new(), new()] : [place, solid, guards, mesh, whole];

                var clock = Stopwatch.StartNew();
                changed = knuckle.RecipeAt(free);
                kept[0].Add(clock.Elapsed.TotalMilliseconds);
                ExactSolid built = await kept[1].OfAsync(() => Processor.Of(worker), async () => (await worker.BuildAsync(changed)).OrThrow());
                await kept[3].OfAsync(() => Processor.Of(worker), async () => (await built.MeshAsync(ChordMm)).OrThrow());
                kept[2].Add(built.GuardMilliseconds);
                kept[4].Add(clock.Elapsed.TotalMilliseconds);
            }

            int same = asItWas.PrefixHashes.Zip(changed.PrefixHashes).TakeWhile(pair => pair.First == pair.Second).Count();
            rows.Add(
            [
                name, asItWas.FeatureNames[same], (asItWas.FeatureNames.Count - same).ToString(CultureInfo.InvariantCulture), Paper.Ms(place.Clock),
                Paper.Ms(solid.Clock), Paper.Ms(guards.Clock), Paper.Ms(mesh.Clock), Paper.Ms(whole.Clock), Paper.Ms(solid.Processor + mesh.Processor),
                name switch { First => $"≤ {FirstGoalMs}", Late => $"≤ {LateGoalMs}", _ => "" },
            ]);
        }

        Paper.Heading("One size changed, warm worker");
        Paper.Words(string.Create(CultureInfo.InvariantCulture,
            $"Median ms of {runs} changes by 0.01 mm each, to new solid and mesh ({ChordMm} mm chord); the example has {asItWas.FeatureNames.Count} features. Guards are part of the solid's time."));
        Paper.Table(["size", "first feature that changes", "built again", "placing", "solid", "of which mesh guards", "mesh", "all", "worker's processor", "goal"], rows);
    }
}
