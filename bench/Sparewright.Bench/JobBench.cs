using System.Diagnostics;
using System.Text.Json;

namespace Sparewright.Bench;

/// <summary>The main job on the example as a user has it: a fresh process, all outputs into an empty folder.</summary>
internal static class JobBench
{
    private const double GoalMs = 3000;

    public static void Write(int runs)
    {
        Times whole = new(), inside = new(), again = new();
        var stages = new Dictionary<string, Times>();
        for (int run = 0; run < runs; run++)
        {
            Paper.UnderWay($"job: run {run + 1} of {runs}");
            string folder = Directory.CreateTempSubdirectory("sparewright-bench").FullName;
            using (JsonDocument told = Remake(folder, whole))
            {
                inside.Add(told.RootElement.GetProperty("seconds").GetDouble() * 1000);
                foreach (JsonElement stage in told.RootElement.GetProperty("stages").EnumerateArray())
                {
                    string name = stage.GetProperty("name").GetString()!;
                    if (!stages.TryGetValue(name, out Times? times)) stages[name] = times = new();
                    times.Add(stage.GetProperty("seconds").GetDouble() * 1000);
                }
            }

            Remake(folder, again).Dispose();
            Directory.Delete(folder, recursive: true);
        }

        Paper.Heading("Main job, cold process, all outputs");
        Paper.Words($"Median ms of {runs} runs, each into an empty folder. Solid, remeasure, mesh and STEP run in one worker, the views at the same time in another: stages do not add up to the whole.");
        Paper.Table(["", "median", "least", "most", "processor", "goal"],
        [
            .. stages.Select(s => new[] { s.Key, Paper.Ms(s.Value.Clock), Paper.Ms(s.Value.Least), Paper.Ms(s.Value.Most), "", "" }),
            ["whole, as the tool times itself from the first reading on", Paper.Ms(inside.Clock), Paper.Ms(inside.Least), Paper.Ms(inside.Most), "", ""],
            ["**whole process**", Paper.Ms(whole.Clock), Paper.Ms(whole.Least), Paper.Ms(whole.Most), Paper.Ms(whole.Processor), $"≤ {GoalMs}"],
            ["once more, all up to date", Paper.Ms(again.Clock), Paper.Ms(again.Least), Paper.Ms(again.Most), Paper.Ms(again.Processor), ""],
        ]);
    }

    private static JsonDocument Remake(string folder, Times whole)
    {
        var command = new ProcessStartInfo(Repository.Tool, ["remake", Repository.VentKnuckle, "--out", folder, "--json", "--quiet"]) { RedirectStandardOutput = true };
        double before = Processor.OfEnded();
        var clock = Stopwatch.StartNew();
        using Process process = Process.Start(command)!;
        string json = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        whole.Add(clock.Elapsed.TotalMilliseconds, Processor.OfEnded() - before);
        // 1: done, and a wrong reading wants attention, as in this example.
        return process.ExitCode is 0 or 1 ? JsonDocument.Parse(json) : throw new InvalidOperationException($"the tool ended with {process.ExitCode}: {json}");
    }
}
