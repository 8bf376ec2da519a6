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
        Dictionary<string, Times> bare = new() { ["start"] = new(), ["solidMs"] = new(), ["meshMs"] = new(), ["stepMs"] = new() };
        double workerVolume = 0, bareVolume = 0, workerTriangles = 0, bareTriangles = 0;
        for (int run = 0; run < runs; run++)
        {
            Paper.UnderWay($"kernel: run {run + 1} of {runs}");
            await using (var worker = new KernelWorker(program))
            {
                await start.OfAsync(async () => (await worker.GreetAsync()).OrThrow());
                ExactSolid built = await solid.OfAsync(async () => (await worker.BuildAsync(recipe)).OrThrow());
                guards.Add(built.GuardMilliseconds);
                Mesh triangles = await mesh.OfAsync(async () => (await built.MeshAsync(ChordMm, TurnDegrees)).OrThrow());
                await step.OfAsync(async () => (await built.WriteStepAsync(Path.Combine(folder, "worker.step"), "Vent knuckle")).OrThrow());
                (workerVolume, workerTriangles) = (built.VolumeMm3, triangles.TriangleCount);
            }

            await using (var worker = new KernelWorker(program))
            {
                (await worker.GreetAsync()).OrThrow();
                await unguarded.OfAsync(async () => (await worker.BuildAsync(recipe, fullGuards: false)).OrThrow());
            }

            Dictionary<string, double> told = RunBare(shape, Path.Combine(folder, "bare.step"));
            foreach (var (what, times) in bare) times.Add(told[what]);
            (bareVolume, bareTriangles) = (told["volumeMm3"], told["triangles"]);
        }

        Directory.Delete(folder, recursive: true);
        double apart = Math.Abs(workerVolume - bareVolume) / bareVolume;
        if (apart > SameVolume) throw new InvalidOperationException(string.Create(CultureInfo.InvariantCulture, $"not the same solid: {workerVolume:R} and {bareVolume:R} mm³"));

        double bareSolid = bare["solidMs"].Median, bareMesh = bare["meshMs"].Median, bareStep = bare["stepMs"].Median, bareAll = bareSolid + bareMesh + bareStep;
        double all = solid.Median + mesh.Median + step.Median, withoutGuards = all - guards.Median;
        Paper.Heading("Worker and bare kernel");
        Paper.Words(string.Create(CultureInfo.InvariantCulture,
            $"Median ms of {runs} fresh processes each, taken in turn. Same solid: the volumes differ by {apart:0.0e+0} of themselves ({workerVolume:0.000000} mm³). Mesh of {ChordMm} mm chord and {TurnDegrees}°: {workerTriangles} triangles through the worker, {bareTriangles} bare."));
        Paper.Table(["", "worker", "bare", "ratio", "goal"],
        [
            ["process start", Paper.Ms(start.Median), Paper.Ms(bare["start"].Median), Paper.Ratio(start.Median / bare["start"].Median), ""],
            ["solid, guarded", Paper.Ms(solid.Median), Paper.Ms(bareSolid), Paper.Ratio(solid.Median / bareSolid), ""],
            ["of which mesh guards", Paper.Ms(guards.Median), "", "", ""],
            ["solid, without mesh guards", Paper.Ms(unguarded.Median), Paper.Ms(bareSolid), Paper.Ratio(unguarded.Median / bareSolid), ""],
            ["mesh", Paper.Ms(mesh.Median), Paper.Ms(bareMesh), Paper.Ratio(mesh.Median / bareMesh), ""],
            ["STEP", Paper.Ms(step.Median), Paper.Ms(bareStep), Paper.Ratio(step.Median / bareStep), ""],
            ["solid + mesh + STEP", Paper.Ms(all), Paper.Ms(bareAll), Paper.Ratio(all / bareAll), $"≤ {Paper.Ratio(Goal)}"],
            ["the same without mesh guards", Paper.Ms(withoutGuards), Paper.Ms(bareAll), Paper.Ratio(withoutGuards / bareAll), ""],
        ]);
    }

    /// <summary>One run of the bare program: what it prints, and what it took beside that.</summary>
    private static Dictionary<string, double> RunBare(PlacedShape shape, string stepPath)
    {
        if (!File.Exists(Repository.BareKnuckle)) throw new InvalidOperationException($"{Repository.BareKnuckle} is not built: start the benchmarks by bench/run");
        var command = new ProcessStartInfo(Repository.BareKnuckle) { RedirectStandardOutput = true };
        command.ArgumentList.Add(stepPath);
        foreach (var (name, value) in shape.Sizes) command.ArgumentList.Add(string.Create(CultureInfo.InvariantCulture, $"{name}={value.Value:R}"));
        var clock = Stopwatch.StartNew();
        using Process process = Process.Start(command)!;
        string[] lines = process.StandardOutput.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries);
        process.WaitForExit();
        double whole = clock.Elapsed.TotalMilliseconds;
        if (process.ExitCode != 0) throw new InvalidOperationException($"bare-knuckle ended with {process.ExitCode}");
        var told = lines.Select(line => line.Split(' ')).ToDictionary(words => words[0], words => double.Parse(words[1], CultureInfo.InvariantCulture));
        told["start"] = whole - told["solidMs"] - told["meshMs"] - told["stepMs"];
        return told;
    }
}
