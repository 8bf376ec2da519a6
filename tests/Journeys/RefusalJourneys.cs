using System.Text.Json;
using Xunit;

namespace Sparewright.Journeys;

/// <summary>What goes wrong is said with its place and its remedy, and by the exit code.</summary>
public sealed class RefusalJourneys : IDisposable
{
    private readonly Scratch _scratch = new();

    public void Dispose() => _scratch.Dispose();

    [Fact]
    public async Task A_wrong_job_is_refused_with_its_places()
    {
        string job = _scratch.CopyOf("vent-knuckle");
        Scratch.Change(job, "thickness: foot_t", "thicknes: foot_t");
        Ran run = await Tool.RunAsync("remake", job, "--out", _scratch["out"]);
        Assert.Equal(2, run.Code);
        Assert.Matches(@"job\.yaml:\d+:\d+: unknown key `thicknes`; did you mean `thickness`\?", run.Error);
        Assert.Empty(run.Out);
        Assert.False(Directory.Exists(_scratch["out"]));

        Ran json = await Tool.RunAsync("reconcile", job, "--json");
        Assert.Equal(2, json.Code);
        Assert.Contains("thicknes", json.Json.GetProperty("problems")[0].GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_round_that_does_not_fit_is_refused_at_its_feature()
    {
        string job = _scratch.CopyOf("vent-knuckle");
        Scratch.Change(job, "edge_r:      {about: 0.8}", "edge_r:      {fixed: 3.5}");
        Ran run = await Tool.RunAsync("remake", job, "--out", _scratch["out"], "--quiet");
        Assert.Equal(2, run.Code);
        int line = File.ReadAllLines(Path.Combine(job, "job.yaml")).ToList().FindIndex(l => l.Contains("edge_round: lug_round", StringComparison.Ordinal)) + 1;
        Assert.Contains($"job.yaml:{line}:", run.Error, StringComparison.Ordinal);
        Assert.Contains("lug_round", run.Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(_scratch["out"]));
    }

    [Fact]
    public async Task A_missing_job_is_refused()
    {
        Ran run = await Tool.RunAsync("remake", _scratch["nowhere"]);
        Assert.Equal(2, run.Code);
        Assert.Contains("there is no such file; check the path", run.Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("remkae x", "unknown verb remkae; did you mean remake?")]
    [InlineData("remake x --outt y", "unknown option --outt; did you mean --out?")]
    [InlineData("reconcile a b", "unknown argument b")]
    [InlineData("remake", "--help")]
    public async Task A_wrong_command_is_refused_with_what_was_probably_meant(string command, string says)
    {
        Ran run = await Tool.RunAsync(command.Split(' '));
        Assert.Equal(2, run.Code);
        Assert.Contains(says, run.Error, StringComparison.Ordinal);
        Assert.Empty(run.Out);
    }

    [Fact]
    public async Task Without_its_kernel_worker_the_tool_says_what_brings_it()
    {
        (string, string)[] nowhere = [("SPAREWRIGHT_KERNEL", "/nowhere/kernel")];
        Ran run = await Tool.RunAsync(nowhere, ["remake", Tool.Example("vent-knuckle"), "--out", _scratch["out"]]);
        Assert.Equal(3, run.Code);
        Assert.Contains("SPAREWRIGHT_KERNEL names /nowhere/kernel, which is not there; set SPAREWRIGHT_KERNEL", run.Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(_scratch["out"]));

        Ran doctor = await Tool.RunAsync(nowhere, ["doctor", "--json"]);
        Assert.Equal(3, doctor.Code);
        Assert.False(doctor.Json.GetProperty("complete").GetBoolean());
        JsonElement kernel = doctor.Json.GetProperty("checks").EnumerateArray().Single(c => c.GetProperty("name").GetString() == "kernel worker");
        Assert.False(kernel.GetProperty("ok").GetBoolean());
        Assert.NotEqual("", kernel.GetProperty("mend").GetString());
    }

    [Fact]
    public async Task A_healthy_tool_is_told_so()
    {
        Ran doctor = await Tool.RunAsync("doctor");
        Assert.Equal(0, doctor.Code);
        Assert.Contains("Open CASCADE", doctor.Out, StringComparison.Ordinal);
        Assert.Contains("Everything is there.", doctor.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_folder_that_cannot_be_is_a_failed_stage()
    {
        File.WriteAllText(_scratch["file"], "in the way");
        Ran run = await Tool.RunAsync("remake", Tool.Example("vent-knuckle"), "--out", Path.Combine(_scratch["file"], "out"), "--quiet");
        Assert.Equal(3, run.Code);
        Assert.Contains("; check that the folder can be written to", run.Error, StringComparison.Ordinal);
        Assert.Equal("in the way", File.ReadAllText(_scratch["file"]));
    }
}
