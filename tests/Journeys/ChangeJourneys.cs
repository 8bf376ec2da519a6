using Xunit;

namespace Sparewright.Journeys;

/// <summary>What is made again after a change, and what is not.</summary>
[Collection(MadeJourneys.Name)]
public sealed class ChangeJourneys(ExampleMade made) : IDisposable
{
    private readonly Scratch _scratch = new();

    public void Dispose() => _scratch.Dispose();

    /// <summary>The ends of the names of the files that a run made.</summary>
    private static string[] MadeBy(Ran run) => [.. run.Json.GetProperty("files").EnumerateArray().Where(f => !f.GetProperty("upToDate").GetBoolean())
        .Select(f => f.GetProperty("name").GetString()!).Select(n => n[(n.LastIndexOf('.') + 1)..]).Order(StringComparer.Ordinal)];

    private static bool UpToDate(Ran run, string stage) =>
        run.Json.GetProperty("stages").EnumerateArray().Single(s => s.GetProperty("name").GetString() == stage).GetProperty("upToDate").GetBoolean();

    [Fact]
    public async Task Only_what_depends_on_a_change_is_made_again()
    {
        string job = _scratch.CopyOf("vent-knuckle"), output = _scratch["out"];
        Task<Ran> Remake() => Tool.RunAsync("remake", job, "--out", output, "--json", "--quiet");
        made.CopyTo(output);

        // A deleted file, and one that somebody changed.
        File.Delete(Directory.EnumerateFiles(output, "*.stl").Single());
        Ran mended = await Remake();
        Assert.Equal(["stl"], MadeBy(mended));
        Assert.True(UpToDate(mended, "step") && UpToDate(mended, "views") && !UpToDate(mended, "mesh"));
        File.AppendAllText(Directory.EnumerateFiles(output, "*.step").Single(), "changed");
        File.WriteAllText(Path.Combine(output, "summary.txt"), "changed");
        Assert.Equal(["step", "txt"], MadeBy(await Remake()));
        Assert.DoesNotContain("changed", File.ReadAllText(Path.Combine(output, "summary.txt")), StringComparison.Ordinal);

        // A remark changes nothing that is made; words on the picture do not move the solid.
        Scratch.Change(job, "sparewright: 1", "sparewright: 1   # a remark");
        Assert.Empty(MadeBy(await Remake()));
        Scratch.Change(job, "about: Takes the", "about: It takes the");
        Ran worded = await Remake();
        Assert.Equal(["3mf", "png", "svg", "txt"], MadeBy(worded));

        // A size moves everything.
        double before = worded.Json.GetProperty("solid").GetProperty("volumeMm3").GetDouble();
        Scratch.Change(job, "edge_r:      {about: 0.8}", "edge_r:      {fixed: 0.9}");
        Ran moved = await Remake();
        Assert.Equal(["3mf", "json", "png", "step", "stl", "svg", "txt"], MadeBy(moved));
        Assert.NotEqual(before, moved.Json.GetProperty("solid").GetProperty("volumeMm3").GetDouble());
    }

    [Fact]
    public async Task A_spoiled_record_means_that_everything_is_made_again()
    {
        string output = _scratch["out"];
        made.CopyTo(output);
        File.WriteAllText(Path.Combine(output, "remade.json"), "{\"version\": 1, \"solid\": 3}");
        Ran again = await Tool.RunAsync("remake", Tool.Example("vent-knuckle"), "--out", output, "--json", "--quiet");
        Assert.Equal(["3mf", "png", "step", "stl", "svg"], MadeBy(again));
    }

    [Theory]
    [InlineData("INT")]
    [InlineData("TERM")]
    public async Task Stopped_in_the_middle_nothing_is_left_half_written(string signal)
    {
        string fresh = _scratch["fresh"];
        using var process = Tool.Start([], "remake", Tool.Example("vent-knuckle"), "--out", fresh);
        string? line;
        // Mid-way: the solid is being built and the output folder is open.
        while ((line = await process.StandardError.ReadLineAsync(TestContext.Current.CancellationToken)) is not null && !line.StartsWith("solid: ", StringComparison.Ordinal)) { }
        Assert.NotNull(line);
        var clock = System.Diagnostics.Stopwatch.StartNew();
        await Tool.SignalAsync(process, signal);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.Equal(130, process.ExitCode);
        // The promise is one second on a machine that has nothing else to do; test machines have.
        Assert.InRange(clock.Elapsed.TotalSeconds, 0, 10);
        Assert.False(Directory.Exists(fresh));
    }

    [Fact]
    public async Task What_a_killed_run_left_behind_is_cleared_away()
    {
        string output = _scratch["out"];
        Directory.CreateDirectory(Path.Combine(output, ".being-made"));
        File.WriteAllText(Path.Combine(output, ".being-made", "half.stl"), "half");
        Ran run = await Tool.RunAsync("solid", Tool.Example("vent-knuckle"), "--out", output, "--quiet");
        Assert.Equal(1, run.Code);
        Assert.False(Directory.Exists(Path.Combine(output, ".being-made")));
        Assert.False(File.Exists(Path.Combine(output, "half.stl")));
    }
}
