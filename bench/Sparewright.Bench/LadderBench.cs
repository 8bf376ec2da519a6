using System.Diagnostics;
using System.Globalization;
using Sparewright.Fit.Gauges;
using Sparewright.Part.Elements;
using Sparewright.Part.Shape;
using Sparewright.Reconcile.Findings;
using Sparewright.Remake;
using Sparewright.Remake.Fits;
using Sparewright.Remake.Ladders;
using Sparewright.Solid;

namespace Sparewright.Bench;

/// <summary>The gauges of each ladder of the example, cut from the exact solid and joined to a strip by a worker that was just started.</summary>
internal static class LadderBench
{
    private const double GoalMs = 1000;

    public static async Task WriteAsync(int runs)
    {
        OpenedJob job = OpenedJob.Open(Repository.VentKnuckle).Value ?? throw new InvalidOperationException("the example does not open");
        Reconciled reconciled = job.ReconcileWithoutVolume().Value ?? throw new InvalidOperationException("the readings of the example cannot be reconciled");
        FoundFits found = FitWork.Find(job, reconciled, advise: false).Value ?? throw new InvalidOperationException("the fits of the example cannot be found");
        KernelProgram kernel = KernelProgram.Find().OrThrow();
        var rows = new List<string[]>();
        foreach (GaugeSteps steps in PlannedLadder.Of(found).Select(p => p.Steps).OfType<GaugeSteps>())
        {
            Paper.UnderWay($"ladder: {steps.Counterpart}");
            IReadOnlyList<PlacedShape> shapes = steps.Shapes(found);
            Times strip = new(), mesh = new();
            for (int run = -1; run < runs; run++)
            {
                var clock = Stopwatch.StartNew();
                await using var worker = new KernelWorker(kernel);
                GaugeStrip built = (await GaugeStrip.BuildAsync(worker, shapes, steps.Met, job.Job.Print?.WayUp ?? Direction.Up, steps.BevelMm(found))).OrThrow();
                double solidMs = clock.Elapsed.TotalMilliseconds;
                clock.Restart();
                (await built.Solid.MeshAsync(0.01)).OrThrow();
                if (run < 0) continue;
                strip.Add(solidMs);
                mesh.Add(clock.Elapsed.TotalMilliseconds);
            }

            rows.Add([steps.Counterpart, steps.DrawnMm.Count.ToString(CultureInfo.InvariantCulture), Paper.Ms(strip.Clock), Paper.Ms(strip.Most), $"≤ {GoalMs}", Paper.Ms(mesh.Clock)]);
        }

        Paper.Heading("Ladders of the example");
        Paper.Words($"Median ms of {runs} runs, each with a worker of its own, its start included; the mesh of 0.01 mm chord comes on top.");
        Paper.Table(["for", "gauges", "solid of the strip", "most", "goal", "mesh"], rows);
    }
}
