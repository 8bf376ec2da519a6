using Sparewright.Measure.Quantities;
using Sparewright.Remake.Start;
using Sparewright.Solid;
using Xunit;

namespace Sparewright.Cli.Tests;

public sealed class CommandLineTests : IDisposable
{
    private readonly DirectoryInfo _scratch = Directory.CreateTempSubdirectory("sparewright-test-");

    public void Dispose() => _scratch.Delete(recursive: true);

    private string Job => Path.Combine(_scratch.FullName, "job");

    private static (Surroundings Around, StringWriter Out, StringWriter Error) Surrounded(string input = "", bool canAsk = false, bool draws = false)
    {
        StringWriter output = new(), error = new();
        return (new Surroundings(new StringReader(input), output, error)
        {
            CanAsk = canAsk,
            DrawsOut = draws,
            FindKernel = () => new SolidProblem(SolidProblemKind.NoWorker, null, "none here", "build it"),
        }, output, error);
    }

    private static Task<int> Run(Surroundings around, params string[] args) => CommandLine.RunAsync(args, around, CancellationToken.None);

    [Theory]
    [InlineData("remkae", "remake")]
    [InlineData("remak", "remake")]
    [InlineData("slid", "solid")]
    [InlineData("recnocile", "reconcile")]
    [InlineData("nwe", "new")]
    [InlineData("docter", "doctor")]
    public void A_slip_finds_the_word_that_was_meant(string typed, string meant) => Assert.Equal(meant, Spelling.Nearest(typed, ["remake", "reconcile", "solid", "new", "doctor"]));

    [Theory]
    [InlineData("print")]
    [InlineData("x")]
    [InlineData("")]
    public void What_is_like_nothing_is_left_alone(string typed) => Assert.Null(Spelling.Nearest(typed, ["remake", "reconcile", "solid", "new", "doctor"]));

    [Fact]
    public async Task Nothing_at_all_shows_the_help()
    {
        var (around, output, _) = Surrounded();
        Assert.Equal(ExitCode.Done, await Run(around));
        Assert.Contains("sparewright [command]", output.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_dialogue_asks_what_it_must_know_and_writes_a_job()
    {
        var (around, output, error) = Surrounded("Gate latch\nno\nkeeps the gate shut\nmoulding\nits tongue\nbracket\n", canAsk: true);
        Assert.Equal(ExitCode.Done, await Run(around, "new", Job));
        string text = File.ReadAllText(Path.Combine(Job, "job.yaml"));
        Assert.Contains("part: \"Gate latch\"", text, StringComparison.Ordinal);
        Assert.Contains("could_injure: no", text, StringComparison.Ordinal);
        Assert.Contains("made_by: moulding", text, StringComparison.Ordinal);
        Assert.Contains("pin_hole", text, StringComparison.Ordinal);
        // Every entry of the stop list has been read before the answer was given.
        Assert.All(StopList.Entries, e => Assert.Contains(e, error.ToString(), StringComparison.Ordinal));
        Assert.DoesNotContain("?", output.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_slip_in_an_answer_is_asked_again()
    {
        var (around, _, error) = Surrounded("\nGate latch\nnope\nno\n\nmuolding\nmoulding\n\nbrackte\nbracket\n", canAsk: true);
        Assert.Equal(ExitCode.Done, await Run(around, "new", Job));
        string text = File.ReadAllText(Path.Combine(Job, "job.yaml")), asked = error.ToString();
        Assert.Contains("part: \"Gate latch\"", text, StringComparison.Ordinal);
        Assert.Contains("could_injure: no", text, StringComparison.Ordinal);
        Assert.Contains("made_by: moulding", text, StringComparison.Ordinal);
        Assert.Contains("pin_hole", text, StringComparison.Ordinal);
        Assert.Contains("did you mean bracket?", asked, StringComparison.Ordinal);
        Assert.Equal(2, asked.Split("(no, or yes)").Length - 1);
    }

    [Theory]
    [InlineData("Hook\nyes\nlifting\nyes yes\n")]
    [InlineData("Hook\nmaybe\n")]
    [InlineData("Hook\n\n")]
    [InlineData("\n")]
    [InlineData("Hook\n")]
    public async Task Without_the_answers_that_it_must_have_there_is_no_job(string input)
    {
        var (around, _, _) = Surrounded(input, canAsk: true);
        Assert.Equal(ExitCode.Wrong, await Run(around, "new", Job));
        Assert.False(Directory.Exists(Job));
    }

    [Fact]
    public async Task A_terminal_gets_frames_and_colours_and_others_plain_text()
    {
        await Run(Surrounded().Around, "new", Job, "--part", "x", "--pattern", "cap", "--could-injure", "no");
        var (plain, plainOut, _) = Surrounded();
        var (drawn, drawnOut, _) = Surrounded(draws: true);
        Assert.Equal(ExitCode.NeedsAttention, await Run(plain, "reconcile", Job));
        Assert.Equal(ExitCode.NeedsAttention, await Run(drawn, "reconcile", Job));
        Assert.DoesNotContain("\e", plainOut.ToString(), StringComparison.Ordinal);
        Assert.Contains("\e[", drawnOut.ToString(), StringComparison.Ordinal);
        Assert.Contains("cap_high", drawnOut.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_a_kernel_worker_it_says_what_brings_it()
    {
        await Run(Surrounded().Around, "new", Job, "--part", "x", "--pattern", "cap", "--could-injure", "no");
        var (around, output, error) = Surrounded();
        Assert.Equal(ExitCode.Failed, await Run(around, "remake", Job, "--quiet"));
        Assert.Equal("none here; build it", error.ToString().Trim());
        Assert.Empty(output.ToString());
    }
}
