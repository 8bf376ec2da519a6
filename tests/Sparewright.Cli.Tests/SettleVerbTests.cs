using System.Text.Json;
using Xunit;

namespace Sparewright.Cli.Tests;

/// <summary>What the designer meant, settled, ruled out and open again from the command line.</summary>
public sealed class SettleVerbTests : IDisposable
{
    private const string Text = """
        sparewright: 1
        part: Spacer
        could_injure: no
        sizes:
          od:   {about: 20}  # over the paint
          tall: {about: 8}
        shape:
          - {boss: ring, diameter: od, height: tall}
        readings:
          - {outside: ring.side, reads: [20.01, 20.02]}
          - {outside: ring.side, reads: 20.00}
          - {outside: [ring.bottom, ring.top], reads: [8.01, 7.99]}
          - {outside: [ring.bottom, ring.top], reads: 8.00}
        """;

    private readonly DirectoryInfo _scratch = Directory.CreateTempSubdirectory("sparewright-test-");

    public SettleVerbTests() => File.WriteAllText(JobFile, Text);

    private string JobFile => Path.Combine(_scratch.FullName, "job.yaml");

    public void Dispose() => _scratch.Delete(recursive: true);

    private static async Task<(int Code, string Out, string Error)> RunAsync(params string[] args)
    {
        StringWriter output = new(), error = new();
        int code = await CommandLine.RunAsync(args, new Surroundings(new StringReader(""), output, error), CancellationToken.None);
        return (code, output.ToString(), error.ToString());
    }

    private async Task<JsonElement> SizeAsync(string verb, string size, params string[] rest)
    {
        var (_, output, error) = await RunAsync([verb, _scratch.FullName, .. rest, "--json"]);
        Assert.Equal("", error);
        return JsonDocument.Parse(output).RootElement.GetProperty("sizes").GetProperty(size);
    }

    [Fact]
    public async Task A_size_can_be_settled_at_what_follows_from_others()
    {
        JsonElement size = await SizeAsync("settle", "tall", "tall=od/2 - 2");
        Assert.True(size.GetProperty("settled").GetBoolean());
        Assert.Contains("nominal: od/2 - 2}", File.ReadAllText(JobFile), StringComparison.Ordinal);
        JsonElement other = await SizeAsync("reconcile", "od");
        Assert.Equal(other.GetProperty("estimate").GetDouble() / 2 - 2, size.GetProperty("estimate").GetDouble(), 1e-12);
        await SizeAsync("settle", "tall", "tall=od/2 - 2", "--not");
        Assert.Contains("not_nominal: [od/2 - 2]", File.ReadAllText(JobFile), StringComparison.Ordinal);
        Assert.DoesNotContain(" nominal:", File.ReadAllText(JobFile), StringComparison.Ordinal);
        var circle = await RunAsync("settle", _scratch.FullName, "tall=tall/2 + 4");
        Assert.Equal((ExitCode.Wrong, ""), (circle.Code, circle.Out));
    }

    [Fact]
    public async Task What_is_proposed_is_taken_and_the_size_is_bound()
    {
        Assert.Equal(20, (await SizeAsync("reconcile", "od")).GetProperty("nominal").GetProperty("value").GetDouble());
        JsonElement size = await SizeAsync("settle", "od", "od");
        Assert.Equal(("fixed", 20.0, true), (size.GetProperty("status").GetString(), size.GetProperty("estimate").GetDouble(), size.GetProperty("settled").GetBoolean()));
        Assert.Equal(Text.Replace("{about: 20}", "{about: 20, nominal: 20}", StringComparison.Ordinal), File.ReadAllText(JobFile));
        var reopened = await RunAsync("reopen", _scratch.FullName, "od", "tall");
        Assert.Equal(ExitCode.Done, reopened.Code);
        Assert.Contains("od is open again.", reopened.Out, StringComparison.Ordinal);
        Assert.Contains("tall: nothing was settled or ruled out.", reopened.Out, StringComparison.Ordinal);
        Assert.Equal(Text, File.ReadAllText(JobFile));
    }

    [Fact]
    public async Task What_is_ruled_out_is_not_proposed_again()
    {
        JsonElement size = await SizeAsync("settle", "od", "--not", "od=20");
        Assert.Contains("not_nominal: [20]", File.ReadAllText(JobFile), StringComparison.Ordinal);
        Assert.True(size.GetProperty("nominal").ValueKind == JsonValueKind.Null || size.GetProperty("nominal").GetProperty("value").GetDouble() != 20);
        Assert.Equal("decided", size.GetProperty("status").GetString());
    }

    [Fact]
    public async Task A_value_that_the_readings_contradict_calls_for_attention()
    {
        var settled = await RunAsync("settle", _scratch.FullName, "od=21");
        Assert.Equal(ExitCode.NeedsAttention, settled.Code);
        Assert.Contains("od is settled at 21.", settled.Out, StringComparison.Ordinal);
        Assert.Contains("It may be `od` that was settled wrongly", settled.Out.ReplaceLineEndings(" "), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("did you mean `od`?", "odd=20")]
    [InlineData("there is no size `rim`", "tall=8", "rim")]
    [InlineData("\"kg\" is not a unit", "od=20 kg")]
    public async Task When_anything_is_wrong_the_file_stays_as_it_was(string says, params string[] sizes)
    {
        var refused = await RunAsync(["settle", _scratch.FullName, .. sizes]);
        Assert.Equal(ExitCode.Wrong, refused.Code);
        Assert.Contains(says, refused.Error, StringComparison.Ordinal);
        Assert.Equal(Text, File.ReadAllText(JobFile));
    }
}
