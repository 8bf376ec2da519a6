using System.Diagnostics;
using System.Globalization;
using Xunit;

namespace Sparewright.Solid.Tests;

/// <summary>Workers that misbehave in ways that the real one never should, played by small shell scripts.</summary>
public sealed class FakeWorkerTests : IDisposable
{
    private const string Hello = """echo '{"hello": "sparewright-kernel", "protocol": 1, "occt": "0"}'""";

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("sparewright-test-");

    public void Dispose() => _folder.Delete(recursive: true);

    private KernelWorker Playing(string script, WorkerLimits? limits = null)
    {
        string path = Path.Combine(_folder.FullName, "worker");
        File.WriteAllText(path, "#!/bin/bash\n" + script);
        File.SetUnixFileMode(path, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        return new KernelWorker(new KernelProgram(path), limits);
    }

    private static async Task<SolidProblem> ProblemOf(KernelWorker worker)
    {
        await using (worker) return Assert.IsType<SolidProblem>((await worker.BuildAsync(Shapes.RecipeOf(Shapes.Block))).Problem);
    }

    [Fact]
    public async Task Another_protocol_is_refused()
    {
        SolidProblem problem = await ProblemOf(Playing("""echo '{"hello": "sparewright-kernel", "protocol": 2, "occt": "0"}'; cat >/dev/null"""));
        Assert.Equal(SolidProblemKind.NoWorker, problem.Kind);
        Assert.Contains("speaks protocol 2, and 1 is needed", problem.Why, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("echo hello; cat >/dev/null", 30, "does not greet")]
    [InlineData("exit 127", 30, "ended before its greeting: the worker ended with code 127")]
    [InlineData("sleep 100", 0.5, "did not greet within 0.5 s")]
    public async Task One_that_does_not_greet_is_refused(string script, double seconds, string why)
    {
        SolidProblem problem = await ProblemOf(Playing(script, new WorkerLimits { ToStart = TimeSpan.FromSeconds(seconds) }));
        Assert.Equal(SolidProblemKind.NoWorker, problem.Kind);
        Assert.Contains(why, problem.Why, StringComparison.Ordinal);
        Assert.NotNull(problem.Advice);
    }

    [Fact]
    public async Task One_that_cannot_be_run_is_refused()
    {
        string path = Path.Combine(_folder.FullName, "text");
        File.WriteAllText(path, "no program");
        SolidProblem problem = await ProblemOf(new KernelWorker(new KernelProgram(path)));
        Assert.Equal(SolidProblemKind.NoWorker, problem.Kind);
        Assert.Contains("does not start", problem.Why, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(134, "the geometry library gave up")]
    [InlineData(137, "killed from outside")]
    [InlineData(139, "the geometry library crashed")]
    [InlineData(152, "processor time")]
    [InlineData(3, "ended with code 3")]
    public async Task How_it_ended_is_said_in_words(int code, string why)
    {
        SolidProblem problem = await ProblemOf(Playing(string.Create(CultureInfo.InvariantCulture, $"{Hello}; read line; echo the last words >&2; exit {code}")));
        Assert.Equal(SolidProblemKind.Crashed, problem.Kind);
        Assert.Contains(why, problem.Why, StringComparison.Ordinal);
        Assert.Equal("the last words", problem.Log);
    }

    [Fact]
    public async Task A_crash_names_the_feature_that_was_being_built()
    {
        SolidProblem problem = await ProblemOf(Playing(Hello + """; read line; echo '{"id": 1, "progress": 0.5, "doing": "building slab", "feature": "slab"}'; kill -SEGV $$"""));
        Assert.Equal("slab", problem.Feature);
        Assert.StartsWith("slab: the geometry library crashed", problem.Why, StringComparison.Ordinal);
    }

    [Fact]
    public async Task It_is_tried_twice_and_not_a_third_time()
    {
        string runs = Path.Combine(_folder.FullName, "runs");
        await using KernelWorker worker = Playing($"echo x >>{runs}; {Hello}; read line; exit 134");
        Recipe recipe = Shapes.RecipeOf(Shapes.Block);
        SolidProblem first = (await worker.BuildAsync(recipe)).Problem!;
        Assert.Equal(2, File.ReadAllLines(runs).Length);
        SolidProblem again = (await worker.BuildAsync(recipe)).Problem!;
        Assert.Equal(first, again);
        Assert.Equal(2, File.ReadAllLines(runs).Length);

        Assert.NotNull((await worker.BuildAsync(Shapes.RecipeOf(Shapes.Block.Replace("20", "21", StringComparison.Ordinal)))).Problem);
        Assert.Equal(4, File.ReadAllLines(runs).Length);
    }

    [Fact]
    public async Task A_crash_that_happens_once_goes_unseen()
    {
        string runs = Path.Combine(_folder.FullName, "runs");
        await using KernelWorker worker = Playing($$$"""
            echo x >>{{{runs}}}; {{{Hello}}}; read line
            [ $(wc -l <{{{runs}}}) -gt 1 ] || kill -SEGV $$
            echo '{"id": 1, "ok": false, "error": {"kind": "refused", "feature": "slab", "why": "no", "advice": null}}'
            cat >/dev/null
            """);
        SolidProblem problem = (await worker.BuildAsync(Shapes.RecipeOf(Shapes.Block))).Problem!;
        Assert.Equal(SolidProblemKind.Refused, problem.Kind);
        Assert.Equal("slab", problem.Feature);
    }

    [Fact]
    public async Task A_chatty_log_does_not_stop_the_work_and_only_its_end_is_kept()
    {
        // 20 MB on standard error, far more than a pipe holds, before the answer.
        SolidProblem problem = await ProblemOf(Playing(Hello + "; read line; head -c 20000000 /dev/zero | tr '\\0' x >&2; echo END >&2; exit 134"));
        Assert.Equal(SolidProblemKind.Crashed, problem.Kind);
        Assert.EndsWith("END", problem.Log, StringComparison.Ordinal);
        Assert.True(problem.Log!.Length <= 4096);
    }

    [Fact]
    public async Task One_that_speaks_before_it_listens_does_not_lock_up()
    {
        // 300,000 progress lines (20 MB) go out before the request is read; the request itself is larger than a pipe.
        string pieces = string.Join(", ", Enumerable.Range(0, 3000).Select(k => $"[{k}, {(k % 2 == 0 ? 0 : 1)}]").Append("[3000, 5000]"));
        Recipe large = Recipe.Of(Shapes.Placed($"  - plate: comb\n    thickness: 2\n    outline: {{polygon: [{pieces}]}}") with { Problems = [] }).OrThrow();
        await using KernelWorker worker = Playing(Hello + """
            ; yes '{"id": 1, "progress": 0.5, "doing": "building comb"}' | head -n 300000
            read line
            echo '{"id": 1, "ok": false, "error": {"kind": "failed", "feature": null, "why": "no", "advice": null}}'
            cat >/dev/null
            """);
        SolidProblem problem = (await worker.BuildAsync(large)).Problem!;
        Assert.Equal(SolidProblemKind.Failed, problem.Kind);
    }

    [Theory]
    [InlineData("""echo '{"id": 99, "ok": true}'""")]
    [InlineData("""echo '[]'""")]
    [InlineData("""echo 'gibberish'""")]
    [InlineData("""echo '{"id": 1, "ok": true, "binary": [99999999999]}'""")]
    [InlineData("head -c 200000000 /dev/zero")]
    public async Task An_answer_that_breaks_the_protocol_is_an_error_and_costs_the_worker(string answer)
    {
        await using KernelWorker worker = Playing($"{Hello}; read line; {answer}; cat >/dev/null", new WorkerLimits { AnswerLineBytes = 1 << 20 });
        SolidProblem problem = (await worker.BuildAsync(Shapes.RecipeOf(Shapes.Block))).Problem!;
        Assert.Equal(SolidProblemKind.Misunderstood, problem.Kind);
        Assert.Null(worker.ProcessId);
    }

    [Fact]
    public async Task What_it_started_goes_with_it()
    {
        string child = Path.Combine(_folder.FullName, "child");
        await using KernelWorker worker = Playing($"{Hello}; sleep 300 & echo $! >{child}; read line; wait", new WorkerLimits { PerRequest = TimeSpan.FromSeconds(0.5) });
        Assert.Equal(SolidProblemKind.Time, (await worker.BuildAsync(Shapes.RecipeOf(Shapes.Block))).Problem!.Kind);
        int id = int.Parse(File.ReadAllText(child), CultureInfo.InvariantCulture);
        await Processes.GoneAsync(id);
    }
}

internal static class Processes
{
    /// <summary>Waits until a process is gone; fails after two seconds.</summary>
    public static async Task GoneAsync(int id)
    {
        var clock = Stopwatch.StartNew();
        while (IsRunning(id))
        {
            Assert.True(clock.Elapsed < TimeSpan.FromSeconds(2), $"process {id} is still there");
            await Task.Delay(20);
        }
    }

    /// <summary>Whether it runs: a zombie that nobody has waited for does not.</summary>
    public static bool IsRunning(int id)
    {
        try
        {
            string stat = File.ReadAllText($"/proc/{id}/stat");
            return stat[stat.LastIndexOf(')') + 2] is not ('Z' or 'X');
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return false;
        }
    }
}
