using System.Text.Json;
using Sparewright.Solid;
using Xunit;

namespace Sparewright.Cli.Tests;

/// <summary>The odds that everything fits, as the command line tells them.</summary>
public sealed class FitVerbTests : IDisposable
{
    private readonly DirectoryInfo _scratch = Directory.CreateTempSubdirectory("sparewright-test-");

    public void Dispose() => _scratch.Delete(recursive: true);

    private static string Root()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Sparewright.slnx"))) return folder.FullName;
        throw new InvalidOperationException("the tests lie outside the repository");
    }

    private static string Example(string name) => Path.Combine(Root(), "examples", name);

    private static async Task<(int Code, string Out, string Error)> Fit(string job, params string[] options)
    {
        StringWriter output = new(), error = new();
        var around = new Surroundings(new StringReader(""), output, error) { FindKernel = () => new SolidProblem(SolidProblemKind.NoWorker, null, "none here", "build it") };
        int code = await CommandLine.RunAsync(["fit", job, .. options], around, CancellationToken.None);
        return (code, output.ToString(), error.ToString());
    }

    /// <summary>The vent knuckle's answer, asked for once.</summary>
    private static readonly Lazy<Task<(int Code, string Out, string Error)>> Knuckle = new(() => Fit(Example("vent-knuckle"), "--json"));

    /// <summary>The vent knuckle with other text at one place.</summary>
    private string Changed(string before, string after)
    {
        string text = File.ReadAllText(Path.Combine(Example("vent-knuckle"), "job.yaml")).ReplaceLineEndings("\n");
        Assert.Contains(before, text, StringComparison.Ordinal);
        string path = Path.Combine(_scratch.FullName, "job.yaml");
        File.WriteAllText(path, text.Replace(before, after, StringComparison.Ordinal));
        return path;
    }

    [Theory]
    [InlineData("vent-knuckle", 4)]
    [InlineData("line-reel-crank", 3)]
    public async Task It_answers_as_agreed(string example, int counterparts)
    {
        var (code, output, error) = await (example == "vent-knuckle" ? Knuckle.Value : Fit(Example(example), "--json"));
        Assert.Equal((ExitCode.NeedsAttention, ""), (code, error));
        JsonElement root = JsonDocument.Parse(output).RootElement;
        JsonElement[] all = [.. root.GetProperty("counterparts").EnumerateArray()];
        Assert.Equal(counterparts, all.Length);
        foreach (JsonElement one in all)
        {
            Assert.InRange(one.GetProperty("odds").GetDouble(), 0, 1);
            JsonElement clearance = one.GetProperty("clearance");
            double mean = clearance.GetProperty("mean").GetDouble(), low = clearance.GetProperty("low95").GetDouble(), high = clearance.GetProperty("high95").GetDouble();
            Assert.True(low < mean && mean < high && clearance.GetProperty("standardDeviation").GetDouble() > 0);
            Assert.NotEmpty(one.GetProperty("drawn").EnumerateObject());
        }

        double together = root.GetProperty("allTogether").GetDouble();
        Assert.True(together <= all.Min(c => c.GetProperty("odds").GetDouble()) + 0.002, "all together cannot be likelier than the least likely");
        Assert.True(together > root.GetProperty("allTogetherAsMeasured").GetDouble());
        Assert.True(root.GetProperty("process").GetProperty("assumed").GetBoolean());
        Assert.NotEmpty(root.GetProperty("cures").EnumerateArray());
    }

    [Fact]
    public async Task The_same_job_gets_the_same_answer() => Assert.Equal((await Knuckle.Value).Out, (await Fit(Example("vent-knuckle"), "--json")).Out);

    [Fact]
    public async Task People_are_told_what_is_assumed_what_costs_and_what_would_help()
    {
        var (_, output, _) = await Fit(Example("vent-knuckle"));
        string text = string.Join(' ', output.Split([' ', '\n'], StringSplitOptions.RemoveEmptyEntries));
        foreach (string said in (string[])["is assumed, not measured", "printers differ more than anything else", "What costs the odds", "print and measure 3", "Sizes to draw", "95 % are wanted"])
            Assert.Contains(said, text, StringComparison.Ordinal);
        Assert.DoesNotContain("safe", text, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task In_inches_no_length_is_in_mm()
    {
        var (_, output, _) = await Fit(Example("vent-knuckle"), "--inches");
        Assert.DoesNotContain(" mm ", output.Split("! What this printer")[0], StringComparison.Ordinal);
        Assert.Contains("0.4706 ± 0.0013 in", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_press_fit_that_plastic_would_creep_out_of_is_refused()
    {
        string job = Changed("    fit: slides ", "    fit: press ");
        var (code, output, _) = await Fit(job);
        Assert.Equal(ExitCode.NeedsAttention, code);
        string text = string.Join(' ', output.Split([' ', '\n'], StringSplitOptions.RemoveEmptyEntries));
        Assert.Contains("stay: refused as a press fit: pressing", text, StringComparison.Ordinal);
        Assert.Contains("Choose a snug fit", text, StringComparison.Ordinal);
        JsonElement stay = JsonDocument.Parse((await Fit(job, "--json")).Out).RootElement.GetProperty("counterparts")[0];
        Assert.Contains("creeps out", stay.GetProperty("refused").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task With_wide_windows_of_ones_own_it_is_done()
    {
        string job = Changed("wanted_odds: 0.95", "wanted_odds: 0.001");
        JsonElement root = JsonDocument.Parse((await Fit(job, "--json")).Out).RootElement;
        Assert.Equal(0.001, root.GetProperty("wantedOdds").GetDouble());
        Assert.Empty(root.GetProperty("cures").EnumerateArray());
    }

    [Fact]
    public async Task A_job_without_counterparts_has_nothing_to_fit()
    {
        string text = File.ReadAllText(Path.Combine(Example("vent-knuckle"), "job.yaml")).ReplaceLineEndings("\n");
        int from = text.IndexOf("counterparts:", StringComparison.Ordinal), to = text.IndexOf("wanted_odds:", StringComparison.Ordinal);
        string path = Path.Combine(_scratch.FullName, "alone.yaml");
        await File.WriteAllTextAsync(path, text[..from] + text[to..], TestContext.Current.CancellationToken);
        var (code, output, _) = await Fit(path);
        Assert.Equal(ExitCode.NeedsAttention, code);
        Assert.Contains("names nothing that the part fits on or into", output, StringComparison.Ordinal);
        Assert.Equal(JsonValueKind.Null, JsonDocument.Parse((await Fit(path, "--json")).Out).RootElement.GetProperty("allTogether").ValueKind);
    }

    [Fact]
    public async Task What_is_wrong_with_a_counterpart_is_said_with_its_place()
    {
        var (code, output, error) = await Fit(Changed("tolerance: h11", "tolerance: H11"));
        Assert.Equal((ExitCode.Wrong, ""), (code, output));
        Assert.Matches(@"job\.yaml:\d+:16: H11 is a class of holes, and this is what goes into the part; write h11 if that is what you mean", error);
    }
}
