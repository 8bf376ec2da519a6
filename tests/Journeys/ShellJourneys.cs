using System.Diagnostics;
using Xunit;

namespace Sparewright.Journeys;

/// <summary>What a shell does with the tool: links, other folders, redirections.</summary>
public sealed class ShellJourneys : IDisposable
{
    private readonly Scratch _scratch = new();

    public void Dispose() => _scratch.Dispose();

    [Fact]
    public async Task The_tool_is_found_through_a_link_and_from_any_folder()
    {
        string job = _scratch.CopyOf("line-reel-crank");
        File.CreateSymbolicLink(_scratch["sw"], Path.Combine(Tool.Repository, "sparewright"));
        Ran ran = await ShellAsync($"cd '{Path.GetDirectoryName(job)}' && ./sw reconcile line-reel-crank");
        Assert.Equal(0, ran.Code);
        Assert.StartsWith("Line reel crank\n", ran.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_full_disk_behind_standard_output_is_told()
    {
        Ran ran = await ShellAsync($"'{Tool.Executable}' reconcile '{Tool.Example("vent-knuckle")}' >/dev/full");
        Assert.Equal(3, ran.Code);
        Assert.StartsWith("The answer could not be written: ", ran.Error, StringComparison.Ordinal);
        Assert.Single(ran.Error.Trim().Split('\n'));
    }

    [Fact]
    public async Task A_reader_that_goes_away_is_no_mistake()
    {
        Ran ran = await ShellAsync($"set -o pipefail; '{Tool.Executable}' reconcile '{Tool.Example("line-reel-crank")}' | head -n 1");
        Assert.Equal(0, ran.Code);
        Assert.Equal("Line reel crank\n", ran.Out);
        Assert.Empty(ran.Error);
    }

    private static async Task<Ran> ShellAsync(string command)
    {
        var clock = Stopwatch.StartNew();
        using Process shell = Process.Start(new ProcessStartInfo("/bin/bash", ["-c", command]) { RedirectStandardInput = true, RedirectStandardOutput = true, RedirectStandardError = true })!;
        shell.StandardInput.Close();
        Task<string> output = shell.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken), error = shell.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        await shell.WaitForExitAsync(TestContext.Current.CancellationToken);
        return new Ran(shell.ExitCode, await output, await error, clock.Elapsed);
    }
}
