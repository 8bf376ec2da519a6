using System.Text;
using System.Text.Json;
using Sparewright.Handover.PrintFiles;
using Sparewright.Handover.PrintFiles.ThreeMf;
using Xunit;

namespace Sparewright.Journeys;

/// <summary>A job of one's own, from the first question to the first files.</summary>
public sealed class NewJobJourneys : IDisposable
{
    private const string Acknowledgement = "I know that this part could injure someone if it fails, and nobody has approved it";

    private readonly Scratch _scratch = new();

    public void Dispose() => _scratch.Dispose();

    [Fact]
    public async Task A_new_job_can_be_remade_and_says_that_nothing_is_measured()
    {
        Ran begun = await Tool.RunAsync("new", _scratch["job"], "--part", "First bracket", "--pattern", "bracket", "--could-injure", "no");
        Assert.Equal(0, begun.Code);
        Ran made = await Tool.RunAsync("remake", _scratch["job"], "--json", "--quiet");
        Assert.Equal(1, made.Code);
        Assert.True(made.Json.GetProperty("solid").GetProperty("valid").GetBoolean());
        JsonElement reconcile = made.Json.GetProperty("reconcile");
        Assert.All(reconcile.GetProperty("sizes").EnumerateObject(), s => Assert.Equal("undecided", s.Value.GetProperty("status").GetString()));
        Assert.NotEmpty(reconcile.GetProperty("undecided").EnumerateArray());
        Assert.Contains("not measured", File.ReadAllText(Path.Combine(_scratch["job"], "out", "summary.txt")), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_job_that_is_there_is_left_alone()
    {
        Directory.CreateDirectory(_scratch["job"]);
        File.WriteAllText(Path.Combine(_scratch["job"], "job.yaml"), "mine");
        Ran run = await Tool.RunAsync("new", _scratch["job"], "--part", "x", "--pattern", "cap", "--could-injure", "no");
        Assert.Equal(2, run.Code);
        Assert.Contains("there is a job already", run.Error, StringComparison.Ordinal);
        Assert.Equal("mine", File.ReadAllText(Path.Combine(_scratch["job"], "job.yaml")));
    }

    [Theory]
    [InlineData("--could-injure is not answered", "--pattern", "cap")]
    [InlineData("--pattern is not answered", "--could-injure", "no")]
    [InlineData("--why is not answered", "--pattern", "cap", "--could-injure", "yes")]
    [InlineData("--acknowledge is not answered", "--pattern", "cap", "--could-injure", "yes", "--why", "lifting", "--acknowledge", "yes")]
    [InlineData("there is no pattern knobb; did you mean knob?", "--pattern", "knobb", "--could-injure", "no")]
    public async Task What_must_be_answered_is_demanded(string says, params string[] options)
    {
        Ran run = await Tool.RunAsync(["new", _scratch["job"], "--part", "x", .. options]);
        Assert.Equal(2, run.Code);
        Assert.Contains(says, run.Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(_scratch["job"]));
    }

    [Fact]
    public async Task A_part_that_could_injure_says_so_on_every_output()
    {
        Ran begun = await Tool.RunAsync("new", _scratch["job"], "--part", "Hoist hook", "--pattern", "bush", "--could-injure", "yes", "--why", "lifting", "--acknowledge", Acknowledgement);
        Assert.Equal(0, begun.Code);
        Ran people = await Tool.RunAsync("remake", _scratch["job"], "--quiet");
        Ran json = await Tool.RunAsync("remake", _scratch["job"], "--json", "--quiet");
        string output = Path.Combine(_scratch["job"], "out");
        string File_(string ending) => Directory.EnumerateFiles(output, "*" + ending).Single();

        const string Says = "could injure: lifting";
        Assert.Contains(Says, people.Out, StringComparison.Ordinal);
        Assert.True(json.Json.GetProperty("couldInjure").GetBoolean());
        Assert.Contains(json.Json.GetProperty("cautions").EnumerateArray(), c => c.GetString()!.Contains(Says, StringComparison.Ordinal));
        Assert.Contains(Says, (await Tool.RunAsync("reconcile", _scratch["job"])).Out, StringComparison.Ordinal);
        Assert.Contains(Says, File.ReadAllText(Path.Combine(output, "summary.txt")), StringComparison.Ordinal);
        Assert.Contains(Says, File.ReadAllText(Path.Combine(output, "summary.json")), StringComparison.Ordinal);
        Assert.Contains(Says, File.ReadAllText(File_(".svg")), StringComparison.Ordinal);
        Assert.Contains(Says, File.ReadAllText(File_(".step")).Replace("\n", "", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.Contains("CAUTION could injure", Encoding.ASCII.GetString(File.ReadAllBytes(File_(".stl")), 0, 80), StringComparison.Ordinal);
        Assert.True(ThreeMfReader.TryRead(File.ReadAllBytes(File_(".3mf")), out ReadShape? shape, out _));
        Assert.Contains(Says, shape.Metadata["sw:Caution"], StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_its_acknowledgement_such_a_part_is_not_remade()
    {
        await Tool.RunAsync("new", _scratch["job"], "--part", "Hoist hook", "--pattern", "bush", "--could-injure", "yes", "--why", "lifting", "--acknowledge", Acknowledgement);
        Scratch.Change(_scratch["job"], Acknowledgement, "all right");
        Ran run = await Tool.RunAsync("remake", _scratch["job"], "--quiet");
        Assert.Equal(2, run.Code);
        Assert.Contains($"if you mean it, type acknowledged: \"{Acknowledgement}\"", run.Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(Path.Combine(_scratch["job"], "out")));
    }
}
