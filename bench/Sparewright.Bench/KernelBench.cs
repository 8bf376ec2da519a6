using System.Diagnostics;
using System.Globalization;
using Sparewright.Part.Elements;
using Sparewright.Solid;

namespace Sparewright.Bench;

/// <summary>Solid, mesh and STEP of the example through the worker, beside the same by straight calls of the library (<c>kernel/bench/bare_knuckle.cpp</c>). Each run is a fresh process.</summary>
internal static class KernelBench
{
    /// <summary>The mesh of the main job's files; the bare program asks for the same.</summary>
    private const double ChordMm = 0.01, TurnDegrees = 4.4;

    private const double Goal = 1.3, SameVolume = 1e-9;

    public static async Task WriteAsync(int runs)
    {
        var knuckle = new VentKnuckle();
        PlacedShape shape = knuckle.At(knuckle.Free);
        Recipe recipe = Recipe.Of(shape).OrThrow();
        KernelProgram program = KernelProgram.Find().OrThrow();
        string folder = Directory.CreateTempSubdirectory("sparewright-bench").FullName;

        Times start = new(), solid = new(), guards = new(), mesh = new(), step = new(), unguarded = new();
        Dictionary<string, Times> bare = new() { ["solid"] = new(), ["mesh"] = new(), ["step"] = new() };
        double workerVolume = 0, bareVolume = 0, workerTriangles = 0, bareTriangles = 0;
        for (int run = 0; run < runs; run++)
        {
            Paper.UnderWay($"kernel: run {run + 1} of {runs}");
            await using (var worker = new KernelWorker(program))
            {
                await start.OfAsync(() => Processor.Of(worker), async () => (await worker.GreetAsync()).OrThrow());
                ExactSolid built = await solid.OfAsync(() => Processor.Of(worker), async () => (await worker.BuildAsync(recipe)).OrThrow());
                guards.Add(built.GuardMilliseconds);
                Mesh triangles = await mesh.OfAsync(() => Processor.Of(worker), async () => (await built.MeshAsync(ChordMm, TurnDegrees)).OrThrow());
                await step.OfAsync(() => Processor.Of(worker), async () => (await built.WriteStepAsync(Path.Combine(folder, "worker.step"), "Vent knuckle")).OrThrow());
                (workerVolume, workerTriangles) = (built.VolumeMm3, triangles.TriangleCount);
            }

            await using (var worker = new KernelWorker(program))
            {
                (await worker.GreetAsync()).OrThrow();
                await unguarded.OfAsync(() => Processor.Of(worker), async () => (await worker.BuildAsync(recipe, fullGuards: false)).OrThrow());
            }

            Dictionary<string, double> told = RunBare(shape, Path.Combine(folder, "bare.step"));
            foreach (var (what, times) in bare) times.Add(told[what + "Ms"], told[what + "ProcessorMs"]);
            (bareVolume, bareTriangles) = (told["volumeMm3"], told["triangles"]);
        }

        Directory.Delete(folder, recursive: true);
        double apart = Math.Abs(workerVolume - bareVolume) / bareVolume;
        if (apart > SameVolume) throw new InvalidOperationException(string.Create(CultureInfo.InvariantCulture, $"not the same solid: {workerVolume:R} and {bareVolume:R} mm³"));

        Paper.Heading("Worker and bare kernel");
        Paper.Words(string.Create(CultureInfo.InvariantCulture,
            $"Median ms of {runs} fresh processes each, taken in turn. Same solid: the volumes differ by {apart:0.0e+0} of themselves ({workerVolume:0.000000} mm³). Mesh of {ChordMm} mm chord and {TurnDegrees}°: {workerTriangles} triangles through the worker, {bareTriangles} bare."));
        Paper.Table(["", "worker", "bare", "ratio", "worker's processor", "bare's processor", "ratio", "goal"],
        [
            ["process start", Paper.Ms(start.Clock), "", "", Paper.Ms(start.Processor), "", "", ""],
            Row("solid, guarded", [solid], [bare["solid"]]),
            ["of which mesh guards", Paper.Ms(guards.Clock), "", "", "", "", "", ""],
            Row("solid, without mesh guards", [unguarded], [bare["solid"]]),
            Row("mesh", [mesh], [bare["mesh"]]),
            Row("STEP", [step], [bare["step"]]),
            Row("solid + mesh + STEP", [solid, mesh, step], [.. bare.Values], $"≤ {Paper.Ratio(Goal)}"),
            Row("the same without mesh guards", [unguarded, mesh, step], [.. bare.Values]),
        ]);
    }

    private static string[] Row(string what, Times[] worker, Times[] bare, string goal = "")
    {
        double ours = worker.Sum(t => t.Clock), theirs = bare.Sum(t => t.Clock), oursBusy = worker.Sum(t => t.Processor), theirsBusy = bare.Sum(t => t.Processor);
        return [what, Paper.Ms(ours), Paper.Ms(theirs), Paper.Ratio(ours / theirs), Paper.Ms(oursBusy), Paper.Ms(theirsBusy), Paper.Ratio(oursBusy / theirsBusy), goal];
    }

    /// <summary>One run of the bare program: what it prints.</summary>
    private static Dictionary<string, double> RunBare(PlacedShape shape, string stepPath)
    {
        if (!File.Exists(Repository.BareKnuckle)) throw new InvalidOperationException($"{Repository.BareKnuckle} is not built: start the benchmarks by bench/run");
        var command = new ProcessStartInfo(Repository.BareKnuckle) { RedirectStandardOutput = true };
        command.ArgumentList.Add(stepPath);
        foreach (var (name, value) in shape.Sizes) command.ArgumentList.Add(string.Create(CultureInfo.InvariantCulture, $"{name}={value.Value:R}"));
        using Process process = Process.Start(command)!;
        string[] lines = process.StandardOutput.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries);
        process.WaitForExit();
        if (process.ExitCode != 0) throw new InvalidOperationException($"bare-knuckle ended with {process.ExitCode}");
        return lines.Select(line => line.Split(' ')).ToDictionary(words => words[0], words => double.Parse(words[1], CultureInfo.InvariantCulture));
    }
}
