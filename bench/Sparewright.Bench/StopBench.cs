using System.Diagnostics;
using System.Globalization;

namespace Sparewright.Bench;

/// <summary>How soon Ctrl-C ends the main job: interrupted at moments spread evenly over a run, tool and workers together as a terminal does it.</summary>
internal static class StopBench
{
    private const double GoalMs = 1000;
    private const int Stopped = 130;

    public static void Write(int moments)
    {
        var stages = new Dictionary<string, Times>();
        var all = new Times();
        int late = 0, otherwise = 0;
        double wholeMs = WholeMs();
        for (int k = 0; k < moments; k++)
        {
            Paper.UnderWay($"stop: moment {k + 1} of {moments}");
            string folder = Path.Combine(Path.GetTempPath(), $"sparewright-bench-stop-{Environment.ProcessId}");
            var (stage, ms, code) = Interrupt(folder, wholeMs * (k + 0.5) / moments);
            bool left = Directory.Exists(folder);
            if (left) Directory.Delete(folder, recursive: true);
            if (code is 0 or 1)
            {
                late++;
                continue;
            }

            if (code != Stopped || left) otherwise++;
            if (!stages.TryGetValue(stage, out Times? times)) stages[stage] = times = new();
            times.Add(ms);
            all.Add(ms);
        }

        Paper.Heading("Ctrl-C until the end of the process");
        Paper.Words($"ms, at {moments} moments spread over the main job; {late} of them came too late, {otherwise} ended otherwise than with {Stopped} and an untouched folder (before the tool listens, the signal itself ends it).");
        Paper.Table(["last stage told", "times", "median", "least", "most", "goal"],
        [
            .. stages.Select(s => Row(s.Key, s.Value, "")),
            Row("**all**", all, $"≤ {GoalMs}"),
        ]);
    }

    private static string[] Row(string name, Times times, string goal) =>
        [name, times.Count.ToString(CultureInfo.InvariantCulture), Paper.Ms(times.Clock), Paper.Ms(times.Least), Paper.Ms(times.Most), goal];

    private static double WholeMs()
    {
        string folder = Directory.CreateTempSubdirectory("sparewright-bench").FullName;
        var clock = Stopwatch.StartNew();
        using Process process = Start(folder);
        process.StandardError.ReadToEnd();
        process.WaitForExit();
        Directory.Delete(folder, recursive: true);
        return clock.Elapsed.TotalMilliseconds;
    }

    private static (string Stage, double Ms, int Code) Interrupt(string folder, double afterMs)
    {
        using Process process = Start(folder);
        string stage = "none yet";
        process.ErrorDataReceived += (_, told) => stage = told.Data?.Split(": ") is [var name, _, ..] ? name : stage;
        process.BeginErrorReadLine();
        Thread.Sleep(TimeSpan.FromMilliseconds(afterMs));
        string under = stage;
        var clock = Stopwatch.StartNew();
        using (Process kill = Process.Start("/bin/kill", ["-s", "INT", "--", string.Create(CultureInfo.InvariantCulture, $"-{process.Id}")])) kill.WaitForExit();
        process.WaitForExit();
        return (under, clock.Elapsed.TotalMilliseconds, process.ExitCode);
    }

    // In a session of its own, so that the signal reaches the tool and its workers and nobody else.
    private static Process Start(string folder) =>
        Process.Start(new ProcessStartInfo("/usr/bin/setsid", [Repository.Tool, "remake", Repository.VentKnuckle, "--out", folder, "--json"]) { RedirectStandardOutput = true, RedirectStandardError = true })!;
}
