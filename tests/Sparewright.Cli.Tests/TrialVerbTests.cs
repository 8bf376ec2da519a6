using System.Text.Json;
using Xunit;

namespace Sparewright.Cli.Tests;

/// <summary>What trial prints showed, written into the job from the command line and learnt from.</summary>
public sealed class TrialVerbTests : IDisposable
{
    private const string Text = """
        sparewright: 1
        part: Sleeve
        could_injure: no
        instruments:
          caliper: {kind: digital caliper}
        sizes:
          bore_d: {about: 12.3}  # worn
          od:     {about: 20}
        shape:
          - {boss: tube, diameter: od, height: 30}
          - {hole: bore, from: tube.top, diameter: bore_d, through: tube}
        readings:
          - {outside: tube.side, reads: [20.01, 20.02]}
          - {outside: tube.side, reads: 20.00}
          - {inside: bore.wall, reads: [12.30, 12.28]}
          - {inside: bore.wall, reads: 12.31}
        counterparts:
          - {rod: stay, reads: [11.95, 11.97, 11.96], goes_into: bore, changes: bore_d, fit: slides}
        print: {machine: bench printer, nozzle: 0.4, layer: 0.2, material: ASA, way_up: up}
        """;

    private readonly DirectoryInfo _scratch = Directory.CreateTempSubdirectory("sparewright-test-");

    public TrialVerbTests() => File.WriteAllText(JobFile, Text);

    private string JobFile => Path.Combine(_scratch.FullName, "job.yaml");

    public void Dispose() => _scratch.Delete(recursive: true);

    private sealed class Day : TimeProvider
    {
        public override DateTimeOffset GetUtcNow() => new(2026, 5, 31, 12, 0, 0, TimeSpan.Zero);
    }

    /// <param name="verb">With the word behind it, where it has one: "trial gauges".</param>
    private async Task<(int Code, string Out, string Error)> RunAsync(string verb, params string[] args)
    {
        StringWriter output = new(), error = new();
        int code = await CommandLine.RunAsync([.. verb.Split(' '), _scratch.FullName, .. args], new Surroundings(new StringReader(""), output, error) { Clock = new Day() }, CancellationToken.None);
        return (code, output.ToString(), error.ToString());
    }

    private async Task<JsonElement> JsonAsync(string verb, params string[] args)
    {
        var (_, output, error) = await RunAsync(verb, [.. args, "--json"]);
        Assert.Equal("", error);
        return JsonDocument.Parse(output).RootElement;
    }

