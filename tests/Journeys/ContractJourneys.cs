using System.Text.Json;
using Xunit;

namespace Sparewright.Journeys;

/// <summary>The fields that other programs rely on, on both examples.</summary>
public sealed class ContractJourneys : IDisposable
{
    private readonly Scratch _scratch = new();

    public void Dispose() => _scratch.Dispose();

    private static void Has(JsonElement element, params string[] names)
    {
        foreach (string name in names) Assert.True(element.TryGetProperty(name, out _), $"{name} is missing in {element}");
    }

    [Theory]
    [InlineData("vent-knuckle")]
    [InlineData("line-reel-crank")]
    public async Task Reconcile_answers_as_agreed(string example)
    {
        Ran run = await Tool.RunAsync("reconcile", Tool.Example(example), "--json");
        Assert.InRange(run.Code, 0, 1);
        Assert.Empty(run.Error);
        JsonElement root = run.Json;
        Has(root, "sizes", "readings", "global", "next", "undecided");
        foreach (JsonProperty size in root.GetProperty("sizes").EnumerateObject())
        {
            Has(size.Value, "estimate", "standardUncertainty", "low95", "high95", "nominal", "decidedBy", "status");
            Assert.Matches("^(decided|weak|undecided|fixed)$", size.Value.GetProperty("status").GetString());
        }

        foreach (JsonElement reading in root.GetProperty("readings").EnumerateArray())
        {
            Has(reading, "id", "observed", "adjusted", "residual", "w", "redundancy", "grossError", "explanations");
            if (reading.GetProperty("residual") is { ValueKind: JsonValueKind.Number } residual)
                Assert.Equal(reading.GetProperty("adjusted").GetDouble() - reading.GetProperty("observed").GetDouble(), residual.GetDouble(), 1e-9);
        }

        Has(root.GetProperty("global"), "chi2", "degreesOfFreedom", "p");
    }

    [Theory]
    [InlineData("vent-knuckle")]
    [InlineData("line-reel-crank")]
    public async Task Solid_answers_as_agreed(string example)
    {
        string output = _scratch["out"];
        Ran run = await Tool.RunAsync("solid", Tool.Example(example), "--out", output, "--json", "--quiet");
        Assert.InRange(run.Code, 0, 1);
        Assert.Empty(run.Error);
        JsonElement root = run.Json;
        Has(root, "valid", "volumeMm3", "areaMm2", "centroidMm", "boxMm", "faces", "triangles", "remeasured", "files", "stages");
        Assert.Equal(3, root.GetProperty("centroidMm").GetArrayLength());
        Assert.Equal(2, root.GetProperty("boxMm").GetArrayLength());
        foreach (JsonElement reading in root.GetProperty("remeasured").EnumerateArray())
        {
            Has(reading, "id", "observed", "drawn", "solid", "difference");
            Assert.InRange(Math.Abs(reading.GetProperty("difference").GetDouble()), 0, 1e-3);
        }

        foreach (JsonElement file in root.GetProperty("files").EnumerateArray())
            Assert.True(File.Exists(file.GetProperty("path").GetString()), file.ToString());
        Assert.Equal(["read", "reconcile", "solid", "remeasure", "mesh", "step", "views", "files"], root.GetProperty("stages").EnumerateArray().Select(s => s.GetProperty("name").GetString()));
    }

    [Fact]
    public async Task Without_a_folder_the_solid_is_only_looked_at()
    {
        Ran run = await Tool.RunAsync("solid", Path.Combine(Tool.Example("vent-knuckle"), "job.yaml"), "--json", "--quiet");
        Assert.Equal(1, run.Code);
        Assert.Empty(run.Json.GetProperty("files").EnumerateArray());
        Assert.True(run.Json.GetProperty("volumeMm3").GetDouble() > 1000);
    }

    [Fact]
    public async Task Inches_are_shown_to_people_and_files_stay_in_millimetres()
    {
        Ran mm = await Tool.RunAsync("reconcile", Tool.Example("vent-knuckle")), inches = await Tool.RunAsync("reconcile", Tool.Example("vent-knuckle"), "--inches");
        Assert.Contains("48.0", mm.Out, StringComparison.Ordinal);
        // 48.0 mm is 1.890 in.
        Assert.Contains("1.890 in", inches.Out, StringComparison.Ordinal);
        Assert.DoesNotContain(" mm ", string.Join('\n', inches.Out.Split('\n').Where(l => l.Contains("socket_len", StringComparison.Ordinal))), StringComparison.Ordinal);
        await Tool.RunAsync("remake", Tool.Example("vent-knuckle"), "--out", _scratch["out"], "--inches", "--quiet");
        Assert.DoesNotContain(" in ", File.ReadAllText(Path.Combine(_scratch["out"], "summary.txt")).Replace("in another", "", StringComparison.Ordinal).Split("Files")[0].Split("A contradiction")[0], StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--help", "remake", "reconcile", "solid", "new", "doctor", "130")]
    [InlineData("remake --help", "--out", "--json", "sparewright remake examples/vent-knuckle")]
    [InlineData("new --help", "--could-injure", "--pattern", "sparewright new my-part")]
    [InlineData("doctor --help", "sparewright doctor")]
    [InlineData("reconcile --help", "sparewright reconcile examples")]
    [InlineData("solid --help", "sparewright solid examples")]
    public async Task Help_shows_how_one_would_type_it(string command, params string[] says)
    {
        Ran run = await Tool.RunAsync(command.Split(' '));
        Assert.Equal(0, run.Code);
        Assert.All(says, s => Assert.Contains(s, run.Out, StringComparison.Ordinal));
    }
}
