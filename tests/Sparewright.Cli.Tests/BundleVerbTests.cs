using System.Text.Json;
using Sparewright.Solid;
using Xunit;

namespace Sparewright.Cli.Tests;

public sealed class BundleVerbTests : IDisposable
{
    private readonly DirectoryInfo _scratch = Directory.CreateTempSubdirectory("sparewright-test-");

    public void Dispose() => _scratch.Delete(recursive: true);

    private string At(params string[] path) => Path.Combine([_scratch.FullName, .. path]);

    private static async Task<(int Code, string Out, string Error)> RunAsync(params string[] args)
    {
        StringWriter output = new(), error = new();
        var around = new Surroundings(new StringReader(""), output, error) { FindKernel = () => new SolidProblem(SolidProblemKind.NoWorker, null, "none here", "build it") };
        int code = await CommandLine.RunAsync(args, around, CancellationToken.None);
        return (code, output.ToString(), error.ToString());
    }

    private void LayJob()
    {
        Directory.CreateDirectory(At("latch", "trials"));
        File.WriteAllText(At("latch", "job.yaml"), "sparewright: 1\npart: Latch\n");
        File.WriteAllText(At("latch", "trials", "one.yaml"), "went_in: 12\n");
        File.WriteAllText(At("latch", "notes.txt"), "x");
    }

    [Fact]
    public async Task A_job_goes_into_a_file_and_comes_out_again()
    {
        LayJob();
        var bundled = await RunAsync("bundle", At("latch"), "--out", At("sent", "latch.zip"));
        Assert.Equal(ExitCode.Done, bundled.Code);
        Assert.Contains("! notes.txt does not belong to the job's papers and is left out", bundled.Out, StringComparison.Ordinal);
        var unbundled = await RunAsync("unbundle", At("sent", "latch.zip"), "--out", At("again"));
        Assert.Equal(ExitCode.Done, unbundled.Code);
        Assert.Equal(File.ReadAllBytes(At("latch", "job.yaml")), File.ReadAllBytes(At("again", "job.yaml")));
        Assert.Equal(["again/job.yaml", "again/trials/one.yaml"], Directory.GetFiles(At("again"), "*", SearchOption.AllDirectories).Select(f => Path.GetRelativePath(_scratch.FullName, f)).Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task For_programs_it_says_the_same_as_json()
    {
        LayJob();
        var bundled = await RunAsync("bundle", At("latch", "job.yaml"), "--out", At("latch.zip"), "--json");
        using JsonDocument json = JsonDocument.Parse(bundled.Out);
        Assert.Equal(["job.yaml", "trials/one.yaml"], json.RootElement.GetProperty("files").EnumerateArray().Select(f => f.GetString()));
        Assert.Equal(new FileInfo(At("latch.zip")).Length, json.RootElement.GetProperty("bytes").GetInt64());
        Assert.Equal(1, json.RootElement.GetProperty("remarks").GetArrayLength());
        var again = await RunAsync("unbundle", At("latch.zip"), "--out", At("again"), "--json");
        using JsonDocument other = JsonDocument.Parse(again.Out);
        Assert.Equal(At("again"), other.RootElement.GetProperty("folder").GetString());
    }

    [Fact]
    public async Task What_is_wrong_is_said_with_its_exit_code()
    {
        LayJob();
        File.WriteAllText(At("no.zip"), "no zip");
        foreach (var (args, code, says) in (IEnumerable<(string[], int, string)>)
        [
            (["bundle", At("nowhere")], ExitCode.Wrong, "no such file"),
            (["unbundle", At("nowhere.zip")], ExitCode.Wrong, "no such file"),
            (["unbundle", At("no.zip"), "--out", At("again")], ExitCode.Wrong, "not a ZIP package"),
            (["bundle", At("latch"), "--out", At("no.zip", "below.zip")], ExitCode.Failed, "check that the folder can be written to"),
        ])
        {
            var (gave, _, error) = await RunAsync(args);
            Assert.Equal((code, true), (gave, error.Contains(says, StringComparison.Ordinal)));
            Assert.Equal(code, (await RunAsync([.. args, "--json"])).Code);
        }

        Assert.Equal(ExitCode.Done, (await RunAsync("bundle", At("latch"), "--out", At("latch.zip"))).Code);
        var (left, _, told) = await RunAsync("unbundle", At("latch.zip"), "--out", At("latch"));
        Assert.Equal(ExitCode.Wrong, left);
        Assert.Contains("left as it is", told, StringComparison.Ordinal);
        Assert.False(Directory.Exists(At("again")));
    }
}
