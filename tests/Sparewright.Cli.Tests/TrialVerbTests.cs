using System.Text.Json;
using Sparewright.Fit.Coupons;
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
    public async Task An_instrument_that_the_job_does_not_know_is_said_once_with_how_to_write_it_down()
    {
        string table = Path.Combine(_scratch.FullName, "coupon-readings.csv"), before = await File.ReadAllTextAsync(JobFile, TestContext.Current.CancellationToken);
        await File.WriteAllTextAsync(table, "number,feature,way,drawn mm,where,reads\n11,peg_4,outside,4.00,peg,4.05\n12,peg_8,outside,8.00,peg,8.06\n", TestContext.Current.CancellationToken);
        var (code, _, error) = await RunAsync("trial coupon", "--table", table, "--with", "shop_caliper");
        Assert.Equal(ExitCode.Wrong, code);
        Assert.Single(error.TrimEnd().Split('\n'));
        Assert.Contains("`shop_caliper: {kind: digital caliper}`", error, StringComparison.Ordinal);
        Assert.Equal(before, await File.ReadAllTextAsync(JobFile, TestContext.Current.CancellationToken));
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
    public async Task A_part_that_is_too_tight_makes_a_revision_of_the_size_that_this_moves_and_of_no_other()
    {
        string two = Text.Replace("  od:     {about: 20}", "  od:     {about: 20}\n  side_d: {about: 6}", StringComparison.Ordinal)
            .Replace("readings:", "  - {hole: side, axis: right, at: [0, 0, 15], diameter: side_d, through: tube}\nreadings:\n  - {inside: side.wall, reads: 6.0}", StringComparison.Ordinal)
            .Replace("print:", "  - {pin: clip, diameter: 6, plus_minus: 0.05, goes_into: side, changes: side_d, fit: slides}\nprint:", StringComparison.Ordinal);
        File.WriteAllText(JobFile, two);
        JsonElement trial = await JsonAsync("trial part", "--drawn", "bore_d=12.10,side_d=6.55", "--too-tight", "stay", "--fits", "clip");
        JsonElement[] sizes = [.. trial.GetProperty("revision").EnumerateArray()];
        Assert.Equal([("bore_d", true), ("side_d", false)], sizes.Select(r => (r.GetProperty("size").GetString()!, r.GetProperty("moves").GetBoolean())));
        double draw = sizes[0].GetProperty("draw").GetDouble();
        Assert.InRange(draw, 12.2, 12.9);
        Assert.StartsWith("stay was too tight; stay wants 0.1", sizes[0].GetProperty("why").GetString(), StringComparison.Ordinal);
        Assert.Equal("clip fits as it is", sizes[1].GetProperty("why").GetString());

        // The job holds both, its comments and all else stay, and what is drawn from now on is this.
        string written = File.ReadAllText(JobFile);
        Assert.Contains("  bore_d: {about: 12.3}  # worn\n", written, StringComparison.Ordinal);
        Assert.Contains(FormattableString.Invariant($"material: ASA, drawn: {{bore_d: {draw}, side_d: 6.55}}, way_up: up}}"), written, StringComparison.Ordinal);
        JsonElement drawn = (await JsonAsync("fit")).GetProperty("drawn");
        Assert.Equal((draw, 6.55), (drawn.GetProperty("bore_d").GetDouble(), drawn.GetProperty("side_d").GetDouble()));

        // It fits on the next print: nothing moves any more.
        JsonElement next = await JsonAsync("trial part", "--drawn", FormattableString.Invariant($"bore_d={draw},side_d=6.55"), "--fits", "stay,clip");
        Assert.DoesNotContain(next.GetProperty("revision").EnumerateArray(), r => r.GetProperty("moves").GetBoolean());
        Assert.True(next.GetProperty("allTogether").GetDouble() > trial.GetProperty("allTogether").GetDouble());

        // That it broke says nothing of its fits.
        string before = File.ReadAllText(JobFile);
        Assert.False((await JsonAsync("trial part", "--drawn", "bore_d=13", "--broke", "the rim split")).TryGetProperty("revision", out _));
        Assert.StartsWith(before, File.ReadAllText(JobFile), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_printer_that_has_changed_is_seen()
    {
        for (int day = 1; day <= 3; day++)
            await JsonAsync("trial measured", "--surface", "outside", "--drawn", "20", "--reads", "20.07,20.06,20.08", "--on", $"2026-05-0{day}");
        JsonElement steady = await JsonAsync("trial");
        Assert.Equal(["2026-05-02", "2026-05-03"], steady.GetProperty("days").EnumerateArray().Select(d => d.GetProperty("on").GetString()));
        Assert.DoesNotContain(steady.GetProperty("days").EnumerateArray(), d => d.GetProperty("standsOut").GetBoolean());
        var (code, output, _) = await RunAsync("trial measured", "--surface", "outside", "--drawn", "20", "--reads", "20.61,20.60,20.62", "--on", "2026-05-20");
        Assert.Equal(ExitCode.NeedsAttention, code);
        Assert.Contains("On 2026-05-20 outsides came out larger than all days before made one expect", string.Join(' ', output.Split((char[])[' ', '\n', '\r'], StringSplitOptions.RemoveEmptyEntries)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_coupon_that_was_measured_teaches_every_kind_of_surface_once()
    {
        string table = Path.Combine(_scratch.FullName, "coupon-readings.csv");
        File.WriteAllLines(table, CouponTable.Of(Coupon.For(null)).TrimEnd('\n').Split('\n').Select((line, k) => k == 0 ? line : line[..^3] + "," + line.Split(',')[3] + ",,"));
        JsonElement trial = await JsonAsync("trial coupon", "--table", table, "--with", "caliper");
        Assert.Equal(["outside", "hole upright", "hole lying", "slot", "height", "first layer", "centre distance"], trial.GetProperty("surfaces").EnumerateArray().Select(s => s.GetProperty("kind").GetString()));
        Assert.Equal(26, trial.GetProperty("trials").GetProperty("used").GetInt32());
        string written = File.ReadAllText(JobFile);
        Assert.Contains("trials:\n  - {on: 2026-05-31, measured: [{surface: outside, drawn: 80, reads: 80, with: caliper}", written, StringComparison.Ordinal);
        Assert.False((await JsonAsync("fit")).GetProperty("process").GetProperty("assumed").GetBoolean());

        var (code, _, error) = await RunAsync("trial coupon", "--table", table, "--with", "caliper");
        Assert.Equal(ExitCode.Wrong, code);
        Assert.Contains("the job has these readings of that day already", error, StringComparison.Ordinal);
        Assert.Equal(written, File.ReadAllText(JobFile));
    }

    [Fact]
    public async Task A_coupon_is_made_for_the_process_of_the_job_and_its_table_is_never_written_over()
    {
        string folder = Path.Combine(_scratch.FullName, "coupon"), table = Path.Combine(folder, "coupon-readings.csv");
        JsonElement made = await JsonAsync("coupon", "--out", folder, "--quiet");
        Assert.Equal(["capability-coupon_as-drawn.3mf", "capability-coupon_as-drawn.png", "capability-coupon_as-drawn.svg", "coupon.yaml", "coupon-readings.csv"], made.GetProperty("files").EnumerateArray().Select(f => f.GetString()));
        Assert.InRange(made.GetProperty("volumeMm3").GetDouble(), 9_000, 16_000);
        Sparewright.Part.Record.Job coupon = Sparewright.Part.JobFile.ReadFile(Path.Combine(folder, "coupon.yaml")).Job!;
        Assert.Equal(("bench printer", "ASA", 0.4, 0.2), (coupon.Print!.Machine, coupon.Print.Material, coupon.Print.NozzleMm, coupon.Print.LayerMm));
        File.AppendAllText(table, "mine");
        await JsonAsync("coupon", "--out", folder, "--quiet");
        Assert.EndsWith("mine", File.ReadAllText(table), StringComparison.Ordinal);
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
    [InlineData("nowhere.csv", "trial coupon", "--table", "nowhere.csv")]
    [InlineData("unknown option --goes", "trial", "--goes", "12.3")]
    public async Task When_anything_is_wrong_the_file_stays_as_it_was(string says, string verb, params string[] args)
    {
        var (code, output, error) = await RunAsync(verb, args);
        Assert.Equal((ExitCode.Wrong, ""), (code, output));
        Assert.Contains(says, error, StringComparison.Ordinal);
        Assert.Equal(Text, File.ReadAllText(JobFile));
    }
}
