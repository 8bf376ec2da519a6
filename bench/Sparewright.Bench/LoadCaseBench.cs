using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using Sparewright.Part.Record;
using Sparewright.Remake;
using Sparewright.Solid;
using Sparewright.Strength;
using Sparewright.Strength.Cases;
using Sparewright.Strength.Loads;
using Sparewright.Strength.Margins;
using Sparewright.Strength.Materials;

namespace Sparewright.Bench;

/// <summary>One load case of the example, from the solid to its two weakest places with their ±, and which stage takes how much of it.</summary>
internal static class LoadCaseBench
{
    public static async Task WriteAsync(int runs)
    {
        Paper.UnderWay("strength: the example's load case");
        var knuckle = new VentKnuckle();
        await using var worker = new KernelWorker(KernelProgram.Find().OrThrow(), new WorkerLimits { PerRequest = TimeSpan.FromMinutes(5), ToStart = TimeSpan.FromMinutes(2) });
        ExactSolid solid = (await worker.BuildAsync(knuckle.RecipeAt(knuckle.Free))).OrThrow();
        Mesh mesh = (await solid.MeshAsync()).OrThrow();
        PrintMaterial material = MaterialTable.Published.Print(knuckle.Job.Print!.Material!, [])!;
        Load load = knuckle.Job.Loads[0];
        LayeredStrength strength = Allowables.Of(material, load.Times, load.Lasts, knuckle.Job.Lives).Strength;

        Times whole = new();
        var stages = new SortedDictionary<string, Times>();
        // Made before the listener asks for it.
        ActivitySource ours = Stages.Source;
        using var listener = new ActivityListener
        {
            ShouldListenTo = source => source == ours,
            Sample = (ref ActivityCreationOptions<ActivityContext> _) => ActivitySamplingResult.AllData,
        };
        var sums = new Dictionary<string, double>();
        listener.ActivityStopped = stage => sums[stage.OperationName] = sums.GetValueOrDefault(stage.OperationName) + stage.Duration.TotalMilliseconds;
        ActivitySource.AddActivityListener(listener);
        double first = 0;
        SolvedCase? solved = null;
        for (int run = 0; run <= runs; run++)
        {
            sums.Clear();
            var clock = Stopwatch.StartNew();
            var part = new PartUnderLoad(mesh, solid.Faces, solid.VolumeMm3);
            SolidLoadCase @case = new LoadsOnSolid(knuckle.Job, knuckle.Job.Sizes.At(knuckle.Free), solid.Faces, mesh, part.CellMm / 2, material.Habits.DensityGPerCm3.Value).Of(load).Case!;
            solved = part.Solve(@case, new(0, 0, 1), material.Stiffness, s => MaximumStress.Of(s, strength)).Solved!;
            double ms = clock.Elapsed.TotalMilliseconds;
            if (run == 0)
            {
                first = ms;
                continue;
            }

            whole.Add(ms);
            foreach (var (stage, sum) in sums)
            {
                if (!stages.TryGetValue(stage, out Times? times)) stages[stage] = times = new();
                times.Add(sum);
            }
        }

        var (tools, toolsReport) = ByTheTool(runs);
        Paper.UnderWay("strength: the example's whole report");
        var reporting = Stopwatch.StartNew();
        await new RemakePipeline(KernelProgram.Find().OrThrow(), [], TimeProvider.System).StrengthAsync(OpenedJob.Open(Repository.VentKnuckle).Value!, shows: false, new Progress<StageProgress>(), CancellationToken.None);
        double reported = reporting.Elapsed.TotalMilliseconds;

        Paper.Table(["a load case of the example", "figure", "goal"],
        [
            ["the tool's first and only one in a process, its median", $"{Paper.Ms(tools.Clock)} ms", "≤ 3 s"],
            ["the tool's whole command, its median", $"{Paper.Ms(toolsReport.Clock)} ms", ""],
            ["here, nothing compiled ahead, the first", $"{Paper.Ms(first)} ms", ""],
            ["here, every other", $"{Paper.Ms(whole.Clock)} ms", ""],
            ["the whole report: sizes, solid, its case, three ways up, the old part, what would better it", $"{Paper.Ms(reported)} ms", "≤ 10 s"],
            .. stages.Select(s => new[] { $"of that: {s.Key}", $"{Paper.Ms(s.Value.Clock)} ms", "" }),
        ]);
        Paper.Words(string.Create(CultureInfo.InvariantCulture, $"{solved!.Elements} cells in all, {solved.CellMm:0.00} mm for the part; weakest {solved.Weakest.Reserve.Factor:0.0000} ± {100 * solved.StressPlusMinus:0} %, next {solved.Next?.Weakest.Reserve.Factor:0.0000} ± {100 * solved.Next?.StressPlusMinus:0} %. Stages within others are told twice: setting up and iterating belong to what is solved, solving windows to windows."));
    }

    /// <summary>The case's own seconds and the whole command's, as somebody gets them who asks the tool once.</summary>
    private static (Times Case, Times Command) ByTheTool(int runs)
    {
        Times ofCase = new(), ofCommand = new();
        for (int run = 0; run < runs; run++)
        {
            Paper.UnderWay($"strength: the tool, {run + 1} of {runs}");
            var command = new ProcessStartInfo(Repository.Tool, ["strength", Repository.VentKnuckle, "--json", "--quiet"]) { RedirectStandardOutput = true };
            // As ./sparewright has it.
            command.Environment["DOTNET_TieredCompilation"] = "0";
            var clock = Stopwatch.StartNew();
            using Process process = Process.Start(command)!;
            using JsonDocument found = JsonDocument.Parse(process.StandardOutput.ReadToEnd());
            process.WaitForExit();
            ofCommand.Add(clock.Elapsed.TotalMilliseconds);
            ofCase.Add(1000 * found.RootElement.GetProperty("cases")[0].GetProperty("seconds").GetDouble());
        }

        return (ofCase, ofCommand);
    }
}