    [Fact]
    public async Task Answers_of_gauges_are_written_and_better_the_odds()
    {
        JsonElement fit = await JsonAsync("fit");
        JsonElement trial = await JsonAsync("trial gauges", "--for", "stay", "--goes", "12.30,12.40", "--too-tight", "12.15", "--too-tight", "12.20");
        Assert.True(trial.GetProperty("written").GetBoolean());
        Assert.StartsWith(Text, File.ReadAllText(JobFile), StringComparison.Ordinal);
        Assert.Equal("trials:\n  - {on: 2026-05-31, gauges: [{for: stay, goes: [12.30, 12.40], too_tight: [12.15, 12.20]}]}", File.ReadAllText(JobFile)[Text.Length..].Trim('\n'));

        Assert.Equal(fit.GetProperty("allTogether").GetDouble(), trial.GetProperty("allTogetherBefore").GetDouble());
        Assert.True(trial.GetProperty("allTogether").GetDouble() > trial.GetProperty("allTogetherBefore").GetDouble() + 0.05);
        JsonElement surface = Assert.Single(trial.GetProperty("surfaces").EnumerateArray());
        Assert.Equal(("hole upright", 4), (surface.GetProperty("kind").GetString(), surface.GetProperty("pieces").GetInt32()));
        // It begins to go between 12.20 and 12.30, where the clearance is none: the bias is what the rod has less than that.
        Assert.InRange(surface.GetProperty("biasMm").GetProperty("mean").GetDouble(), -0.35, -0.22);
        Assert.True(surface.GetProperty("biasMm").GetProperty("standardDeviation").GetDouble() < 0.6 * surface.GetProperty("biasBeforeMm").GetProperty("standardDeviation").GetDouble());

        JsonElement ladder = Assert.Single(trial.GetProperty("ladders").EnumerateArray());
        Assert.Equal([12.15, 12.20, 12.30, 12.40], ladder.GetProperty("gauges").EnumerateArray().Select(g => g.GetProperty("drawn").GetDouble()));
        Assert.Equal(["too tight", "too tight", "goes", "goes"], ladder.GetProperty("gauges").EnumerateArray().Select(g => g.GetProperty("answer").GetString()));
        Assert.Empty(ladder.GetProperty("outOfOrder").EnumerateArray());

        JsonElement after = await JsonAsync("fit");
        Assert.Equal(trial.GetProperty("allTogether").GetDouble(), after.GetProperty("allTogether").GetDouble());
        Assert.True(fit.GetProperty("process").GetProperty("assumed").GetBoolean());
        Assert.False(after.GetProperty("process").GetProperty("assumed").GetBoolean());
        Assert.Contains("was measured", (await RunAsync("fit")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Measured_features_shift_the_bias_to_what_they_show()
    {
        JsonElement trial = await JsonAsync("trial measured", "--surface", "hole upright", "--drawn", "12", "--reads", "11.71,11.69,11.70,11.72");
        JsonElement surface = Assert.Single(trial.GetProperty("surfaces").EnumerateArray());
        Assert.Equal(12, surface.GetProperty("atMm").GetDouble());
        double before = surface.GetProperty("biasBeforeMm").GetProperty("mean").GetDouble(), now = surface.GetProperty("biasMm").GetProperty("mean").GetDouble();
        Assert.True(Math.Abs(now + 0.29) < Math.Abs(before + 0.29));
        Assert.Equal(2, Sparewright.Part.JobFile.ReadFile(JobFile) is { Job: { } job } ? job.Trials.Count + 1 : 0);
    }

    [Fact]
    public async Task Contradictory_answers_are_shown_and_call_for_a_look()
    {
        var (code, output, _) = await RunAsync("trial gauges", "--for", "stay", "--goes", "12.20,12.40", "--too-tight", "12.30");
        Assert.Equal(ExitCode.NeedsAttention, code);
        Assert.Contains("contradict each other: it goes in gauge 1 (12.20 mm) and not in the looser gauge 2 (12.30 mm)", string.Join(' ', output.Split((char[])[' ', '\n', '\r'], StringSplitOptions.RemoveEmptyEntries)), StringComparison.Ordinal);
        JsonElement ladder = Assert.Single((await JsonAsync("trial")).GetProperty("ladders").EnumerateArray());
        JsonElement pair = Assert.Single(ladder.GetProperty("outOfOrder").EnumerateArray());
        Assert.Equal((12.2, 12.3, "try again"), (pair.GetProperty("went").GetDouble(), pair.GetProperty("didNot").GetDouble(), ladder.GetProperty("next").GetString()));
    }

    [Fact]
    public async Task A_trial_of_another_process_is_kept_but_not_used()
    {
        JsonElement before = await JsonAsync("fit");
        JsonElement trial = await JsonAsync("trial gauges", "--for", "stay", "--goes", "12.30", "--material", "PLA", "--layer", "0.3");
        JsonElement unused = Assert.Single(trial.GetProperty("trials").GetProperty("notUsed").EnumerateArray());
        Assert.Equal("printed in PLA, printed with nozzle 0.4 mm, layer 0.3 mm; the part will be otherwise", unused.GetProperty("why").GetString());
        Assert.Equal(0, trial.GetProperty("trials").GetProperty("used").GetInt32());
        Assert.Equal(before.GetProperty("allTogether").GetDouble(), (await JsonAsync("fit")).GetProperty("allTogether").GetDouble());
    }

    [Fact]
    public async Task A_trial_of_the_part_itself_counts_when_it_says_how_it_was_drawn()
    {
        JsonElement vague = await JsonAsync("trial part", "--fits", "stay", "--broke", "the rim split");
        Assert.Equal("nothing says how bore_d was drawn", Assert.Single(vague.GetProperty("trials").GetProperty("notUsed").EnumerateArray()).GetProperty("why").GetString());
        JsonElement trial = await JsonAsync("trial part", "--fits", "stay", "--drawn", "bore_d=12.5");
        Assert.Equal(1, trial.GetProperty("trials").GetProperty("used").GetInt32());
        Assert.True(trial.GetProperty("allTogether").GetDouble() > trial.GetProperty("allTogetherBefore").GetDouble());
    }

    [Fact]
    public async Task Without_anything_to_write_it_says_what_is_known()
    {
        var (_, output, _) = await RunAsync("trial");
        Assert.Contains("Nothing yet that counts for this part.", output, StringComparison.Ordinal);
        Assert.Equal(Text, File.ReadAllText(JobFile));
    }

    [Theory]
    [InlineData("there is no counterpart `stya`; did you mean `stay`?", "trial gauges", "--for", "stya", "--goes", "12.3")]
    [InlineData("trial gauges: --goes 12.x", "trial gauges", "--for", "stay", "--goes", "12.x")]
    [InlineData("trial gauges: no answer of a gauge is given", "trial gauges", "--for", "stay")]
    [InlineData("sparewright trial gauges: Option '--for' is required", "trial gauges", "--goes", "12.3")]
    [InlineData("sparewright trial measured: unknown option --goes", "trial measured", "--surface", "slot", "--drawn", "8", "--reads", "8", "--goes", "12")]
    [InlineData("did you mean hole upright?", "trial measured", "--surface", "hole uprigt", "--drawn", "8", "--reads", "8")]
    [InlineData("Option '--reads' is required", "trial measured", "--surface", "slot", "--drawn", "8")]
    [InlineData("there is no day `2026-02-30`", "trial gauges", "--for", "stay", "--goes", "12.3", "--on", "2026-02-30")]
    [InlineData("is said to be too tight and to go", "trial gauges", "--for", "stay", "--goes", "12.3", "--too-tight", "12.3")]
    [InlineData("write it as SIZE=MM", "trial part", "--fits", "stay", "--drawn", "12.3")]
    [InlineData("unknown option --goes", "trial", "--goes", "12.3")]
    public async Task When_anything_is_wrong_the_file_stays_as_it_was(string says, string verb, params string[] args)
    {
        var (code, output, error) = await RunAsync(verb, args);
        Assert.Equal((ExitCode.Wrong, ""), (code, output));
        Assert.Contains(says, error, StringComparison.Ordinal);
        Assert.Equal(Text, File.ReadAllText(JobFile));
    }
}
