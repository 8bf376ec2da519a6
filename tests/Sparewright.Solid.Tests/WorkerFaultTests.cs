using System.Diagnostics;
using System.Globalization;
using Xunit;

namespace Sparewright.Solid.Tests;

/// <summary>The real worker, told to crash, hang and eat memory, and killed: each costs one clear error within its time, and the next request works.</summary>
public class WorkerFaultTests
{
    private static readonly WorkerLimits Small = new() { PerRequest = TimeSpan.FromSeconds(5), ToStart = TimeSpan.FromMinutes(2), MemoryMiB = 512 };

    private static async Task StillWorks(KernelWorker worker)
    {
        ExactSolid solid = (await worker.BuildAsync(Shapes.RecipeOf(Shapes.Block))).OrThrow();
        Assert.Equal(1000, solid.VolumeMm3, 6);
    }

    [Theory]
    [InlineData("crash", SolidProblemKind.Crashed, "the geometry library crashed")]
    [InlineData("hang", SolidProblemKind.Time, "was not done within 5 s")]
    [InlineData("memory", SolidProblemKind.Memory, "memory")]
    public async Task A_fault_costs_one_clear_error_within_its_time(string how, SolidProblemKind kind, string why)
    {
        await using KernelWorker worker = Workers.Fresh(Small);
        var clock = Stopwatch.StartNew();
        SolidProblem problem = Assert.IsType<SolidProblem>((await worker.BreakAsync(how)).Problem);
        // Limit, the half second in which it may stop by itself, and a second for the machine.
        Assert.InRange(clock.Elapsed, TimeSpan.Zero, Small.PerRequest + TimeSpan.FromSeconds(1.5));
        Assert.Equal(kind, problem.Kind);
        Assert.Contains(why, problem.Why, StringComparison.Ordinal);
        await StillWorks(worker);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task A_worker_that_is_to_give_way_works_behind_the_others(bool givesWay)
    {
        using Process own = Process.GetCurrentProcess();
        await using KernelWorker worker = Workers.Fresh(Small with { GivesWay = givesWay });
        await StillWorks(worker);
        using Process process = Process.GetProcessById(worker.ProcessId!.Value);
        Assert.Equal(givesWay ? ProcessPriorityClass.BelowNormal : own.PriorityClass, process.PriorityClass);
    }

    [Fact]
    public async Task A_worker_that_is_killed_while_idle_is_replaced_unseen()
    {
        await using KernelWorker worker = Workers.Fresh(Small);
        await StillWorks(worker);
        int first = worker.ProcessId!.Value;
        Process.GetProcessById(first).Kill();
        await StillWorks(worker);
        Assert.NotEqual(first, worker.ProcessId);
    }

    [Fact]
    public async Task A_worker_that_is_killed_at_work_is_replaced_once_and_then_it_is_an_error()
    {
        await using KernelWorker worker = Workers.Fresh(Small);
        await StillWorks(worker);
        Task<Outcome<WorkerAnswer>> hanging = worker.BreakAsync("hang");
        int killed = 0;
        for (int last = 0; killed < 2; await Task.Delay(50))
        {
            if (worker.ProcessId is not { } id || id == last) continue;
            // Long enough for the greeting and the request to be through.
            await Task.Delay(1000);
            Process.GetProcessById(id).Kill();
            (last, killed) = (id, killed + 1);
        }

        SolidProblem problem = (await hanging).Problem!;
        Assert.Equal(SolidProblemKind.Crashed, problem.Kind);
        Assert.Contains("killed from outside", problem.Why, StringComparison.Ordinal);
        await StillWorks(worker);
    }

    [Fact]
    public async Task Cancelling_ends_within_a_second_and_leaves_no_process()
    {
        await using KernelWorker worker = Workers.Fresh(Small);
        await StillWorks(worker);
        int id = worker.ProcessId!.Value;
        using var cancel = new CancellationTokenSource();
        Task<Outcome<WorkerAnswer>> hanging = worker.BreakAsync("hang", cancel.Token);
        await Task.Delay(200);
        var clock = Stopwatch.StartNew();
        await cancel.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => hanging);
        Assert.InRange(clock.Elapsed, TimeSpan.Zero, TimeSpan.FromSeconds(1));
        Assert.False(Processes.IsRunning(id));
        await StillWorks(worker);
    }

