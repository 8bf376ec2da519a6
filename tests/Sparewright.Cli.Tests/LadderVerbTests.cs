using System.Text.Json;
using Sparewright.Solid;
using Xunit;

namespace Sparewright.Cli.Tests;

/// <summary>Ladders of gauges, as the command line tells and makes them.</summary>
public sealed class LadderVerbTests : IDisposable
{
    private readonly DirectoryInfo _scratch = Directory.CreateTempSubdirectory("sparewright-test-");

    public void Dispose() => _scratch.Delete(recursive: true);

    private static string Example(string name)
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Sparewright.slnx"))) return Path.Combine(folder.FullName, "examples", name);
        throw new InvalidOperationException("the tests lie outside the repository");
    }

    private static Task<(int Code, string Out, string Error)> Ladder(params string[] options) => LadderOf(Example("vent-knuckle"), options);

    private static async Task<(int Code, string Out, string Error)> LadderOf(string job, params string[] options)
    {
        StringWriter output = new(), error = new();
        var around = new Surroundings(new StringReader(""), output, error);
        int code = await CommandLine.RunAsync(["ladder", job, .. options], around, CancellationToken.None);
        return (code, output.ToString(), error.ToString());
    }

    [Fact]
    public async Task It_plans_gauges_for_what_a_hand_can_try_and_says_why_not_for_the_rest()
    {
        var (_, output, error) = await Ladder("--json");
        Assert.Equal("", error);
        JsonElement[] all = [.. JsonDocument.Parse(output).RootElement.GetProperty("ladders").EnumerateArray()];
        Assert.Equal(["stay", "sash", "sash_screw", "clevis"], all.Select(l => l.GetProperty("counterpart").GetString()));
        foreach (JsonElement ladder in all)
        {
            Assert.NotEqual(ladder.TryGetProperty("gauges", out JsonElement gauges), ladder.TryGetProperty("whyNot", out _));
            if (gauges.ValueKind == JsonValueKind.Undefined) continue;
            double[] mm = [.. gauges.EnumerateArray().Select(g => g.GetDouble())];
            Assert.Equal(mm.Order(), mm);
            Assert.True(ladder.GetProperty("oddsExpected").GetDouble() > ladder.GetProperty("oddsNow").GetDouble());
        }
    }

    /// <summary>A pin that is pressed into plastic, a plug of plastic that is pressed into steel, and a heat-set insert in resin: what is refused needs no gauges.</summary>
    [Theory]
    [InlineData("{pin: dowel, diameter: 8, tolerance: h6, goes_into: eye, changes: eye_d, fit: press}", "PLA", "the press fit is refused, so there is nothing to try")]
    [InlineData("{hole: seat, diameter: 20, tolerance: H7, goes_over: ring, changes: ring_d, fit: press}", "PLA", "the press fit is refused, so there is nothing to try")]
    [InlineData("{insert: brass, thread: M5, goes_into: eye, changes: eye_d}", "standard resin", "cured resin takes no heat-set insert, so there is nothing to try")]
    public async Task What_is_refused_needs_no_gauges(string counterpart, string material, string why)
    {
        string job = Path.Combine(_scratch.FullName, "job.yaml");
        await File.WriteAllTextAsync(job, $$"""
            sparewright: 1
            part: Ring
            could_injure: no
            sizes: {ring_d: {fixed: 20}, eye_d: {fixed: 8} }
            shape:
              - {boss: ring, diameter: ring_d, height: 10}
              - {hole: eye, from: ring.top, diameter: eye_d, depth: 7}
            counterparts: [{{counterpart}}]
            print: {machine: {{(material == "PLA" ? "bench" : "resin")}} printer, way_up: up, material: {{material}}}
            """, TestContext.Current.CancellationToken);
        var (_, output, error) = await LadderOf(job, "--json");
        Assert.Equal("", error);
        JsonElement one = Assert.Single(JsonDocument.Parse(output).RootElement.GetProperty("ladders").EnumerateArray());
        Assert.Equal(why, one.GetProperty("whyNot").GetString());
    }

    [Fact]
    public async Task It_makes_the_strip_of_the_one_that_is_asked_for()
    {
        Assert.True(KernelProgram.Find().IsGood);
        string folder = Path.Combine(_scratch.FullName, "out");
        var (code, output, error) = await Ladder("--for", "stay", "--out", folder, "--json", "-q");
        Assert.Equal("", error);
        Assert.InRange(code, ExitCode.Done, ExitCode.NeedsAttention);
        JsonElement one = Assert.Single(JsonDocument.Parse(output).RootElement.GetProperty("ladders").EnumerateArray());
        string[] files = [.. one.GetProperty("files").EnumerateArray().Select(f => f.GetString()!)];
        Assert.Equal(files.Order(StringComparer.Ordinal), Directory.GetFiles(folder).Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal));
        Assert.Equal(3, files.Length);
    }

    [Fact]
    public async Task A_counterpart_that_is_not_there_is_refused_with_the_nearest_name()
    {
        var (code, _, error) = await Ladder("--for", "clevs");
        Assert.Equal(ExitCode.Wrong, code);
        Assert.Contains("there is no counterpart clevs; did you mean clevis?", error, StringComparison.Ordinal);
    }
}
