using System.Diagnostics;
using Xunit;

namespace Sparewright.Journeys;

/// <summary>Ctrl-C, at any moment: the tool ends with 130, the output folder is as it was, no worker runs on.</summary>
[Collection(MadeJourneys.Name)]
public sealed class InterruptJourneys(ExampleMade made) : IDisposable
{
    /// <summary>The promise is one second on a machine that has nothing else to do (`bench/run stop` measures it); test machines have.</summary>
    private const double LimitSeconds = 10;

    private readonly Scratch _scratch = new();

    public void Dispose() => _scratch.Dispose();

    [Theory]
    [InlineData("remake", "reconcile: ")]
    [InlineData("remake", "solid: ")]
    [InlineData("remake", "mesh: ")]
    [InlineData("remake", "views: ")]
    [InlineData("remake", "step: ")]
    [InlineData("remake", "files: ")]
    [InlineData("solid", "solid: ")]
    [InlineData("solid", "mesh: ")]
    [InlineData("solid", "views: ")]
    public async Task Ctrl_C_stops_at_once_and_leaves_nothing_behind(string verb, string stage)
    {
        string folder = _scratch["out"];
        using Process process = Tool.StartSession(verb, Tool.Example("vent-knuckle"), "--out", folder);
        Task<string> output = process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await ReachedAsync(process, stage);
        var clock = Stopwatch.StartNew();
        await Tool.InterruptSessionAsync(process);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        double seconds = clock.Elapsed.TotalSeconds;
        TestContext.Current.SendDiagnosticMessage($"{verb}, {stage}stopped after {seconds:F2} s");
        Assert.Equal(130, process.ExitCode);
        Assert.InRange(seconds, 0, LimitSeconds);
        Assert.Empty(Tool.RunningInSession(process.Id));
        Assert.False(Directory.Exists(folder));
        Assert.EndsWith("Stopped; nothing was left half-written.\n", await process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
        Assert.Empty(await output);
    }

    [Theory]
    [InlineData("solid: ")]
    [InlineData("mesh: ")]
    [InlineData("views: ")]
    [InlineData("files: ")]
    public async Task Ctrl_C_leaves_earlier_results_as_they_were(string stage)
    {
        string job = _scratch.CopyOf("vent-knuckle"), folder = _scratch["out"];
        made.CopyTo(folder);
        var before = Scratch.Files(folder);
        Scratch.Change(job, "edge_r:      {about: 0.8}", "edge_r:      {fixed: 0.9}");
        using Process process = Tool.StartSession("remake", job, "--out", folder);
        await ReachedAsync(process, stage);
        await Tool.InterruptSessionAsync(process);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.Equal(130, process.ExitCode);
        Assert.Equal(before, Scratch.Files(folder));
        Assert.Empty(Tool.RunningInSession(process.Id));
    }

    private static async Task ReachedAsync(Process process, string stage)
    {
        string? line;
        do line = await process.StandardError.ReadLineAsync(TestContext.Current.CancellationToken);
        while (line is not null && !line.StartsWith(stage, StringComparison.Ordinal));
        Assert.NotNull(line);
    }
}