    [Fact]
    public async Task Cancelling_one_that_waits_its_turn_leaves_the_other_alone()
    {
        await using KernelWorker worker = Workers.Fresh(Small);
        await StillWorks(worker);
        int id = worker.ProcessId!.Value;
        Task<Outcome<WorkerAnswer>> hanging = worker.BreakAsync("hang");
        using var cancel = new CancellationTokenSource(200);
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => worker.BuildAsync(Shapes.RecipeOf(Shapes.Block), cancel: cancel.Token));
        Assert.True(Processes.IsRunning(id));
        Assert.Equal(SolidProblemKind.Time, (await hanging).Problem!.Kind);
    }

    [Fact]
    public async Task Disposing_ends_the_process_and_what_is_under_way()
    {
        KernelWorker worker = Workers.Fresh(Small);
        await StillWorks(worker);
        int id = worker.ProcessId!.Value;
        Task<Outcome<WorkerAnswer>> hanging = worker.BreakAsync("hang");
        await Task.Delay(100);
        await worker.DisposeAsync();
        Assert.False(Processes.IsRunning(id));
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => hanging);
        await Assert.ThrowsAsync<ObjectDisposedException>(() => worker.BuildAsync(Shapes.RecipeOf(Shapes.Block)));
    }

    [Fact]
    public async Task The_worker_outlives_the_thread_that_first_asked()
    {
        // Linux ties "dies with its parent" to the thread that started the child.
        await using KernelWorker worker = Workers.Fresh(Small);
        var asking = new Thread(() => worker.BuildAsync(Shapes.RecipeOf(Shapes.Block)).GetAwaiter().GetResult());
        asking.Start();
        asking.Join();
        int id = worker.ProcessId!.Value;
        await Task.Delay(300);
        Assert.True(Processes.IsRunning(id));
        Assert.True((await worker.BuildAsync(Shapes.RecipeOf(Shapes.Block))).OrThrow().Features[0].FromCache);
    }

    [Theory]
    [InlineData("KILL")]
    [InlineData("TERM")]
    public async Task A_worker_dies_with_its_parent(string signal)
    {
        // The shell stands for the tool: it starts a worker whose standard input never ends, and is itself ended.
        DirectoryInfo folder = Directory.CreateTempSubdirectory("sparewright-test-");
        string script = $"cd {folder.FullName}; mkfifo in; exec 3<>in; '{Workers.Program.Path}' --parent $$ <&3 & echo $!; wait";
        using var shell = Process.Start(new ProcessStartInfo("/bin/bash") { ArgumentList = { "-c", script }, RedirectStandardOutput = true })!;
        string[] said = [(await shell.StandardOutput.ReadLineAsync())!, (await shell.StandardOutput.ReadLineAsync())!];
        int id = int.Parse(said.Single(line => char.IsDigit(line[0])), CultureInfo.InvariantCulture);
        Assert.Contains(said, line => line.Contains("hello", StringComparison.Ordinal));
        Assert.True(Processes.IsRunning(id));
        using (var kill = Process.Start("kill", [$"-{signal}", shell.Id.ToString(CultureInfo.InvariantCulture)])) await kill.WaitForExitAsync();
        await Processes.GoneAsync(id);
        folder.Delete(recursive: true);
    }

    [Fact]
    public async Task A_worn_out_worker_is_replaced_between_requests()
    {
        // Half of one second of processor time is soon used.
        await using KernelWorker worker = Workers.Fresh(new WorkerLimits { CpuSeconds = 2 });
        await StillWorks(worker);
        int first = worker.ProcessId!.Value;
        for (int k = 0; k < 2000 && worker.ProcessId == first; k++)
            Assert.True((await worker.BuildAsync(Shapes.RecipeOf(Shapes.Block.Replace("20", Shapes.Text(20 + k / 1000.0), StringComparison.Ordinal)))).IsGood);
        Assert.NotEqual(first, worker.ProcessId);
    }
}
